"""The parts of a plan: plain frozen dataclasses, made by the reasoning, gathered by `plan.Plan`.

Nothing here is mutable, nothing here knows a terminal or a file. Times are minutes, lengths mm, areas m2,
volumes mL, masses g, temperatures degrees C.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Literal, TypeVar

from knowledge.acting import Phase, Until
from knowledge.shape import Method, Need, Reason, Safety

T = TypeVar("T")
BasisOf = Literal[
    "your trial",
    "your label",
    "your own row",
    "published",
    "common practice",
    "from memory",
    "your answer",
    "assumed",
    "computed",
]
# not needed, wanted and done, wanted but not with what is at hand, and do not: never one word for two of them
Sign = Literal["seal", "no_need", "find_a_way", "stop"]
# strongest first: what wins where two disagree
STRENGTH: tuple[BasisOf, ...] = (
    "your trial", "your label", "your own row", "published", "computed", "common practice", "from memory", "your answer", "assumed",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Basis:
    """Where a statement comes from. `source` and `locator` only where published."""

    kind: BasisOf
    source: str = ""
    locator: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """A conclusion with what led to it: the rule (or row) by id, and the answers it rests on."""

    rule: str
    says: str
    basis: Basis
    because: tuple[str, ...] = ()  # question ids


@dataclass(frozen=True, slots=True)
class Verdict:
    """For one zone and one reason."""

    zone: str
    reason: Reason
    need: Need
    findings: tuple[Finding, ...]
    lifted: tuple[Finding, ...] = ()  # what would have held, had a stronger basis not taken it away


def _of(kind: type[T], value: object) -> T:
    if not isinstance(value, kind):
        raise TypeError(f"{value!r} is no {kind.__name__}")
    return value


@lru_cache(maxsize=1024)
def _by_name(facts: tuple[tuple[str, object], ...]) -> Mapping[str, object]:
    return dict(facts)


@dataclass(frozen=True, slots=True)
class Zone:
    """A part of the piece that gets one treatment. Levels as in knowledge.shape."""

    id: str
    kind: str  # front, edges, back, sides, seams, gaps, features, inclusion
    body: str  # sheet, mount, board, canvas, object or cast: what it is a part of
    name: str  # as the brief calls it: "the front", "the torn edges", "the pressed flowers"
    what: str  # the materials in words: "tissue paper"
    facts: tuple[tuple[str, object], ...]  # what the rules read, by name without "zone."

    def word(self, name: str) -> str:
        """One of a few words: "open". Raises KeyError where the zone has no such fact."""
        return _of(str, self._fact(name))

    def level(self, name: str) -> int:
        return _of(int, self._fact(name))

    def flag(self, name: str) -> bool:
        return _of(bool, self._fact(name))

    def ids(self, name: str) -> frozenset[str]:
        """Several words or ids of rows."""
        return _of(frozenset, self._fact(name))

    @property
    def wets(self) -> frozenset[tuple[str, str]]:
        """Every row that a sealer put there comes to, each with its shelf: ("medium", "charcoal")."""
        return _of(frozenset, self._fact("wets"))

    def _fact(self, name: str) -> object:
        return _by_name(self.facts)[name]


@dataclass(frozen=True, slots=True)
class Barred:
    """One sealer that was considered for a zone and is not used, and why."""

    zone: str
    sealer: str
    method: Method
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class NoWay:
    """A way of sealing that no sealer allows on a zone that needs one: "no brush on the front", and why."""

    zone: str
    method: Method
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Treatment:
    """One sealer put on some zones of one body, in a number of coats."""

    id: str
    zones: tuple[str, ...]
    body: str
    sealer: str
    name: str
    method: Method
    coats_least: int
    coats_most: int
    reasons: tuple[Reason, ...]
    strength: Need  # the strongest need it meets
    findings: tuple[Finding, ...]
    first: bool = False  # a fixative or tack coat that comes before the barrier
    needs_trial: bool = False  # its carrier may move something: only after a clean swab
    coat: str = "coat"  # what one go is called
    gentle: bool = False  # taken because neither brush nor spray will do here: on a scrap first


@dataclass(frozen=True, slots=True)
class Trial:
    """A test to do before anything that cannot be undone."""

    id: str
    name: str
    zones: tuple[str, ...]
    says: str
    how: str
    reads: tuple[str, ...]
    settles: str
    basis: Basis
    hands_on: float
    wait: tuple[float, float]
    safety: tuple[Safety, ...] = ()
    spares: bool = False  # done only where nothing is drawn and nothing lies


@dataclass(frozen=True, slots=True)
class Prep:
    """Work on the piece, and at which stage: first of all, once a fixative is on, once the back is sealed, once all is.

    Its id is its rule's, or where it was divided that and a number: "dust_off.2".
    """

    id: str
    name: str
    zones: tuple[str, ...]
    says: str
    how: str
    done_when: str
    basis: Basis
    hands_on: float
    wait: tuple[float, float]
    needs: tuple[str, ...] = ()
    stage: Phase = "first"
    each: float | None = None  # hands-on minutes for every further piece of the usual size; None: as for the first
    safety: tuple[Safety, ...] = ()
    does: tuple[str, ...] = ()  # its actions; "" where one was left out
    spares: bool = False  # done only where nothing is drawn and nothing lies


@dataclass(frozen=True, slots=True)
class Clash:
    """The first thing that goes wrong when a step is played: what it would do to which layer in which state."""

    step: str
    kind: Literal["cannot bear", "out of reach"]
    action: str
    zone: str
    table: str  # material, medium, inclusion or adhesive; "" where nothing is reached
    layer: str  # id of the row
    rule: str
    until: Until
    says: str
    basis: Basis


@dataclass(frozen=True, slots=True)
class Mended:
    """How a clash was taken out of the plan, and the clash, which is the reason shown."""

    step: str
    by: Literal["move", "narrow", "gentler", "protect", "leave out", "stop"]
    says: str
    clash: Clash


@dataclass(frozen=True, slots=True)
class Judged:
    """What comes of something the maker proposes to do."""

    action: str
    name: str
    verdict: Literal["yes", "no", "instead"]
    says: str  # "No: ... Instead: ..."


@dataclass(frozen=True, slots=True)
class Outlet:
    """A way out where nothing fits: scan and coat a copy, dry first, ask a conservator, do not coat.

    `sign`: stop, it must not be coated as it is; find_a_way, a seal is wanted and nothing at hand puts one on;
    seal, it goes on, but this comes first.
    """

    id: str
    zones: tuple[str, ...]
    name: str
    says: str
    findings: tuple[Finding, ...]
    sign: Sign = "stop"
    first: str = ""  # what cannot wait, before all else


@dataclass(frozen=True, slots=True)
class OpenPoint:
    """Something assumed, and the trial or look that would settle it."""

    question: str
    about: str  # the question in two or three words
    assumed: str
    settle: str = ""


@dataclass(frozen=True, slots=True)
class Input:
    """One number that went into a figure. `origin`: an answer's origin, or the basis of a fact."""

    name: str
    value: str
    basis: Basis


