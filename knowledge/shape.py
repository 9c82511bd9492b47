"""The types of everything in the data files. One row of a file becomes one of these frozen objects.

Levels: 0 no or little, 1 some or it depends on the make, 2 strong; `drink` and `air` go a little further.
Carriers: water, alcohol, hydrocarbon (white spirit and the like), strong (ketone, ester, aromatic).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Literal

from knowledge.conditions import Condition, Every

BasisKind = Literal["published", "common practice", "from memory"]
Reason = Literal["absorption", "loose matter", "trapped air"]
Need = Literal["required", "advised", "harmless", "not needed", "must not"]
Carrier = Literal["water", "alcohol", "hydrocarbon", "strong", "none"]
Method = str  # id of a row of sealers/methods.toml, or "none"
Safety = Literal["eyes", "hands", "breath", "no_flame", "flammable"]  # signs of ISO 7010, by what they are about
ALWAYS = Every()
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Material(Row):
    """A support or mount. `face`: does its whole face let resin in? `core`: what a cut or tear lays open."""

    name: str
    also: tuple[str, ...] = ()  # other words people use for it
    family: str  # paper, photo, jigsaw, board, canvas, cloth, leather, wood, cork, stone, ceramic, cement, glass, metal, plastic
    face: Literal["open", "tight", "closed"]  # drinks; coated or sized so that it mostly does not; no pores at all
    core: Literal["open", "tight", "closed"]
    back: Literal["open", "tight", "closed"]
    brush: Literal["holds", "cockles", "curls", "tears", "sheds", "crushes", "varies"]  # what a wet brush does
    drink: int  # 0..4, how much it takes up where it is open
    air: int  # 0..3
    fibre: int  # 0..2 from here on
    water: int
    alcohol: int
    hydrocarbon: int
    strong: int
    oily: int
    loose: int
    moist: int
    heat: int
    density: Span  # g/cm3, as it lies (air included)
    thickness: Span | None = None  # mm
    grammage: Span | None = None  # g/m2
    stop: str = ""  # id of a way out: do not coat the original
    clean: str = ""  # id of a preparation that takes wax, oil, salt or grime off first
    mount: bool = False  # may carry another support
    colour_risk: int = 0  # 0..2: how much it darkens or goes see-through when it drinks
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Inclusion(Material):
    """A thing laid on or cast in."""

    natural: bool = False  # was alive, or grew: holds water until dried through
    floats: Literal["floats", "sinks", "hovers"]
    stirred: bool = False  # a powder that may be stirred into the resin instead
    dry_how: str = ""  # how to dry it through, in words


@dataclass(frozen=True, slots=True, kw_only=True)
class Medium(Row):
    """What the image is made with."""

    name: str
    also: tuple[str, ...] = ()
    water: int
    alcohol: int
    hydrocarbon: int
    strong: int
    smudge: int
    loose: int
    waxy: int = 0  # 2: never dries or never bonds
    dry: Span  # before sealing, in hours, days, weeks or months
    fix: Literal["no", "optional", "first"] = "no"
    closes: bool = False  # a paint film thick enough to close the face it covers
    stop: str = ""
    clean: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Kind:
    """One thing that a class may turn out to be. `tell`: how to tell, on the piece itself."""

    row: str
    words: str
    tell: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Class(Row):
    """What people call a thing before they know its kind: "some wood". See knowledge/classes.toml."""

    basis: BasisKind = "common practice"
    of: Literal["material", "inclusion", "medium"]
    name: str
    say: tuple[str, ...]  # words people use
    families: tuple[str, ...] = ()
    rows: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    family: str = ""  # needed only where its members are of several
    ask: str  # asks for the kind
    kinds: tuple[Kind, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Property(Row):
    """One column of the rows. See knowledge/properties.toml."""

    basis: BasisKind = "common practice"
    of: tuple[str, ...]
    combine: Literal["most", "least", "worst", "any", "all", "range", "longest", "usual", "shared", "own"]
    worst_first: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sealer(Row):
    """A class of sealer, never a brand."""

    name: str
    also: tuple[str, ...] = ()
    plain: str  # what it is, in plain words
    method: Method
    carrier: Carrier
    solvents: str = ""  # carrier named by family, in words
    barrier: int  # 0 no barrier, 1 some, 2 keeps resin out
    tacks: int  # 0..2 holds loose matter down
    blocks_air: int  # 0..2
    yellows: int  # 0..2
    darkens: int  # 0..2: the look of a bare surface under it
    touch: Span
    recoat: Span
    recoat_window: Span | None = None  # second coat within this, or else after `ready`
    ready: Span  # before resin
    spread: Span | None = None  # m2/L a coat
    dry_film: Span | None = None  # um a coat
    solids: Span | None = None  # percent
    loss: Span | None = None  # percent lost to overspray
    made_for: tuple[str, ...] = ()  # media ids it is made to be safe on
    only_for: tuple[str, ...] = ()  # zone kinds it is kept for
    pack: Span | None = None  # mL in the usual pack
    rank: int = 5  # among equals, the lower first
    how: str  # how to put on one coat
    done_when: str  # how to tell it is dry through
    look_for: tuple[str, ...] = ()  # what its label must say
    cautions: tuple[str, ...] = ()  # caution ids
    note: str = ""
    clear: bool = True  # dries clear
    at_hand: str = ""  # the class this is a tin of, where it stands on the maker's own shelf
    price: float | None = None  # a pack, in the maker's currency


@dataclass(frozen=True, slots=True, kw_only=True)
class WayOn(Row):
    """A way of putting a sealer on: what it reaches and what it does there."""

    name: str
    verb: str
    coat: str  # what one go is called
    does: str
    touches: int  # 0 nothing but mist or liquid, 1 presses, 2 rubs
    wets: int  # 0..3
    pace: int  # minutes for a coat on a square metre
    reaches: tuple[str, ...]  # zone kinds
    gentle: bool = False  # only where brush and spray do not do, and after a trial on a scrap
    tools: tuple[str, ...]
    place: Literal["table", "spray place"] = "table"


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer a person can pick. `also`: other words for it."""

    id: str
    text: str
    also: tuple[str, ...] = ()
    when: Condition = ALWAYS
    hint: str = ""


