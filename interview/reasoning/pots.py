"""Mixing in pots no larger than can be spread in time, floating or sinking, and what it all costs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from interview.plan.parts import Basis, Decision, Figure, Finding, Input, Item
from interview.quantities.units import convert
from interview.quantities.written import amount, plain
from interview.reasoning.amounts import depth_of, main_sealer, resin_volume
from interview.reasoning.numeric_answers import Told, from_allowance, span_words
from interview.reasoning.pouring import pour_count
from interview.reasoning.room import working_time
from interview.reasoning.working import Reckoned, duration, figure, finding, span
from knowledge.allowances import allowance
from knowledge.formulas import bubbles, mixing
from knowledge.formulas.shapes import box_volume
from knowledge.shape import Inclusion, Span

SHOWN_POTS = 12


# ------------------------------------------------------------------ pots


def mixing_figures(told: Told, decision: Decision) -> tuple[Figure, ...]:
    """The pots of one pour, each part measured out where the ratio is known. Raises OutOfRange beyond 1000 pots."""
    total = resin_volume(told, decision)
    pours = pour_count(told, bool(told.facts.get("two_pours")))
    largest, lines, inputs = _largest(told)
    one = total.high / pours
    ratio = told["ratio"]
    parts = ratio.value or (1.0, 1.0, "volume")
    pots = mixing.pots(one, largest, parts[0], parts[1])
    made = _Measured(told, pots[0].total, len(pots))
    each = f" for each of {pours} pours" if pours > 1 else ""
    lines += [f"{amount(one, one, 'mL', up=True)}{each} in pots of at most {amount(largest, largest, 'mL')}"]
    lines += made.table()
    return (
        figure(
            "mixing.pots",
            f"pots to mix{each}",
            Span(len(pots), len(pots), "pots"),
            Reckoned(
                "resin / the largest pot that can be spread in time, rounded up to equal pots",
                lines,
                (*total.inputs, *inputs, *made.inputs),
            ),
            group="mixing",
            shown=made.shown(),
        ),
    )


def _largest(told: Told) -> tuple[float, list[str], list[Input]]:
    """The largest pot, mL: what one person spreads before it thickens, and never so much that it heats up."""
    cap = allowance("pot_most")
    most = cap.value.high
    inputs = [from_allowance(cap)]
    lines = [f"never more than {amount(most, most, 'mL')} in one pot"]
    if told.facts.get("piece") == "cast":
        return most, lines, inputs
    time = working_time(told)
    mix, pace, depth = allowance("mixing_time"), allowance("spreading"), depth_of(told)
    thick = min(depth.value, depth.deepest)
    fits = mixing.largest_pot(time.low, mix.value.high, pace.value.low, thick)
    inputs += [*time.inputs, from_allowance(mix), from_allowance(pace), depth.input]
    if fits < 50:  # less than a cup cannot be mixed well
        fits = 50.0
        lines.append("the working time is very short: mix small pots, and have a second person spread")
    else:
        lines.append(
            f"({duration(time.low, time.low)} working time - {plain(mix.value.high)} minutes of mixing) x "
            f"{span_words(pace.value)} a minute x {plain(thick)} mm: {amount(fits, fits, 'mL')} can be spread in time"
        )
    return min(most, fits), lines, inputs


class _Measured:
    """One pot measured out: by weight where the label says so, or where both densities are known; else by volume."""

    def __init__(self, told: Told, volume: float, count: int) -> None:
        ratio, self.imperial = told["ratio"], told.imperial
        self.count, self.known = count, ratio.value is not None
        self.inputs: list[Input] = []
        self.unit = "mL"
        self.resin = self.hardener = 0.0
        self.total = float(math.ceil(volume))
        if not self.known:
            return
        a, b, by = ratio.value
        self.inputs.append(Input("mixing ratio", f"{a:g}:{b:g} by {by}", ratio.basis))
        total = volume
        if by == "weight":
            row = allowance("resin_density")
            self.unit, total = "g", volume * row.value.high
            self.inputs.append(from_allowance(row))
        self.resin = _up(mixing.split(total, a, b).resin)
        self.hardener = self.resin * b / a
        self.total = self.resin + self.hardener

    def table(self) -> list[str]:
        """ "pot 1: 140 mL of resin and 70 mL of hardener"."""
        if not self.known:
            return [f"pot {n}: {amount(self.total, self.total, 'mL', up=True)}, resin and hardener as the label says"
                    for n in range(1, min(self.count, SHOWN_POTS) + 1)] + self._rest()  # fmt: skip
        line = f"{self._part(self.resin)} of resin and {self._part(self.hardener)} of hardener"
        return [f"pot {n}: {line}" for n in range(1, min(self.count, SHOWN_POTS) + 1)] + self._rest()

    def _rest(self) -> list[str]:
        return [f"and {self.count - SHOWN_POTS} more, the same"] if self.count > SHOWN_POTS else []

    def _part(self, value: float) -> str:
        """Measured parts keep their digits, or the ratio would be lost."""
        grams = self.unit == "g"
        own, label = (convert(value, "g", "oz"), "oz") if grams else (convert(value, "ml", "floz"), "fl oz")
        both = (f"{value:.4g} {self.unit}", f"{own:.2f} {label}")
        first, second = reversed(both) if self.imperial else both
        return f"{first} ({second})"

    def shown(self) -> str:
        one = amount(self.total, self.total, self.unit, up=True, imperial=self.imperial)
        pots = "1 pot" if self.count == 1 else f"{self.count} pots"
        if not self.known:
            return f"{pots} of {one}"
        parts = f"{self._part(self.resin)} of resin and {self._part(self.hardener)} of hardener"
        return f"{pots}: {parts}" if self.count == 1 else f"{pots}, each {parts}"


def _up(value: float) -> float:
    """To the next mark of a measuring cup."""
    step = 1 if value < 50 else 5 if value < 500 else 10
    return math.ceil(value / step - 1e-9) * step


# ------------------------------------------------------------------ floating


def float_figures(told: Told, decision: Decision) -> tuple[Figure, ...]:
    """The density of each thing cast in against that of resin; and of the one that was weighed and measured."""
    if told.facts.get("piece") != "cast":
        return ()
    rows = [told.knowledge.inclusions[i] for i in _things(decision) if i in told.knowledge.inclusions]
    return (*(_from_table(row) for row in rows), *_weighed(told))


def _things(decision: Decision) -> list[str]:
    ids = [m for z in decision.zones if z.kind == "inclusion" for m in sorted(z.ids("materials"))]
    return list(dict.fromkeys(ids))


def _from_table(row: Inclusion) -> Figure:
    resin = allowance("resin_density")
    word = {"floats": "floats up", "sinks": "sinks", "hovers": "may do either"}[row.floats]
    return figure(
        f"other.floats.{row.id}",
        f"{row.name} in resin",
        Span(row.density.low, row.density.high, "g/mL"),
        Reckoned(
            "density of the thing against that of the resin",
            [f"{span(row.density.low, row.density.high)} g/mL against {span_words(resin.value)}: {word}"],
            (
                Input(f"density of {row.name}", span_words(row.density), Basis(row.basis, row.source, row.locator)),
                from_allowance(resin),
            ),
            "with its pores full of air; open pores fill with resin in time",
        ),
        group="other",
        shown=word,
    )


def _weighed(told: Told) -> tuple[Figure, ...]:
    """Weight over size. The box round a thing is larger than the thing: between a half and the whole of it is solid."""
    mass, size = told["thing_mass"], told["thing_size"]
    if not (mass.said and size.said and size.value.get("shape") == "box"):
        return ()
    resin = allowance("resin_density")
    box = box_volume(size.value["width"], size.value["height"], size.value["depth"]) / 1000
    low, high = (bubbles.floats(mass.value, box * share, 1) for share in (1.0, math.pi / 6))
    word = "floats up" if high < resin.value.low else "sinks" if low > resin.value.high else "may do either"
    return (
        figure(
            "other.floats.weighed",
            "the thing you weighed, in resin",
            Span(low, high, "g/mL"),
            Reckoned(
                "weight / volume, against the density of the resin",
                [
                    f"the box round it: {plain(box)} mL; the thing itself fills 0.52 (an egg) to all of it",
                    f"{plain(mass.value, 6)} g / volume = {span(low, high)} g/mL against {span_words(resin.value)}: {word}",
                ],
                (
                    Input("weight of the thing", f"{plain(mass.value, 6)} g", mass.basis),
                    Input("size of the thing", f"{plain(box)} mL round it", size.basis),
                    from_allowance(resin),
                ),
            ),
            group="other",
            shown=word,
        ),
    )


def float_findings(figures: Sequence[Figure]) -> tuple[Finding, ...]:
    """A floater gets two pours: the first holds it, the second covers it."""
    floaters = [f.label.removesuffix(" in resin").rstrip(",") for f in figures if f.shown != "sinks"]
    if not floaters:
        return ()
    names = ", ".join(floaters)
    says = f"Lighter than resin, or nearly: {names}. Pour twice: a thin layer to hold it, and once that has gelled, the rest."
    return (finding("amounts.floats", says, because=("laid_on",)),)


# ------------------------------------------------------------------ what to buy, and what it costs


@dataclass(frozen=True, slots=True)
class Bought:
    """What an item of the shopping list comes to."""

    item: str
    amount: str
    packs: int
    pack: str
    price: float | None
    figure: Figure
    size: float | None = None  # mL in a pack
    container: str = ""
    have: float | None = None  # mL that is there already


def bought(told: Told, decision: Decision, figures: Sequence[Figure]) -> tuple[Bought, ...]:
    """Sealers and resin in cans, bottles and kits, rounded up."""
    made = []
    for f in figures:
        if f.id.startswith("amount.sealer."):
            made.append(_sealer_bought(told, decision, f))
        elif f.id == "amount.resin":
            made.append(_resin_bought(told, f))
    return tuple(made)


def _sealer_bought(told: Told, decision: Decision, made: Figure) -> Bought:
    sealer = told.knowledge.sealers[made.id.rsplit(".", 1)[1]]
    price = sealer.price
    if price is None and sealer.id == main_sealer(told, decision):
        price = told.number("price_sealer")
    if sealer.pack is None:
        return Bought(f"sealer.{sealer.id}", made.shown, 1, "", price, made)
    size = sealer.pack.low if made.high <= sealer.pack.low else sealer.pack.high
    word = "can" if sealer.method == "spray" else "bottle"
    pack = f"{amount(size, size, 'mL')} {word}"
    if sealer.at_hand:
        have = size if sealer.left is None else size * sealer.left
        packs = max(0, math.ceil((made.high - have) / size - 1e-9))
        shown = f"{made.shown}; have {amount(have, have, 'mL')}{'' if packs else ', enough'}"
        return Bought(f"sealer.{sealer.id}", shown, packs, pack if packs else "", price, made, size, word, have)
    packs = max(1, math.ceil(made.high / size - 1e-9))
    return Bought(f"sealer.{sealer.id}", made.shown, packs, pack, price, made, size, word)


def _resin_bought(told: Told, made: Figure) -> Bought:
    pack = told.number("pack_resin")
    if pack is None:
        return Bought("resin", made.shown, 1, "", None, made)
    packs = max(1, math.ceil(made.high / pack - 1e-9))
    shown, price = f"{amount(pack, pack, 'mL')} kit", told.number("price_resin")
    return Bought("resin", made.shown, packs, shown, price, made, pack, "kit")


def with_amounts(items: Sequence[Item], what: Sequence[Bought]) -> tuple[Item, ...]:
    """The shopping list with amounts, packs and prices filled in where they are known."""
    by_id = {b.item: b for b in what}
    filled = []
    for item in items:
        b = by_id.get(item.id)
        if b is None:
            filled.append(item)
            continue
        filled.append(
            replace(
                item, amount=b.amount, packs=b.packs, pack=b.pack, price=b.price, figure=b.figure.id,
                low=b.figure.low, high=b.figure.high, size=b.size, container=b.container, have=b.have,
            )
        )  # fmt: skip
    return tuple(filled)


def cost_figures(told: Told, what: Sequence[Bought]) -> tuple[Figure, ...]:
    """The sum of what has a price, and what has none. Nothing where nothing has one."""
    priced = [b for b in what if b.price is not None and b.packs]
    if not priced:
        return ()
    total = sum((b.price or 0) * b.packs for b in priced)
    names = {b.item: b.item.split(".")[-1].replace("_", " ") for b in what}
    lines = [f"{names[b.item]}: {b.packs} x {b.price:.2f} = {(b.price or 0) * b.packs:.2f}" for b in priced]
    lines += [f"{names[b.item]}: no price told, left out" for b in what if b.price is None and b.packs]
    return (
        figure(
            "cost.total",
            "cost of what has a price",
            Span(total, total, ""),
            Reckoned(
                "packs x price, added up",
                [*lines, f"together {total:.2f}"],
                [Input(f"price of {names[b.item]}", f"{b.price:.2f}", _price_basis(told, b)) for b in priced],
            ),
            group="cost",
            shown=f"{total:.2f}",
        ),
    )


def _price_basis(told: Told, b: Bought) -> Basis:
    return told.basis("price_resin" if b.item == "resin" else "price_sealer")
