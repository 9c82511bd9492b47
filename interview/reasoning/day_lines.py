"""Doings -> lines to work from: a pot is mixed, poured and watched in one; short trials of the same pieces are one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from interview.reasoning.lots import Pieces
from interview.reasoning.timetable import Doing

_SHORT = timedelta(minutes=10)  # trials no longer than this are joined
_PAUSE = timedelta(minutes=5)  # with no longer a pause between them


@dataclass(frozen=True, slots=True)
class Line:
    """What is done in one go, and when to look at it. `until`: when its wait is over."""

    doings: tuple[Doing, ...]

    @property
    def begins(self) -> datetime:
        return self.doings[0].begins

    @property
    def ends(self) -> datetime:
        return max(d.ends for d in self.doings if d.ends > d.begins)

    @property
    def until(self) -> datetime:
        return max(d.until for d in self.doings)

    @property
    def some(self) -> Pieces:
        return self.doings[0].some

    @property
    def who(self) -> str:
        return self.doings[0].who

    @property
    def name(self) -> str:
        first, *others = (d.name for d in self.doings if d.ends > d.begins)
        return "; ".join((first, *(name[:1].lower() + name[1:] for name in others)))

    @property
    def steps(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(d.step for d in self.doings))

    @property
    def pot(self) -> int:
        return max(d.pot for d in self.doings)

    @property
    def looks(self) -> tuple[datetime, ...]:
        return tuple(sorted({look for d in self.doings for look in d.looks}))


def day_lines(doings: Iterable[Doing]) -> tuple[Line, ...]:
    """In the order in which they begin; waits of their own are no lines."""
    made: list[list[Doing]] = []
    for doing in sorted(doings, key=lambda d: (d.begins, d.ends, d.job)):
        mine = next((run for run in reversed(made) if _goes_on(run[-1], doing)), None)
        if mine is not None:
            mine.append(doing)
        elif doing.ends > doing.begins:
            made.append([doing])
    return tuple(Line(tuple(run)) for run in made)


def _goes_on(last: Doing, doing: Doing) -> bool:
    if doing.job == last.job:
        return doing.begins <= last.ends and doing.kind != "cure"
    pause = doing.begins - last.ends
    short = max(last.ends - last.begins, doing.ends - doing.begins) <= _SHORT
    return (
        last.kind == doing.kind == "trial" and short and last.some == doing.some and timedelta() <= pause <= _PAUSE
        and not doing.late
    )  # fmt: skip
