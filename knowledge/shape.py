"""The types of everything in the data files. One row of a file becomes one of these frozen objects.

The rows that bear properties (materials, inclusions, media, sealers) are in knowledge/rows.py, which is
made from knowledge/properties.toml.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Literal

from knowledge.acting import LimitRule, Phase
from knowledge.conditions import Condition
from knowledge.rows import Action, Adhesive, Inclusion, Material, Medium, Sealer, WayOn
from knowledge.values import (
    ALWAYS,
    CARRIERS,
    NEEDS,
    REASONS,
    UNSURE,
    BasisKind,
    Carrier,
    Cite,
    Method,
    Need,
    Reason,
    Row,
    Safety,
    Span,
)  # fmt: skip

Stage = Literal["zone", "front", "need", "option", "answer", "piece", "number", "way_out", "layer"]
Combine = Literal["own", "most", "worst", "any", "all", "range", "longest", "usual", "shared", "joined", "union"]


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
    type: Literal["level", "flag", "one", "text", "words", "span", "number", "id", "ids", "limits"]
    range: tuple[int, ...] = ()
    values: tuple[str, ...] = ()
    unit: str = ""
    names: tuple[str, ...] = ()
    optional: bool = False
    needed_by: tuple[str, ...] = ()
    default: Any = None
    combine: Combine = "own"
    zone: Literal["", "most", "worst", "any", "all", "union"] = ""
    support: Literal["", "most", "any", "union"] = ""
    option: bool = False
    says: str
    example: Any
    bad: Any
    read_by: tuple[str, ...] = ()
    shown: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact(Row):
    """What conditions read beside properties and answers. See knowledge/properties.toml."""

    basis: BasisKind = "common practice"
    at: Stage
    type: Literal["level", "flag", "one", "several", "text", "id", "ids", "pairs"]
    range: tuple[int, ...] = ()
    values: tuple[str, ...] = ()
    names: tuple[str, ...] = ()
    comes_from: tuple[str, ...] = ()
    of_things: tuple[str, ...] = ()  # where it is a thing laid on or cast in
    says: str
    read_by: tuple[str, ...] = ()


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
    heard: bool = False  # never asked in an interview, only taken where it is said; at the desk it is asked
    alone: tuple[str, ...] = ()  # choices that exclude all others ("none", "whole")
    first: tuple[str, ...] = ()  # the usual rows, offered before the rest
    not_sure_of: dict[str, str] = field(default_factory=dict)  # by the answer to `piece`: the class "not sure" comes to
    likely: dict[str, tuple[str, ...]] = field(default_factory=dict)  # by the answer to `piece`: before even those
    later: bool = False  # asked only of those who want the figures exact, or have told of it
    counter: int = 0  # at the counter: the lower the earlier; 0 is not asked there
    read_by: tuple[str, ...] = ()  # who reads the answer, where no rule does


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
    how_of: str = ""  # the property of its rows that says how, where they have one
    does: tuple[str, ...] = ()  # the actions it consists of; `how` holds each as {id}
    makes: Literal["", "dry", "glued"] = ""  # the state it leaves
    covers: tuple[str, ...] = ()  # kinds of zone that nobody reaches after it
    latest: Phase = "fixed"  # the last stage it may be put off to
    left_out: str = ""  # what leaving it out costs; where there is nothing here, it cannot be left out


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialRule(Row):
    """A test on scrap or a hidden spot before the piece."""

    order: int
    name: str
    when: Condition
    per: Literal["piece", "zone"] = "zone"
    says: str  # why it is asked for here
    how: str
    line: str = ""  # the same in a line, for a slip of one page
    reads: tuple[str, ...]  # "what you see: what it means"
    settles: str = ""  # the question id that takes its result
    looks: bool = False  # only looks, or asks: touches nothing
    does: tuple[str, ...] = ()  # the actions it does to the piece itself; none where a scrap or the margin will do
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
    untouched: bool = False  # nothing at all is done to it, not even a copy
    first: str = ""  # what cannot wait, before all else
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
    does: tuple[str, ...] = ()  # the actions it consists of; `how` holds each as {id}
    on: tuple[str, ...] = ()  # the kinds of zone it touches; left out: all that resin reaches


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy(Row):
    """A pointer to what may go wrong with such a piece. `sign`: a sign or a hazard of knowledge/signs."""

    order: int
    sign: str
    when: Condition


@dataclass(frozen=True, slots=True, kw_only=True)
class Contradiction(Row):
    """Answers that cannot all be so. `questions`: the ones to mend, the latest first."""

    questions: tuple[str, ...]
    when: Condition
    says: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice(Row):
    """A line that belongs to no step: on the care card for whoever gets the piece, or what the resin's label must say."""

    order: int
    place: Literal["care card", "resin label"]
    when: Condition
    says: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Worry(Row):
    """What follows from a worry that was spoken: who does what, which ways fall away."""

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
    "adhesive": Adhesive,
    "action": Action,
    "limit": LimitRule,
    "preparation": Preparation,
    "trial": TrialRule,
    "caution": Caution,
    "way_out": WayOut,
    "step": StepRule,
    "remedy": Remedy,
    "contradiction": Contradiction,
    "remark": Remark,
    "advice": Advice,
    "worry": Worry,
    "source": Source,
    "class": Class,
    "property": Property,
    "fact": Fact,
}
FILLED = ("origin", "members")  # by the loader; no keys of a row

__all__ = [
    "ALWAYS", "CARRIERS", "NEEDS", "REASONS", "UNSURE", "BasisKind", "Carrier", "Cite", "Inclusion", "Material", "Medium",
    "Method", "Need", "Reason", "Row", "Safety", "Sealer", "Span", "WayOn",
]  # fmt: skip
