"""Better passes by trying other orders: rules first, then chance, steered by what has been best so far.

The same problem always gives the same schedule: chance is drawn from a fixed beginning.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from interview.reasoning.scheduling.blocks import Option
from interview.reasoning.scheduling.generating import Ground, Pass, run

Progress = Callable[[float], None]
EFFORT = 30_000  # places looked for in all, over all passes
_EACH = 1000  # more than so many a block are never spent: there are only so many orders
_FEW = 150  # blocks; of so many, parallel passes are always tried too
_FRESH = 0.15  # so often a new order is drawn from the rules instead of the best one changed


@dataclass(frozen=True, slots=True)
class Aim:
    """`bound`: a finish that is proven the best. `enough`: one to be content with. `effort`: as EFFORT."""

    bound: int
    enough: int | None = None
    effort: int = EFFORT


def improve(ground: Ground, aim: Aim, progress: Progress | None = None) -> Pass:
    """The best pass found; stops early where that is proven best or good enough."""
    search = _Search(ground, aim.effort)
    fewest = len({t.session for t in ground.problem.tasks if t.session})
    best = search.next()
    spent, effort = (
        best.searches,
        0 if _one_way(ground) else min(aim.effort, _EACH * len(ground.network.blocks)),
    )
    while (spent < effort or search.starting) and effort and not _content(best, aim, fewest):
        made = search.next()
        spent += made.searches
        if made.worth < best.worth:
            best = made
        if best.finish <= aim.bound:  # what is left is only sessions
            effort = min(effort, spent + aim.effort // 5)
        if progress is not None:
            progress(min(1.0, spent / max(1, effort)))
    if progress is not None:
        progress(1.0)
    return best


def _content(best: Pass, aim: Aim, fewest: int) -> bool:
    if aim.enough is not None:
        return best.finish <= aim.enough
    return best.finish <= aim.bound and best.sessions <= fewest


def _one_way(ground: Ground) -> bool:
    """Whether there is nothing to choose: each block after the last, no alternatives."""
    blocks = ground.network.blocks
    return all(one.number in other.after for one, other in pairwise(blocks)) and all(
        len(b.options) == 1 for b in blocks
    )


class _Search:
    """Draws the next order to try."""

    def __init__(self, ground: Ground, effort: int) -> None:
        self._ground = ground
        self._rules = _rules(ground)
        both = len(ground.network.blocks) <= max(_FEW, effort // 60)  # else too dear beside a serial pass
        self._first = [(rule, False) for rule in self._rules]
        self._first += [(rule, True) for rule in self._rules if both]
        self._first.reverse()
        self._both = both
        self._chance = random.Random(1)
        self._best: Pass | None = None
        self._ranks: list[float] = []
        self._parallel = False
        self._prefer: dict[int, Option] = {}
        self._choosy = [b for b in ground.network.blocks if len(b.options) > 1]

    @property
    def starting(self) -> bool:
        """Whether there are rules that were not yet tried."""
        return bool(self._first)

    def next(self) -> Pass:
        if self._first:
            rule, parallel = self._first.pop()
            return self._try(list(rule), parallel=parallel, prefer={})
        chance = self._chance
        if chance.random() < _FRESH:
            rule = chance.choice(self._rules)
            spread = (max(rule) - min(rule) + 1) * chance.choice((0.05, 0.2, 0.6))
            ranks = [r + chance.random() * spread for r in rule]
            return self._try(ranks, parallel=self._both and chance.random() < 0.5, prefer={})
        other = self._both and chance.random() < 0.1
        return self._try(self._changed(), parallel=self._parallel ^ other, prefer=self._other_choices())

    def _try(self, ranks: list[float], *, parallel: bool, prefer: dict[int, Option]) -> Pass:
        made = run(self._ground, ranks, parallel=parallel, prefer=prefer)
        if self._best is None or made.worth <= self._best.worth:
            self._best, self._ranks, self._parallel, self._prefer = made, ranks, parallel, prefer
        return made

    def _changed(self) -> list[float]:
        """One or a few blocks moved to another place in the best order, or the order of its starts."""
        chance, best = self._chance, self._best
        assert best is not None
        ranks = list(self._ranks)
        if chance.random() < 0.1:
            return [float(min(best.start[t] for t in b.tasks)) for b in self._ground.network.blocks]
        for _ in range(chance.choice((1, 1, 1, 2, 3))):
            one, other = chance.randrange(len(ranks)), chance.randrange(len(ranks))
            if chance.random() < 0.5:
                ranks[one], ranks[other] = ranks[other], ranks[one]
            else:
                ranks[one] = ranks[other] + chance.choice((-0.5, 0.5)) * chance.random()
        return ranks

    def _other_choices(self) -> dict[int, Option]:
        prefer = dict(self._prefer)
        if self._choosy and self._chance.random() < 0.15:
            block = self._chance.choice(self._choosy)
            if self._chance.random() < 0.3:
                prefer.pop(block.number, None)
            else:
                prefer[block.number] = self._chance.choice(block.options)
        return prefer


def _rules(ground: Ground) -> list[list[float]]:
    """Orders that are known to serve: the longest way to the end first, the same by session, latest start."""
    blocks = ground.network.blocks
    tasks = ground.problem.tasks
    ahead = _ahead(ground)
    head = ground.floor(free=True)
    for block in blocks:
        head.bound_below(block)
    longest = [-max(ahead[t] for t in b.tasks) for b in blocks]
    first = [min(head.start[t] for t in b.tasks) for b in blocks]
    latest = [f + a for f, a in zip(first, longest, strict=True)]
    sessions = sorted({t.session for t in tasks})
    by_session = [min(sessions.index(tasks[t].session) for t in b.tasks) for b in blocks]
    as_given = [float(b.number) for b in blocks]
    grouped = [a + s * 1e-3 for a, s in zip(longest, by_session, strict=True)]
    return [[float(x) for x in rule] for rule in (longest, grouped, latest, first, as_given)]


def _ahead(ground: Ground) -> list[int]:
    """Minutes from the start of each task to the end of all that must follow, at any hour."""
    tasks = ground.problem.tasks
    ahead = [t.hands_on + t.wait for t in tasks]
    into: list[list[tuple[int, int]]] = [[] for _ in tasks]
    for block in ground.network.blocks:
        for arc in block.inner:
            into[arc.after].append((arc.before, arc.least))
    for arcs in ground.network.outer:
        for arc in arcs:
            into[arc.after].append((arc.before, arc.least))
    for block in reversed(ground.network.blocks):
        for task in reversed(block.tasks):
            for before, least in into[task]:
                ahead[before] = max(ahead[before], tasks[before].hands_on + least + ahead[task])
    return ahead
