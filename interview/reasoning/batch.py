"""A whole stall: kinds worked together on one timeline, one shopping list, a sheet a day, a table of pots."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from interview.plan.parts import Figure, Item
from interview.quantities.written import amount
from interview.reasoning.lots import Kind, Means, groups, planned
from interview.reasoning.timetable import Doing, Progress, Timeline, arrange, ways_out
from knowledge.allowances import allowance
from knowledge.formulas.mixing import split


@dataclass(frozen=True, slots=True)
class Buy:
    """One line of the combined list. `amount` in words, "" where it is not known; `price` of one pack."""

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
    """One day: what is done by hand, and when to look at what."""

    day: date
    doings: tuple[Doing, ...]
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

    @property
    def cost(self) -> float | None:
        """Of everything that has a price; None where nothing has."""
        prices = [b.price * b.packs for b in self.shopping if b.price is not None]
        return sum(prices) if prices else None


def make_batch(
    kinds: Sequence[Kind],
    means: Means,
    *,
    backward: bool = False,
    others: Callable[[], Sequence[tuple[str, Sequence[Kind]]]] = tuple,
    progress: Progress | None = None,
) -> Batch:
    """`others`: gives the same pieces planned otherwise, tried where it would be late. Raises CannotSchedule."""
    time = arrange(kinds, means, backward=backward, progress=progress)
    if time.late:
        time = replace(time, ways=ways_out(kinds, means, others))
    return Batch(tuple(kinds), time, alike(kinds), shopping(kinds), sheets(time), pots(time, kinds))


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
    sized = [(kind, figure) for kind, item in each if (figure := _figure(kind, item)) is not None]
    low = sum(f.low * kind.count / planned(kind.plan) for kind, f in sized)
    high = sum(f.high * kind.count / planned(kind.plan) for kind, f in sized)
    packs, biggest = _packs(high if len(sized) == len(each) else 0.0, each)
    return Buy(
        name=first.name,
        use=first.use,
        amount=amount(low, high, sized[0][1].unit, up=True) if sized else "",
        packs=packs,
        pack=biggest.pack,
        price=biggest.price,
        kinds=tuple(dict.fromkeys(kind.name for kind, _ in each)),
        look_for=tuple(dict.fromkeys(line for _, item in each for line in item.look_for)),
        low=low if sized else None,
        high=high if sized else None,
        size=biggest.size,
    )


def _figure(kind: Kind, item: Item) -> Figure | None:
    return next((f for f in kind.plan.figures if item.figure and f.id == item.figure), None)


def _packs(high: float, each: Sequence[tuple[Kind, Item]]) -> tuple[int, Item]:
    """How many of the largest pack any of the plans took, and its item; where amounts are not known, packs added up."""
    sizes = [(item.size, item) for _, item in each if item.size is not None]
    if high and sizes:
        size, item = max(sizes, key=lambda s: s[0])
        return max(1, math.ceil(high / size - 1e-9)), item
    item = each[0][1]
    return (sum(item.packs for _, item in each) if item.pack else item.packs), item


# ------------------------------------------------------------ days and pots


def sheets(time: Timeline) -> tuple[Sheet, ...]:
    """A sheet for each day on which there is something to do or to look at."""
    hands = [d for d in time.doings if d.ends > d.begins]
    looks = sorted({(look, d.who or "it") for d in time.doings for look in d.looks})
    days = sorted({d.begins.date() for d in hands} | {look.date() for look, _ in looks})
    return tuple(
        Sheet(
            day,
            tuple(d for d in hands if d.begins.date() == day),
            tuple((look, who) for look, who in looks if look.date() == day),
        )
        for day in days
    )


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
