"""What is to be scheduled: tasks, the lags between them, the workshop, all in one problem.

Times are whole minutes; areas are whole numbers in whatever unit the workshop's capacities use.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from interview.reasoning.scheduling.hours import Calendar

Demands = tuple[tuple[str, int], ...]  # (resource, amount)


class CannotSchedule(ValueError):
    """No schedule can exist. The message says why, in plain words; `task`: whose fault, if any."""

    def __init__(self, says: str, task: str = "") -> None:
        super().__init__(says)
        self.task = task


@dataclass(frozen=True, slots=True)
class Looks:
    """When somebody must look after a task: minutes after its end, ascending."""

    at: tuple[int, ...]

    @classmethod
    def every(cls, minutes: int, lasting: int) -> Looks:
        """Every so many minutes, for `lasting` minutes in all."""
        return cls(tuple(range(minutes, lasting + 1, minutes)))


@dataclass(frozen=True, slots=True)
class Task:
    """Work by hand for `hands_on` minutes, never interrupted, then a wait that needs no hands, at any hour.

    `demands` are taken during the hands-on time, `held` during the `wait` after it (a wet piece on the rack).
    A task of no hands-on time may stand at any hour. Tasks of the same `session` are counted in sessions.
    """

    id: str
    hands_on: int
    name: str = ""
    demands: Demands = ()
    wait: int = 0
    held: Demands = ()
    session: str = ""
    outdoors: bool = False
    looks: Looks | None = None


@dataclass(frozen=True, slots=True)
class Late:
    """What is allowed where a window was missed: after `least` minutes, with `extra` hands-on minutes."""

    least: int
    extra: int = 0


@dataclass(frozen=True, slots=True)
class Lag:
    """From the end of `before` to the start of `after`: from `least` to `greatest`, or as `late` says.

    `kept`: taken from when the wait of `before` is over until `after` starts, however long that is (a piece
    that lies on the table until the next pour).
    """

    before: str
    after: str
    least: int = 0
    greatest: int | None = None
    late: Late | None = None
    kept: Demands = ()


@dataclass(frozen=True, slots=True)
class Workshop:
    """What there is of each resource. `session_gap`: a longer pause than this begins another session."""

    capacities: Demands
    session_gap: int = 60

    def capacity(self, resource: str) -> int:
        return next((amount for name, amount in self.capacities if name == resource), 0)


@dataclass(frozen=True, slots=True)
class Problem:
    """Everything a schedule depends on. Minute 0 is `begin`, local time; nothing happens before it."""

    tasks: tuple[Task, ...]
    lags: tuple[Lag, ...]
    workshop: Workshop
    calendar: Calendar
    begin: datetime


@dataclass(frozen=True, slots=True)
class Placed:
    """One task in a schedule, in minutes since `begin`. `late`: it missed a window, and came after it."""

    task: Task
    start: int
    end: int
    late: bool = False

    @property
    def ready(self) -> int:
        """When its wait is over."""
        return self.end + self.task.wait


@dataclass(frozen=True, slots=True)
class Schedule:
    """A schedule that keeps every rule. `bound`: no schedule at all can finish before this minute."""

    problem: Problem
    placed: tuple[Placed, ...]  # in the order of the problem's tasks
    bound: int
    sessions: int
    _by_id: dict[str, Placed] = field(init=False, repr=False, compare=False, hash=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_by_id", {p.task.id: p for p in self.placed})

    def __getitem__(self, task: str) -> Placed:
        return self._by_id[task]

    @property
    def start(self) -> int:
        return min((p.start for p in self.placed), default=0)

    @property
    def finish(self) -> int:
        """Minute at which the last task and its wait are over."""
        return max((p.ready for p in self.placed), default=0)

    @property
    def gap(self) -> float:
        """How far the finish may be from the best one, as a share of that; 0 where it is proven the best."""
        return 0.0 if self.finish <= self.bound else (self.finish - self.bound) / max(self.bound, 1)

    def when(self, minute: int) -> datetime:
        """The minute as local time."""
        return self.problem.calendar.wall(self.problem.begin, minute)


def check(problem: Problem) -> None:
    """Raises CannotSchedule where the problem contradicts itself or asks for more than the workshop has."""
    names: dict[str, Task] = {}
    for task in problem.tasks:
        if task.id in names:
            raise CannotSchedule(f"there are two tasks with the id {task.id!r}", task.id)
        names[task.id] = task
        _check_task(task, problem.workshop)
    for lag in problem.lags:
        for end in (lag.before, lag.after):
            if end not in names:
                raise CannotSchedule(f"a lag names {end!r}, which is no task")
        if lag.before == lag.after or lag.least < 0:
            raise CannotSchedule(f"the lag from {lag.before!r} to {lag.after!r} leads backwards", lag.after)
        if lag.greatest is not None and lag.greatest < lag.least and lag.late is None:
            raise CannotSchedule(f"{called(names[lag.after])} must wait longer than it may wait", lag.after)
        _check_room(names[lag.before], lag.kept, problem.workshop)


def _check_task(task: Task, workshop: Workshop) -> None:
    if task.hands_on < 0 or task.wait < 0:
        raise CannotSchedule(f"{called(task)} has a time below zero", task.id)
    if task.looks is not None and any(minute < 0 for minute in task.looks.at):
        raise CannotSchedule(f"{called(task)} has a look before its end", task.id)
    _check_room(task, (*task.demands, *task.held), workshop)


def _check_room(task: Task, amounts: Demands, workshop: Workshop) -> None:
    for resource, amount in amounts:
        there = workshop.capacity(resource)
        if amount < 0:
            raise CannotSchedule(f"{called(task)} needs less than nothing of the {resource}", task.id)
        if amount > there:
            raise CannotSchedule(f"{called(task)} needs {amount} of the {resource}, and there is {there}", task.id)


def called(task: Task) -> str:
    """The task as a person would name it."""
    return f"“{task.name}”" if task.name else repr(task.id)
