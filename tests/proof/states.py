"""Every state a zone can be in, as far as the rules on sealing can tell.

What decides over a zone is a function of its facts alone (and of the needs of the front of its body), and of
those facts only that the rules name. So the states are the products of the values of the named facts, for
each kind of zone. `only_named` holds the argument: a rule that comes to read anything else fails it, and says
what to add here. `strange` holds the other half: no zone of any piece that is walked may have a value that
is not among these.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from itertools import product
from math import prod
from random import Random
from typing import Any

from interview.plan.parts import Zone
from interview.reasoning.piece import zones
from knowledge.loading import Knowledge
from knowledge.shape import NEEDS, REASONS
from tests.proof.folding import PLAIN, comparisons, level, offered

Shape = tuple[str, str, str]  # kind, body, form
NEED_FACTS = (
    "kind", "body", "form", "surface", "opened", "opened_paper", "reached", "darken", "hollow", "held",
    "drop", "water_tells", "resin_drop", "rub", "coupon", "air", "loose", "smudge", "materials", "waxy", "colour_risk", "amine", "ink_lifts", "natural", "stirred", "family", "stop",
)  # fmt: skip
BAR_FACTS = (
    "kind", "surface", "darken", "brush", "loose", "smudge", "rub", "carries", "features", "materials", "liftable",
)  # fmt: skip
OPTION_FACTS = (
    "method", "carrier", "barrier", "tacks", "blocks_air", "yellows", "darkens", "moves", "swab", "clear",
    "kept_elsewhere", "purpose", "sealer", "reaches",
)  # fmt: skip
OTHERS = ("ways", *(f"front.{r}" for r in REASONS))
SWABS = ("none", "clean", "colour", "both")
# facts that one answer decides, with all their values, where the zone has them at all
_OPENED = (
    frozenset(),
    frozenset(("whole",)),
    frozenset(("cut",)),
    frozenset(("torn",)),
    frozenset(("cut", "torn")),
)
_FACE = ("front", "gaps", "seams", "features")


def only_named(knowledge: Knowledge) -> list[str]:
    """Rules that read a fact which the states leave out. Empty while the argument holds."""
    allowed = {
        "needs": {*(f"zone.{n}" for n in NEED_FACTS), *OTHERS},
        "bars": {*(f"zone.{n}" for n in BAR_FACTS), *(f"option.{n}" for n in OPTION_FACTS), "ways", "worries"},
    }
    return [
        f"{rule.id} reads {name}, which tests/proof/states.py does not enumerate"
        for table, names in allowed.items()
        for rule in getattr(knowledge, table).values()
        if not _of_gentle_ways(knowledge, rule)
        for name in sorted(rule.when.names() - names)
    ]


def _of_gentle_ways(knowledge: Knowledge, rule: Any) -> bool:
    """Bars of the ways for where brush and spray will not do: held over the pieces walked, not over states."""
    methods = [m for part in getattr(rule.when, "parts", ()) if getattr(part, "of", "") == "option.method"
               for m in _values(part)]  # fmt: skip
    return bool(methods) and all(knowledge.methods[m].gentle for m in methods)


@lru_cache(maxsize=8)
def shapes(knowledge: Knowledge) -> tuple[Shape, ...]:
    """Every kind of zone on every body of every form, from the real zones of all single materials."""
    found: dict[Shape, None] = {}
    for piece in (*knowledge.questions["support"].families, "cast"):
        for id in offered(knowledge, piece) or ["unsure"]:
            for mounted in ("no", "plywood"):
                facts = {
                    **PLAIN,
                    "piece": piece,
                    "support": frozenset((id,)),
                    "mounted": mounted,
                    "laid_on": frozenset(("coin",)),
                }
                for zone in zones(knowledge, facts):
                    found[_shape(zone)] = None
    return tuple(found)


def _shape(zone: Zone) -> Shape:
    return zone.kind, zone.body, str(zone.word("form"))


def reached(kind: str) -> tuple[str, ...]:
    """How far resin can come, by kind: a face is always wetted."""
    return {"edges": ("drips", "yes"), "sides": ("drips", "yes"), "back": ("no", "yes")}.get(kind, ("yes",))


@lru_cache(maxsize=512)
def domain(knowledge: Knowledge, shape: Shape) -> Mapping[str, tuple[Any, ...]]:
    """The values of each fact that rules on sealing read, for one shape of zone. What rows give is left free."""
    kind, body, form = shape
    thing, face, sheet = kind == "inclusion", kind in _FACE, body == "sheet"
    shown = face or (kind == "edges" and sheet)
    named = {
        n: sorted({v for leaf in comparisons(knowledge, ("needs", "bars")).get(f"zone.{n}", ()) for v in _values(leaf)})
        for n in ("family", "stop", "materials")
    }
    return {
        "kind": (kind,),
        "body": (body,),
        "form": (form,),
        "surface": ("open", "tight", "closed"),
        "opened": _OPENED if kind == "edges" and sheet else (frozenset(),),
        "opened_paper": (False, True) if sheet and not thing else (False,),
        "reached": reached(kind),
        "darken": ("no",) if thing else ("no", "yes"),
        "hollow": ("none",) if thing else ("none", "some"),
        "held": ("glued",) if not thing else ("loose",) if form == "cast" else ("loose", "glued"),
        "drop": ("none", "beads", "slow", "fast") if kind == "front" else ("none",),
        "water_tells": (False, True),
        "resin_drop": ("none", "clear", "dark", "bubbles") if kind == "front" else ("none",),
        "coupon": ("none", "clear", "dark", "cloudy", "bubbles") if kind == "front" else ("none",),
        "rub": ("none", "clean", "marked") if shown else ("none",),
        "air": _levels(knowledge, "air", 3),
        "loose": _levels(knowledge, "loose", 2),
        "smudge": _levels(knowledge, "smudge", 2) if shown else (0,),
        "waxy": _levels(knowledge, "waxy", 2) if shown else (0,),
        "colour_risk": _levels(knowledge, "colour_risk", 2),
        "amine": _levels(knowledge, "amine", 2),
        "ink_lifts": (False, True) if shown else (False,),
        "natural": (False, True) if thing else (False,),
        "stirred": (False, True) if thing else (False,),
        "family": (frozenset(), *(frozenset((f,)) for f in named["family"])),
        "materials": (frozenset(), *(frozenset((m,)) for m in named["materials"])),
        "stop": (frozenset(), *(frozenset((s,)) for s in named["stop"])),
        "features": (frozenset(), frozenset(("knots",))) if kind == "features" else (frozenset(),),
        "brush": ("holds", "cockles", "varies", "curls", "tears", "sheds", "crushes"),
        "liftable": (frozenset(),),
        "carries": ("nothing", "sturdy", "delicate") if kind in ("front", "gaps", "seams") else ("nothing",),
    }


def _values(leaf: Any) -> tuple[Any, ...]:
    return leaf.value if leaf.test == "among" else (leaf.value,)


def _levels(knowledge: Knowledge, name: str, most: int) -> tuple[int, ...]:
    return tuple(sorted({level(knowledge, name, v) for v in range(most + 1)}))


def strange(knowledge: Knowledge, zone: Zone) -> list[str]:
    """Facts of a real zone with a value that its states leave out."""
    if _shape(zone) not in shapes(knowledge):
        return [f"a zone {_shape(zone)} is in no state"]
    allowed = domain(knowledge, _shape(zone))
    found = []
    for name, value in zone.facts:
        if name in ("air", "loose", "smudge", "waxy", "colour_risk", "amine"):
            value = level(knowledge, name, value)  # type: ignore[arg-type]
        if name in (
            "family",
            "stop",
            "materials",
            "features",
            "liftable",
        ):  # sets of rows: every comparison of them is of one member at a time
            continue
        if name in allowed and value not in allowed[name]:
            found.append(f"the {name} of {_shape(zone)} is {value}, which is in no state")
    return found


MOST = 400  # states of one shape and table in a sample


def states(
    knowledge: Knowledge, shape: Shape, names: tuple[str, ...], rng: Random | None = None, share: float = 1.0
) -> Iterator[dict[str, Any]]:
    """Every combination of these facts for one shape, as rules read them. `opened` and `opened_paper` go together.

    `share` below 1: so many of them, MOST at most, drawn by `rng` without making all.
    """
    have = domain(knowledge, shape)
    read = [n for n in names if n in have]
    every: Iterable[tuple[Any, ...]] = product(*(have[n] for n in read))
    if rng is not None and share < 1:
        count = min(MOST, max(1, int(prod(len(have[n]) for n in read) * share)))
        every = (tuple(rng.choice(have[n]) for n in read) for _ in range(count))
    for values in every:
        facts = dict(zip(read, values, strict=True))
        both = shape[:2] == ("edges", "sheet") and {"opened", "opened_paper"} <= facts.keys()
        if both and bool({"cut", "torn"} & facts["opened"]) != facts["opened_paper"]:
            continue
        yield {f"zone.{n}": v for n, v in facts.items() if v is not None}


def fronts(shape: Shape) -> tuple[Mapping[str, Any], ...]:
    """What a zone may know of the need of the front of its body for absorption; mounts and castings have no front."""
    if shape[1] in ("mount", "cast") or shape[0] == "front":
        return ({},)
    return tuple({"front.absorption": need} for need in NEEDS)
