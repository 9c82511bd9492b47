"""Puts a block of tasks at its earliest place among those already placed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice, permutations

from interview.reasoning.scheduling.block_forms import Form, Forms, Inner, Mode, Take
from interview.reasoning.scheduling.blocks import Block, Option
from interview.reasoning.scheduling.hours import DAY
from interview.reasoning.scheduling.profiles import Profile
from interview.reasoning.scheduling.tasks import Problem

# how long to look past the last commitment: every season's daylight comes round within it
PATIENCE = 400 * DAY
_MOST_PUSHES = 5_000
_MOST_PUSHES_IN_ORDER = 100
_MOST_ORDERS = 120  # tried once, in an empty workshop, for tasks of a block that stand in each other's way
_MOST_DRAWN = 20_000
_KEPT_ORDERS = 3  # the best of them, tried each time the block is placed

Times = list[int]  # the start of each task of a block
Found = tuple[Form, Times]


class Floor:
    """What is taken so far, and the search for the earliest free place. One for each pass."""

    def __init__(self, problem: Problem, forms: Forms, *, free: bool = False, release: int = 0) -> None:
        """`free`: as if there were enough of everything. `release`: nothing starts before this minute."""
        self._release = release
        self._forms = forms
        self._profiles = [Profile(amount) for _, amount in problem.workshop.capacities]
        # sort of task -> from where to where there is no room for it
        self._barren: dict[int, tuple[int, int]] = {}
        # likeness of block -> its floor when it was last searched, and where it could start then
        self._seen: dict[int, tuple[int, int]] = {}
        self._free = free
        self._latest = 0
        self.start = [0] * len(problem.tasks)
        self.end = [0] * len(problem.tasks)

    def find(self, block: Block) -> Found | None:
        """The place with the earliest end, by whichever alternatives; None if there is none."""
        best: tuple[int, int] | None = None
        chosen: Found | None = None
        for option in block.options:
            form = self._forms.form(block, option)
            times, pushed = self._earliest(form)
            if times is None:
                continue
            worth = (_end(form, times), sum(times))
            if best is None or worth < best:
                best, chosen = worth, (form, times)
            if not pushed and not option:
                break  # no window made anything later, so no alternative is earlier
        if chosen is not None:
            self._seen[chosen[0].likeness] = (self._outer_floor(chosen[0], 0), chosen[1][0])
        return chosen

    def put(self, found: Found) -> None:
        """Take what the block needs, for good."""
        form, times = found
        for task, mode, at in zip(form.tasks, form.modes, times, strict=True):
            self.start[task], self.end[task] = at, at + mode.length
            self._latest = max(self._latest, at + mode.length)
        for take in _taken(form, times):
            self._take((take,), 0, 1)

    def has_place(self, block: Block, option: Option) -> bool:
        """Whether the block has any place with these alternatives, before anything is taken."""
        form = self._forms.form(block, option)
        if form.void:
            return False
        times, _ = self._rise(form)
        if times is None or form.apart or self._free:
            return times is not None
        return self._learn_orders(form, times) or not self._clash(form, times)

    def go_on_from(self, other: Floor) -> None:
        """Take over where everything stands."""
        self.start, self.end, self._latest = list(other.start), list(other.end), other._latest

    def soonest(self, block: Block) -> int:
        """The first task of the block cannot start before this minute, as far as is known."""
        form = self._forms.form(block, block.options[0])
        floor = self._outer_floor(form, 0)
        low, high = self._seen.get(form.likeness, (0, 0))
        return max(floor, high) if low <= floor else floor

    def bound_below(self, block: Block) -> None:
        """Set each task of the block to the earliest start and end it has in any alternative."""
        known: dict[int, tuple[int, int]] = {}
        for option in block.options:
            form = self._forms.form(block, option)
            times, _ = self._earliest(form)
            for task, mode, at in zip(form.tasks, form.modes, times or (), strict=times is not None):
                start, end = known.get(task, (at, at + mode.length))
                known[task] = min(start, at), min(end, at + mode.length)
        for task, (start, end) in known.items():
            self.start[task], self.end[task] = start, end
            self._latest = max(self._latest, end)

    # ------------------------------------------------------------ where it fits

    def _earliest(self, form: Form) -> tuple[Times | None, bool]:
        """The earliest start of every task, and whether a window pushed any of them later."""
        times, pushed = self._rise(form)
        if times is None or form.apart or self._free or not self._clash(form, times):
            return times, pushed
        return self._in_some_order(form, times), True

    def _rise(self, form: Form) -> tuple[Times | None, bool]:
        """Raise the starts, from the earliest thinkable, until every lag and window holds.

        A system of "not before" and "only where it fits" has one least solution, and this climbs to it.
        """
        at = [self._outer_floor(form, n) for n in range(len(form.tasks))]
        limit = max(self._latest, *at) + PATIENCE
        pushes = n = 0
        while n < len(at):
            inner = form.inner[n]
            least = at[n]
            for lag in inner:
                least = max(least, at[lag.before] + lag.least)
            found = self._free_place(form.modes[n], least, limit)
            if found is None or pushes > _MOST_PUSHES:
                return None, pushes > 0
            at[n] = found
            n += 1
            for lag in inner:
                if lag.most is not None and found - at[lag.before] > lag.most:
                    at[lag.before] = found - lag.most
                    n = min(n, lag.before)
                    pushes += 1
                elif lag.kept and (since := self._kept_since(lag, at[lag.before], found)) > at[lag.before]:
                    at[lag.before] = since
                    n = min(n, lag.before)
                    pushes += 1
        return at, pushes > 0

    def _kept_since(self, lag: Inner, before: int, until: int) -> int:
        """When the task before has to start, so that there is room for what is kept until this minute."""
        if self._free or before + lag.since >= until:
            return before
        since = before + lag.since
        for resource, amount in lag.kept:
            since = self._profiles[resource].clear_since(since, until, amount)
        return since - lag.since

    def _free_place(self, mode: Mode, least: int, limit: int) -> int | None:
        if self._free:
            return mode.starts.next(least, limit)
        low, high = self._barren.get(mode.sort, (0, 0))
        inside = low <= least <= high
        found = self._search(mode, high if inside else least, limit)
        if found is not None and found > least:
            self._barren[mode.sort] = (low if inside else least, found)
        return found

    def _search(self, mode: Mode, minute: int, limit: int) -> int | None:
        profiles, takes = self._profiles, mode.takes
        while True:
            start = mode.starts.next(minute, limit)
            if start is None:
                return None
            for resource, offset, length, amount in takes:
                minute = profiles[resource].next_fit(start + offset, length, amount) - offset
                if minute != start:
                    break
            else:
                return start

    def _outer_floor(self, form: Form, n: int) -> int:
        least = self._release
        for before, lag in form.outer[n]:
            least = max(least, self.end[before] + lag)
        return least

    # ------------------------------------------------------------ tasks of one block in each other's way

    def _clash(self, form: Form, times: Times) -> bool:
        """Whether the tasks of the block, each with room of its own, ask too much together."""
        clash = False
        done: list[Take] = []
        for take in _taken(form, times):
            resource, begins, length, amount = take
            clash = clash or self._profiles[resource].next_fit(begins, length, amount) != begins
            self._take((take,), 0, 1)
            done.append(take)
        for take in reversed(done):
            self._take((take,), 0, -1)
        return clash

    def _in_some_order(self, form: Form, floor: Times) -> Times | None:
        """Put the tasks down one by one, each in the way of the next, in orders known to serve.

        `floor`: where they would stand if they were not in each other's way; none can stand earlier.
        """
        orders = self._forms.orders[form.likeness]
        found = [t for order in orders if (t := self._one_by_one(form, order, floor)) is not None]
        if not found:  # after all that is taken the workshop is empty
            clear = [max(at, *(p.busy_until for p in self._profiles)) for at in floor]
            found = [t for order in orders if (t := self._one_by_one(form, order, clear)) is not None]
        return min(found, key=lambda times: (_end(form, times), sum(times)), default=None)

    def _learn_orders(self, form: Form, floor: Times) -> bool:
        """Look for orders in which the tasks of the block can be put down, and keep the best."""
        found: list[tuple[tuple[int, int], tuple[int, ...]]] = []
        drawn = islice(permutations(range(len(form.tasks))), _MOST_DRAWN)
        for order in islice((o for o in drawn if _keeps(o, form)), _MOST_ORDERS):
            times = self._one_by_one(form, order, floor)
            if times is not None:
                found.append(((_end(form, times), sum(times)), order))
        self._forms.orders[form.likeness] = [order for _, order in sorted(found)[:_KEPT_ORDERS]]
        return bool(found)

    def _one_by_one(self, form: Form, order: Sequence[int], floor: Sequence[int]) -> Times | None:
        floor = list(floor)
        limit = max(self._latest, *floor) + PATIENCE
        for _ in range(_MOST_PUSHES_IN_ORDER):
            at, push = self._downward(form, order, floor, limit)
            if push is None:
                return at
            floor[push[0]] = push[1]
        return None

    def _downward(
        self, form: Form, order: Sequence[int], floor: Sequence[int], limit: int
    ) -> tuple[Times | None, tuple[int, int] | None]:
        """The starts in this order, or which task has to start later, and when, for a window to be kept."""
        at = [0] * len(order)
        taken: list[Take] = []
        placed = 0
        push: tuple[int, int] | None = None
        for n in order:
            least = max([floor[n], *(at[lag.before] + lag.least for lag in form.inner[n])])
            found = self._search(form.modes[n], least, limit)
            if found is None:
                break
            at[n] = found
            push = self._push(form.inner[n], at, found)
            if push is not None:
                break
            for take in _taken_by(form, n, at):
                self._take((take,), 0, 1)
                taken.append(take)
            placed += 1
        for take in reversed(taken):
            self._take((take,), 0, -1)
        return (at if placed == len(order) else None), push

    def _push(self, lags: Sequence[Inner], at: Times, found: int) -> tuple[int, int] | None:
        """Which task before has to start later, and when, where a window is missed or a place is not free."""
        for lag in lags:
            before = at[lag.before]
            if lag.most is not None and found - before > lag.most:
                return lag.before, found - lag.most
            if lag.kept and (since := self._kept_since(lag, before, found)) > before:
                return lag.before, since
        return None

    def _take(self, takes: Sequence[Take], at: int, sign: int) -> None:
        if not self._free:
            for resource, offset, length, amount in takes:
                self._profiles[resource].take(at + offset, length, sign * amount)


def _taken(form: Form, times: Sequence[int]) -> Iterator[Take]:
    """Everything the block takes, by the minute."""
    for n in range(len(times)):
        yield from _taken_by(form, n, times)


def _taken_by(form: Form, n: int, times: Sequence[int]) -> Iterator[Take]:
    """What one task takes, and what was kept for it until it starts."""
    for resource, offset, length, amount in form.modes[n].takes:
        yield resource, times[n] + offset, length, amount
    for lag in form.inner[n]:
        since = times[lag.before] + lag.since
        if lag.kept and times[n] > since:
            for resource, amount in lag.kept:
                yield resource, since, times[n] - since, amount


def _end(form: Form, times: Times) -> int:
    return max(at + mode.length for at, mode in zip(times, form.modes, strict=True))


def _keeps(order: Sequence[int], form: Form) -> bool:
    at = {n: place for place, n in enumerate(order)}
    return all(at[lag.before] < at[after] for after, each in enumerate(form.inner) for lag in each)