@dataclass(frozen=True, slots=True)
class Wording:
    """A question's text for one situation; the first that holds is used."""

    when: Condition
    text: str
    why: str = ""


QuestionKind = Literal[
    "one",
    "several",
    "size",
    "length",
    "number",
    "count",
    "temperature",
    "percent",
    "ratio",
    "duration",
    "volume",
    "money",
    "date",
    "hours",
    "text",
    "area",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Question(Row):
    """One thing to ask. `part`: piece, trials, numbers, clock. `order`: the lower the earlier."""

    basis: BasisKind = "common practice"  # a question states nothing; its `why` is the trade's
    part: str
    order: int
    kind: QuestionKind
    text: str
    why: str  # what hangs on it
    short: str  # two or three words for lists: "what it is mounted on"
    when: Condition = ALWAYS
    choices: tuple[Choice, ...] = ()
    rows: str = ""  # choices are the rows of this kind: material, mount, medium, inclusion
    families: dict[str, tuple[str, ...]] = field(default_factory=dict)  # by the answer to `piece`: families to offer
    wordings: tuple[Wording, ...] = ()
    unsure: str  # the choice id or value assumed on "not sure"
    unsure_says: str  # what is then assumed, in words
    example: str = ""  # for typed answers
    low: float | None = None
    high: float | None = None
    unit: str = ""
    always: bool = False  # asked even where it changes no verdict (what it is, its size)
    alone: tuple[str, ...] = ()  # choices that exclude all others ("none", "whole")
    first: tuple[str, ...] = ()  # the usual rows, offered before the rest
    counter: int = 0  # at the counter: the lower the earlier; 0 is not asked there


@dataclass(frozen=True, slots=True, kw_only=True)
class NeedRule(Row):
    """For one zone and one reason: how strong the need is, and why."""

    reason: Reason
    need: Need
    when: Condition
    says: str  # may hold {zone}, {what} (the materials) and {medium}
    lifts: tuple[str, ...] = ()  # need rules that this one takes away
    open_point: str = ""  # id of a trial that would settle it
    cases: tuple[Any, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BarRule(Row):
    """Takes one sealer or method away from one zone."""

    when: Condition
    says: str
    cases: tuple[Any, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CoatsRule(Row):
    """How many coats; the first that holds is used."""

    order: int
    when: Condition
    least: int
    most: int
    says: str
    cases: tuple[Any, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Preparation(Row):
    """Work on the piece before any sealer: drying, cleaning, gluing down, flattening."""

    order: int
    name: str
    when: Condition
    per: Literal["piece", "zone"] = "piece"
    says: str  # why
    how: str
    done_when: str
    hands_on: Span
    each: Span | None = None  # of it for every further piece; left out: all of it
    wait: Span
    safety: tuple[Safety, ...] = ()  # what must be worn, and what is forbidden near it
    needs: tuple[str, ...] = ()  # things to get
    first: bool = False  # before the trials: the copy of the only one
    after_sealing: bool = False  # flattening a curled sheet comes after


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialRule(Row):
    """A test on scrap or a hidden spot before the piece."""

    order: int
    name: str
    when: Condition
    per: Literal["piece", "zone"] = "zone"
    says: str  # why it is asked for here
    how: str
    reads: tuple[str, ...]  # "what you see: what it means"
    settles: str = ""  # the question id that takes its result
    hands_on: Span
    wait: Span
    safety: tuple[Safety, ...] = ()  # what must be worn, and what is forbidden near it
    needs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution(Row):
    """Something that can hurt, and what to do about it."""

    order: int
    name: str
    when: Condition
    says: str
    short: str  # for the handout


@dataclass(frozen=True, slots=True, kw_only=True)
class WayOut(Row):
    """What to do where no sealer fits, or the original should not be coated."""

    name: str
    says: str
    when: Condition = ALWAYS


@dataclass(frozen=True, slots=True, kw_only=True)
class StepRule(Row):
    """Wording and times of a step that is no sealer, trial or preparation: the pour, the watch, the cure."""

    order: int
    kind: Literal["prepare", "mix", "pour", "watch", "cure", "finish"]
    name: str
    when: Condition
    says: str = ""
    how: str
    done_when: str
    hands_on: Span
    each: Span | None = None  # of it for every further piece; left out: all of it
    wait: Span
    looks: Span | None = None  # look again every so often...
    looks_for: Span | None = None  # ...for this long
    window: Span | None = None  # so long after the pour before, at 21 degC...
    window_how: str = ""  # ...where things are so, and what is to be done; goes on from "then"
    missed_wait: Span | None = None  # ...or else only after this
    missed_hands: Span | None = None  # with so much more work on each piece, at least
    missed_name: str = ""
    missed_how: str = ""
    safety: tuple[Safety, ...] = ()  # what must be worn, and what is forbidden near it
    needs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy(Row):
    """What it looks like when it goes wrong, and what to do."""

    order: int
    sign: str
    when: Condition
    cause: str
    mend: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Contradiction(Row):
    """Answers that cannot all be so. `questions`: the ones to mend, the latest first."""

    questions: tuple[str, ...]
    when: Condition
    says: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark(Row):
    """What follows from an answer, said at once where it is worth saying."""

    after: tuple[str, ...]  # question ids
    when: Condition
    says: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """A document, once."""

    id: str
    title: str
    publisher: str
    short: str = ""  # as the brief names it
    date: str = ""
    where: str = ""
    origin: str = ""


# the name of the table in a file -> the type of its rows
KINDS: dict[str, type] = {
    "material": Material,
    "inclusion": Inclusion,
    "medium": Medium,
    "sealer": Sealer,
    "method": WayOn,
    "question": Question,
    "need": NeedRule,
    "bar": BarRule,
    "coats": CoatsRule,
    "preparation": Preparation,
    "trial": TrialRule,
    "caution": Caution,
    "way_out": WayOut,
    "step": StepRule,
    "remedy": Remedy,
    "contradiction": Contradiction,
    "remark": Remark,
    "source": Source,
    "class": Class,
    "property": Property,
}
FILLED = ("origin", "members")  # by the loader; no keys of a row
