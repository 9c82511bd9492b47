"""What a page of the brief holds, prepared for the templates: words and lists, nothing left to work out."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Part:
    """Zones with the same verdict and the same reasons. `ids`: those of the plan."""

    ids: tuple[str, ...]
    zones: str
    line: str
    why: str
    need: str
    mark: str


@dataclass(frozen=True, slots=True)
class Told:
    """A heading of two or three words and what there is to say under it."""

    name: str
    says: str
    mark: str = ""


@dataclass(frozen=True, slots=True)
class Fork:
    """One outcome of a trial, and what it means."""

    sees: str
    then: str


@dataclass(frozen=True, slots=True)
class TrialView:
    id: str
    letter: str
    name: str
    where: str
    how: str
    forks: tuple[Fork, ...]
    times: str
    when: str
    mark: str
    behind: bool  # done already


@dataclass(frozen=True, slots=True)
class ItemView:
    name: str
    amount: str
    says: str  # what its label must say, what it costs
    mark: str


@dataclass(frozen=True, slots=True)
class StepView:
    """One entry of the steps; all coats of one treatment are one entry with a box for each."""

    number: int
    kind: str
    name: str
    how: str
    why: str
    coats: tuple[str, ...]  # one label a coat, where there are several
    times: str
    when: str  # day and clock
    done: str
    mark: str
    ids: tuple[str, ...]
    behind: bool  # all of it done already


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


@dataclass(frozen=True, slots=True)
class SourceView:
    number: int
    short: str


@dataclass(frozen=True, slots=True)
class Brief:
    """All sections in the order in which they are read. An empty section is left out."""

    damage: str  # the first line, where the kept piece was damaged
    seal: str
    title: str
    summary: str
    sign: str  # seal, no_need, find_a_way, stop
    headline: str
    do_first: str
    then: str  # what comes after that
    whole: str  # days in all
    days: tuple[str, ...]  # all there is to say of them
    heed: tuple[Told, ...]  # what was said of people and plans that changes the work
    assumed: tuple[Told, ...]
    not_covered: tuple[str, ...]
    unfinished: str
    parts: tuple[Part, ...]
    ways_out: tuple[Told, ...]
    never: tuple[Told, ...]  # what no zone bears of a way of sealing
    notes: tuple[Told, ...]
    trials: tuple[TrialView, ...]
    goods: tuple[ItemView, ...]  # sealers and resin
    gear: tuple[str, ...]
    label: str  # what the label of every sealer must say
    total: str  # amount of money, if prices are known
    figures: tuple[FigureView, ...]
    room: tuple[str, ...]
    phases: tuple[Phase, ...]
    cautions: tuple[Told, ...]
    shorts: tuple[Told, ...]  # the cautions in few words
    defers: str  # to label, data sheet, local rules, licensed practice
    care: tuple[str, ...]  # the care card, to go with the piece
    mishaps: str  # where to turn when it looks wrong
    sources: tuple[SourceView, ...]
    rest: str  # what everything without a mark rests on
