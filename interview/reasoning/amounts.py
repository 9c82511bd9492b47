"""How much sealer and resin, what bare surfaces would drink, how many pours: each with its working.

Sealer: areas x coats / spread. Resin: area x thickness, or the mould less what the things take up, and allowances.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from interview.plan.parts import Basis, Decision, Figure, Input, Treatment, Zone
from interview.quantities.written import amount, plain
from interview.reasoning.areas import ZoneArea, count, piece_extent, thickness, zone_area
from interview.reasoning.numeric_answers import Told, from_allowance, span_words
from interview.reasoning.pores import density_inputs, porous, voids_of
from interview.reasoning.working import Reckoned, figure, span
from knowledge.allowances import allowance
from knowledge.formulas import film
from knowledge.shape import Sealer, Span


@dataclass(frozen=True, slots=True)
class Volume:
    """A volume in mL with the lines that led to it."""

    low: float
    high: float
    lines: tuple[str, ...] = ()
    inputs: tuple[Input, ...] = ()


# ------------------------------------------------------------------ sealer


def sealer_figures(told: Told, decision: Decision) -> tuple[Figure, ...]:
    """One figure for each sealer, over all the zones and coats it is put on."""
    used = dict.fromkeys(t.sealer for t in decision.treatments)
    return tuple(_sealer_figure(told, decision, told.knowledge.sealers[s]) for s in used if spread(told, decision, s))


def _sealer_figure(told: Told, decision: Decision, sealer: Sealer) -> Figure:
    rate = spread(told, decision, sealer.id)
    assert rate is not None
    low = high = 0.0
    lines: list[str] = []
    inputs: list[Input] = []
    for treatment in (t for t in decision.treatments if t.sealer == sealer.id):
        areas = [zone_area(told, decision_zone(decision, z)) for z in treatment.zones]
        got = _treatment_volume(treatment, areas, rate)
        lines += [*(a.line for a in areas), *got.lines]
        inputs += [i for a in areas for i in a.inputs]
        low, high = low + got.low, high + got.high
    inputs += [Input("coats", _coats(decision, sealer.id), Basis("common practice")), rate.input]
    return figure(
        f"amount.sealer.{sealer.id}",
        sealer.name,
        Span(low, high, "mL"),
        Reckoned("area x coats / spread rate", lines, inputs),
        group="amounts",
        up=True,
    )


def _treatment_volume(treatment: Treatment, areas: Sequence[ZoneArea], rate: Spread) -> Volume:
    low, high = sum(a.low for a in areas), sum(a.high for a in areas)
    least = film.volume_for(low, treatment.coats_least, rate.high)
    most = film.volume_for(high, treatment.coats_most, rate.low)
    coats = span(treatment.coats_least, treatment.coats_most)
    per = f"{span(rate.low, rate.high)} m²/L"
    line = f"{amount(low, high, 'm2')} x {coats} coats / {per} = {amount(least, most, 'mL')}"
    return Volume(least, most, (line,))


def _coats(decision: Decision, sealer: str) -> str:
    mine = [t for t in decision.treatments if t.sealer == sealer]
    return span(min(t.coats_least for t in mine), max(t.coats_most for t in mine))


def decision_zone(decision: Decision, id: str) -> Zone:
    return next(z for z in decision.zones if z.id == id)


@dataclass(frozen=True, slots=True)
class Spread:
    """How far a sealer goes, m2 a litre and coat, what drifts off included."""

    low: float
    high: float
    input: Input


def spread(told: Told, decision: Decision, id: str) -> Spread | None:
    """The label's figure, else that of the class, else from film, solids and loss; None where nothing is known."""
    sealer = told.knowledge.sealers[id]
    given = told["sealer_spread"]
    if given.said and id == main_sealer(told, decision):
        words = amount(given.value, given.value, "m2/L")
        return Spread(given.value, given.value, Input(f"spread of {sealer.name}", words, given.basis))
    basis = Basis(sealer.basis, sealer.source, sealer.locator)
    if sealer.spread is not None:
        family = told.knowledge.sealers.get(sealer.at_hand)
        own = family is not None and sealer.spread != family.spread
        words = span_words(sealer.spread)
        given_by = Basis("your label") if own else basis
        return Spread(sealer.spread.low, sealer.spread.high, Input(f"spread of {sealer.name}", words, given_by))
    return _spread_from_film(sealer, basis)


def _spread_from_film(sealer: Sealer, basis: Basis) -> Spread | None:
    if sealer.dry_film is None or sealer.solids is None:
        return None
    loss = (sealer.loss.low, sealer.loss.high) if sealer.loss else (0.0, 0.0)
    thick = film.wet_film(sealer.dry_film.high, sealer.solids.low)
    thin = film.wet_film(sealer.dry_film.low, sealer.solids.high)
    low = film.area_covered(1, thick, 1 - loss[1] / 100)
    high = film.area_covered(1, thin, 1 - loss[0] / 100)
    words = f"1000 / wet film of {span(thin, thick)} um, less {span(*loss)} % loss = {span(low, high)} m²/L"
    return Spread(low, high, Input(f"spread of {sealer.name}", words, basis))


