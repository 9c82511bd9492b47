"""An independent checker of schedules: minute by minute, sharing no code with the scheduler but its types."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta

from interview.reasoning.scheduling.hours import Day
from interview.reasoning.scheduling.tasks import Lag, Problem, Schedule, Task


class Minutes:
    """For every minute since the beginning: is it open to work, to look, to work outdoors?"""

    def __init__(self, problem: Problem, until: int) -> None:
        walls = _walls(problem, until)
        calendar = problem.calendar
        self.work = bytearray(until)
        self.watch = bytearray(until)
        self.light = bytearray(until)
        days: dict[date, tuple[set[int], set[int], set[int]]] = {}
        for minute, wall in enumerate(walls):
            day = wall.date()
            if day not in days:
                days[day] = (
                    _open(problem, day, calendar.week),
                    _open(problem, day, calendar.watch or calendar.week),
                    set(_minutes(calendar.daylight[(day.month - 1) % len(calendar.daylight)])),
                )
            at = wall.hour * 60 + wall.minute
            for marks, open_ in zip((self.work, self.watch, self.light), days[day], strict=True):
                marks[minute] = at in open_

    def may_start(self, task: Task, extra: int, minute: int) -> bool:
        """Whether the task keeps to the hours when it starts at this minute."""
        length = task.hands_on + extra
        span = range(minute, minute + length)
        if not all(self.work[m] for m in span):
            return False
        if task.outdoors and not all(self.light[m] for m in span):
            return False
        looks = task.looks.at if task.looks else ()
        # a look at the very minute of closing still counts
        return all(self.watch[minute + length + m] or self.watch[minute + length + m - 1] for m in looks)

    def starts(self, task: Task, extra: int, until: int) -> list[int]:
        """All minutes at which the task may start; by running sums, so that it is quick for a whole month."""
        length = task.hands_on + extra
        marks = [w and light for w, light in zip(self.work, self.light, strict=True)] if task.outdoors else self.work
        shut = [0]
        for mark in marks:
            shut.append(shut[-1] + (not mark))
        fits = (m for m in range(until + 1) if shut[m] == shut[m + length])
        return [m for m in fits if task.looks is None or self.may_start(task, extra, m)]


def _walls(problem: Problem, until: int) -> list[datetime]:
    walls, wall = [], problem.begin
    changes = {c.at: c.by for c in problem.calendar.changes if c.at > problem.begin}
    for _ in range(until):
        if wall in changes:
            wall += timedelta(minutes=changes.pop(wall))
        walls.append(wall)
        wall += timedelta(minutes=1)
    return walls


def _open(problem: Problem, day: date, week: Sequence[Day]) -> set[int]:
    """The open minutes of one day, with those that the day before runs on into it."""
    minutes = {m for m in _of_day(problem, day, week) if m < 1440}
    return minutes | {m - 1440 for m in _of_day(problem, day - timedelta(days=1), week) if m >= 1440}


def _of_day(problem: Problem, day: date, week: Sequence[Day]) -> set[int]:
    if day in problem.calendar.off:
        return set()
    hours = dict(problem.calendar.extra).get(day, week[day.weekday()])
    return {m for span in hours for m in _minutes(span)}


def _minutes(span: object) -> range:
    return range(span.opens, span.closes)  # type: ignore[attr-defined]


def faults(schedule: Schedule) -> list[str]:
    """Everything in which the schedule breaks its problem; empty for a good one."""
    problem = schedule.problem
    found: list[str] = []
    if [p.task for p in schedule.placed] != list(problem.tasks):
        return ["not every task is placed once"]
    start = {p.task.id: p.start for p in schedule.placed}
    end = {p.task.id: p.end for p in schedule.placed}
    extra = {p.task.id: 0 for p in schedule.placed}
    for lag in problem.lags:
        found += _lag_faults(lag, start[lag.after] - end[lag.before], extra)
    most = max((p.end + 200 for p in schedule.placed), default=0)
    marks = Minutes(problem, most + 1)
    for p in schedule.placed:
        if p.start < 0 or p.end - p.start != p.task.hands_on + extra[p.task.id]:
            found.append(f"{p.task.id} lasts {p.end - p.start}")
        if not marks.may_start(p.task, extra[p.task.id], p.start):
            found.append(f"{p.task.id} is outside the hours at {schedule.when(p.start)}")
        if p.late != any(_missed(g, start, end) for g in problem.lags if g.after == p.task.id):
            found.append(f"{p.task.id} is wrongly said to be late or in time")
    found += _room_faults(schedule)
    finish = max((p.end + p.task.wait for p in schedule.placed), default=0)
    if finish != schedule.finish or schedule.bound > finish:
        found.append(f"the finish is {finish}, not {schedule.finish}, and the bound {schedule.bound}")
    if sessions(schedule) != schedule.sessions:
        found.append(f"there are {sessions(schedule)} sessions, not {schedule.sessions}")
    return found


def _missed(lag: Lag, start: dict[str, int], end: dict[str, int]) -> bool:
    return lag.greatest is not None and start[lag.after] - end[lag.before] > lag.greatest


def _lag_faults(lag: Lag, pause: int, extra: dict[str, int]) -> list[str]:
    if lag.greatest is None and pause >= lag.least:
        return []
    if lag.greatest is not None and lag.least <= pause <= lag.greatest:
        return []
    if lag.late is not None and lag.greatest is not None and pause >= lag.late.least:
        extra[lag.after] += lag.late.extra
        return []
    return [f"{lag.after} follows {lag.before} after {pause}, which {lag} forbids"]


def _room_faults(schedule: Schedule) -> list[str]:
    """Sweep over every begin and end of taking something."""
    found = []
    for resource, capacity in schedule.problem.workshop.capacities:
        changes: list[tuple[int, int]] = []
        for p in schedule.placed:
            for amounts, begins, ends in (
                (p.task.demands, p.start, p.end),
                (p.task.held, p.end, p.end + p.task.wait),
            ):
                amount = dict(amounts).get(resource, 0)
                if amount and ends > begins:
                    changes += [(begins, amount), (ends, -amount)]
        for lag in schedule.problem.lags:
            amount = dict(lag.kept).get(resource, 0)
            begins, ends = schedule[lag.before].ready, schedule[lag.after].start
            if amount and ends > begins:
                changes += [(begins, amount), (ends, -amount)]
        taken = 0
        for minute, amount in sorted(changes):  # what is given back comes first within a minute
            taken += amount
            if taken > capacity:
                found.append(f"{taken} of {capacity} {resource} are taken at {schedule.when(minute)}")
                break
    return found


def sessions(schedule: Schedule) -> int:
    """Counted anew: a session goes on as long as no pause is longer than the workshop's."""
    count = 0
    for name in {p.task.session for p in schedule.placed if p.task.session}:
        mine = sorted((p.start, p.end) for p in schedule.placed if p.task.session == name)
        last = -(10**9)
        for begins, ends in mine:
            count += begins - last > schedule.problem.workshop.session_gap
            last = max(last, ends)
    return count
