"""Blocks made ready for placing: what each task takes, where it may start, every lag from start to start."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from interview.reasoning.scheduling.blocks import Arc, Block, Net, Option
from interview.reasoning.scheduling.openings import Openings, Starts
from interview.reasoning.scheduling.tasks import Problem, Task

_SMALL = 40  # tasks; in larger blocks it is looked at each time whether tasks stand in each other's way
Take = tuple[int, int, int, int]  # resource, minutes from the start, for how many minutes, amount


@dataclass(frozen=True, slots=True)
class Mode:
    """A task as it is placed. Tasks of the same `sort` may start at the same minutes and take the same."""

    length: int
    starts: Starts
    takes: tuple[Take, ...]
    sort: int


@dataclass(frozen=True, slots=True)
class Inner:
    """From the start of the task at `before` in the block: at least `least`, at most `most` minutes.

    `kept`: resource and amount, from `since` minutes after that start until this task starts.
    """

    before: int
    least: int
    most: int | None
    since: int = 0
    kept: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Form:
    """A block with its alternatives chosen, all by place in the block.

    `outer`: lags from tasks of other blocks, by number, counted from their ends.
    """

    tasks: tuple[int, ...]
    option: Option
    modes: tuple[Mode, ...]
    inner: tuple[tuple[Inner, ...], ...]
    outer: tuple[tuple[tuple[int, int], ...], ...]
    apart: bool  # no two tasks can ever stand in each other's way
    void: bool  # the lags contradict each other
    likeness: int  # forms of the same likeness are placed alike, given the same floor


class Forms:
    """Every task and block in every way it can be placed; made once for all passes."""

    def __init__(self, problem: Problem, network: Net, openings: Openings) -> None:
        self._problem = problem
        self._net = network
        self._openings = openings
        self._resources = {name: n for n, (name, _) in enumerate(problem.workshop.capacities)}
        self._modes: dict[tuple[int, int], Mode] = {}
        self._sorts: dict[object, int] = {}
        self._forms: dict[tuple[int, Option], Form] = {}
        self._traits: dict[object, tuple[int, bool, bool]] = {}
        # where tasks of a block stand in each other's way: by likeness, orders in which they can be put down
        self.orders: dict[int, list[tuple[int, ...]]] = {}

    def mode(self, task: int, extra: int = 0) -> Mode:
        found = self._modes.get((task, extra))
        if found is None:
            found = self._modes[task, extra] = self._mode(self._problem.tasks[task], extra)
        return found

    def form(self, block: Block, option: Option) -> Form:
        found = self._forms.get((block.number, option))
        if found is None:
            found = self._forms[block.number, option] = self._form(block, option)
        return found

    def _mode(self, task: Task, extra: int) -> Mode:
        length = task.hands_on + extra
        starts = self._openings.starts(task, extra)
        takes = tuple(self._takes(task, length))
        return Mode(length, starts, takes, self._sorts.setdefault((id(starts), takes), len(self._sorts)))

    def _takes(self, task: Task, length: int) -> Iterator[Take]:
        work, wait = dict(task.demands), dict(task.held)
        for name, amount in work.items():
            if wait.get(name) == amount and length and task.wait:
                del wait[name]
                yield self._resources[name], 0, length + task.wait, amount
            elif amount and length:
                yield self._resources[name], 0, length, amount
        for name, amount in wait.items():
            if amount and task.wait:
                yield self._resources[name], length, task.wait, amount

    def _form(self, block: Block, option: Option) -> Form:
        place = {task: n for n, task in enumerate(block.tasks)}
        modes = tuple(self.mode(t, sum(a.late_extra for a in option if a.after == t)) for t in block.tasks)
        inner: list[list[Inner]] = [[] for _ in modes]
        for arc in block.inner:
            lag = _from_start(arc, place[arc.before], modes, option)
            if arc.kept:
                kept = tuple((self._resources[name], amount) for name, amount in arc.kept)
                wait = self._problem.tasks[arc.before].wait
                lag = replace(lag, since=modes[lag.before].length + wait, kept=kept)
            inner[place[arc.after]].append(lag)
        lags = tuple(map(tuple, inner))
        key = (tuple(m.sort for m in modes), lags)
        if key not in self._traits:
            self._traits[key] = (len(self._traits), *_traits(modes, lags))
        likeness, apart, void = self._traits[key]
        outer = tuple(tuple((a.before, a.least) for a in self._net.outer[t]) for t in block.tasks)
        return Form(block.tasks, option, modes, lags, outer, apart, void, likeness)


def _from_start(arc: Arc, before: int, modes: Sequence[Mode], option: Option) -> Inner:
    length = modes[before].length
    if arc in option:
        return Inner(before, length + max(arc.late_least or 0, (arc.greatest or 0) + 1), None)
    return Inner(before, length + arc.least, None if arc.greatest is None else length + arc.greatest)


def _traits(modes: Sequence[Mode], lags: Sequence[Sequence[Inner]]) -> tuple[bool, bool]:
    """(apart, void). By the longest ways between all pairs of tasks (Floyd and Warshall)."""
    size = len(modes)
    if any(i.most is not None and i.most < i.least for each in lags for i in each):
        return False, True
    if size > _SMALL:
        return False, False
    way: list[list[int | None]] = [[0 if a == b else None for b in range(size)] for a in range(size)]
    for after, each in enumerate(lags):
        for lag in each:
            way[lag.before][after] = _larger(way[lag.before][after], lag.least)
            if lag.most is not None:
                way[after][lag.before] = _larger(way[after][lag.before], -lag.most)
    for over in range(size):
        for a in range(size):
            for b in range(size):
                first, second = way[a][over], way[over][b]
                if first is not None and second is not None:
                    way[a][b] = _larger(way[a][b], first + second)
    void = any((way[a][a] or 0) > 0 for a in range(size))
    apart = [[_apart(modes[a], modes[b], way[a][b]) for b in range(size)] for a in range(size)]
    clear = all(apart[a][b] or apart[b][a] for a in range(size) for b in range(a))
    return clear and not _keeps_among(lags), void


def _keeps_among(lags: Sequence[Sequence[Inner]]) -> bool:
    """Whether something is kept between two tasks while a third may want it."""
    return len(lags) > 2 and any(lag.kept for each in lags for lag in each)


def _larger(one: int | None, other: int) -> int:
    return other if one is None else max(one, other)


def _apart(first: Mode, then: Mode, least: int | None) -> bool:
    """Whether the first has given back what the other takes, which starts at least `least` minutes later."""
    shared = {r for r, _, _, _ in first.takes} & {r for r, _, _, _ in then.takes}
    if not shared:
        return True
    until = max(offset + length for r, offset, length, _ in first.takes if r in shared)
    return least is not None and least + min(offset for r, offset, _, _ in then.takes if r in shared) >= until
