"""The air: what a coat puts into a room, against the limits and a tenth of what burns, and how long until
it is clear.

The peak is taken as if all of it evaporated at once into the whole room: the safe side for a short coat, though at
arm's length from the spray there is more. A respirator never lowers what is asked for here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from interview.plan.parts import Basis, Decision, Figure, Finding, Input, Treatment
from interview.quantities.written import amount, plain, size_words
from interview.reasoning.amounts import Volume, coat_volume
from interview.reasoning.numeric_answers import Told, span_words
from interview.reasoning.working import Reckoned, at_least, duration, figure, finding, span
from interview.text.minutes import minutes
from knowledge.formulas import ventilation as v
from knowledge.shape import Sealer, Span
from knowledge.solvents import LONG, SHORT, Mixture, Opening, Solvent, load_solvents

FIRE_LINE = 0.1  # a tenth of the lower flammable limit; NIOSH sets several of its danger limits there
ROOMS_LEAST = 2.0  # m3; less is a cupboard
SMELLY = ("alcohol", "hydrocarbon", "strong")


@dataclass(frozen=True, slots=True)
class Exposure:
    """What one mixture comes to in the room, if all of one coat evaporates at once."""

    mixture: str
    grams: float
    parts: tuple[tuple[Solvent, float], ...]  # with ppm
    long: float  # times the limit for a working day, additive
    short: float  # times the 15-minute limit, additive over those that have one
    fire: float  # share of the lower flammable limit, additive
    lines: tuple[str, ...]
    long_line: str
    fire_line: str


Place = Literal["outdoors", "booth", "room"]


def place_of(told: Told, treatment: Treatment) -> Place:
    """Spray outdoors where that can be, else in the booth. Brushing spirit: where it was said, else in a room."""
    if treatment.method == "spray":
        ways = told.facts.get("ways", frozenset())
        return "booth" if "spray_booth" in ways and "spray_outdoors" not in ways else "outdoors"
    return "outdoors" if told["brush_place"].value == "outdoors" else "room"


def evaporating(told: Told, decision: Decision) -> tuple[Treatment, ...]:
    """What puts more than water into the air: each sealer once, over all its zones, as if put on in one go."""
    sealers = told.knowledge.sealers
    merged: dict[str, Treatment] = {}
    for t in decision.treatments:
        if t.method != "spray" and sealers[t.sealer].carrier not in SMELLY:
            continue
        before = merged.get(t.sealer)
        zones = dict.fromkeys((*before.zones, *t.zones)) if before else t.zones
        merged[t.sealer] = replace(t, id=t.sealer, zones=tuple(zones))
    return tuple(merged.values())


# ------------------------------------------------------------------ the room


@dataclass(frozen=True, slots=True)
class Room:
    """A room, m3, with its openings."""

    volume: float
    opening: Opening
    inputs: tuple[Input, ...]

    def flow(self) -> tuple[float, float]:
        """Least and most effective airflow, m3/h: changes x volume / K."""
        o = self.opening
        return tuple(v.effective_flow(c * self.volume, o.mixing.high) for c in (o.changes.low, o.changes.high))  # type: ignore[return-value]


def room_of(told: Told, place: Place = "room") -> Room:
    """The room told, or the small one assumed. A flat size gets a ceiling of 2.4 m; a booth has its fan."""
    given, how = told["air_room"], told["openings"]
    volume = room_volume(given.value)
    row = load_solvents().openings["fan" if place == "booth" else how.value]
    basis = Basis("your answer") if place == "booth" else how.basis
    inputs = (
        Input("room", f"{size_words(given.value)} = {amount(volume, volume, 'm3')}", given.basis),
        Input("openings", row.name, basis),
        Input("air changes an hour", span_words(row.changes), Basis(row.basis, row.source, row.locator)),
        Input("mixing factor K", span_words(row.mixing), Basis("from memory")),
    )
    return Room(volume, row, inputs)


CEILING = 2400.0  # mm


def room_volume(size: dict[str, Any]) -> float:
    """m3 of a room from a size as answers hold it; where the height is missing, 2.4 m."""
    if size["shape"] == "area":
        return float(size["area"]) * CEILING / 1000
    if size["shape"] in ("circle", "oval", "cylinder"):
        wide = size["diameter"] if "diameter" in size else size["width"]
        high = size["height"] if size["shape"] == "cylinder" else CEILING
        deep = size["height"] if size["shape"] == "oval" else wide
        return float(0.785398 * wide * deep * high * 1e-9)
    cut = size.get("cut_width", 0.0) * size.get("cut_height", 0.0)
    return float((size["width"] * size["height"] - cut) * size.get("depth", CEILING) * 1e-9)


# ------------------------------------------------------------------ what evaporates


def mixtures(told: Told, sealer: Sealer, treatment: Treatment) -> tuple[tuple[Mixture, ...], Basis, bool]:
    """What may be in it, on which basis, and whether something in it is unknown.

    Named solvents without shares: each on its own, so that the range runs from the mildest to the worst of them.
    """
    given, book = told["solvents"], load_solvents()
    usual = book.assumed(sealer.carrier, treatment.method)
    if not given.said:
        return usual, Basis("assumed"), not usual
    model = usual[0] if usual else book.mixtures[0]
    named = tuple(
        Mixture(
            id=f"sheet.{s}", name=f"all of it {book.solvents[s].name}", carrier=sealer.carrier, method=treatment.method,
            density=model.density, volatile=model.volatile, parts={s: 100.0}, basis="from memory",
        )
        for s in sorted(given.value) if s in book.solvents
    )  # fmt: skip
    return named, given.basis, "other" in given.value or not named


def exposure(mixture: Mixture, volume: float, room: float) -> Exposure:
    """One coat of `volume` mL at once into `room` m3."""
    book = load_solvents().solvents
    grams = volume * mixture.density * mixture.volatile / 100
    parts = tuple((book[s], v.at_once(grams * share / 100, book[s].mw, room)) for s, share in mixture.parts.items())
    limits = [(s, ppm, s.ppm(limit)) for s, ppm in parts if (limit := s.lowest(LONG))]
    long = v.mixture_index([(ppm, limit) for _, ppm, limit in limits])
    short = v.mixture_index([(ppm, s.ppm(limit)) for s, ppm in parts if (limit := s.lowest(SHORT))])
    burning = [(ppm, s.lowest_lel().value) for s, ppm in parts]
    fire = v.lel_share(burning)
    head = (
        f"{mixture.name}: {plain(volume, 2)} mL x {mixture.density:g} g/mL x {mixture.volatile:g} % "
        f"= {plain(grams, 2)} g evaporate"
    )
    lines = (head, *(_part_line(s, ppm, mixture, grams, room) for s, ppm in parts))
    added = " + ".join(f"{plain(ppm, 2)}/{plain(limit)}" for _, ppm, limit in limits)
    burns = " + ".join(f"{plain(ppm, 2)}/{plain(10_000 * lel)}" for ppm, lel in burning)
    return Exposure(
        mixture.id, grams, parts, long, short, fire, lines,
        f"{mixture.name}: {added} = {plain(long, 2)}", f"{mixture.name}: {burns} = {plain(100 * fire, 2)} %",
    )  # fmt: skip


def _part_line(s: Solvent, ppm: float, mixture: Mixture, grams: float, room: float) -> str:
    mass = grams * mixture.parts[s.id] / 100
    limit, lel = s.lowest(LONG), s.lowest_lel()
    against = f"limit {plain(s.ppm(limit))} ppm ({limit.kind})" if limit else "no limit known"
    return (
        f"{s.name}: 24 450 x {plain(mass, 2)} g / ({s.mw:g} g/mol x {plain(room, 2)} m³) = {plain(ppm, 2)} ppm; "
        f"{against}, burns from {lel.value:g} %"
    )


# ------------------------------------------------------------------ figures


def air_figures(told: Told, decision: Decision) -> tuple[Figure, ...]:
    """For each treatment under a roof: the peak against limits and fire, and how long until the room is clear.

    Where spray was barred for want of a place, what one coat would come to in an ordinary room.
    """
    made: list[Figure] = []
    for treatment in (*evaporating(told, decision), *barred_spray(told, decision)):
        if treatment.id == BARRED or place_of(told, treatment) != "outdoors":
            made += _treatment_figures(told, decision, treatment)
    return tuple(made)


BARRED = "barred"


def barred_spray(told: Told, decision: Decision) -> tuple[Treatment, ...]:
    """One coat of the spray that only a place to spray is missing for, as if it were done in a room all the same."""
    missing = [
        b for b in decision.barred if b.method == "spray" and {f.rule for f in b.findings} == {"no_place_to_spray"}
    ]
    if not missing or "spray_room" not in told.facts.get("ways", ()):
        return ()
    sealer = told.knowledge.sealers[missing[0].sealer]
    zones = tuple(dict.fromkeys(b.zone for b in missing if b.sealer == sealer.id))
    return (Treatment(BARRED, zones, "", sealer.id, sealer.name, "spray", 1, 1, (), "advised", ()),)


def _exposures(
    told: Told, decision: Decision, treatment: Treatment
) -> tuple[list[Exposure], Volume | None, Basis, bool]:
    sealer = told.knowledge.sealers[treatment.sealer]
    coat = coat_volume(told, decision, treatment)
    found, basis, unknown = mixtures(told, sealer, treatment)
    if coat is None or unknown:
        return [], coat, basis, True
    room = room_of(told, place_of(told, treatment))
    together = coat.high * coats_together(told, treatment)
    return [exposure(m, together, room.volume) for m in found], coat, basis, False


def coats_together(told: Told, treatment: Treatment) -> int:
    """How many coats a booth's air holds at once: all that the recoat window lets follow each other. One elsewhere."""
    sealer = told.knowledge.sealers[treatment.sealer]
    if place_of(told, treatment) != "booth" or sealer.recoat_window is None or treatment.id == BARRED:
        return 1
    fit = 1 + int(minutes(sealer.recoat_window)[1] // max(1.0, minutes(sealer.recoat)[0]))
    return max(1, min(treatment.coats_most, fit))


def _coats_in_words(coats: int) -> str:
    return "one coat" if coats == 1 else f"{coats} coats, one soon after the other,"


def _treatment_figures(told: Told, decision: Decision, treatment: Treatment) -> list[Figure]:
    found, coat, basis, unknown = _exposures(told, decision, treatment)
    if unknown or coat is None or not found:
        return []
    room = room_of(told, place_of(told, treatment))
    about = Input("what evaporates", " or ".join(e.lines[0].split(":")[0] for e in found), basis)
    inputs = (*coat.inputs, about, *room.inputs)
    lines = [*coat.lines, *(line for e in found for line in e.lines)]
    low, high = min(e.long for e in found), max(e.long for e in found)
    fires = [100 * e.fire for e in found]
    where = "25 °C, well mixed, all of one coat at once; at arm's length there is more"
    made = [
        figure(
            f"air.peak.{treatment.id}",
            f"vapour after one coat, {treatment.name}",
            Span(low, high, "times the limit"),
            Reckoned(
                "sum of ppm / limit, ppm = 24 450 m / (MW V)", [*lines, *(e.long_line for e in found)], inputs, where
            ),
            group="air",
            shown=f"{span(low, high, 2)} times the limit for a working day",
        ),
        figure(
            f"air.fire.{treatment.id}",
            f"of what would burn, {treatment.name}",
            Span(min(fires), max(fires), "%"),
            Reckoned(
                "sum of ppm / lower flammable limit in ppm",
                [*(e.fire_line for e in found), "keep below 10 %"],
                inputs,
                where,
            ),
            group="air",
        ),
    ]
    if treatment.id == BARRED:
        return made
    return [
        *made,
        _clear_figure(treatment, room, found, inputs),
        _most_figure(treatment, found, coat, inputs),
    ]


def _clear_figure(treatment: Treatment, room: Room, found: Sequence[Exposure], inputs: tuple[Input, ...]) -> Figure:
    """Hours until the sum is down to the limit: V/Q' ln(sum), Q' = changes x V / K."""
    flows = room.flow()
    best = 60 * v.time_to_clear(max(1.0, min(e.long for e in found)), 1, flows[1], room.volume)
    worst = 60 * v.time_to_clear(max(1.0, max(e.long for e in found)), 1, flows[0], room.volume)
    line = (
        f"{plain(room.volume, 2)} m³ / ({span(flows[0], flows[1], 2)} m³/h) x ln({plain(max(e.long for e in found), 2)}) "
        f"= {duration(best, worst)}"
    )
    return figure(
        f"air.clear.{treatment.id}",
        f"stay out of the room after one coat, {treatment.name}",
        Span(best, worst, "minutes"),
        Reckoned(
            "V / Q' x ln(sum of ppm / limit), Q' = changes x V / K",
            [line],
            inputs,
            "until it is down to the limit for a working day, not until it is gone",
        ),
        group="air",
        shown=duration(best, worst) if worst else "it does not reach the limit",
    )


def _most_figure(treatment: Treatment, found: Sequence[Exposure], coat: Volume, inputs: tuple[Input, ...]) -> Figure:
    """How much of one coat keeps the room below the limit and below a tenth of what burns."""
    worst = max(max(e.long, e.short, e.fire / FIRE_LINE) for e in found)
    least = coat.high / worst
    mildest = min(max(e.long, e.short, e.fire / FIRE_LINE) for e in found)
    most = coat.high / mildest
    return figure(
        f"air.session.{treatment.id}",
        f"most at one time in this room, {treatment.name}",
        Span(least, most, "mL"),
        Reckoned(
            "one coat / the worst of: times the limits, share of fire / 0.1",
            [f"{amount(coat.high, coat.high, 'mL')} / {span(mildest, worst, 2)} = {amount(least, most, 'mL')}"],
            inputs,
        ),
        group="air",
    )


# ------------------------------------------------------------------ advice


def air_findings(told: Told, decision: Decision) -> tuple[Finding, ...]:
    """Where to work, how much at once, how long to stay away, and what cannot be told."""
    made = [_advice(told, decision, t) for t in evaporating(told, decision)]
    made += [f for t in barred_spray(told, decision) if (f := _barred_advice(told, decision, t))]
    return tuple(dict.fromkeys(made))


def _advice(told: Told, decision: Decision, treatment: Treatment) -> Finding:
    place, name = place_of(told, treatment), treatment.name
    if place == "outdoors":
        says = f"Put on the {name} outdoors, in still air and shade, yourself upwind of it, no flame or spark near."
        return finding("air.outdoors", says, kind="common practice", because=("ways", "brush_place"))
    found, coat, _, unknown = _exposures(told, decision, treatment)
    if unknown or not found or coat is None:
        says = (
            f"What evaporates from the {name} is not known, so no figure can be given: work outdoors, or read "
            "section 3 of its data sheet."
        )
        return finding("air.unknown", says, because=("solvents",))
    if place == "booth":
        return _booth_advice(told, name, found, coats_together(told, treatment))
    return _room_advice(told, name, found, coat)


def _worst(found: Sequence[Exposure]) -> tuple[float, float]:
    """Times the strictest limit, and share of what burns, of the worst mixture."""
    return max(max(e.long, e.short) for e in found), max(e.fire for e in found)


def _minutes_to_clear(room: Room, found: Sequence[Exposure]) -> float:
    """Minutes until the worst mixture is down to its limit, at the least airflow."""
    return 60 * v.time_to_clear(max(1.0, max(e.long for e in found)), 1, room.flow()[0], room.volume)


def _burns(fire: float) -> str:
    if fire < FIRE_LINE:
        return ""
    return f" It comes to {plain(100 * fire, 2)} % of what would burn; 10 % is the line: no flame, spark or switch."


def _booth_advice(told: Told, name: str, found: Sequence[Exposure], coats: int) -> Finding:
    room = room_of(told, "booth")
    worst, fire = _worst(found)
    wait = max(10.0, _minutes_to_clear(room, found))
    says = (
        f"Put on the {name} in the booth only if its fan is made for flammable vapour and blows outdoors. If the booth "
        f"caught nothing, {_coats_in_words(coats)} would come to {plain(worst, 2)} times the limit in this room."
        f"{_burns(fire)} Stay out, the fan running, for {at_least(wait)} after the last coat."
    )
    return finding("air.booth", says, because=("ways", "air_room", "solvents"))


def _room_advice(told: Told, name: str, found: Sequence[Exposure], coat: Volume) -> Finding:
    worst, fire = _worst(found)
    because = ("brush_place", "air_room", "openings", "solvents")
    if worst <= 1 and fire < FIRE_LINE:
        says = (
            f"One coat of the {name} stays below the limits in this room, as a room average: open a window and leave the "
            "room while it dries. Outdoors is better still."
        )
        return finding("air.below", says, because=because)
    most = coat.high / max(worst, fire / FIRE_LINE)
    wait = _minutes_to_clear(room_of(told), found)
    says = (
        f"Put on the {name} outdoors: one coat in this room comes to {plain(worst, 2)} times the limit.{_burns(fire)} If it "
        f"must be here, no more than {told.amount(most, 'mL')} at a time, and stay out for {at_least(wait)} after each."
    )
    return finding("air.too_much", says, because=because)


def _barred_advice(told: Told, decision: Decision, treatment: Treatment) -> Finding | None:
    found, _, _, unknown = _exposures(told, decision, treatment)
    if unknown or not found:
        return None
    worst, fire = _worst(found)
    room = room_of(told)
    says = (
        f"Why not in a room: one coat of {treatment.name} in {told.amount(room.volume, 'm3')} would come to "
        f"{plain(worst, 2)} times the limit.{_burns(fire)} Find a place outdoors, or a booth."
    )
    return finding("air.barred", says, because=("ways",))
