"""Entry: a problem -> a schedule, forward from the beginning or back from the time it must be ready."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from interview.reasoning.scheduling.bound import lower_bound
from interview.reasoning.scheduling.generating import Ground, Pass, ground, placed
from interview.reasoning.scheduling.orders import best_pass
from interview.reasoning.scheduling.tasks import CannotSchedule, Problem, Schedule


def schedule(problem: Problem) -> Schedule:
    """The earliest finish found from `problem.begin` on, then with fewest sessions. Raises CannotSchedule."""
    ready = ground(problem)
    bound = lower_bound(ready)
    return _schedule(ready, best_pass(ready, bound), bound)


def _schedule(ready: Ground, best: Pass, bound: int) -> Schedule:
    return Schedule(ready.problem, placed(ready.problem, best), bound, best.sessions)


def latest_begin(problem: Problem, ready_by: datetime) -> Schedule | None:
    """The schedule that begins as late as it may and is still ready by then; None if none was found in time.

    Halves the time between, to the minute. Raises CannotSchedule where there is no schedule at all.
    """
    ready = ground(problem)
    enough = problem.calendar.minute(problem.begin, ready_by)
    best = _in_time(ready, enough)
    if best is None:
        return None
    low, high = min(best.start), enough
    while high - low > 1:
        middle = (low + high) // 2
        made = _in_time(replace(ready, release=middle), enough)
        if made is None:
            high = middle
        else:
            best, low = made, min(made.start)
    late = replace(ready, release=low)
    final = best_pass(late, lower_bound(late))
    return _schedule(ready, final if final.finish <= enough else best, lower_bound(ready))


def in_time(problem: Problem, ready_by: datetime) -> Schedule | None:
    """A schedule that is ready by then, the first that is found; None where none was."""
    ready = ground(problem)
    best = _in_time(ready, problem.calendar.minute(problem.begin, ready_by))
    return _schedule(ready, best, 0) if best is not None else None


def _in_time(ready: Ground, enough: int) -> Pass | None:
    try:
        best = best_pass(ready, enough=enough)
    except CannotSchedule:  # the last day on which it could be done is over
        return None
    return best if best.finish <= enough else None
