"""From what is known of the maker's hours to a timetable. The only place where plans meet the machine's clock."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

from interview.hours_text import HoursError, clock_changes, read_days, read_hours, read_when
from interview.reasoning.lots import Means
from interview.reasoning.scheduling.hours import Calendar, Day, Hours, Week
from interview.reasoning.scheduling.tasks import CannotSchedule

if TYPE_CHECKING:
    from interview.plan import Plan
    from interview.reasoning.clock import Timeline

USUAL_HOURS = "evenings, sat 9-17, sun 9-17"
LOOK_AHEAD = 400  # days
BEDTIME = 23 * 60  # minutes after midnight; until then somebody at home can look at a fresh pour
# Well inside daylight from 40 to 55 degrees north, January first. Common practice: spray only where you see the film.
DAYLIGHT = tuple(
    Hours(opens * 60, closes * 60)
    for opens, closes in (
        (9, 16), (8, 17), (8, 18), (7, 19), (7, 20), (6, 21), (6, 21), (7, 20), (7, 19), (8, 18), (8, 16), (9, 16),
    )
)  # fmt: skip


class TimingError(Exception):
    """Hours or days that will not do. The message is one line with what to type instead."""


@dataclass(frozen=True, slots=True)
class Wishes:
    """What was asked for beyond the plan's own answers; empty or None: as answered, or as usual. Areas in m2, pot in mL."""

    hours: str = ""
    begin: str = ""
    ready_by: str = ""
    days_off: str = ""
    hands: int = 1
    spray_places: int = 1
    table: float | None = None
    rack: float | None = None
    pot: float | None = None


def wants_days(answers: Mapping[str, Any]) -> bool:
    """Whether the maker told hours or a date, so that a timetable belongs into the brief."""
    return any(isinstance(answers.get(q), str) and answers[q] != "not sure" for q in ("hours", "ready_by"))


def means_of(answers: Mapping[str, Any], wishes: Wishes, now: datetime) -> Means:
    """Raises TimingError."""
    begin = _whole(now)
    try:
        week = read_hours(wishes.hours or _told(answers, "hours") or USUAL_HOURS)
        if wishes.begin:
            begin = read_when(wishes.begin, now)
        wanted = wishes.ready_by or _told(answers, "ready_by")
        ready_by = read_when(wanted, now) if wanted and wanted != "no date" else None
        off = read_days(wishes.days_off, now.date()) if wishes.days_off else frozenset()
    except HoursError as error:
        raise TimingError(str(error)) from None
    calendar = Calendar(
        week, watch=_waking(week), off=off, daylight=DAYLIGHT, changes=clock_changes(begin, LOOK_AHEAD)
    )
    return Means(
        calendar,
        begin,
        ready_by,
        hands=wishes.hands,
        spray_places=wishes.spray_places,
        table=wishes.table,
        rack=wishes.rack,
        pot=wishes.pot,
    )


def timetable(plan: Plan, wishes: Wishes, now: datetime) -> Timeline | None:
    """The timeline of one plan; None where nothing is to be done. Raises TimingError with the reason."""
    from interview.reasoning.clock import timeline, ways_out
    from interview.reasoning.lots import Kind, planned

    if not plan.steps:
        return None
    means = means_of(plan.answers, wishes, now)
    try:
        made = timeline(plan, means)
        if made.late:
            made = replace(made, ways=ways_out((Kind(plan.name or plan.summary, plan, planned(plan)),), means))
    except CannotSchedule as error:
        raise TimingError(_sentence(str(error))) from None
    return made


def _waking(week: Week) -> Week:
    """Who begins to work is at home from then until bedtime, and can look at a fresh pour."""
    days = (tuple(Hours(h.opens, max(h.closes, BEDTIME)) for h in day) for day in week)
    monday, tuesday, wednesday, thursday, friday, saturday, sunday = (_joined(day) for day in days)
    return (monday, tuesday, wednesday, thursday, friday, saturday, sunday)


def _joined(day: Day) -> Day:
    return (Hours(day[0].opens, max(h.closes for h in day)),) if day else ()


def _told(answers: Mapping[str, Any], question: str) -> str:
    told = answers.get(question)
    return told if isinstance(told, str) and told != "not sure" else ""


def _whole(now: datetime) -> datetime:
    """The next full five minutes."""
    plain = now.replace(second=0, microsecond=0, tzinfo=None)
    return plain + timedelta(minutes=-plain.minute % 5)


def _sentence(text: str) -> str:
    text = text[:1].upper() + text[1:]
    return text if text.endswith(".") else f"{text}."
