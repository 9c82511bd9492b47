"""Rows that no rule can tell apart are one row to the proof: classes of materials, media and things, and all mixes.

A piece may be made on several materials and with several media. Their zone takes the strongest level of each
property, so a mix is worth no more to the rules than the strongest of what its rows are worth. `mixes` makes
them all: one row more at a time until nothing new comes, and asks the real zones of each whether that is so.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache, reduce
from typing import Any

from interview.plan.parts import Zone
from interview.reasoning.circumstances import _FOLLOWS
from interview.reasoning.piece import zones
from interview.reasoning.treatments import is_gentle
from knowledge.conditions import Condition, Leaf
from knowledge.loading import Knowledge
from knowledge.shape import CARRIERS, Sealer

Worth = tuple[Any, ...]
SEALING = ("needs", "bars", "coats", "ways_out", "remarks")  # tables that decide what is sealed and how
# what the zones of a piece are asked with, to see what its rows alone make of them
PLAIN: Mapping[str, Any] = {
    "mounted": "no", "opened": frozenset(), "layers": "flat", "hollow": "none",
    "laid_on": frozenset(("none",)), "media": frozenset(("no_medium",)), "resin_on": "sides",
    "darken": "no", "sturdiness": "sturdy",
    "wood_features": frozenset(("cracks",)),
}  # fmt: skip
_OPEN = ("closed", "tight", "open")
_BRUSH = ("holds", "cockles", "varies", "curls", "tears", "sheds", "crushes")
_LEVELS = ("drink", "air", "loose", "smudge")
_FLAGS = ("powdery", "ink_lifts")
_SETS = ("family", "stop")


def leaves(condition: Condition) -> Iterator[Leaf]:
    """Every single comparison of a condition."""
    if isinstance(condition, Leaf):
        yield condition
        return
    for part in (condition.part,) if hasattr(condition, "part") else condition.parts:
        yield from leaves(part)


@lru_cache(maxsize=64)
def comparisons(knowledge: Knowledge, tables: tuple[str, ...]) -> Mapping[str, tuple[Leaf, ...]]:
    """All comparisons that the rules of these tables make of each fact."""
    found: dict[str, dict[Leaf, None]] = {}
    for table in tables:
        for rule in getattr(knowledge, table).values():
            for leaf in leaves(rule.when):
                found.setdefault(leaf.of, {})[leaf] = None
    return {fact: tuple(tests) for fact, tests in found.items()}


# ------------------------------------------------------------------ what a zone is worth to the rules


def level(knowledge: Knowledge, name: str, value: int) -> int:
    """The lowest level that the rules on sealing cannot tell from this one."""
    bounds = {0}
    for leaf in comparisons(knowledge, SEALING).get(f"zone.{name}", ()):
        if leaf.test in ("at_least", "is"):
            bounds.add(leaf.value)
        if leaf.test in ("at_most", "is"):
            bounds.add(leaf.value + 1)
    return max(b for b in bounds if b <= value)


def zone_worth(knowledge: Knowledge, zone: Zone) -> Worth:
    """What a zone's rows give it, as far as the rules on sealing can tell: larger is stronger, sets grow."""
    facts: dict[str, Any] = dict(zone.facts)
    tests = comparisons(knowledge, SEALING)
    named = {n: _named(tests.get(f"zone.{n}", ())) for n in _SETS}
    return (
        _OPEN.index(facts["surface"]),
        _BRUSH.index(facts["brush"]),
        *(level(knowledge, n, facts[n]) for n in _LEVELS),
        *(facts[n] for n in _FLAGS),
        *(frozenset(facts[n]) & named[n] for n in _SETS),
        *moved(knowledge, facts["wets"]),
    )


def _named(tests: Iterable[Leaf]) -> frozenset[Any]:
    return frozenset(v for leaf in tests for v in (leaf.value if leaf.test == "among" else (leaf.value,)))


def carrying(knowledge: Knowledge) -> list[Sealer]:
    """The sealers with a carrier that are chosen first; the gentle ways bring no carrier of their own."""
    return [s for s in knowledge.sealers.values() if s.carrier in CARRIERS and not is_gentle(knowledge, s)]


def moved(knowledge: Knowledge, wets: Iterable[tuple[str, str]]) -> tuple[int, ...]:
    """For each sealer with a carrier, what that does to the most sensitive of these rows."""
    tables: dict[str, Mapping[str, Any]] = {
        "material": knowledge.materials, "inclusion": knowledge.inclusions, "medium": knowledge.media,
    }  # fmt: skip
    wet, made = tuple(wets), []
    for sealer in carrying(knowledge):
        levels = (getattr(tables[t][i], sealer.carrier) for t, i in wet if t != "medium" or i not in sealer.made_for)
        made.append(max(levels, default=0))
    return tuple(made)


