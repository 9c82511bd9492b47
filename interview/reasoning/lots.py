"""Kinds of pieces and what there is to work with -> tasks for the scheduler.

Pieces whose steps differ at most in the time they take form a *group*. A group is worked in *lots*: a lot goes
through every step together. Poured are *rounds* of what the table holds, each after the room was made ready
once, and a round from *pots* no larger than can be spread in the working time. Trials are done once for all that is of
the same stuff. A wet piece keeps its place on the rack until it may be handled, a poured one its place on the table
until it is firm; after that it can stand anywhere.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from typing import Literal

from interview.plan.model import Plan
from interview.plan.parts import Step
from interview.reasoning.scheduling.hours import Calendar
from interview.reasoning.scheduling.openings import laid_out
from interview.reasoning.scheduling.tasks import CannotSchedule
from knowledge.allowances import allowance
from knowledge.formulas.kinetics import HIGH, LOW, time_at

CM2 = 1e4  # in a square metre
USUAL_ROOM = 21.0  # °C, which waits are told for
BESIDE = 20.0  # mm of room to leave beside a piece, so that hands and drips have space; common practice
PLENTY = 10**9  # where no limit was given
ROOM = "prepare.room"  # the step that is done once for a whole round
SPACED = ("table", "rack")


@dataclass(frozen=True, slots=True)
class Means:
    """What there is to work with, and when. Areas in m2, `pot` in mL, `working_time` in minutes.

    None: as much as is needed; of a pot, no more than is ever safe to mix at once. `working_time`: where no label
    gives it. `waits`: which end of each wait's range is counted on.
    """

    calendar: Calendar
    begin: datetime
    ready_by: datetime | None = None
    hands: int = 1
    spray_places: int = 1
    table: float | None = None
    rack: float | None = None
    pot: float | None = None
    working_time: int = 30
    waits: Literal["longest", "shortest"] = "longest"

    def capacities(self) -> tuple[tuple[str, int], ...]:
        return (
            ("hands", self.hands),
            ("spray place", self.spray_places),
            ("table", PLENTY if self.table is None else int(self.table * CM2)),
            ("rack", PLENTY if self.rack is None else int(self.rack * CM2)),
        )


@dataclass(frozen=True, slots=True)
class Kind:
    """So many equal pieces with one plan."""

    name: str
    plan: Plan
    count: int = 1

    @property
    def resin(self) -> float | None:
        """mL poured on one piece at a time, at most, if the plan says so."""
        told = next((f for f in self.plan.figures if f.id == "amount.resin"), None)
        pours = sum(step.kind == "pour" for step in self.plan.steps)
        return told.high / planned(self.plan) / max(1, pours) if told else None

    @property
    def space(self) -> int:
        """cm2 of table or rack that one piece takes, with room beside it; 0 where its size is not known."""
        size = self.plan.answers.get("size")
        return footprint(size) if isinstance(size, Mapping) else 0

    @property
    def slower(self) -> float:
        """A factor on the curing times, by how warm the room was said to be: the rule of thumb, within its range."""
        celsius = self.plan.answers.get("room_temperature")
        if not isinstance(celsius, (int, float)) or not LOW <= celsius <= HIGH:
            return 1.0
        return time_at(1.0, USUAL_ROOM, float(celsius))

    @property
    def label(self) -> tuple[object, ...]:
        """What the resin's label says; kinds with another label are not poured from one pot."""
        told = (self.plan.answers.get(q) for q in ("ratio", "working_time"))
        return tuple(tuple(t) if isinstance(t, list) else t for t in told)


def planned(plan: Plan) -> int:
    """For how many pieces the plan's amounts are."""
    count = plan.answers.get("count", 1)
    return count if isinstance(count, int) and count > 0 else 1


def footprint(size: Mapping[str, object]) -> int:
    """cm2 that a piece of this size (mm, or m2 for a bare area) takes lying flat, with room beside it."""

    def side(name: str) -> float:
        value = size.get(name, 0.0)
        return float(value) if isinstance(value, (int, float)) else 0.0

    if size.get("shape") == "area":
        wide = high = math.sqrt(side("area")) * 1000
    else:
        wide = side("width") or side("diameter")
        high = wide if size.get("shape") in ("circle", "cylinder") else side("height")
    return math.ceil((wide + BESIDE) * (high + BESIDE) / 100)


