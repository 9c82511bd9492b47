"""Entry: a problem -> a schedule, forward from the beginning or back from the time it must be ready."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from interview.reasoning.scheduling.bound import lower_bound
from interview.reasoning.scheduling.generating import Ground, Pass, ground, placed
from interview.reasoning.scheduling.improving import EFFORT, Aim, Progress, improve
from interview.reasoning.scheduling.tasks import CannotSchedule, Problem, Schedule


def schedule(problem: Problem, *, effort: int = EFFORT, progress: Progress | None = None) -> Schedule:
    """The earliest finish found from `problem.begin` on, then with fewest sessions. Raises CannotSchedule.

    `effort`: how often a place may be looked for in all, over all attempts; time grows in proportion.
    """
    ready = ground(problem)
    bound = lower_bound(ready)
    return _schedule(ready, improve(ready, Aim(bound, effort=effort), progress), bound)


def outline(problem: Problem) -> tuple[int, int]:
    """(finish, sessions) of a quick attempt, to compare problems by. Raises CannotSchedule."""
    best = improve(ground(problem), Aim(0, effort=1))
    return best.finish, best.sessions


def _schedule(ready: Ground, best: Pass, bound: int) -> Schedule:
    return Schedule(ready.problem, placed(ready.problem, best), bound, best.sessions)


def latest_begin(problem: Problem, ready_by: datetime, *, effort: int = EFFORT) -> Schedule | None:
    """The schedule that begins as late as it may and is still ready by then; None if none was found in time.

    Halves the time between, to the minute. Raises CannotSchedule where there is no schedule at all.
    """
    ready = ground(problem)
    enough = problem.calendar.minute(problem.begin, ready_by)
    best = _in_time(ready, enough, effort)
    if best is None:
        return None
    low, high = min(best.start), enough
    while high - low > 1:
        middle = (low + high) // 2
        made = _in_time(replace(ready, release=middle), enough, effort // 10)
        if made is None:
            high = middle
        else:
            best, low = made, min(made.start)
    late = replace(ready, release=low)
    final = improve(late, Aim(lower_bound(late), effort=effort))
    return _schedule(ready, final if final.finish <= enough else best, lower_bound(ready))


def in_time(problem: Problem, ready_by: datetime, effort: int) -> Schedule | None:
    """A schedule that is ready by then, the first that is found; None where none was."""
    ready = ground(problem)
    best = _in_time(ready, problem.calendar.minute(problem.begin, ready_by), effort)
    return _schedule(ready, best, 0) if best is not None else None


def _in_time(ready: Ground, enough: int, effort: int) -> Pass | None:
    try:
        if lower_bound(ready) > enough:
            return None
        best = improve(ready, Aim(0, enough, effort))
    except CannotSchedule:  # the last day on which it could be done is over
        return None
    return best if best.finish <= enough else None