def main_sealer(told: Told, decision: Decision) -> str:
    """The sealer whose label is asked for: the first that is a barrier, else the first; "" where there is none."""
    ids = [t.sealer for t in decision.treatments]
    barriers = [i for i in ids if told.knowledge.sealers[i].barrier >= 1]
    return (barriers or ids or [""])[0]


def coat_volume(told: Told, decision: Decision, treatment: Treatment) -> Volume | None:
    """What one coat of a treatment takes, mL: what is in the air at once."""
    rate = spread(told, decision, treatment.sealer)
    if rate is None:
        return None
    areas = [zone_area(told, decision_zone(decision, z)) for z in treatment.zones]
    low, high = sum(a.low for a in areas), sum(a.high for a in areas)
    least, most = film.volume_for(low, 1, rate.high), film.volume_for(high, 1, rate.low)
    line = f"one coat: {amount(low, high, 'm2')} / {span(rate.low, rate.high)} m²/L = {amount(least, most, 'mL')}"
    return Volume(least, most, (line,), (*(i for a in areas for i in a.inputs), rate.input))


# ------------------------------------------------------------------ what bare surfaces drink


def drink_figures(told: Told, decision: Decision) -> tuple[Figure, ...]:
    """What open faces would take up bare, and what of it the sealing saves. Nothing where all is closed."""
    bare = [(z, _drink(told, z)) for z in decision.zones if _drinks(z)]
    bare = [(z, v) for z, v in bare if v.high > 0]
    if not bare:
        return ()
    sealed = sealed_zones(told, decision)
    saved = [v for z, v in bare if z.id in sealed]
    made = []
    if len(saved) < len(bare):
        made.append(_drink_figure("amount.drink", "resin that it would drink bare", [v for _, v in bare]))
    if saved:
        made.append(_drink_figure("amount.saved", "resin that it would drink bare, and the seal saves", saved))
    return tuple(made)


def _drinks(zone: Zone) -> bool:
    return zone.word("surface") == "open" and zone.word("reached") in ("yes", "drips") and zone.kind != "inclusion"


def sealed_zones(told: Told, decision: Decision) -> frozenset[str]:
    """Zones under a sealer that keeps resin out."""
    barriers = [t for t in decision.treatments if told.knowledge.sealers[t.sealer].barrier >= 1]
    return frozenset(z for t in barriers for z in t.zones)


def _drink_figure(id: str, label: str, volumes: Sequence[Volume]) -> Figure:
    return figure(
        id,
        label,
        Span(sum(v.low for v in volumes), sum(v.high for v in volumes), "mL"),
        Reckoned(
            "area x depth x share of air in it",
            [line for v in volumes for line in v.lines],
            [i for v in volumes for i in v.inputs],
            "an upper bound: as if every pore within that depth filled",
        ),
        group="amounts",
    )


def _drink(told: Told, zone: Zone) -> Volume:
    """Area x depth x voids. A sheet is wetted right through; a board, stone or cloth as deep as resin soaks."""
    rows = porous(told, zone)
    if not rows:
        return Volume(0, 0)
    area = zone_area(told, zone)
    depth = allowance("soak_depth")
    inputs = [*area.inputs]
    if zone.body == "sheet":
        thick, given = thickness(told, zone)
        low_depth = high_depth = thick
        inputs.append(given)
    else:
        low_depth, high_depth = depth.value.low, depth.value.high
        inputs.append(from_allowance(depth))
    voids = [voids_of(row) for row in rows]
    least, most = min(v[0] for v in voids), max(v[1] for v in voids)
    inputs += [i for row in rows for i in density_inputs(row)]
    low = film.pour_volume(area.low, low_depth) * least
    high = film.pour_volume(area.high, high_depth) * most
    line = (
        f"{zone.name}: {amount(area.low, area.high, 'm2')} x {span(low_depth, high_depth)} mm x "
        f"{span(100 * least, 100 * most, 2)} % air = {amount(low, high, 'mL')}"
    )
    return Volume(low, high, (line,), tuple(inputs))


# ------------------------------------------------------------------ resin


@dataclass(frozen=True, slots=True)
class Depth:
    """How deep the resin will be, and how deep one pour of it may be, mm."""

    value: float
    input: Input
    deepest: float
    deepest_input: Input

    @property
    def layers(self) -> int:
        return film.layers(self.value, self.deepest)


def depth_of(told: Told) -> Depth:
    """The thickness of a coat, or the depth of the mould."""
    cast = told.facts.get("piece") == "cast"
    size = piece_extent(told)
    given = told["coat"]
    value, origin = given.value, given.basis
    if cast and size.depth is not None:
        value, origin = size.depth, told.basis("size")
    elif cast:
        value, origin = allowance("cast_most").value.high, Basis("assumed")
    name = "depth of the mould" if cast else "thickness of the coat"
    most = told["deepest"]
    row = allowance("cast_most" if cast else "coat_most")
    if most.said:
        limit = Input("deepest pour by the label", amount(most.value, most.value, "mm"), most.basis)
        return Depth(value, Input(name, amount(value, value, "mm"), origin), most.value, limit)
    return Depth(value, Input(name, amount(value, value, "mm"), origin), row.value.high, from_allowance(row))


