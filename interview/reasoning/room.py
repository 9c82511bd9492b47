"""The room: dew point, what wood comes to in it, air in the pores, and how its temperature changes the times."""

from __future__ import annotations

from dataclasses import dataclass

from interview.plan.parts import Decision, Figure, Finding, Input, Zone
from interview.quantities.written import amount, plain
from interview.reasoning.areas import count, piece_extent, thickness
from interview.reasoning.numeric_answers import Given, Told, from_allowance, span_words
from interview.reasoning.pores import density_inputs, porous, voids_of
from interview.reasoning.working import Reckoned, duration, figure, finding, span
from knowledge.allowances import allowance
from knowledge.formulas import bubbles, drying, kinetics, wood
from knowledge.formulas import dew_point as dew
from knowledge.formulas.limits import OutOfRange
from knowledge.shape import Span

ROOM = ("room_temperature", "room_humidity")


def _degrees(value: float) -> str:
    return amount(value, value, "degC")


def _climate(told: Told) -> tuple[float, float, tuple[Input, Input]]:
    t, h = told["room_temperature"], told["room_humidity"]
    inputs = (
        Input("room", _degrees(t.value), t.basis),
        Input("relative humidity", f"{h.value:g} %", h.basis),
    )
    return t.value, h.value, inputs


def _surface(told: Told) -> tuple[float, Input]:
    given = told["surface_temperature"]
    if given.said:
        return given.value, Input("the piece", _degrees(given.value), given.basis)
    room = told["room_temperature"]
    same = Given("surface_temperature", room.value, given.basis)
    return room.value, Input("the piece, as warm as the room", _degrees(room.value), same.basis)


# ------------------------------------------------------------------ dew point


def dew_figures(told: Told) -> tuple[Figure, ...]:
    """The dew point of the room, and how far the piece is above it."""
    t, h, inputs = _climate(told)
    surface, its = _surface(told)
    point = dew.dew_point(t, h)
    above = dew.margin(surface, t, h)
    keep = allowance("dew_margin")
    form = "Td = C g / (B - g), g = ln(RH/100) + B T/(C + T); B 17.625, C 243.04 °C"
    where = "Magnus over water, Alduchov & Eskridge 1996, -40 to 50 °C"
    g_line = f"{plain(h)} % at {_degrees(t)}: dew point {plain(point)} °C"
    return (
        figure(
            "room.dew_point",
            "dew point of the room",
            Span(point, point, "degC"),
            Reckoned(form, [g_line], inputs, where),
            group="room",
        ),
        figure(
            "room.margin",
            "the piece above the dew point",
            Span(above, above, "degC apart"),
            Reckoned(
                "temperature of the piece - dew point",
                [g_line, f"{plain(surface)} °C - {plain(point)} °C = {plain(above)} °C; keep {span_words(keep.value)}"],
                (*inputs, its, from_allowance(keep)),
                where,
            ),
            group="room",
            shown=amount(above, above, "degC apart") if above >= 0 else "below it: water condenses on it",
        ),
    )


def dew_findings(told: Told) -> tuple[Finding, ...]:
    """Go, or what to change: warm the piece, dry the air, wait."""
    t, h, _ = _climate(told)
    surface, _ = _surface(told)
    keep = allowance("dew_margin").value.low
    above = dew.margin(surface, t, h)
    least = dew.least_surface(t, h, keep)
    start = "Taken as" if not told["room_temperature"].said else "At"
    room = f"{start} {told.amount(t, 'degC')} and {h:g} %"
    if above < keep:
        wet = "water condenses on it" if above < 0 else "it is too near the dew point"
        says = (
            f"{room}, do not coat yet: {wet}. Bring the piece to at least {told.amount(least, 'degC', up=True)}, a day in a warm room, "
            "or dry the air; then measure again."
        )
    else:
        cold = told.amount(least, "degC", up=True)
        says = f"{room}, the piece may be no colder than {cold}: {told.amount(keep, 'degC apart')} above the dew point."
    made = [finding("room.dew_point", says, because=(*ROOM, "surface_temperature"))]
    return (*made, *_limits(told, t, h), *_not_now(told, t, h))