def follows(knowledge: Knowledge, question: str, facts: Mapping[str, Any]) -> Worth:
    """Which comparisons that questions make come out true by this answer alone. With more rows, more come true."""
    given = {question: facts[question], **_FOLLOWS[question](knowledge, facts)}
    tests = comparisons(knowledge, ("questions",))
    return tuple(bool(leaf.holds(given)) for fact in sorted(given) for leaf in tests.get(fact, ()) if _grows(leaf))


def _grows(leaf: Leaf) -> bool:
    """Comparisons that adding a row can make true and never false: all that questions make of rows must be such."""
    assert leaf.test in ("is", "among", "at_least") and leaf.value is not False, f"{leaf} does not grow with the rows"
    return True


def join(one: Worth, other: Worth) -> Worth:
    """What two sets of rows are worth together."""
    return tuple(a | b if isinstance(a, frozenset) else max(a, b) for a, b in zip(one, other, strict=True))


# ------------------------------------------------------------------ classes and mixes


@dataclass(frozen=True, slots=True)
class Mix:
    """A set of rows, and what it is worth."""

    ids: frozenset[str]
    worth: Worth


def support_worth(knowledge: Knowledge, piece: str, ids: frozenset[str]) -> Worth:
    """What a set of supports makes of every side of a piece, and which questions it brings. The face with all of its
    bodies: what is closed beside what drinks is a zone of its own.
    """
    found = zones(knowledge, {**PLAIN, "piece": piece, "support": ids})
    made = {z.kind: zone_worth(knowledge, z) for z in found if z.kind != "part"}
    face = reduce(join, (zone_worth(knowledge, z) for z in found if z.kind == "part"), made["front"])
    sides = (face, made["edges"], made["back"])
    return (*(value for side in sides for value in side), *follows(knowledge, "support", {"support": ids}))


def media_worth(knowledge: Knowledge, ids: frozenset[str]) -> Worth:
    """What a set of media makes of a face that has nothing of its own, and which questions it brings."""
    facts = {**PLAIN, "piece": "sheet", "support": frozenset(("glass",)), "media": ids}
    closes = any(knowledge.media[i].closes for i in ids)
    return (
        *zone_worth(knowledge, zones(knowledge, facts)[0]),
        closes,
        *follows(knowledge, "media", {"media": ids}),
    )


def thing_worth(knowledge: Knowledge, ids: frozenset[str]) -> Worth:
    """What a set of things laid on makes of the face, and which questions it brings."""
    facts = {**PLAIN, "piece": "sheet", "support": frozenset(("glass",)), "laid_on": ids}
    face = zones(knowledge, facts)[0]
    carries = ("nothing", "sturdy", "delicate").index(str(face.word("carries")))
    told = follows(knowledge, "laid_on", {"laid_on": ids, "support": frozenset(), "media": frozenset()})
    return (carries, *moved(knowledge, face.wets), *told)


def thing_class(knowledge: Knowledge, id: str) -> Worth:
    """What one thing is worth as a zone of its own."""
    found = zones(knowledge, {"piece": "cast", "laid_on": frozenset((id,))})[0]
    more = (found.flag("natural"), found.word("floats"), found.flag("stirred"))
    return (*zone_worth(knowledge, found), *more, *thing_worth(knowledge, frozenset((id,))))


def classes(ids: Iterable[str], worth: Callable[[frozenset[str]], Worth]) -> list[Mix]:
    """One row for each class of rows that are worth the same."""
    found: dict[Worth, Mix] = {}
    for id in ids:
        one = frozenset((id,))
        found.setdefault(worth(one), Mix(one, worth(one)))
    return list(found.values())


def mixes(singles: Iterable[Mix], worth: Callable[[frozenset[str]], Worth]) -> list[Mix]:
    """All classes of mixes. Each is then asked of the real zones: a mix must be worth what its rows are joined."""
    start = list(singles)
    found = {m.worth: m for m in start}
    todo = list(start)
    for mix in todo:  # grows while it is gone through
        for one in start:
            new = join(mix.worth, one.worth)
            if new not in found:
                found[new] = Mix(mix.ids | one.ids, new)
                todo.append(found[new])
    for mix in todo:
        assert worth(mix.ids) == mix.worth, f"the rows {sorted(mix.ids)} are not worth what they are worth apart"
    return todo


def offered(knowledge: Knowledge, piece: str) -> list[str]:
    """The supports a piece may be made on, with the unknown one that "not sure" stands for."""
    families = knowledge.questions["support"].families.get(piece, ())
    return [m.id for m in knowledge.materials.values() if m.family in families or m.id == "unsure"]
