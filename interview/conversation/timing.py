"""From what is known of the maker's hours to a timetable. The only place where plans meet the machine's clock."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Any, TypeVar

from interview.reading.hours_told import FAR, HoursError, clock_changes, read_days, read_hours, read_when
from interview.reasoning.lots import Means
from interview.reasoning.scheduling.hours import Calendar, Day, Hours, Week
from interview.reasoning.scheduling.tasks import CannotSchedule
from interview.text.harmless import harmless

if TYPE_CHECKING:
    from interview.plan.model import Plan
    from interview.reasoning.lots import Kind
    from interview.reasoning.timetable import Timeline

T = TypeVar("T")
USUAL_HOURS = "evenings, sat 9-17, sun 9-17"
BEDTIME = 22 * 60  # minutes after midnight; until then somebody at home can look at a fresh pour
_EVENING = 20 * 60  # who says until when they work in the evening is not asked to look at anything later
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
    extra: str = ""  # days with hours of their own: "2026-11-29 18:00-22:00, ..."
    wet: str = ""  # days on which nothing is sprayed outdoors
    hands: int = 1
    spray_places: int = 1
    table: float | None = None
    rack: float | None = None
    pot: float | None = None
    latest: bool = False  # begin as late as it may

    @property
    def days(self) -> bool:
        """Whether hours or days were asked for."""
        return bool(self.hours or self.begin or self.ready_by or self.days_off or self.latest)


def wants_days(answers: Mapping[str, Any]) -> bool:
    """Whether the maker told hours or a date, so that a timetable belongs into the brief."""
    return any(isinstance(answers.get(q), str) and answers[q] != "not sure" for q in ("hours", "ready_by"))


def means_of(plans: Sequence[Plan], wishes: Wishes, now: datetime) -> Means:
    """For all of them together: hours and days as wished, else as answered. Raises TimingError."""
    begin = _whole(now)
    try:
        week = read_hours(wishes.hours or _hours(plans) or USUAL_HOURS)
        if wishes.begin:
            begin = read_when(wishes.begin, now)
        wanted = [wishes.ready_by] if wishes.ready_by else _told(plans, "ready_by")
        ready_by = min((read_when(day, now) for day in wanted if day != "no date"), default=None)
        off = read_days(wishes.days_off, now.date()) if wishes.days_off else frozenset()
        wet = read_days(wishes.wet, now.date()) if wishes.wet else frozenset()
        extra = tuple(_extra(day) for day in wishes.extra.split(", ") if day)
    except HoursError as error:
        raise TimingError(str(error)) from None
    if wishes.latest and ready_by is None:
        raise TimingError('--latest plans back from the day it must be ready: add --ready-by "saturday week".')
    calendar = Calendar(
        week, watch=_waking(week), off=off - {day for day, _ in extra}, extra=extra, daylight=DAYLIGHT,
        changes=clock_changes(begin, FAR), wet=wet,
    )  # fmt: skip
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


def where_kinds_differ(kinds: Sequence[Kind], wishes: Wishes) -> tuple[str, ...]:
    """What was answered differently for kinds that are worked together, and what was made of it."""
    said = []
    if not wishes.ready_by and len({*_told([k.plan for k in kinds], "ready_by")} - {"no date"}) > 1:
        said.append("Not all kinds must be ready on the same day. The earliest day counts for all of them.")
    if len({k.slower for k in kinds}) > 1:
        said.append("Not all kinds are in a room as warm. Each is timed by its own, and poured by itself.")
    if len({k.label for k in kinds}) > 1:
        said.append("Not all kinds have the same resin by its label. Each resin is mixed in pots of its own.")
    return tuple(said)


def poured(plan: Plan) -> bool:
    """Whether it comes to a pour; a piece that is stopped is ready on no day."""
    return any(step.kind == "pour" for step in plan.steps)


def timetable(plan: Plan, wishes: Wishes, now: datetime) -> Timeline | None:
    """The timeline of one plan; None where nothing is poured. Raises TimingError with the reason."""
    from interview.reasoning.lots import Kind, planned
    from interview.reasoning.offers import ways_out
    from interview.reasoning.timetable import timeline

    if not poured(plan):
        return None
    means = means_of([plan], wishes, now)
    try:
        made = timeline(plan, means, backward=wishes.latest)
        if made.late:
            made = replace(made, ways=ways_out((Kind(plan.name or plan.summary, plan, planned(plan)),), means))
    except CannotSchedule as error:
        raise TimingError(sentence(str(error))) from None
    return made


def timed_brief(
    show: Callable[[Plan, Timeline | None, str], T], plan: Plan, wishes: Wishes, now: datetime, *, always: bool = False
) -> T:
    """The brief in any form, with its timetable where hours or a day were wished or answered, or `always`.

    `show`: a form from a plan, its timetable, and why there is none though there should be. Raises TimingError where
    the wishes will not do; where only the answers will not (a day that is over), the brief says so.
    """
    if not poured(plan) or not (always or wishes.days or wants_days(plan.answers)):
        return show(plan, None, "")
    from interview.reasoning.timetable import as_timed

    try:
        time = timetable(plan, wishes, now)
    except TimingError as error:
        if always or wishes.days:
            raise
        return show(plan, None, str(error))
    assert time is not None
    return show(as_timed(plan, time), time, "")


def _extra(told: str) -> tuple[date, Day]:
    """ "2026-11-29 18:00-22:00"."""
    day, _, hours = told.partition(" ")
    return date.fromisoformat(day), read_hours(hours)[0]


def _waking(week: Week) -> Week:
    """Who begins to work is at home from then until bedtime, and can look at a fresh pour."""
    latest = max(h.closes for day in week for h in day)
    bedtime = latest if latest >= _EVENING else BEDTIME
    days = (tuple(Hours(h.opens, max(h.closes, bedtime)) for h in day) for day in week)
    monday, tuesday, wednesday, thursday, friday, saturday, sunday = (_joined(day) for day in days)
    return (monday, tuesday, wednesday, thursday, friday, saturday, sunday)


def _joined(day: Day) -> Day:
    return (Hours(day[0].opens, max(h.closes for h in day)),) if day else ()


def _told(plans: Sequence[Plan], question: str) -> list[str]:
    """Each answer once, in order; none for those that were not sure."""
    told = (plan.answers.get(question) for plan in plans)
    return list(dict.fromkeys(t for t in told if isinstance(t, str) and t != "not sure"))


def _hours(plans: Sequence[Plan]) -> str:
    """One pair of hands has one set of hours. Raises TimingError where the kinds tell several."""
    told = _told(plans, "hours")
    if len(told) > 1:
        shown = "; ".join(f'"{harmless(text, one_line=True)}"' for text in told)
        raise TimingError(f"The kinds were answered with different hours: {shown}. Say with --hours which hold.")
    return told[0] if told else ""


def _whole(now: datetime) -> datetime:
    """The next full five minutes."""
    plain = now.replace(second=0, microsecond=0, tzinfo=None)
    return plain + timedelta(minutes=-plain.minute % 5)


def sentence(text: str) -> str:
    """With a capital and an end mark."""
    text = text[:1].upper() + text[1:]
    return text if text.endswith(".") else f"{text}."