def _not_now(told: Told, t: float, h: float) -> list[Finding]:
    """Where it is too cold or too damp to spray or to pour at all, and how much longer all takes in the cold."""
    spray, cold = allowance("spray_temperature").value, allowance("resin_least").value.low
    wet, soaked = allowance("sealer_humidity").value.high, allowance("resin_too_damp").value.high
    made = []
    if "spray" in told.facts.get("treated.methods", ()) and (h > wet or not spray.low <= t <= spray.high):
        why = f"at {h:g} % it turns white" if h > wet else f"at {told.amount(t, 'degC')} it does not flow out"
        made.append(
            finding(
                "room.no_spray",
                f"No spraying now: {why}. Wait for {amount(spray.low, spray.high, 'degC', imperial=told.imperial)} and below {wet:g} %.",
            )
        )
    if t < cold or h > soaked:
        says = f"Do not pour now: below {told.amount(cold, 'degC')} resin hardly sets, and above {soaked:g} % it turns greasy and cloudy."
        made.append(finding("room.no_resin", says))
    if kinetics.LOW <= t < allowance("label_temperature").value.low:
        factor = kinetics.time_at(1.0, allowance("label_temperature").value.low, t)
        says = (
            f"At {told.amount(t, 'degC')} all waits for resin are {plain(factor, 2)} times as long as told at 21 °C, the cure too; "
            "your timetable counts that."
        )
        made.append(finding("room.slow", says))
    return made


def _limits(told: Told, t: float, h: float) -> list[Finding]:
    wet, blush = allowance("coating_humidity").value.high, allowance("resin_humidity").value.high
    warm, resin = allowance("coating_temperature").value, allowance("resin_temperature").value
    made = []
    if h > wet:
        made.append(
            finding(
                "room.humid",
                f"{h:g} % is too damp to coat anything: wait, or dry the air to below {wet:g} %.",
            )
        )
    elif h > blush:
        made.append(
            finding("room.blush", f"{h:g} % is damp for resin: hardener may bloom. Below {blush:g} % is safer.")
        )
    if not warm.low <= t <= warm.high:
        words = amount(warm.low, warm.high, "degC", imperial=told.imperial)
        made.append(finding("room.temperature", f"Sealers want {words}: {told.amount(t, 'degC')} is outside it."))
    if not resin.low <= t <= resin.high:
        words = amount(resin.low, resin.high, "degC", imperial=told.imperial)
        made.append(finding("room.resin", f"Resin wants a room of {words}; colder it stays thick and holds bubbles."
                            if t < resin.low else f"Resin wants a room of {words}; warmer it sets too soon."))  # fmt: skip
    return made


# ------------------------------------------------------------------ wood


def is_woody(told: Told, decision: Decision) -> bool:
    rows = [r for z in decision.zones for r in porous(told, z)]
    return any(r.family in ("wood", "cork", "board") and r.moist >= 1 for r in rows)


def wood_figures(told: Told, decision: Decision) -> tuple[Figure, ...]:
    """What wood comes to in this room, and what two weighings say."""
    made = list(_weighing_figures(told))
    if is_woody(told, decision):
        t, h, inputs = _climate(told)
        try:
            percent = wood.equilibrium_moisture(t, h)
        except OutOfRange:
            return tuple(made)
        indoors = allowance("wood_indoors")
        made.insert(
            0,
            figure(
                "wood.equilibrium",
                "moisture that wood comes to in this room",
                Span(percent, percent, "%"),
                Reckoned(
                    "M = 1800/W [Kh/(1-Kh) + (K1 Kh + 2 K1 K2 K²h²)/(1 + K1 Kh + K1 K2 K²h²)]",
                    [f"{_degrees(t)} and {h:g} %: {plain(percent, 2)} %; wood indoors has {span_words(indoors.value)}"],
                    (*inputs, from_allowance(indoors)),
                    "Wood Handbook, FPL-GTR-190, Eq. 4-5; within a point for most woods",
                ),
                group="wood",
            ),
        )
    return tuple(made)