@dataclass(frozen=True, slots=True)
class Figure:
    """A number with its working, as a person would write it on paper."""

    id: str  # dotted: amount.sealer.brush_water_borne.volume
    label: str
    low: float
    high: float
    unit: str
    shown: str  # "60 to 80 mL (2 to 2 3/4 fl oz)"
    formula: str  # "area x coats / spread rate"
    working: tuple[str, ...]  # the lines of the calculation
    inputs: tuple[Input, ...]
    basis: Basis
    range: str = ""  # where the relation holds
    group: Literal["amounts", "mixing", "room", "air", "wood", "cost", "time", "other"] = "other"


@dataclass(frozen=True, slots=True)
class Item:
    """One line of the shopping list. `packs` of `pack` each; money in the maker's currency, None if unknown."""

    id: str
    name: str
    use: str
    amount: str = ""  # as shown: "80 mL (2 3/4 fl oz)"
    packs: int = 1
    pack: str = ""
    price: float | None = None
    look_for: tuple[str, ...] = ()
    figure: str = ""
    low: float | None = None  # the amount in mL, None where it is not known
    high: float | None = None
    size: float | None = None  # mL in a pack
    container: str = ""  # can, bottle, kit
    have: float | None = None  # mL that is there already


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the work. `after`: (step id, least minutes, most minutes or None) from the end of that step.

    `alternative`: where a window was missed, wait until this many minutes instead (second coat after full dry),
    with `alternative_hands` more minutes of work on each piece first, called `alternative_name`. `how` tells of
    both ways; `in_time` and `missed`, where they are given, of one.
    `look_every`/`look_for`: minutes; the piece must be looked at this often for this long after the step.
    """

    id: str
    kind: Literal["trial", "prepare", "seal", "flatten", "mix", "pour", "watch", "cure", "finish"]
    name: str
    zones: tuple[str, ...]
    how: str
    done_when: str
    hands_on: float  # for one piece, setting up and clearing away included
    wait: tuple[float, float]  # after the hands are off, before what follows
    after: tuple[tuple[str, float, float | None], ...] = ()
    alternative: float | None = None
    place: Literal["table", "spray place", "outdoors", "rack"] = "table"
    look_every: float | None = None
    look_for: float | None = None
    sealer: str = ""
    basis: Basis = field(default_factory=lambda: Basis("common practice"))
    alternative_hands: float = 0.0
    alternative_name: str = ""
    in_time: str = ""
    missed: str = ""
    each: float | None = None  # hands-on minutes for every further piece of the same session; None: as for the first
    safety: tuple[Safety, ...] = ()
    does: tuple[str, ...] = ()  # the actions it consists of
    spares: bool = False  # done only where nothing is drawn and nothing lies

    def hands(self, pieces: int) -> float:
        """Hands-on minutes for so many pieces in one session."""
        return self.hands_on + (pieces - 1) * (self.hands_on if self.each is None else self.each)


@dataclass(frozen=True, slots=True)
class Warned:
    """A caution as it applies to this plan."""

    id: str
    name: str
    says: str
    short: str
    basis: Basis


@dataclass(frozen=True, slots=True)
class Mishap:
    """What it looks like when it goes wrong, why, and what to do."""

    id: str
    sign: str
    cause: str
    mend: str
    basis: Basis


def _kept_off(zone: Zone) -> bool:
    return zone.kind == "back" or (zone.kind == "sides" and zone.word("reached") != "yes")


@dataclass(frozen=True, slots=True)
class Decision:
    """What the answers and the knowledge come to, before times and amounts."""

    zones: tuple[Zone, ...]
    verdicts: tuple[Verdict, ...]
    treatments: tuple[Treatment, ...]
    barred: tuple[Barred, ...]
    preps: tuple[Prep, ...]
    trials: tuple[Trial, ...]
    outlets: tuple[Outlet, ...]
    no_ways: tuple[NoWay, ...] = ()
    notes: tuple[Finding, ...] = ()  # conflicts and how they were resolved
    swaps: tuple[tuple[str, str, str], ...] = ()  # step of the pour, its action, what is done in its place
    mended: tuple[Mended, ...] = ()

    @property
    def pours(self) -> bool:
        """While a part that resin goes on has no more than a way out, there is no pour to plan: first that, then the
        questions again. A back, or a side that only drips reach, holds up nothing: resin is kept off it."""
        held_up = {zone for o in self.outlets for zone in o.zones}
        return all(_kept_off(z) for z in self.zones if z.id in held_up)

    def verdict(self, zone: str, reason: Reason) -> Verdict:
        return next(v for v in self.verdicts if v.zone == zone and v.reason == reason)