def resin_volume(told: Told, decision: Decision) -> Volume:
    """All the resin to be mixed, mL: what lies on it or fills the mould, what runs off, soaks in and stays in cups."""
    lies = _cast_volume(told) if told.facts.get("piece") == "cast" else _coat_volume(told, decision)
    soaks = _soaks(told, decision)
    cup = allowance("cup")
    low = (lies.low + soaks.low) * (1 + cup.value.low / 100)
    high = (lies.high + soaks.high) * (1 + cup.value.high / 100)
    last = f"stays in cups and on tools: {span_words(cup.value)} more; together {amount(low, high, 'mL')}"
    inputs = (*lies.inputs, *soaks.inputs, from_allowance(cup))
    return Volume(low, high, (*lies.lines, *soaks.lines, last), inputs)


def _cast_volume(told: Told) -> Volume:
    size, depth, fill, n = piece_extent(told), depth_of(told), told["fill"], count(told)
    whole = film.pour_volume(size.face, depth.value) * n
    left = whole * (1 - fill.value / 100)
    lines = [f"mould: {size.words} x {plain(depth.value)} mm deep{_times(n)} = {amount(whole, whole, 'mL')}"]
    if fill.value:
        lines.append(f"less {fill.value:g} % for the things in it = {amount(left, left, 'mL')}")
    inputs = (
        Input("size of the mould", size.words, told.basis("size")),
        depth.input,
        Input("share that the things fill", f"{fill.value:g} %", fill.basis),
        *_count_input(told),
    )
    return Volume(left, left, tuple(lines), inputs)


def _coat_volume(told: Told, decision: Decision) -> Volume:
    size, depth, n = piece_extent(told), depth_of(told), count(told)
    faces = 2 if told.facts.get("resin_on") == "all" else 1
    lies = film.pour_volume(size.face, depth.value) * faces * n
    both = " x 2 faces" if faces == 2 else ""
    lines = [f"{size.words} x {plain(depth.value)} mm{both}{_times(n)} = {amount(lies, lies, 'mL')}"]
    inputs = [Input("size", size.words, told.basis("size")), depth.input, *_count_input(told)]
    low = high = lies
    if told.facts.get("resin_on", "sides") != "front":
        runs, stays = allowance("drips"), _on_sides(told, decision)
        low += lies * runs.value.low / 100 + stays.low
        high += lies * runs.value.high / 100 + stays.high
        lines.append(f"runs over the edges: {span_words(runs.value)} of it")
        lines += stays.lines
        inputs += [from_allowance(runs), *stays.inputs]
    return Volume(low, high, tuple(lines), tuple(inputs))


def _on_sides(told: Told, decision: Decision) -> Volume:
    """The film on the sides of a board, a mount or an object."""
    zones = [z for z in decision.zones if z.kind in ("sides", "edges") and z.body != "sheet"]
    if not zones:
        return Volume(0, 0)
    row = allowance("side_film")
    areas = [zone_area(told, z) for z in zones]
    low = film.pour_volume(sum(a.low for a in areas), row.value.low)
    high = film.pour_volume(sum(a.high for a in areas), row.value.high)
    line = f"stays on the sides: film of {span_words(row.value)} = {amount(low, high, 'mL')}"
    return Volume(low, high, (line,), (from_allowance(row), *(i for a in areas for i in a.inputs)))


def _soaks(told: Told, decision: Decision) -> Volume:
    """What goes into open faces that are left unsealed."""
    sealed = sealed_zones(told, decision)
    found = [_drink(told, z) for z in decision.zones if _drinks(z) and z.id not in sealed]
    found = [v for v in found if v.high > 0]
    if not found:
        return Volume(0, 0)
    low, high = sum(v.low for v in found), sum(v.high for v in found)
    line = f"soaks into what is left bare: {amount(low, high, 'mL')}"
    return Volume(low, high, (line,), tuple(i for v in found for i in v.inputs))


def _times(n: float) -> str:
    return f" x {n:g} pieces" if n > 1 else ""


def _count_input(told: Told) -> tuple[Input, ...]:
    n = count(told)
    return (Input("number of pieces", f"{n:g}", told.basis("count")),) if n > 1 else ()


def resin_figures(told: Told, decision: Decision) -> tuple[Figure, ...]:
    """The resin, mixed."""
    total = resin_volume(told, decision)
    return (
        figure(
            "amount.resin",
            "resin and hardener, mixed",
            Span(total.low, total.high, "mL"),
            Reckoned("area x thickness, and what runs off, soaks in and stays in cups", total.lines, total.inputs),
            group="amounts",
            up=True,
        ),
    )