def _weighing(told: Told) -> drying.Weighing | None:
    first, second, time = told["weighing_first"], told["weighing_second"], told["weighing_hours"]
    if not (first.said and second.said):
        return None
    slow = allowance("wood_diffusion").value.low * 1e-11
    thick = told["thickness"].value
    return drying.compare_weighings(
        first.value, second.value, time.value / 60, _step(first.value, second.value), thick, slow
    )


def _step(*grams: float) -> float:
    """The step of the scale, as far as the readings show it: whole grams, tenths, hundredths."""
    for step in (1.0, 0.1, 0.01):
        if all(abs(g / step - round(g / step)) < 1e-6 for g in grams):
            return step
    return 0.001


def _weighing_figures(told: Told) -> tuple[Figure, ...]:
    got = _weighing(told)
    if got is None:
        return ()
    first, second, time = told["weighing_first"], told["weighing_second"], told["weighing_hours"]
    one, two = plain(first.value, 6), plain(second.value, 6)
    return (
        figure(
            "wood.lost",
            "weight lost between the weighings",
            Span(got.lost, got.lost, "%"),
            Reckoned(
                "(first - second) / first x 100",
                [f"({one} - {two}) / {one} x 100 = {plain(got.lost, 2)} %: {got.verdict}"],
                (
                    Input("first weighing", f"{one} g", first.basis),
                    Input("second weighing", f"{two} g", second.basis),
                    Input("time between", duration(time.value, time.value), time.basis),
                ),
                "dry: at most one point still to go, by diffusion in dense hardwood of this thickness, three steps of the scale counted",
            ),
            group="wood",
            shown=f"{plain(got.lost, 2)} %",
        ),
    )


_VERDICTS = {
    "steady": "It no longer loses weight that matters: at most one point of moisture is still to go.",
    "losing": "It still gives off water. Wait, and weigh it again; the loss must halve, and halve again.",
    "gaining": "It takes up water from this room. Move it to a drier one, and weigh it again in a few days.",
    "too soon": "The weighings are too close together to tell for wood this thick: weigh it again a week or more later.",
    "scale too coarse": "Your scale is too coarse to tell: go by the thickness, or use a moisture meter at several spots.",
}


def wood_findings(told: Told, figures: tuple[Figure, ...]) -> tuple[Finding, ...]:
    """What the weighings say, and a room that keeps wood too damp."""
    made = []
    got = _weighing(told)
    if got is not None:
        made.append(finding("wood.weighing", _VERDICTS[got.verdict], because=("weighing_first", "weighing_second")))
    damp = next((f for f in figures if f.id == "wood.equilibrium"), None)
    indoors = allowance("wood_indoors").value
    if damp is not None and damp.high > indoors.high + 2:
        says = (
            f"In this room wood comes to {damp.shown} moisture; indoors it should have {span_words(indoors)}. Dry the room, "
            "or keep the wood in a drier one, before you seal it in."
        )
        made.append(finding("wood.damp_room", says, because=ROOM))
    return tuple(made)


# ------------------------------------------------------------------ trapped air


