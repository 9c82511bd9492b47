"""What every row and rule is made of: levels of trust, spans with units, citations.

Levels: 0 no or little, 1 some or it depends on the make, 2 strong; `drink` and `air` go a little further.
Carriers: water, alcohol, hydrocarbon (white spirit and the like), strong (ketone, ester, aromatic).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from knowledge.conditions import Every

BasisKind = Literal["published", "common practice", "from memory"]
Reason = Literal["absorption", "loose matter", "trapped air"]
Need = Literal["required", "advised", "harmless", "not needed", "must not"]
Carrier = Literal["water", "alcohol", "hydrocarbon", "strong", "none"]
Method = str  # id of a row of sealers/methods.toml, or "none"
Safety = Literal["eyes", "hands", "breath", "no_flame", "flammable"]  # signs of ISO 7010, by what they are about
ALWAYS = Every()
UNSURE = ("unsure", "unsure_medium", "unsure_thing")  # the rows that "not sure" is taken as
REASONS: tuple[Reason, ...] = ("absorption", "loose matter", "trapped air")
NEEDS: tuple[Need, ...] = ("must not", "required", "advised", "harmless", "not needed")  # strongest first
CARRIERS: tuple[Carrier, ...] = ("water", "alcohol", "hydrocarbon", "strong")


@dataclass(frozen=True, slots=True)
class Span:
    """A value or a range with its unit, written in the files as "24 hours" or "24 to 48 hours"."""

    low: float
    high: float
    unit: str


@dataclass(frozen=True, slots=True)
class Cite:
    """Where one property of a row is published. `of` names the property."""

    of: str
    source: str
    locator: str
    second_hand: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """What every row carries: its id and how far it may be trusted."""

    id: str
    basis: BasisKind
    source: str = ""
    locator: str = ""
    reviewed: str = ""
    cites: tuple[Cite, ...] = ()
    origin: str = ""  # the file it came from, and which row it overrides; filled by the loader
    members: tuple[str, ...] = ()  # of a class ("some wood"): the rows it is the worst of; filled by the loader
