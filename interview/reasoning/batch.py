"""A whole stall: kinds worked together on one timeline, one shopping list, a sheet a day, a table of pots."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta

from interview.plan.parts import Item
from interview.quantities.written import amount
from interview.reasoning.day_lines import Line, day_lines
from interview.reasoning.lots import Kind, Means, groups, planned
from interview.reasoning.money import Worth, worths
from interview.reasoning.offers import ways_out
from interview.reasoning.timetable import Doing, Progress, Timeline, arrange
from knowledge.allowances import allowance
from knowledge.formulas.mixing import split

_ONE_SESSION = timedelta(hours=1)  # sprayings no further apart are one session


@dataclass(frozen=True, slots=True)
class Buy:
    """One line of the combined list. `amount` in words, "" where it is not known; `have` mL are there already; `packs` are
    to be bought, of which one costs `price`."""

    name: str
    use: str
    amount: str
    packs: int
    pack: str
    price: float | None
    kinds: tuple[str, ...]
    look_for: tuple[str, ...] = ()
    low: float | None = None  # mL
    high: float | None = None
    size: float | None = None  # mL in a pack
    have: float | None = None  # mL


@dataclass(frozen=True, slots=True)
class PotLine:
    """One pot: when it is mixed, for which pieces, and its parts, "" where they are not known."""

    number: int
    mixed: datetime
    who: str
    pieces: int
    total: str
    resin: str
    hardener: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """One day: what is done by hand, and when to look at what else."""

    day: date
    lines: tuple[Line, ...]
    looks: tuple[tuple[datetime, str], ...]


@dataclass(frozen=True, slots=True)
class Batch:
    """Everything a batch comes to. `alike`: names of kinds with equal plans, worked together. `notes`: what else
    is to be said of kinds that are worked together."""

    kinds: tuple[Kind, ...]
    timeline: Timeline
    alike: tuple[tuple[str, ...], ...]
    shopping: tuple[Buy, ...]
    sheets: tuple[Sheet, ...]
    pots: tuple[PotLine, ...]
    notes: tuple[str, ...] = ()
    sells: Mapping[str, float] = field(default_factory=dict)

    @property
    def worths(self) -> tuple[Worth, ...]:
        return worths(self.kinds, self.timeline, self.sells)

    @property
    def cost(self) -> float | None:
        """Of everything that is to be bought and has a price; None where nothing has."""
        prices = [b.price * b.packs for b in self.shopping if b.price is not None and b.packs]
        return sum(prices) if prices else None


def make_batch(
    kinds: Sequence[Kind],
    means: Means,
    *,
    backward: bool = False,
    others: Callable[[], Sequence[tuple[str, Sequence[Kind]]]] = tuple,
    sells: Mapping[str, float] | None = None,
    progress: Progress | None = None,
) -> Batch:
    """`others`: gives the same pieces planned otherwise, tried where it would be late. Raises CannotSchedule."""
    time = arrange(kinds, means, backward=backward, progress=progress)
    if time.late:
        time = replace(time, ways=ways_out(kinds, means, others))
    return Batch(tuple(kinds), time, alike(kinds), shopping(kinds), sheets(time), pots(time, kinds), sells=sells or {})


def alike(kinds: Sequence[Kind]) -> tuple[tuple[str, ...], ...]:
    """The names of kinds that are worked together, where there are several."""
    named = (tuple(kinds[k].name for k in group.kinds) for group in groups(kinds))
    return tuple(names for names in named if len(names) > 1)


# ------------------------------------------------------------ shopping


def shopping(kinds: Sequence[Kind]) -> tuple[Buy, ...]:
    """Each thing once, amounts of all kinds added up before they are rounded up to packs."""
    found: dict[tuple[str, tuple[str, ...]], list[tuple[Kind, Item]]] = {}
    for kind in kinds:
        for item in kind.plan.items:
            # what is bought by a class must not be mixed up with what is made for something else
            key = item.id if item.id.startswith("sealer.") else item.name.casefold()
            found.setdefault((key, item.look_for if item.id == "resin" else ()), []).append((kind, item))
    return tuple(_buy(each) for each in found.values())


def _buy(each: Sequence[tuple[Kind, Item]]) -> Buy:
    first = each[0][1]
    sized = [(kind.count / planned(kind.plan), item) for kind, item in each if item.low is not None]
    low = sum((item.low or 0.0) * share for share, item in sized)
    high = sum((item.high or 0.0) * share for share, item in sized)
    packs, biggest = _packs(high if len(sized) == len(each) else 0.0, each)
    return Buy(
        name=first.name,
        use=first.use,
        amount=amount(low, high, "mL", up=True) if sized else "",
        packs=packs,
        pack=_pack(biggest) if packs else "",
        price=biggest.price,
        kinds=tuple(dict.fromkeys(kind.name for kind, _ in each)),
        look_for=tuple(dict.fromkeys(line for _, item in each for line in item.look_for)),
        low=low if sized else None,
        high=high if sized else None,
        size=biggest.size,
        have=biggest.have,
    )


def _pack(item: Item) -> str:
    return f"{amount(item.size, item.size, 'mL')} {item.container}" if item.size is not None else item.pack


def _packs(high: float, each: Sequence[tuple[Kind, Item]]) -> tuple[int, Item]:
    """How many to buy of the largest pack any of the plans took, and its item; where amounts are not known, packs added
    up. What is left on the shelf is there once for all kinds."""
    sizes = [(item.size, item) for _, item in each if item.size is not None]
    if high and sizes:
        size, item = max(sizes, key=lambda s: s[0])
        least = 1 if item.have is None else 0
        return max(least, math.ceil((high - (item.have or 0.0)) / size - 1e-9)), item
    item = each[0][1]
    return (sum(item.packs for _, item in each) if item.pack else item.packs), item


# ------------------------------------------------------------ days and pots


def sheets(time: Timeline) -> tuple[Sheet, ...]:
    """A sheet for each day on which there is something to do or to look at."""
    lines = day_lines(time.doings)
    looks = sorted({(look, d.who or "it") for d in time.doings for look in d.looks})
    days = sorted({line.begins.date() for line in lines} | {look.date() for look, _ in looks})
    return tuple(
        Sheet(
            day,
            tuple(line for line in lines if line.begins.date() == day),
            tuple((look, who) for look, who in looks if look.date() == day),
        )
        for day in days
    )


def spray_sessions(time: Timeline) -> tuple[tuple[datetime, datetime, tuple[str, ...]], ...]:
    """Begin, end and pieces of each go at spraying that several sorts of pieces share."""
    made: list[list[Doing]] = []
    for doing in time.doings:
        if not doing.spray:
            continue
        if made and doing.begins - max(d.ends for d in made[-1]) <= _ONE_SESSION:
            made[-1].append(doing)
        else:
            made.append([doing])
    runs = ((run[0].begins, max(d.ends for d in run), tuple(dict.fromkeys(d.who for d in run))) for run in made)
    return tuple(run for run in runs if len(run[2]) > 1)


def pots(time: Timeline, kinds: Sequence[Kind]) -> tuple[PotLine, ...]:
    """In the order in which they are mixed."""
    first: dict[int, Doing] = {}
    for doing in time.doings:
        if doing.pot and doing.kind in ("mix", "pour"):
            first.setdefault(doing.pot, doing)
    return tuple(_pot(doing, kinds) for doing in first.values())


def _pot(doing: Doing, kinds: Sequence[Kind]) -> PotLine:
    volumes = [kinds[s.kind].resin for s in doing.some]
    total = sum(v * s.count for v, s in zip(volumes, doing.some, strict=True) if v is not None)
    known = bool(volumes) and None not in volumes
    resin, hardener = _parts(total, kinds[doing.some[0].kind]) if known else ("", "")
    return PotLine(
        doing.pot,
        doing.begins,
        doing.who,
        doing.pieces,
        amount(total, total, "mL", up=True) if known else "",
        resin,
        hardener,
    )


def _parts(total: float, kind: Kind) -> tuple[str, str]:
    """Measured out by the ratio of the label: mL, or g by weight."""
    ratio = kind.plan.answers.get("ratio")
    if not isinstance(ratio, (list, tuple)) or len(ratio) != 3:
        return "", ""
    a, b, by = ratio
    unit = "g" if by == "weight" else "mL"
    if unit == "g":
        total *= allowance("resin_density").value.high
    resin = math.ceil(split(total, a, b).resin)
    return f"{resin:g} {unit}", f"{resin * b / a:.4g} {unit}"