@dataclass(frozen=True, slots=True)
class Some:
    """Pieces `first` to `last` of one kind, counted from 1."""

    kind: int
    first: int
    last: int

    @property
    def count(self) -> int:
        return self.last - self.first + 1


Pieces = tuple[Some, ...]


def how_many(pieces: Pieces) -> int:
    return sum(some.count for some in pieces)


def cut(pieces: Sequence[Some], size: int) -> list[Pieces]:
    """In slices of at most `size` pieces, as equal as can be."""
    left = how_many(tuple(pieces))
    slices = math.ceil(left / size)
    made: list[Pieces] = []
    rest: Pieces = tuple(pieces)
    for number in range(slices):
        want = math.ceil(left / (slices - number))
        left -= want
        mine, rest = _split(rest, want)
        made.append(mine)
    return made


def _split(pieces: Pieces, want: int) -> tuple[Pieces, Pieces]:
    """The first `want` pieces, and the others."""
    first: list[Some] = []
    for number, some in enumerate(pieces):
        if want < some.count:
            middle = some.first + want
            kept = (Some(some.kind, some.first, middle - 1),) if want else ()
            return (*first, *kept), (Some(some.kind, middle, some.last), *pieces[number + 1 :])
        first.append(some)
        want -= some.count
    return tuple(first), ()


def portions(pieces: Pieces, fits: Callable[[Pieces], bool]) -> list[Pieces]:
    """As few slices as may be of which each fits, as equal as can be; a piece that never fits is one by itself.

    `fits` holds of a part of what it holds of.
    """
    greedy: list[Pieces] = []
    rest = pieces
    while rest:
        low, high = 1, how_many(rest)
        while low < high:
            middle = (low + high + 1) // 2
            low, high = (middle, high) if fits(_split(rest, middle)[0]) else (low, middle - 1)
        mine, rest = _split(rest, low)
        greedy.append(mine)
    even = cut(pieces, math.ceil(how_many(pieces) / len(greedy))) if greedy else []
    return even if len(even) <= len(greedy) and all(map(fits, even)) else greedy


# ------------------------------------------------------------ groups of plans that go through the same steps


@dataclass(frozen=True, slots=True)
class Group:
    """Kinds, by number, whose steps, places and rooms are the same; how long a step takes is each kind's own.

    `trials` with what comes before them, the copy; `work` before the pour, and `pour` from the room on are those of its first kind.
    """

    kinds: tuple[int, ...]
    trials: tuple[Step, ...]
    work: tuple[Step, ...]
    pour: tuple[Step, ...]
    outdoors: bool
    slower: float


def groups(kinds: Sequence[Kind]) -> tuple[Group, ...]:
    """In the order in which their first kinds come."""
    found: dict[tuple[object, ...], list[int]] = {}
    for number, kind in enumerate(kinds):
        steps = tuple(likeness(s) for s in kind.plan.steps)
        found.setdefault((steps, _outdoors(kind.plan), kind.slower), []).append(number)
    return tuple(_group(kinds[numbers[0]], numbers) for numbers in found.values())


def likeness(step: Step) -> tuple[object, ...]:
    """All of a step that decides when it may be done, and with what others; not how long it takes."""
    return (
        step.id, step.name, step.wait, step.after, step.alternative, step.place, step.look_every, step.look_for,
        step.sealer, step.alternative_name, step.alternative_hands > 0,
    )  # fmt: skip


def _group(kind: Kind, numbers: Sequence[int]) -> Group:
    waited = {before for s in kind.plan.steps if s.kind == "trial" for before, _, _ in s.after}
    trials = tuple(s for s in kind.plan.steps if s.kind == "trial" or s.id in waited)
    rest = [s for s in kind.plan.steps if s not in trials]
    begins = next((n for n, s in enumerate(rest) if s.id == ROOM or s.kind == "mix"), len(rest))
    return Group(tuple(numbers), trials, tuple(rest[:begins]), tuple(rest[begins:]), _outdoors(kind.plan), kind.slower)


