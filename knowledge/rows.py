"""The rows that bear properties. Made from properties.toml by `python -m knowledge.deriving`; change nothing here."""

# fmt: off
from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from knowledge.acting import Cannot
from knowledge.values import Row, Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Material(Row):
    """A support or mount."""

    name: str
    also: tuple[str, ...] = ()
    family: Literal[
        "paper", "photo", "jigsaw", "board", "canvas", "cloth", "leather", "wood", "cork", "stone", "ceramic",
        "cement", "glass", "metal", "plastic", "unknown", "botanical", "animal", "mineral", "small", "food", "wax"
    ]
    face: Literal["open", "tight", "closed"]
    core: Literal["open", "tight", "closed"]
    back: Literal["open", "tight", "closed"]
    brush: Literal["crushes", "sheds", "tears", "curls", "varies", "cockles", "holds"]
    drink: int
    air: int
    fibre: int
    water: int
    alcohol: int
    hydrocarbon: int
    strong: int
    oily: int
    loose: int
    moist: int
    heat: int
    amine: int = 0
    sweats: bool = False
    colour_risk: int = 0
    density: Span
    thickness: Span | None = None
    grammage: Span | None = None
    stop: str = ""
    clean: str = ""
    finish: bool = False
    cannot: tuple[Cannot, ...] = ()
    mount: bool = False
    note: str = ""
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Inclusion(Material):
    """A thing laid on or cast in."""

    natural: bool = False
    floats: Literal["floats", "hovers", "sinks"]
    stirred: bool = False
    dry_how: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Medium(Row):
    """What the image is made with."""

    name: str
    also: tuple[str, ...] = ()
    water: int
    alcohol: int
    hydrocarbon: int
    strong: int
    loose: int
    smudge: int
    waxy: int = 0
    amine: int = 0
    dry: Span
    fix: Literal["first", "optional", "no"] = "no"
    closes: bool = False
    stop: str = ""
    clean: str = ""
    cannot: tuple[Cannot, ...] = ()
    note: str = ""
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sealer(Row):
    """A class of sealer, never a brand."""

    name: str
    also: tuple[str, ...] = ()
    note: str = ""
    plain: str
    method: str
    carrier: Literal["water", "alcohol", "hydrocarbon", "strong", "none"]
    solvents: str = ""
    barrier: int
    tacks: int
    blocks_air: int
    yellows: int
    darkens: int
    touch: Span
    recoat: Span
    recoat_window: Span | None = None
    ready: Span
    spread: Span | None = None
    dry_film: Span | None = None
    solids: Span | None = None
    loss: Span | None = None
    made_for: tuple[str, ...] = ()
    only_for: tuple[str, ...] = ()
    pack: Span | None = None
    rank: int = 5
    how: str
    done_when: str
    look_for: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    clear: bool = True
    at_hand: str = ""
    left: float | None = None
    price: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WayOn(Row):
    """A way of putting a sealer on: what it reaches and what it does there."""

    name: str
    verb: str
    coat: str
    pace: int
    reaches: tuple[str, ...]
    gentle: bool = False
    tools: tuple[str, ...]
    place: Literal["table", "spray place"] = "table"


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
    """Something done to a piece, and what doing it does."""

    name: str
    also: tuple[str, ...] = ()
    how: str = ""
    liquid: Literal["none", "water", "alcohol", "hydrocarbon", "strong", "resin", "carrier"] = "none"
    wet: int = 0
    rub: int = 0
    press: int = 0
    blast: int = 0
    strip: int = 0
    tip: int = 0
    celsius: int = 0
    depth: Literal["surface", "through"] = "surface"
    keeps_off: bool = False
    gentler: tuple[str, ...] = ()
    never: str = ""
    instead: str = ""
    hurts: tuple[str, ...] = ()
