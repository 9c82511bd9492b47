"""The hours in which somebody works, looks, or has daylight, by the week, with days off and extra days.

Local times without a zone. Schedules count true minutes since they begin; where the clocks are set forward
or back in between, `changes` says so, and a wait through that night stays as long as it really is.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta

DAY = 1440


@dataclass(frozen=True, slots=True)
class Hours:
    """From `opens` to `closes`, minutes after midnight. `closes` may lie past 1440, into the next day."""

    opens: int
    closes: int

    def __post_init__(self) -> None:
        if not 0 <= self.opens < DAY or not self.opens < self.closes <= self.opens + DAY:
            raise ValueError(f"hours from minute {self.opens} to minute {self.closes} of a day")


Day = tuple[Hours, ...]
Week = tuple[Day, Day, Day, Day, Day, Day, Day]  # Monday first
ALL_DAY: Day = (Hours(0, DAY),)
ROUND_THE_CLOCK: Week = (ALL_DAY,) * 7


@dataclass(frozen=True, slots=True)
class ClockChange:
    """At the local time `at`, by the clock as it was, it is set on by `by` minutes; back, if negative."""

    at: datetime
    by: int


@dataclass(frozen=True, slots=True)
class Calendar:
    """`week`: working hours. `watch`: when somebody can look after a fresh piece; the working hours if None.

    `off`: days without either. `extra`: days with other hours than their weekday's, for both.
    `daylight`: light enough to work outdoors, hours for each month (January first) or for the whole year; not on `wet` days.
    """

    week: Week
    watch: Week | None = None
    off: frozenset[date] = frozenset()
    extra: tuple[tuple[date, Day], ...] = ()
    daylight: tuple[Hours, ...] = ALL_DAY
    changes: tuple[ClockChange, ...] = ()
    wet: frozenset[date] = frozenset()

    def __post_init__(self) -> None:
        if len(self.daylight) not in (1, 12):
            raise ValueError("daylight is given for the year or for each of the twelve months")

    def working(self, day: date) -> Day:
        return self._on(day, self.week)

    def watching(self, day: date) -> Day:
        return self._on(day, self.watch or self.week)

    def light(self, day: date) -> Day:
        return () if day in self.wet else (self.daylight[(day.month - 1) % len(self.daylight)],)

    def _on(self, day: date, week: Week) -> Day:
        if day in self.off:
            return ()
        for extra, hours in self.extra:
            if extra == day:
                return hours
        return week[day.weekday()]

    def longer(self, minutes: int) -> Calendar:
        """Every day's last hours end so much later, at midnight at the latest."""
        watch = _week(_later(day, minutes) for day in self.watch) if self.watch else None
        return replace(self, week=_week(_later(day, minutes) for day in self.week), watch=watch)

    def every_day(self) -> Calendar:
        """The days without hours get the longest hours of the week; days off stay off."""
        longest = max(self.week, key=lambda day: sum(h.closes - h.opens for h in day))
        return replace(self, week=_week(day or longest for day in self.week))

    def minute(self, begin: datetime, wall: datetime) -> int:
        """True minutes from `begin` to a local time, rounded up. Of a time that comes twice, the first."""
        passed = wall - begin
        for change in sorted(self.changes, key=lambda c: c.at):
            if change.at <= begin or wall < change.at:
                continue
            by = timedelta(minutes=change.by)
            passed -= min(by, wall - change.at) if change.by > 0 else by
        return -(-passed // timedelta(minutes=1))

    def wall(self, begin: datetime, minute: int) -> datetime:
        """The local time `minute` true minutes after `begin`."""
        local = begin + timedelta(minutes=minute)
        for change in sorted(self.changes, key=lambda c: c.at):
            if change.at > begin and local >= change.at:
                local += timedelta(minutes=change.by)
        return local


def _week(days: Iterable[Day]) -> Week:
    monday, tuesday, wednesday, thursday, friday, saturday, sunday = days
    return (monday, tuesday, wednesday, thursday, friday, saturday, sunday)


def _later(day: Day, minutes: int) -> Day:
    if not day or day[-1].closes >= DAY:
        return day
    last = day[-1]
    return (*day[:-1], Hours(last.opens, min(DAY, last.closes + minutes)))


def at(day: date, minute: int) -> datetime:
    """A minute of a day as local time; past 1440 it is on the next day."""
    return datetime.combine(day, time()) + timedelta(minutes=minute)
