"""The types of actions, of what a layer cannot bear of them, and of what holds a sheet down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from knowledge.conditions import Condition
from knowledge.values import BasisKind, Row

# what an action does to a layer, and what a layer may not bear of it
Hazard = Literal[
    "rub", "wet rub", "press", "blast", "strip", "heat", "soak", "wash", "coat", "water", "alcohol", "hydrocarbon", "strong", "resin"
]  # fmt: skip
Until = Literal["never", "fixed", "glued", "sealed", "dry", "tried"]
Liquid = Literal["none", "water", "alcohol", "hydrocarbon", "strong", "resin", "carrier"]
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
class Adhesive(Row):
    """What holds a sheet down; its id is that of the answer that names it."""

    name: str
    water: int
    alcohol: int
    hydrocarbon: int
    strong: int
    heat: int
    cannot: tuple[Cannot, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Action(Row):
    """Something done to a piece, and what doing it does. Levels as the head of actions/cleaning.toml tells them."""

    name: str
    also: tuple[str, ...] = ()
    how: str = ""
    liquid: Liquid = "none"
    wet: int = 0
    rub: int = 0
    press: int = 0
    blast: int = 0
    strip: int = 0
    celsius: int = 0  # at the face of the piece; 0: no more than the room
    depth: Literal["surface", "through"] = "surface"
    keeps_off: bool = False  # done beside what is drawn and what lies there
    gentler: tuple[str, ...] = ()
    never: str = ""
    instead: str = ""
    hurts: tuple[str, ...] = ()  # caution ids


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitRule(Row):
    """What a layer of such properties cannot bear, from how much on, and until when."""

    of: Hazard
    least: int
    until: Until
    when: Condition
    says: str  # may hold {what}
    cases: tuple[Any, ...] = ()