# answers that are not of the stuff itself: a trial on a scrap shows the same whatever they are
_NOT_STUFF = frozenset(
    ("size", "count", "pieces", "have", "hours", "ready_by", "ways", "only_one", "worries", "thing_size", "thing_mass",
     "price_sealer", "price_resin", "pack_resin", "proposals", "thickness", "sealer_spread", "coat", "fill",
     "room_temperature", "room_humidity", "surface_temperature", "brush_place", "air_room", "openings")
)  # fmt: skip


def stuff(plan: Plan) -> str:
    """The same for plans of the same stuff, so that one scrap serves them all."""
    told = {q: v for q, v in plan.answers.items() if q not in _NOT_STUFF}
    return repr(
        sorted(
            (q, sorted(map(str, v)) if isinstance(v, (list, tuple, set, frozenset)) else str(v))
            for q, v in told.items()
        )
    )


def _outdoors(plan: Plan) -> bool:
    """Whether its spraying is done outdoors: only where no better place was named."""
    ways = plan.answers.get("ways", ())
    return "spray_outdoors" in ways and "spray_booth" not in ways


def all_of(group: Group, kinds: Sequence[Kind]) -> Pieces:
    return tuple(Some(k, 1, kinds[k].count) for k in group.kinds if kinds[k].count)


# ------------------------------------------------------------ how long it takes


@dataclass(frozen=True, slots=True)
class Pace:
    """How long the steps of kinds take, by each kind's own plan."""

    kinds: Sequence[Kind]
    steps: Mapping[tuple[int, str], Step]

    @classmethod
    def of(cls, kinds: Sequence[Kind]) -> Pace:
        return cls(kinds, {(n, s.id): s for n, kind in enumerate(kinds) for s in kind.plan.steps})

    def setting_up(self, id: str, pieces: Pieces) -> float:
        """Minutes before the first piece is touched; they may fall into the wait before."""
        return max(setting_up(self.steps[some.kind, id]) for some in pieces)

    def hands(self, id: str, pieces: Pieces) -> float:
        """Hands-on minutes of one session: setting up once, then each piece."""
        return self.setting_up(id, pieces) + sum(further(self.steps[s.kind, id]) * s.count for s in pieces)

    def others(self, before: str, id: str, pieces: Pieces) -> float:
        """Minutes by which one of the pieces waits longer than the session does: while the others are worked on."""
        each = [max(further(self.steps[s.kind, i]) for i in (before, id)) for s in pieces]
        return sum(e * s.count for e, s in zip(each, pieces, strict=True)) - min(each)


def further(step: Step) -> float:
    """Hands-on minutes for each further piece of a session."""
    return step.hands_on if step.each is None else step.each


def setting_up(step: Step) -> float:
    """Hands-on minutes before the first piece is touched."""
    return step.hands_on - further(step)


# ------------------------------------------------------------ how large a lot may be


def lots(group: Group, pace: Pace, means: Means, most: int) -> list[Pieces]:
    """The pieces of a group in lots that can be sealed together, of at most `most`. Raises CannotSchedule where there
    is no room for even one.
    """
    kinds = pace.kinds
    for what in SPACED:
        _check_space(what, max(kinds[k].space for k in group.kinds), group, kinds, means)
    longest = longest_opening(means)
    rack = PLENTY if means.rack is None else int(means.rack * CM2)
    spare = list(_spare(group, means))

    def fits(pieces: Pieces) -> bool:
        return (
            how_many(pieces) <= most
            and sum(kinds[s.kind].space * s.count for s in pieces) <= rack
            and all(pace.hands(s.id, pieces) <= longest for s in group.work if s.hands_on)
            and all(pace.others(before, id, pieces) <= left for before, id, left in spare)
        )

    return portions(all_of(group, kinds), fits)


def _check_space(what: str, space: int, group: Group, kinds: Sequence[Kind], means: Means) -> None:
    there = means.table if what == "table" else means.rack
    if there is None or space <= int(there * CM2):
        return
    kind = max((kinds[k] for k in group.kinds), key=lambda k: k.space)
    takes = f"a piece of “{kind.name}” takes {space / CM2:.2f} m2 with room beside it"
    raise CannotSchedule(f"{takes}, and the {what} has {there:.2f} m2")


