"""When each step comes: by the timetable where hours are told, else by the day, at the earliest that the waits allow."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from interview.brief.timeline_text import in_days, moment, summing_up, too_late
from interview.plan.parts import Step
from interview.reasoning.timetable import Doing, Timeline

DAY = 1440.0


@dataclass(frozen=True, slots=True)
class When:
    """Of one step: the day and the clock in words ("day 3", ""), when its wait is over, when to look again."""

    day: str
    clock: str
    until: str
    looks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Pace:
    """`whole`: days in all; `lines`: all there is to say of them."""

    at: dict[str, When]
    whole: str
    lines: tuple[str, ...]


def pace(steps: Sequence[Step], time: Timeline | None, trouble: str = "") -> Pace:
    """`trouble`: why there is no timetable though hours were told, or ""."""
    if not steps:
        return Pace({}, "", (trouble,) if trouble else ())
    if time is None:
        return _by_days(steps, trouble)
    found: dict[str, list[Doing]] = {}
    for doing in time.doings:
        found.setdefault(doing.step, []).append(doing)
    at = {id: _when(mine) for id, mine in found.items()}
    whole = f"Begin {moment(time.begins)}. Ready {moment(time.ready)}: {in_days(time.ready - time.begins)} in all."
    return Pace(at, whole, tuple(summing_up(time))[1:])


def lateness(time: Timeline | None) -> tuple[str, ...]:
    """By how much it is late, and what would make it possible; nothing where it is in time."""
    return tuple(too_late(time, time.ready_by)) if time is not None and time.late and time.ready_by else ()


def _when(mine: Sequence[Doing]) -> When:
    first, last = mine[0], mine[-1]
    looks = tuple(f"{look:%H:%M}" for d in mine for look in d.looks)
    return When(
        _day(first.begins), f"{first.begins:%H:%M}", moment(last.until) if last.until > last.ends else "", looks
    )


def _day(when: datetime) -> str:
    return f"{when:%a} {when.day} {when:%b}"


def _by_days(steps: Sequence[Step], trouble: str) -> Pace:
    least, most = (_placed(steps, n) for n in (0, 1))
    at = {id: When(f"day {int(start // DAY) + 1}", "", "") for id, (start, _) in least.items()}
    low, high = (max(1, math.ceil(max(end for _, end in placed.values()) / DAY)) for placed in (least, most))
    days = f"{low} day{'' if high == 1 else 's'}" if low == high else f"{low} to {high} days"
    return Pace(
        at, f"{days} in all, by how fast it dries, and longer by your own hours.", (trouble,) if trouble else ()
    )


def _placed(steps: Sequence[Step], longest: int) -> dict[str, tuple[float, float]]:
    """(start, end of the wait) in minutes. One pair of hands: a step begins when those of the one before are off."""
    made: dict[str, tuple[float, float]] = {}
    busy: dict[str, float] = {}
    waits = {s.id: s.wait for s in steps}
    free = 0.0
    for step in steps:
        known = [(before, least) for before, least, _ in step.after if before in busy]
        ready = [busy[b] + (max(least, waits[b][1]) if longest else least) for b, least in known]
        start = max([free, *ready])
        free = busy[step.id] = start + step.hands_on
        made[step.id] = (start, free + max(step.wait[longest], step.look_for or 0.0))
    return made
