"""What goes wrong, as frozen rows: knowledge/signs/*.toml. Read when somebody is in trouble, and never before."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, Literal

from knowledge.loading import HOME, Fault, Knowledge, KnowledgeError, read_toml, rows_in
from knowledge.shape import BasisKind

FOLDER = HOME / "signs"
Often = Literal["always", "often", "seldom", "never"]
Stage = Literal["before", "flowing", "gelled", "tacky", "firm", "cured"]
Does = Literal["act now", "leave", "wait", "clean", "scrape", "coat again", "accept", "redo", "stop"]
STAGES: tuple[Stage, ...] = ("before", "flowing", "gelled", "tacky", "firm", "cured")
# what the words weigh, once and for all; a thing left unsaid lies between often and seldom
WEIGHTS: Mapping[str, float] = {"always": 8.0, "often": 4.0, "": 1.0, "seldom": 0.25, "never": 0.02}
# hours since mixing -> what `since` shows
PLACES = frozenset(("patches", "one spot", "lines", "drops", "one side", "follows image"))  # finds of `extent`
_SINCE = ((1.0, "minutes"), (14.0, "hours"), (36.0, "day"), (160.0, "days"))


@dataclass(frozen=True, slots=True)
class HazardKind:
    """What brought a hazard about, or whom it befell, where the words tell. `more`: lines that then come first;
    `instead`: the first steps for whom the usual ones do not do.
    """

    say: tuple[str, ...]
    cause: str = ""
    more: tuple[str, ...] = ()
    instead: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Hazard:
    """The person comes before the piece: said at once, with no question asked."""

    id: str
    order: int
    name: str
    say: tuple[str, ...]
    cause: str
    actions: tuple[str, ...]
    first: tuple[str, ...]  # the first steps, one line each
    basis: BasisKind
    kinds: tuple[HazardKind, ...] = ()
    body: tuple[str, ...] = ()  # parts of the body: "on my hand", "down her sleeve" say it as well
    unless: tuple[str, ...] = ()  # words with which it is no such thing, where it befell nobody of `who`
    other: tuple[str, ...] = ()  # things it may be about instead, where nothing of our making is named
    who: tuple[str, ...] = ()  # whom it befalls
    over: tuple[str, ...] = ()  # words that tell that it is past, where no word of the present stands by it
    call: bool = False  # whether the emergency line is named first
    source: str = ""
    locator: str = ""


@dataclass(frozen=True, slots=True)
class Sign:
    """What one sees or feels. `stage`: where it tells by itself how far the resin is."""

    id: str
    order: int
    group: str
    name: str
    looks: str
    stage: Stage | Literal[""] = ""
    first: str = ""  # the look without which nothing is advised
    sealer: str = ""  # the sign it is where the sealer is spoken of, and no resin
    places: str = ""  # the sign it is where it is told to be in places only


@dataclass(frozen=True, slots=True)
class Find:
    """One thing a look can show. `stage`: how far the resin is then; `hours`: of these since mixing, at 21 °C."""

    id: str
    text: str
    say: tuple[str, ...] = ()
    stage: Stage | Literal[""] = ""


@dataclass(frozen=True, slots=True)
class Look:
    """A question that parts causes. `cost`: 0 known by heart, 1 a glance, 2 a touch at the edge, 3 a test."""

    id: str
    text: str
    why: str
    cost: int
    finds: tuple[Find, ...]
    harm: int = 0
    before: bool = True  # whether it can be asked before the pour
    of: tuple[str, ...] = ()  # the signs it belongs to: elsewhere words say nothing of it; left out: to all


@dataclass(frozen=True, slots=True)
class Cause:
    """What brought it about. `usual`: how often at all; `signs`: how often each shows; `tells`: look, find, how often.

    `paths`: stage -> path; or else a sign -> path; `any` for the rest. `learned`: the value kept with the piece for the next plan.
    """

    id: str
    name: str
    says: str
    usual: Often
    signs: dict[str, Often]
    paths: dict[str, str]
    next_time: str
    basis: BasisKind
    tells: dict[str, dict[str, Often]] = field(default_factory=dict)
    apart: dict[str, str] = field(default_factory=dict)  # another cause -> the look or test that tells them apart
    learned: str = ""
    source: str = ""
    locator: str = ""


@dataclass(frozen=True, slots=True)
class Mark:
    """Words that tell what a line is about; see marks.toml."""

    id: Literal["poured", "wrong", "stuff", "sealing", "sealer", "resin", "only"]
    say: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Care:
    """What can hurt while mending, said before the mend."""

    id: str
    says: str
    basis: BasisKind
    source: str = ""
    locator: str = ""


@dataclass(frozen=True, slots=True)
class Way:
    """One way on. `lines` may hold {left}, {wait}, {dry}, {amount}, {scuff}; `actions`: what is done to the piece."""

    id: str
    does: Does
    name: str
    why: str
    lines: tuple[str, ...]
    worse: tuple[str, ...]
    basis: BasisKind
    cautions: tuple[str, ...] = ()
    actions: tuple[str, ...] = ()
    plays: tuple[
        str, ...
    ] = ()  # of them, those that meet the piece itself: rows of knowledge/actions, played on it first
    coat: bool = False  # a second coat belongs to it: its amount and days are told
    wait: tuple[float, ...] = ()  # from mixing until it may begin, in working times
    only: str = ""  # the way instead of it for an image there is no other of
    within: float = 0.0  # over after this many working times from mixing
    source: str = ""
    locator: str = ""


@dataclass(frozen=True, slots=True, eq=False)  # equal only to itself, so that it can be looked up by
class Troubles:
    """All rows by id, in the order of the files."""

    hazards: dict[str, Hazard]
    signs: dict[str, Sign]
    looks: dict[str, Look]
    causes: dict[str, Cause]
    paths: dict[str, Way]
    warnings: dict[str, Care]
    marks: dict[str, Mark]


def since_of(hours: float) -> str:
    """The find of the look `since` for so many hours."""
    return next((name for most, name in _SINCE if hours < most), "weeks")


def of_before(troubles: Troubles, cause: Cause) -> bool:
    """Whether this can be the cause while no resin is on the piece."""
    return "before" in cause.paths or any(troubles.signs[sign].stage == "before" for sign in cause.signs)


def signs_before(troubles: Troubles) -> frozenset[str]:
    """The signs there can be while no resin is on the piece."""
    return frozenset(sign for cause in troubles.causes.values() if of_before(troubles, cause) for sign in cause.signs)


def signs_as_told(
    troubles: Troubles,
    signs: tuple[tuple[str, float], ...],
    finds: Mapping[str, str | None],
    *,
    of_sealer: bool = False,
) -> tuple[tuple[str, float], ...]:
    """Signs as the finds have them: in places only, not all over; before the pour, of the sealer, or none at all."""
    shares: dict[str, float] = {}
    before = finds.get("begun") == "not yet"
    may_be = signs_before(troubles) if before else troubles.signs.keys()
    for id, share in signs:
        told = (finds.get("extent") in PLACES and troubles.signs[id].places) or id
        told = ((before or of_sealer) and troubles.signs[told].sealer) or told
        if told in may_be:
            shares[told] = shares.get(told, 0.0) + share
    return tuple(sorted(shares.items(), key=lambda pair: -pair[1]))


KINDS = {"hazard": Hazard, "sign": Sign, "look": Look, "cause": Cause, "path": Way, "warning": Care, "mark": Mark}


@cache
def load_troubles(folder: Path = FOLDER) -> Troubles:
    """Every file of the folder. Raises KnowledgeError naming every fault."""
    troubles, faults = _read(folder)
    faults += reference_faults(troubles)
    if faults:
        raise KnowledgeError(faults)
    return troubles


def trouble_faults(folder: Path, knowledge: Knowledge) -> list[Fault]:
    """What is wrong with the files, and with what points to them or is named in them, for `beforepour knowledge`."""
    sources, actions = knowledge.sources, knowledge.actions
    pointers = {row.id: row.sign for row in knowledge.remedies.values()}
    troubles, faults = _read(folder)
    unknown = [row for row in _told(troubles) if row.source and row.source not in sources]
    faults += [Fault("signs", row.id, f"the source '{row.source}' is in no file") for row in unknown]
    nowhere = [id for id, sign in pointers.items() if sign not in troubles.signs and sign not in troubles.hazards]
    faults += [
        Fault("remedies.toml", id, f"points to '{pointers[id]}', which is no sign and no hazard") for id in nowhere
    ]
    plays = [(way.id, id) for way in troubles.paths.values() for id in way.plays if id not in actions]
    faults += [Fault("signs", way, f"plays '{id}', which is no action") for way, id in plays]
    return [*faults, *reference_faults(troubles)]


def _read(folder: Path) -> tuple[Troubles, list[Fault]]:
    faults: list[Fault] = []
    shelves: dict[str, dict[str, Any]] = {kind: {} for kind in KINDS}
    for path in sorted(folder.glob("*.toml")):
        name = f"{folder.name}/{path.name}"
        data = read_toml(path, name, faults)
        for kind, rows in rows_in(data, {k: KINDS[k] for k in data if k in KINDS}, name, faults).items():
            for row in rows:
                if row.id in shelves[kind]:
                    faults.append(Fault(name, row.id, f"there is another {kind} of this id"))
                shelves[kind][row.id] = row
    return Troubles(*shelves.values()), faults


def reference_faults(troubles: Troubles) -> list[Fault]:
    """Names that lead nowhere, causes without an end, signs nobody shows, a claim of print without a print."""
    found = [*_cause_faults(troubles), *_path_faults(troubles), *_basis_faults(troubles), *_never_used(troubles)]
    return [Fault("signs", id, says) for id, says in found]


def _cause_faults(troubles: Troubles) -> Iterator[tuple[str, str]]:
    finds = {look.id: {find.id for find in look.finds} for look in troubles.looks.values()}
    for cause in troubles.causes.values():
        yield from (
            (cause.id, f"shows the sign '{s}', which is in no file") for s in cause.signs if s not in troubles.signs
        )
        for look, told in cause.tells.items():
            wrong = [find for find in told if find not in finds.get(look, ())]
            yield from ((cause.id, f"'{look}' has no '{find}'") for find in wrong)
        for stage, path in cause.paths.items():
            if stage not in (*STAGES, "any", *cause.signs):
                yield cause.id, f"'{stage}' is no stage, and no sign of it"
            if path not in troubles.paths:
                yield cause.id, f"leads to the path '{path}', which is in no file"
        if "any" not in cause.paths:
            yield cause.id, "has no path for 'any' stage, so it might not end"
        yield from (
            (cause.id, f"is told apart from '{o}', which is no cause") for o in cause.apart if o not in troubles.causes
        )


def _path_faults(troubles: Troubles) -> Iterator[tuple[str, str]]:
    for path in troubles.paths.values():
        if path.within and path.wait and path.wait[0] >= path.within:
            yield path.id, "is over before it may begin"
        yield from (
            (path.id, f"names the warning '{c}', which is in no file")
            for c in path.cautions
            if c not in troubles.warnings
        )
        if path.does in ("scrape", "coat again") and not path.cautions:
            yield path.id, "scrapes or coats, so it names its cautions"


def _told(troubles: Troubles) -> Iterator[Hazard | Cause | Way | Care]:
    """The rows that state something, each with its basis."""
    yield from troubles.hazards.values()
    yield from troubles.causes.values()
    yield from troubles.paths.values()
    yield from troubles.warnings.values()


def _basis_faults(troubles: Troubles) -> Iterator[tuple[str, str]]:
    for row in _told(troubles):
        if (row.basis == "published") != bool(row.source and row.locator):
            yield row.id, "is published, so it needs source and locator, or is not"


def _never_used(troubles: Troubles) -> Iterator[tuple[str, str]]:
    shown = {sign for cause in troubles.causes.values() for sign in cause.signs}
    told = {look for cause in troubles.causes.values() for look in cause.tells}
    led = {path for cause in troubles.causes.values() for path in cause.paths.values()}
    led |= {way.only for way in troubles.paths.values()}
    yield from ((s, "is a sign of no cause") for s in troubles.signs if s not in shown)
    twins = [(s.id, other) for s in troubles.signs.values() for other in (s.sealer, s.places) if other]
    yield from ((id, f"is taken for '{other}', which is no sign") for id, other in twins if other not in troubles.signs)
    ways = [(way.id, way.only) for way in troubles.paths.values() if way.only]
    yield from ((id, f"gives way to '{other}', which is no path") for id, other in ways if other not in troubles.paths)
    yield from (
        (s.id, f"asks first for '{s.first}', which is no look")
        for s in troubles.signs.values()
        if s.first and s.first not in troubles.looks
    )
    yield from ((q, "is asked, but parts no causes") for q in troubles.looks if q not in told)
    yield from ((p, "is a path that nothing leads to") for p in troubles.paths if p not in led)
    warned = {caution for path in troubles.paths.values() for caution in path.cautions}
    yield from ((w, "is a warning of no path") for w in troubles.warnings if w not in warned)
