"""A minute before which no schedule can finish, proven by relaxation.

Two relaxations, the better of which counts. With enough of everything: the longest path through lags and
calendar. With one resource counted as a fluid: work that cannot begin before some minute needs so much of the
resource that its last task ends no sooner than another minute, and after that task its followers still come.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from interview.reasoning.scheduling.blocks import Arc
from interview.reasoning.scheduling.generating import Ground
from interview.reasoning.scheduling.openings import Spans, joined

_CLASSES = 6  # so many thresholds of earliest starts, and of what follows, are tried
_FAR = 4000 * 1440


def lower_bound(ground: Ground) -> int:
    """Minutes from the beginning; 0 for nothing to do."""
    if not ground.problem.tasks:
        return 0
    floor = ground.floor(free=True)
    for block in ground.network.blocks:
        floor.bound_below(block)
    tasks = ground.problem.tasks
    path = max(end + task.wait for end, task in zip(floor.end, tasks, strict=True))
    followers = _Followers(ground)
    return max([path, *_fluid_bounds(ground, floor.start, followers)])


# ------------------------------------------------------------ what comes after a task


class _Followers:
    """The earliest finish of everything after a task, given its end. Tasks with alike followers share it."""

    def __init__(self, ground: Ground) -> None:
        self._ground = ground
        self._after: list[list[Arc]] = [[] for _ in ground.problem.tasks]
        for block in ground.network.blocks:
            for arc in block.inner:
                self._after[arc.before].append(arc)
        for arcs in ground.network.outer:
            for arc in arcs:
                self._after[arc.before].append(arc)
        self.likeness = [0] * len(self._after)
        self.length = [0] * len(self._after)  # minutes after its end, at any hour
        self._model: list[int] = []  # a task for each likeness
        self._known: dict[tuple[int, int], int] = {}
        self._liken()

    def _liken(self) -> None:
        seen: dict[object, int] = {}
        for block in reversed(self._ground.network.blocks):
            for task in reversed(block.tasks):
                after = self._after[task]
                follow = {(_soonest(a), self.likeness[a.after], self._sort(a.after)) for a in after}
                wait = self._ground.problem.tasks[task].wait
                key = (wait, tuple(sorted(follow)))
                self.likeness[task] = seen.setdefault(key, len(seen))
                if self.likeness[task] == len(self._model):
                    self._model.append(task)
                lengths = (_soonest(a) + self._hands(a.after) + self.length[a.after] for a in after)
                self.length[task] = max([wait, *lengths])

    def _hands(self, task: int) -> int:
        return self._ground.problem.tasks[task].hands_on

    def _sort(self, task: int) -> int:
        return self._ground.forms.mode(task).sort

    def finish(self, likeness: int, end: int) -> int:
        """The earliest finish where a task of this likeness ends at `end`."""
        key = (likeness, end)
        if key not in self._known:
            task = self._model[likeness]
            finish = end + self._ground.problem.tasks[task].wait
            for arc in self._after[task]:
                mode = self._ground.forms.mode(arc.after)
                start = mode.starts.next(end + _soonest(arc), end + _FAR)
                if start is not None:
                    finish = max(finish, self.finish(self.likeness[arc.after], start + mode.length))
            self._known[key] = finish
        return self._known[key]


def _soonest(arc: Arc) -> int:
    return arc.least if arc.late_least is None else min(arc.least, arc.late_least)


# ------------------------------------------------------------ resources as fluids


@dataclass(frozen=True, slots=True)
class _Use:
    """What one task takes of one resource. `held`: minutes after its end until it gives all of it back."""

    task: int
    head: int
    tail: int
    work: int  # amount times minutes
    held: int


def _fluid_bounds(ground: Ground, heads: Sequence[int], followers: _Followers) -> Iterator[int]:
    for number, (_, capacity) in enumerate(ground.problem.workshop.capacities):
        uses = list(_uses(ground, number, heads, followers))
        if capacity <= 0 or len(uses) < 2:
            continue
        yield from _bounds_by_class(uses, _Axis(ground, uses, capacity), followers)
        for alike in _with_looks(ground, uses):
            yield from _bounds_by_class(alike, _Axis(ground, alike, capacity, looks=True), followers)


def _bounds_by_class(uses: Sequence[_Use], axis: _Axis, followers: _Followers) -> Iterator[int]:
    for head in _classes([u.head for u in uses]):
        later = [u for u in uses if u.head >= head]
        for tail in _classes([u.tail for u in later]):
            yield _fluid_bound([u for u in later if u.tail >= tail], axis, followers)


def _with_looks(ground: Ground, uses: Sequence[_Use]) -> Iterator[list[_Use]]:
    """Tasks with the same looks after them, which leave less of the day to begin them."""
    found: dict[object, list[_Use]] = {}
    for use in uses:
        task = ground.problem.tasks[use.task]
        if task.looks is not None and not use.held and task.hands_on:
            found.setdefault(task.looks, []).append(use)
    yield from (each for each in found.values() if len(each) > 1)


def _uses(ground: Ground, resource: int, heads: Sequence[int], followers: _Followers) -> Iterator[_Use]:
    for task in range(len(ground.problem.tasks)):
        mode = ground.forms.mode(task)
        mine = [(offset, length, amount) for r, offset, length, amount in mode.takes if r == resource]
        if mine:
            work = sum(length * amount for _, length, amount in mine)
            held = max(offset + length for offset, length, _ in mine) - mode.length
            yield _Use(task, heads[task], followers.length[task], work, held)


def _classes(values: Sequence[int]) -> list[int]:
    """The least value and a few more, spread over all."""
    distinct = sorted(set(values))
    if len(distinct) <= _CLASSES:
        return distinct
    return [distinct[n * len(distinct) // _CLASSES] for n in range(_CLASSES)]


def _fluid_bound(uses: Sequence[_Use], axis: _Axis, followers: _Followers) -> int:
    done = axis.after(min(u.head for u in uses), sum(u.work for u in uses))
    ends = {(followers.likeness[u.task], u.held) for u in uses}
    return min(followers.finish(likeness, done - held) for likeness, held in ends)


class _Axis:
    """When so much of a resource can have been given out.

    Only in working hours, or, where things wait on it, at any hour. `looks`: only in those hours after which
    there is time for the looks of these tasks.
    """

    def __init__(self, ground: Ground, uses: Sequence[_Use], capacity: int, *, looks: bool = False) -> None:
        self._ground = ground
        self._capacity = capacity
        self._starts = {ground.forms.mode(u.task).starts for u in uses} if looks else set()
        self._always = any(u.held for u in uses)
        self._outdoors = all(ground.problem.tasks[u.task].outdoors for u in uses)
        self._laid_out = -1
        self._spans: Spans = []
        self._total: list[int] = []

    def after(self, minute: int, work: int) -> int:
        """The first minute by which `work` can be done from `minute` on."""
        needed = -(-work // self._capacity)
        if self._always:
            return minute + needed
        openings = self._ground.openings
        while True:
            openings.reach(minute + needed)
            if self._laid_out != openings.until:
                self._spans = self._open()
                self._total = openings.open_minutes(self._spans)
                self._laid_out = openings.until
            target = self._open_before(minute) + needed
            where = bisect_left(self._total, target) - 1
            if where < len(self._spans):
                return self._spans[where][0] + target - self._total[where] if where >= 0 else minute
            openings.reach(openings.until + 1)

    def _open(self) -> Spans:
        if self._starts:
            return joined(span for starts in self._starts for span in starts.covered())
        return self._ground.openings.outdoor if self._outdoors else self._ground.openings.work

    def _open_before(self, minute: int) -> int:
        where = bisect_right(self._spans, (minute, _FAR)) - 1
        if where < 0:
            return 0
        return self._total[where] + min(minute, self._spans[where][1]) - self._spans[where][0]
