"""A calendar laid out in minutes since the beginning: open spans, and at which minutes a task may start.

Laid out as far as it is asked for, doubling each time.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable
from datetime import date, datetime, timedelta
from functools import lru_cache

from interview.reasoning.scheduling.hours import Calendar, Day, at
from interview.reasoning.scheduling.tasks import Looks, Task

Spans = list[tuple[int, int]]  # sorted, apart from each other; both ends belong to the span


def joined(spans: Iterable[tuple[int, int]]) -> Spans:
    """Sorted spans with those that touch or overlap made one."""
    made: Spans = []
    for opens, closes in sorted(spans):
        if made and opens <= made[-1][1]:
            made[-1] = (made[-1][0], max(made[-1][1], closes))
        else:
            made.append((opens, closes))
    return made


def common(one: Spans, other: Spans) -> Spans:
    """What lies in both."""
    made: Spans = []
    i = j = 0
    while i < len(one) and j < len(other):
        opens, closes = max(one[i][0], other[j][0]), min(one[i][1], other[j][1])
        if opens <= closes:
            made.append((opens, closes))
        if one[i][1] < other[j][1]:
            i += 1
        else:
            j += 1
    return made


class Starts:
    """The minutes at which one sort of task may start."""

    def __init__(self, openings: Openings, hands_on: int, outdoors: bool, looks: Looks | None) -> None:
        self._openings = openings
        self._hands_on = hands_on
        self._outdoors = outdoors
        self._moments = looks.at if looks else ()
        self._always = hands_on == 0 and not self._moments
        self._firsts: list[int] = []
        self._lasts: list[int] = []
        self._until = -1

    def next(self, minute: int, limit: int) -> int | None:
        """The first allowed start at or after `minute`; None where there is none up to `limit`."""
        if self._always:
            return minute
        while True:
            where = bisect_left(self._lasts, minute)
            if where < len(self._lasts):
                found = max(minute, self._firsts[where])
                return found if found <= limit else None
            if self._until > limit + self._hands_on + (self._moments[-1] if self._moments else 0):
                return None
            self._openings.reach(max(self._until + 1, minute))
            self._lay_out()

    def covered(self) -> Spans:
        """The minutes in which such a task can be going on, as far as is laid out."""
        if self._until != self._openings.until:
            self._lay_out()
        return [(o, c + self._hands_on) for o, c in zip(self._firsts, self._lasts, strict=True)]

    def _lay_out(self) -> None:
        spans = self._openings.outdoor if self._outdoors else self._openings.work
        if self._hands_on:
            fitting = [(opens, closes - self._hands_on) for opens, closes in spans if closes - opens >= self._hands_on]
        else:
            fitting = [(0, self._openings.until)]
        for moment in self._moments:
            later = self._hands_on + moment
            fitting = common(fitting, [(max(0, o - later), c - later) for o, c in self._openings.watch if c >= later])
        self._firsts = [opens for opens, _ in fitting]
        self._lasts = [closes for _, closes in fitting]
        self._until = self._openings.until


@lru_cache(maxsize=16)
def laid_out(calendar: Calendar, begin: datetime) -> Openings:
    """The same calendar from the same beginning is laid out once for all problems on it."""
    return Openings(calendar, begin)


class Openings:
    """Working, watching and outdoor spans up to the minute `until`."""

    def __init__(self, calendar: Calendar, begin: datetime) -> None:
        self.calendar = calendar
        self.begin = begin
        self.until = 0
        self.work: Spans = []
        self.watch: Spans = []
        self.outdoor: Spans = []
        self._days = 0
        self._starts: dict[tuple[int, bool, Looks | None], Starts] = {}

    def starts(self, task: Task, extra: int = 0) -> Starts:
        """Where this task may start; shared by tasks of a sort. `extra` lengthens its hands-on time."""
        sort = (task.hands_on + extra, task.outdoors, task.looks)
        if sort not in self._starts:
            self._starts[sort] = Starts(self, *sort)
        return self._starts[sort]

    def reach(self, minute: int) -> None:
        """Lay out at least up to `minute`."""
        if minute <= self.until:
            return
        while minute > self.until:
            self._days = max(28, 2 * self._days)
            last = self.begin.date() + timedelta(days=self._days)
            self.until = self.calendar.minute(self.begin, at(last, 0))
        self.work = self._laid_out(self.calendar.working)
        self.watch = self._laid_out(self.calendar.watching)
        self.outdoor = common(self.work, self._laid_out(self.calendar.light))

    def _laid_out(self, hours: Callable[[date], Day]) -> Spans:
        """Also the day before the beginning: its last hours may run past midnight."""
        spans: Spans = []
        first = self.begin.date() - timedelta(days=1)
        for number in range(self._days + 1):
            day = first + timedelta(days=number)
            for span in hours(day):
                opens, closes = (self._minute(day, m) for m in (span.opens, span.closes))
                if closes > 0 and closes > opens:
                    spans.append((max(0, opens), closes))
        return joined(spans)

    def _minute(self, day: date, minute: int) -> int:
        return self.calendar.minute(self.begin, at(day, minute))

    def open_minutes(self, spans: Spans) -> list[int]:
        """For each span, how many open minutes lie before it; one more entry for the whole."""
        total = [0]
        for opens, closes in spans:
            total.append(total[-1] + closes - opens)
        return total
