"""The best of a few passes: each order that is known to serve, block by block and in parallel.

Changing the best of them by chance brought a tenth of a percent on stalls (tests.scheduling.proof), so it is not done.
"""

from __future__ import annotations

from itertools import product

from interview.reasoning.scheduling.generating import Ground, Pass, run

_MANY = 500  # blocks; of more, passes in parallel are too dear


def best_pass(ground: Ground, bound: int = 0, enough: int | None = None) -> Pass:
    """`bound`: a finish that is proven the best; `enough`: one to be content with. Stops where it is reached."""
    fewest = len({t.session for t in ground.problem.tasks if t.session})
    sides = (False, True) if len(ground.network.blocks) <= _MANY else (False,)
    best: Pass | None = None
    for parallel, rule in product(sides, _rules(ground)):
        made = run(ground, rule, parallel=parallel)
        if best is None or made.worth < best.worth:
            best = made
        if best.finish <= (bound if enough is None else enough) and (enough is not None or best.sessions <= fewest):
            break
    assert best is not None
    return best


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
