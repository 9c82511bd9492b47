"""One pass from priorities to a schedule: serial (by priority) or parallel (whatever can start first)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from heapq import heapify, heappop, heappush

from interview.reasoning.scheduling.block_forms import Forms
from interview.reasoning.scheduling.blocks import Block, Net, Option, net
from interview.reasoning.scheduling.openings import Openings, laid_out
from interview.reasoning.scheduling.placing import PATIENCE, Floor
from interview.reasoning.scheduling.tasks import CannotSchedule, Placed, Problem, called, check


@dataclass(frozen=True, slots=True)
class Ground:
    """The problem made ready for many passes. `release`: nothing may start before this minute."""

    problem: Problem
    network: Net
    forms: Forms
    openings: Openings
    release: int = 0

    def floor(self, *, free: bool = False) -> Floor:
        return Floor(self.problem, self.forms, free=free, release=self.release)


@dataclass(frozen=True, slots=True)
class Pass:
    """What one pass gave.

    Passes are compared by `worth`: earliest finish, then fewest sessions, then soonest on the whole.
    """

    start: tuple[int, ...]
    end: tuple[int, ...]
    options: tuple[Option, ...]  # for each block, the alternatives taken
    finish: int
    sessions: int

    @property
    def worth(self) -> tuple[int, int, int]:
        return self.finish, self.sessions, sum(self.end)


def ground(problem: Problem) -> Ground:
    """Raises CannotSchedule where the problem contradicts itself, or something can have no place ever."""
    check(problem)
    openings = laid_out(problem.calendar, problem.begin)
    network = net(problem)
    forms = Forms(problem, network, openings)
    return Ground(problem, _possible(problem, network, forms), forms, openings)


def _possible(problem: Problem, network: Net, forms: Forms) -> Net:
    """The net with only those alternatives that calendar and workshop allow, were there nothing else to do.

    What fits an empty workshop once fits it again later: windows lie within blocks, and the hours come round.
    """
    free, empty = Floor(problem, forms, free=True), Floor(problem, forms)
    known: dict[int, bool] = {}
    blocks = []
    for block in network.blocks:
        options = []
        for option in block.options:
            alike = forms.form(block, option).likeness
            if alike not in known:
                known[alike] = free.has_place(block, option) and empty.has_place(block, option)
            if known[alike]:
                options.append(option)
        if not options:
            raise _nowhere(problem, block, forms, free)
        blocks.append(replace(block, options=tuple(options)))
    return replace(network, blocks=tuple(blocks))


def _nowhere(problem: Problem, block: Block, forms: Forms, free: Floor) -> CannotSchedule:
    """Why the block has no place: the workshop or the hours. `free`: so far, with room for all."""
    first, last = problem.tasks[block.tasks[0]], problem.tasks[block.tasks[-1]]
    if free.find(block) is not None:
        says = f"{called(last)} must follow {called(first)} so closely that the workshop has no room for both"
        return CannotSchedule(says, last.id)
    soonest = free.soonest(block)
    for number in block.tasks:
        task = problem.tasks[number]
        if forms.mode(number).starts.next(soonest, soonest + PATIENCE) is None:
            what = f"{called(task)}, {task.hands_on} minutes in one go"
            where = "in daylight and within your hours" if task.outdoors else "within your hours"
            looks = ", with somebody there to look at it afterwards" if task.looks else ""
            return CannotSchedule(f"there is never time for {what}, {where}{looks}", task.id)
    says = f"your hours never let {called(last)} follow {called(first)} as soon as it must"
    return CannotSchedule(says, last.id)


_FEW, _LONG_STRETCH = 60, 360
Ranks = Sequence[float]  # one number for each block; the lowest that can go next goes next


def run(ground: Ground, ranks: Ranks, *, parallel: bool) -> Pass:
    """One pass. In parallel, blocks that can start in the same stretch of time go by rank: a minute where there
    are few blocks, longer where each look at all of them would cost too much.
    """
    stretch = 1 if len(ground.network.blocks) <= _FEW else _LONG_STRETCH
    floor = ground.floor()
    blocks = ground.network.blocks
    waiting = [len(b.after) for b in blocks]
    followers = _followers(blocks)
    options: list[Option] = [frozenset()] * len(blocks)
    ready = [(0.0, ranks[b.number], b.number) for b in blocks if not waiting[b.number]]
    heapify(ready)
    while ready:
        _, rank, number = heappop(ready)
        if parallel and _must_wait(soonest := floor.soonest(blocks[number]) // stretch, rank, ready):
            heappush(ready, (soonest, rank, number))
            continue
        found = floor.find(blocks[number])
        if found is None:
            free = ground.floor(free=True)
            free.go_on_from(floor)
            raise _nowhere(ground.problem, blocks[number], ground.forms, free)
        if parallel and _must_wait(first := found[1][0] // stretch, rank, ready):
            heappush(ready, (first, rank, number))
            continue
        floor.put(found)
        options[number] = found[0].option
        for follower in followers[number]:
            waiting[follower] -= 1
            if not waiting[follower]:
                soonest = floor.soonest(blocks[follower]) // stretch if parallel else 0
                heappush(ready, (soonest, ranks[follower], follower))
    return _counted(ground.problem, floor, options)


def _must_wait(soonest: float, rank: float, ready: Sequence[tuple[float, float, int]]) -> bool:
    """Whether another block can start sooner, or as soon and before it in rank."""
    return bool(ready) and (soonest, rank) > ready[0][:2]


def _followers(blocks: Sequence[Block]) -> list[list[int]]:
    followers: list[list[int]] = [[] for _ in blocks]
    for block in blocks:
        for before in block.after:
            followers[before].append(block.number)
    return followers


def _counted(problem: Problem, floor: Floor, options: Sequence[Option]) -> Pass:
    start, end = tuple(floor.start), tuple(floor.end)
    finish = max((e + t.wait for t, e in zip(problem.tasks, end, strict=True)), default=0)
    return Pass(start, end, tuple(options), finish, sessions(problem, start, end))


def sessions(problem: Problem, start: Sequence[int], end: Sequence[int]) -> int:
    """How many sessions: tasks of one session name with no pause between them longer than the workshop's."""
    spans: dict[str, list[tuple[int, int]]] = {}
    for number, task in enumerate(problem.tasks):
        if task.session:
            spans.setdefault(task.session, []).append((start[number], end[number]))
    return sum(_runs(sorted(each), problem.workshop.session_gap) for each in spans.values())


def _runs(spans: Sequence[tuple[int, int]], gap: int) -> int:
    runs, until = 0, None
    for begins, ends in spans:
        if until is None or begins > until + gap:
            runs += 1
        until = ends if until is None else max(until, ends)
    return runs


def placed(problem: Problem, done: Pass) -> tuple[Placed, ...]:
    """The pass as placed tasks."""
    late = {arc.after for option in done.options for arc in option}
    return tuple(Placed(task, done.start[n], done.end[n], n in late) for n, task in enumerate(problem.tasks))
