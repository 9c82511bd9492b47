"""The same problem for OR-tools CP-SAT (a test dependency): the best finish, or the proof that there is none.

The allowed starts come from the checker's own minutes, not from the scheduler's calendar.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from interview.reasoning.scheduling.tasks import Lag, Problem, Task
from tests.scheduling.checking import Minutes


@dataclass(frozen=True, slots=True)
class Best:
    """`finish`: of the best schedule found, None for none. `proven`: nothing better is possible."""

    finish: int | None
    proven: bool
    bound: int


def best(problem: Problem, horizon: int, seconds: float = 20.0) -> Best:
    """Search up to `horizon` minutes."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    marks = Minutes(problem, horizon + 4000)
    starts: dict[str, Any] = {}
    ends: dict[str, Any] = {}
    lengths: dict[str, Any] = {}
    for task in problem.tasks:
        _add_task(model, problem, task, marks, horizon, (starts, ends, lengths))
    for resource, capacity in problem.workshop.capacities:
        _add_resource(model, problem, resource, capacity, (starts, ends, lengths), horizon)
    finish = model.new_int_var(0, horizon + 4000, "finish")
    for task in problem.tasks:
        model.add(finish >= ends[task.id] + task.wait)
    model.minimize(finish)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    status = solver.solve(model)
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Best(int(solver.objective_value), status == cp_model.OPTIMAL, int(solver.best_objective_bound))
    return Best(None, status == cp_model.INFEASIBLE, horizon if status == cp_model.INFEASIBLE else 0)


def _add_task(model: Any, problem: Problem, task: Task, marks: Minutes, horizon: int, made: tuple[Any, ...]) -> None:
    """A start among the allowed minutes for every combination of missed windows before it."""
    from ortools.sat.python import cp_model

    starts, ends, lengths = made
    into = [lag for lag in problem.lags if lag.after == task.id]
    choices = [_late(model, lag) for lag in into]
    extras = [(lag.late.extra if lag.late else 0) for lag in into]
    start = model.new_int_var(0, horizon, f"start {task.id}")
    totals = {0}
    for extra, choice in zip(extras, choices, strict=True):
        totals |= {t + extra for t in totals} if choice is not None else set()
    length = model.new_int_var_from_domain(
        cp_model.Domain.from_values([task.hands_on + t for t in totals]), f"length {task.id}"
    )
    model.add(length == task.hands_on + sum(e * c for e, c in zip(extras, choices, strict=True) if c is not None))
    for total in totals:
        allowed = _allowed(task, total, marks, horizon)
        is_it = model.new_bool_var("")
        model.add(length == task.hands_on + total).only_enforce_if(is_it)
        model.add(length != task.hands_on + total).only_enforce_if(~is_it)
        model.add_linear_expression_in_domain(start, allowed).only_enforce_if(is_it)
    end = model.new_int_var(0, horizon + 2000, f"end {task.id}")
    model.add(end == start + length)
    starts[task.id], ends[task.id], lengths[task.id] = start, end, length
    for lag, choice in zip(into, choices, strict=True):
        _add_lag(model, lag, ends[lag.before], start, choice)


def _late(model: Any, lag: Lag) -> Any:
    return model.new_bool_var("late") if lag.late is not None and lag.greatest is not None else None


def _add_lag(model: Any, lag: Lag, end: Any, start: Any, late: Any) -> None:
    if late is None:
        model.add(start >= end + lag.least)
        if lag.greatest is not None:
            model.add(start <= end + lag.greatest)
        return
    assert lag.late is not None
    model.add(start >= end + lag.least).only_enforce_if(~late)
    model.add(start <= end + lag.greatest).only_enforce_if(~late)
    model.add(start >= end + lag.late.least).only_enforce_if(late)


def _allowed(task: Task, extra: int, marks: Minutes, horizon: int) -> Any:
    from ortools.sat.python import cp_model

    if task.hands_on + extra == 0 and task.looks is None:
        return cp_model.Domain(0, horizon)
    return cp_model.Domain.from_values(marks.starts(task, extra, horizon))


def _add_resource(
    model: Any, problem: Problem, resource: str, capacity: int, made: tuple[Any, ...], horizon: int
) -> None:
    starts, ends, lengths = made
    intervals, amounts = [], []
    for task in problem.tasks:
        work, wait = dict(task.demands).get(resource, 0), dict(task.held).get(resource, 0)
        if work:
            intervals.append(model.new_interval_var(starts[task.id], lengths[task.id], ends[task.id], ""))
            amounts.append(work)
        if wait and task.wait:
            over = model.new_int_var(0, horizon + 4000, "")
            model.add(over == ends[task.id] + task.wait)
            intervals.append(model.new_interval_var(ends[task.id], task.wait, over, ""))
            amounts.append(wait)
    for lag in problem.lags:
        kept = dict(lag.kept).get(resource, 0)
        if kept:
            over = ends[lag.before] + problem.tasks[[t.id for t in problem.tasks].index(lag.before)].wait
            until, length = model.new_int_var(0, horizon + 4000, ""), model.new_int_var(0, horizon + 4000, "")
            model.add_max_equality(until, [over, starts[lag.after]])
            intervals.append(model.new_interval_var(over, length, until, ""))
            amounts.append(kept)
    if intervals:
        model.add_cumulative(intervals, amounts, capacity)
