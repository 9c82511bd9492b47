"""Entry: a problem -> a schedule, forward from the beginning or back from the time it must be ready."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from interview.reasoning.scheduling.bound import lower_bound
from interview.reasoning.scheduling.generating import Ground, Pass, ground, placed
from interview.reasoning.scheduling.improving import EFFORT, Progress, improve
from interview.reasoning.scheduling.tasks import Problem, Schedule


def schedule(problem: Problem, *, effort: int = EFFORT, progress: Progress | None = None) -> Schedule:
    """The earliest finish found from `problem.begin` on, then with fewest sessions. Raises CannotSchedule.

    `effort`: how many tasks may be put down in all, over all attempts; time grows in proportion.
    """
    ready = ground(problem)
    bound = lower_bound(ready)
    best = improve(ready, bound, effort, progress)
    return _schedule(ready, best, bound)


def _schedule(ready: Ground, best: Pass, bound: int) -> Schedule:
    return Schedule(ready.problem, placed(ready.problem, best), min(bound, best.finish), best.sessions)


def latest_begin(problem: Problem, ready_by: datetime, *, effort: int = EFFORT) -> Schedule | None:
    """The schedule that begins as late as it may and is still ready by then; None if it is too late.

    Halves the time between, to the minute. Raises CannotSchedule where there is no schedule at all.
    """
    first = _from(problem, problem.begin, effort)
    if first.when(first.finish) > ready_by:
        return None
    best, low, high = first, 0, _minutes(problem, ready_by)
    while high - low > _GRAIN:
        middle = (low + high) // 2
        made = _from(problem, problem.calendar.wall(problem.begin, middle), effort // 10)
        if made.when(made.finish) <= ready_by:
            best, low = made, max(middle, _minutes(problem, made.when(made.start)))
        else:
            high = middle
    return best


_GRAIN = 1


def _minutes(problem: Problem, wall: datetime) -> int:
    return max(0, problem.calendar.minute(problem.begin, wall))


def _from(problem: Problem, begin: datetime, effort: int) -> Schedule:
    return schedule(replace(problem, begin=begin), effort=effort)
