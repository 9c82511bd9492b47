"""Tasks that must be placed together: those tied by windows, directly or around a corner.

Every window (a greatest lag), and whatever is kept from one task to the next, ties the two. Tasks tied both ways, forward by order
and back by windows, form a block. Between blocks there is only order, so they can be placed one by one, and
a place later on is always free: no early choice can rule out a later one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from itertools import combinations

from interview.reasoning.scheduling.tasks import CannotSchedule, Demands, Lag, Problem, called

_MOST_CHOICES = 4  # with more alternatives than these in one block, only a few of the combinations are tried


@dataclass(frozen=True, slots=True)
class Arc:
    """A lag between tasks by number."""

    before: int
    after: int
    least: int
    greatest: int | None
    late_least: int | None  # None: no alternative
    late_extra: int = 0
    kept: Demands = ()


Option = frozenset[Arc]  # the arcs of a block whose alternative is taken


@dataclass(frozen=True, slots=True)
class Block:
    """Tasks by number, in an order that keeps their lags."""

    number: int
    tasks: tuple[int, ...]
    inner: tuple[Arc, ...]
    options: tuple[Option, ...]  # all windows kept first
    after: frozenset[int]  # blocks that must be placed before


@dataclass(frozen=True, slots=True)
class Net:
    """The problem by numbers: blocks in order, and for every task the arcs that come from other blocks."""

    blocks: tuple[Block, ...]
    outer: tuple[tuple[Arc, ...], ...]
    block_of: tuple[int, ...]


def net(problem: Problem) -> Net:
    """Raises CannotSchedule where tasks wait for each other in a circle."""
    number = {task.id: n for n, task in enumerate(problem.tasks)}
    arcs = [_arc(lag, number) for lag in problem.lags]
    order = _in_order(problem, arcs)
    links: list[list[int]] = [[] for _ in problem.tasks]
    for arc in arcs:
        links[arc.before].append(arc.after)
        if arc.greatest is not None or arc.kept:
            links[arc.after].append(arc.before)
    block_of = _numbered_in_order(_strong_parts(links), order)
    return _net(arcs, order, block_of)


def _arc(lag: Lag, number: dict[str, int]) -> Arc:
    late = lag.late
    return Arc(
        number[lag.before], number[lag.after], lag.least, lag.greatest,
        late.least if late and lag.greatest is not None else None, late.extra if late else 0,
        tuple((resource, amount) for resource, amount in lag.kept if amount),
    )  # fmt: skip


def _in_order(problem: Problem, arcs: Sequence[Arc]) -> list[int]:
    """The tasks so that each comes after those before it; as given, where nothing else is said."""
    waiting = [0] * len(problem.tasks)
    after: list[list[int]] = [[] for _ in problem.tasks]
    for arc in arcs:
        waiting[arc.after] += 1
        after[arc.before].append(arc.after)
    ready = [n for n, count in enumerate(waiting) if not count]
    heapify(ready)
    order: list[int] = []
    while ready:
        task = heappop(ready)
        order.append(task)
        for next_ in after[task]:
            waiting[next_] -= 1
            if not waiting[next_]:
                heappush(ready, next_)
    if len(order) < len(waiting):
        stuck = problem.tasks[next(n for n, count in enumerate(waiting) if count)]
        raise CannotSchedule(f"{called(stuck)} would have to wait for itself", stuck.id)
    return order


def _strong_parts(links: Sequence[Sequence[int]]) -> list[int]:
    """For every task the number of its strongly connected part (Kosaraju and Sharir), without recursion."""
    back: list[list[int]] = [[] for _ in links]
    for task, others in enumerate(links):
        for other in others:
            back[other].append(task)
    left = _leaving_order(links)
    part = [-1] * len(links)
    for root in reversed(left):
        stack = [root] if part[root] < 0 else []
        while stack:
            task = stack.pop()
            part[task] = root
            stack += [other for other in back[task] if part[other] < 0]
    return part


def _leaving_order(links: Sequence[Sequence[int]]) -> list[int]:
    """The tasks in the order in which a depth-first walk leaves them."""
    seen = [False] * len(links)
    left: list[int] = []
    for root in range(len(links)):
        stack = [(root, iter(links[root]))] if not seen[root] else []
        seen[root] = True
        while stack:
            task, others = stack[-1]
            following = next((other for other in others if not seen[other]), None)
            if following is None:
                left.append(task)
                stack.pop()
            else:
                seen[following] = True
                stack.append((following, iter(links[following])))
    return left


def _numbered_in_order(part: Sequence[int], order: Sequence[int]) -> list[int]:
    """The parts numbered anew, by where their first task comes in the order."""
    new: dict[int, int] = {}
    for task in order:
        new.setdefault(part[task], len(new))
    return [new[p] for p in part]


def _net(arcs: Sequence[Arc], order: Sequence[int], block_of: Sequence[int]) -> Net:
    size = max(block_of, default=-1) + 1
    members: list[list[int]] = [[] for _ in range(size)]
    for task in order:
        members[block_of[task]].append(task)
    inner: list[list[Arc]] = [[] for _ in range(size)]
    outer: list[list[Arc]] = [[] for _ in block_of]
    before: list[set[int]] = [set() for _ in range(size)]
    for arc in arcs:
        home = block_of[arc.after]
        if block_of[arc.before] == home:
            inner[home].append(arc)
        else:
            outer[arc.after].append(arc)
            before[home].add(block_of[arc.before])
    blocks = (
        Block(n, tuple(members[n]), tuple(inner[n]), _options(inner[n]), frozenset(before[n])) for n in range(size)
    )
    return Net(tuple(blocks), tuple(map(tuple, outer)), tuple(block_of))


def _options(inner: Sequence[Arc]) -> tuple[Option, ...]:
    """Which alternatives to take, fewest first. With many in one block: none, each alone, and all."""
    choices = [arc for arc in inner if arc.late_least is not None]
    sizes = range(len(choices) + 1) if len(choices) <= _MOST_CHOICES else (0, 1, len(choices))
    return tuple(frozenset(chosen) for size in sizes for chosen in combinations(choices, size))