def air_figures(told: Told, decision: Decision) -> tuple[Figure, ...]:
    """Air held in the body under the face, and how much of it comes out if the piece warms while the resin is fluid."""
    zone = _airy_body(told, decision)
    if zone is None:
        return ()
    rows = porous(told, zone)
    thick, given = thickness(told, zone)
    size, n = piece_extent(told), count(told)
    volume = size.face * thick * 1000 * n
    voids = [voids_of(r) for r in rows]
    low, high = (volume * v for v in (min(v[0] for v in voids), max(v[1] for v in voids)))
    if high <= 0:
        return ()
    warm = allowance("warming")
    room = told["room_temperature"]
    out = [
        bubbles.air_expelled(v, room.value, room.value + w) for v, w in ((low, warm.value.low), (high, warm.value.high))
    ]
    inputs = (
        Input("size", size.words, told.basis("size")), given, *(i for r in rows for i in density_inputs(r)),
    )  # fmt: skip
    held = f"{size.words} x {plain(thick)} mm x {span(100 * low / volume, 100 * high / volume, 2)} % air = {amount(low, high, 'mL')}"
    warmed = f"warmed by {span_words(warm.value)} from {_degrees(room.value)}: {amount(out[0], out[1], 'mL')}"
    bound = "an upper bound: as if all pores were open to the face"
    by_share = Reckoned("area x thickness x share of air", [held], inputs, bound)
    more = (*inputs, Input("room", _degrees(room.value), room.basis), from_allowance(warm))
    by_warmth = Reckoned("V (T2/T1 - 1), temperatures in kelvin (Charles)", [held, warmed], more, bound)
    name = "air driven out if it warms while the resin is fluid"
    return (
        figure("room.air_held", f"air in the {rows[0].name}", Span(low, high, "mL"), by_share, group="room"),
        figure("room.air_out", name, Span(out[0], out[1], "mL"), by_warmth, group="room"),
    )


def _airy_body(told: Told, decision: Decision) -> Zone | None:
    """The thickest porous body that lies under the resin: the mount, the board, else the sheet itself."""
    order = ("mount", "board", "canvas", "object", "sheet")
    zones = [z for z in decision.zones if z.kind != "inclusion" and z.body in order and porous(told, z)]
    zones = [z for z in zones if z.level("air") >= 2]
    return min(zones, key=lambda z: order.index(z.body), default=None)


# ------------------------------------------------------------------ times


@dataclass(frozen=True, slots=True)
class Time:
    """A time in minutes with what it rests on. `outside`: the rule does not hold at this temperature."""

    low: float
    high: float
    line: str
    inputs: tuple[Input, ...]
    outside: bool = False


def working_time(told: Told) -> Time:
    """The label's working time at the temperature of the room, by the rule that 10 °C doubles the rate."""
    return at_room(told, told["working_time"], "working time by the label")


def at_room(told: Told, given: Given, name: str) -> Time:
    """A time of a reacting resin at the temperature of the room; unchanged where the rule does not hold."""
    t, row = told["room_temperature"], allowance("label_temperature")
    minutes = given.value
    inputs = (
        Input(name, duration(minutes, minutes), given.basis),
        Input("room", _degrees(t.value), t.basis),
        from_allowance(row),
    )
    try:
        spans = [kinetics.time_at(minutes, ref, t.value) for ref in (row.value.low, row.value.high)]
    except OutOfRange:
        line = f"the rule holds from {kinetics.LOW:g} to {kinetics.HIGH:g} °C only; the label's time is kept"
        return Time(minutes, minutes, line, inputs, outside=True)
    low, high = min(spans), max(spans)
    line = f"{duration(minutes, minutes)} x 2^(({span_words(row.value)} - {plain(t.value)} °C)/10 °C) = {duration(low, high)}"
    return Time(low, high, line, inputs)


def time_figures(told: Told) -> tuple[Figure, ...]:
    """How long the resin stays workable in this room. A rule of thumb."""
    time = working_time(told)
    return (
        figure(
            "time.working",
            "working time in this room",
            Span(time.low, time.high, "minutes"),
            Reckoned(
                "t x 2^((label temperature - room)/10 °C)",
                [time.line],
                time.inputs,
                "a rule of thumb, 10 to 40 °C only; a full cup heats itself and is faster",
            ),
            group="time",
            shown=f"about {duration(time.low, time.high)}",
        ),
    )
