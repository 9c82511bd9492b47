"""What a layer cannot bear of what is done to it. The actions themselves are rows: see knowledge/rows.py."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from knowledge.conditions import Condition
from knowledge.values import BasisKind, Row

# what an action does to a layer, and what a layer may not bear of it
Hazard = Literal[
    "rub", "wet rub", "press", "blast", "strip", "tip", "heat", "soak", "wash", "coat", "water", "alcohol", "hydrocarbon", "strong", "resin"
]  # fmt: skip
Until = Literal["never", "fixed", "glued", "sealed", "dry", "tried"]
Phase = Literal["ahead", "first", "fixed", "backed", "sealed"]


@dataclass(frozen=True, slots=True)
class Cannot:
    """What a row cannot bear that no rule says of it: so much of it, until then. `says` may hold {what}."""

    of: Hazard
    least: int
    until: Until
    says: str
    basis: BasisKind = "from memory"


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitRule(Row):
    """What a layer of such properties cannot bear, from how much on, and until when."""

    of: Hazard
    least: int
    until: Until
    when: Condition
    says: str  # may hold {what}
    cases: tuple[Any, ...] = ()
