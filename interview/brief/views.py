"""What a page of the brief holds, prepared for the templates: words and lists, nothing left to work out."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ZoneRow:
    """Zones with the same verdict. `numbers` are those of the drawing, `ids` those of the plan."""

    ids: tuple[str, ...]
    numbers: tuple[str, ...]
    zones: str
    line: str
    need: str
    mark: str


@dataclass(frozen=True, slots=True)
class Told:
    """A heading of two or three words and what there is to say under it."""

    name: str
    says: str
    mark: str = ""


@dataclass(frozen=True, slots=True)
class TrialView:
    letter: str
    name: str
    where: str
    how: str  # why first
    reads: tuple[str, ...]
    times: str
    mark: str


@dataclass(frozen=True, slots=True)
class ItemView:
    name: str
    amount: str
    says: str  # what it is for, what its label must say, what it costs
    mark: str


@dataclass(frozen=True, slots=True)
class StepView:
    """One entry of the steps; the coats of one sealer on one side are one entry with a box for each."""

    number: int
    kind: str
    name: str
    how: str  # why first, where there is a why
    coats: tuple[str, ...]  # one label a coat, where there are several
    times: str
    beside: str  # what of it stands beside the name in text; nothing where it is as in a step before
    shortly: str  # the same for a sheet of one page
    looks: bool  # the piece is looked at again and again
    done: str
    mark: str
    ids: tuple[str, ...]
    wait: tuple[float, float]
    hands_on: float


@dataclass(frozen=True, slots=True)
class Phase:
    """Steps that belong together, under one heading."""

    key: str
    name: str
    steps: tuple[StepView, ...]


@dataclass(frozen=True, slots=True)
class FigureView:
    label: str
    shown: str
    working: tuple[str, ...]
    mark: str
    told: bool  # another section tells it too


@dataclass(frozen=True, slots=True)
class Group:
    name: str
    figures: tuple[FigureView, ...]


@dataclass(frozen=True, slots=True)
class SourceView:
    number: int
    text: str
    short: str
    backs: str  # what rests on it; empty where its number stands beside that in the brief
    shown: bool  # whether its number stands anywhere in the brief


@dataclass(frozen=True, slots=True)
class Brief:
    """All sections in the order in which they are read. An empty section is left out."""

    title: str
    summary: str
    headline: str
    unfinished: str
    zones: tuple[ZoneRow, ...]
    ways_out: tuple[Told, ...]
    why: tuple[Told, ...]
    never: tuple[Told, ...]  # what no zone bears of a way of sealing
    notes: tuple[Told, ...]
    trials: tuple[TrialView, ...]
    goods: tuple[ItemView, ...]  # sealers and resin
    gear: tuple[str, ...]
    label: str  # what the label of every sealer must say
    figures: tuple[Group, ...]
    room: tuple[str, ...]
    phases: tuple[Phase, ...]
    watch: tuple[str, ...]
    cautions: tuple[Told, ...]
    shorts: tuple[Told, ...]  # the cautions in few words
    defers: str  # to label, data sheet, local rules, licensed practice
    mishaps: tuple[Told, ...]
    care: tuple[str, ...]  # the care card
    assumed: tuple[Told, ...]
    rest: str  # what everything without a mark rests on
    sources: tuple[SourceView, ...]
    cited: tuple[str, ...]  # those whose number stands in the brief, in few words
    total: str  # amount of money, if prices are known