def _spare(group: Group, means: Means) -> Iterator[tuple[str, str, float]]:
    """The first piece waits while the others are worked on, so a window may be over before its turn: how long it may."""
    work = {s.id for s in group.work}
    for step in group.work:
        for before, least, most in step.after:
            if most is not None and before in work:
                spare = most - counted_wait(group.work, before, least, most, means, group.slower)
                yield before, step.id, spare


def longest_opening(means: Means) -> int:
    """Minutes in one go that the hours of the next weeks ever give."""
    openings = laid_out(means.calendar, means.begin)
    openings.reach(35 * 1440)
    return max((closes - opens for opens, closes in openings.work), default=0)


def counted_wait(
    steps: Sequence[Step], before: str, least: float, most: float | None, means: Means, slower: float
) -> float:
    """Minutes to wait after the step `before`: the end of its range that is counted on, within the window."""
    step = next((s for s in steps if s.id == before), None)
    if step is None:
        return least if most is None else min(least, most)
    if least == step.wait[0] and means.waits == "longest":
        least = step.wait[1]
    least *= by_room(step, slower)
    return least if most is None else min(least, closing(step, most, slower))


def by_room(step: Step, slower: float) -> float:
    """A factor on the waits after a step. What dries by evaporation is never counted on to be quicker."""
    if step.kind == "seal":
        return max(1.0, slower)
    return slower if step.kind in ("pour", "watch", "cure") else 1.0


def closing(step: Step, most: float, slower: float) -> float:
    """When a window after a step closes: resin gels later in a cold room, a sealer is not counted on to."""
    return most * by_room(step, slower) if step.kind == "pour" else most


def pots_of(pieces: Pieces, pour: Sequence[Step], pace: Pace, means: Means) -> list[Pieces]:
    """What is poured from one pot each: what can be spread in the working time, and what the pot holds.

    A pour without a step of mixing right before it has that in its own time.
    """
    kinds = pace.kinds
    time = _working_time([kinds[s.kind] for s in pieces], means)
    mixes = [(before.id if before.kind == "mix" else "", step.id) for before, step in pairwise((pour[0], *pour))
             if step.kind == "pour"]  # fmt: skip

    def fits(some: Pieces) -> bool:
        volume = sum((kinds[s.kind].resin or 0.0) * s.count for s in some)
        spread = all(
            pace.hands(step, some) + max((pace.steps[s.kind, mix].hands_on for s in some if mix), default=0.0) <= time
            for mix, step in mixes
        )
        return volume <= largest_pot(means) and spread

    return portions(pieces, fits)


def largest_pot(means: Means) -> float:
    """mL."""
    most = allowance("pot_most").value.high
    return most if means.pot is None else min(means.pot, most)


def _working_time(kinds: Sequence[Kind], means: Means) -> float:
    """Minutes; the shortest that a label gives, else what is usual."""
    told = [k.plan.answers.get("working_time") for k in kinds]
    return min([float(t) for t in told if isinstance(t, (int, float))], default=means.working_time)


def pots_for_one(kind: Kind, means: Means) -> int:
    """How many pots one piece takes: more than one where it needs more resin than a pot holds."""
    return max(1, math.ceil(kind.resin / largest_pot(means))) if kind.resin else 1


def rounds(pieces: Sequence[Some], kinds: Sequence[Kind], means: Means, most: int) -> list[Pieces]:
    """In the order given, as many at a time as the table holds, and at most `most`."""
    room = PLENTY if means.table is None else int(means.table * CM2)
    made: list[list[Some]] = [[]]
    free, left = room, most
    for some in pieces:
        space = kinds[some.kind].space
        first = some.first
        while first <= some.last:
            fits = min(some.last - first + 1, left, free // space if space else left)
            if fits < 1:
                made.append([])
                free, left = room, most
                continue
            made[-1].append(Some(some.kind, first, first + fits - 1))
            first += fits
            free, left = free - fits * space, left - fits
    return [tuple(each) for each in made if each]
