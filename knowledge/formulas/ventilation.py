"""Vapour in a room: how much it comes to, how long it stays, and how that stands against limits and fire.

The well-mixed room. Sources: E1-E4 and E12, Univ. of Toledo, Industrial Ventilation formulae, ch. X; E6, E7, public R
package rEHS; E8, note to CDC, MMWR 43(RR-13), 1994, Table S3-1; E11, 29 CFR 1915.1000(d)(1); the others follow from
E1 by arithmetic. E13 is from memory, 29 CFR 1910.94(c)(6)(ii).

Two traps. K (1 to 10, ACGIH) divides the airflow; process-safety texts have k = 1/K (0.1 to 0.5), which multiplies
it: `mixing_factor` turns k into K. And 403 ft3 a pint holds at about 70 °F, 24.45 L/mol at 25 °C: they differ by 1.3
%, so never mix E4 with E5. A room average understates what a person breathes at arm's length from the spray.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from knowledge.formulas.limits import OutOfRange, finite, not_negative, positive, within

MOLAR_VOLUME = 24.45  # L/mol at 25 °C and 760 mmHg; the basis of 29 CFR 1910.1000 Table Z-1, footnote a
VAPOUR_PER_PINT = 403.0  # ft3 of vapour from a pint of a liquid of specific gravity 1 and MW 1, about 70 °F
CUBIC_METRES_AN_HOUR = 1.699  # per cfm, rounded
PPM = 1_000_000.0


# ------------------------------------------------------------------ ppm and mg/m3


def molar_volume(celsius: float = 25.0, mmhg: float = 760.0) -> float:
    """Litres a mole: 24.45 (273.15 + T)/298.15 x 760/P. Range -40 to 60 °C, 500 to 800 mmHg."""
    t, p = within("temperature", celsius, -40, 60, "°C"), within("pressure", mmhg, 500, 800, "mmHg")
    return MOLAR_VOLUME * (273.15 + t) / 298.15 * 760 / p


def mg_per_m3(ppm: float, mw: float, volume: float = MOLAR_VOLUME) -> float:
    """mg/m3 = ppm MW / 24.45, at 25 °C and 760 mmHg unless another molar volume (L/mol) is given."""
    return not_negative("concentration", ppm, "ppm") * _mw(mw) / positive("molar volume", volume, "L/mol")


def ppm_of(mg: float, mw: float, volume: float = MOLAR_VOLUME) -> float:
    """ppm = mg/m3 x 24.45 / MW; the inverse of `mg_per_m3`."""
    return not_negative("concentration", mg, "mg/m3") * positive("molar volume", volume, "L/mol") / _mw(mw)


# ------------------------------------------------------------------ airflow


def mixing_factor(k: float) -> float:
    """K of the ACGIH kind (1 to 10, divides) from k of the process-safety kind (0.1 to 1, multiplies): K = 1/k."""
    return 1 / within("mixing efficiency k", k, 0.1, 1)


def effective_flow(flow: float, factor: float) -> float:
    """E2: Q' = Q / K. Any unit of flow; K from 1 (perfect mixing) to 10 (very poor)."""
    return not_negative("airflow", flow) / within("mixing factor K", factor, 1, 10)


def air_changes(flow: float, volume: float) -> float:
    """Changes of air an hour: flow (volume an hour) / volume of the room, same unit of volume."""
    return not_negative("airflow", flow) / positive("volume of the room", volume)


def vapour_per_minute(gravity: float, pints: float, mw: float) -> float:
    """E3: ft3 of vapour a minute: 403 SG ER / MW; evaporation ER in US pints a minute. About 70 °F."""
    return (
        VAPOUR_PER_PINT
        * positive("specific gravity", gravity)
        * not_negative("evaporation", pints, "pints/min")
        / _mw(mw)
    )


def airflow_us(gravity: float, pints: float, mw: float, ppm: float, factor: float = 1.0) -> float:
    """E4: cfm that hold the air at `ppm`: K 403e6 SG ER / (MW C); ER in US pints a minute. About 70 °F."""
    k = within("mixing factor K", factor, 1, 10)
    return k * PPM * vapour_per_minute(gravity, pints, mw) / positive("concentration", ppm, "ppm")


def airflow(grams: float, mw: float, ppm: float, factor: float = 1.0) -> float:
    """E5: m3/h that hold the air at `ppm` while `grams` an hour evaporate: 24 450 K m / (MW C). 25 °C."""
    k = within("mixing factor K", factor, 1, 10)
    return (
        1000
        * MOLAR_VOLUME
        * k
        * not_negative("evaporation", grams, "g/h")
        / (_mw(mw) * positive("concentration", ppm, "ppm"))
    )


def steady_ppm(generation: float, flow: float) -> float:
    """Where a steady source ends: 1e6 G / Q', both as volumes in the same time."""
    return finite("concentration", PPM * not_negative("generation", generation) / positive("airflow", flow))


def vapour_volume(grams: float, mw: float, celsius: float = 25.0) -> float:
    """Litres of vapour from `grams` of liquid."""
    return not_negative("mass", grams, "g") * molar_volume(celsius) / _mw(mw)


# ------------------------------------------------------------------ over time


def build_up(generation: float, flow: float, volume: float, time: float, start: float = 0.0) -> float:
    """E6 and E9: ppm after `time`: C = Css + (C0 - Css) exp(-Q' t / V), Css = 1e6 G / Q'.

    Consistent units (ft3 and minutes, m3 and hours). With no airflow it rises in proportion to time.
    """
    g, q = not_negative("generation", generation), not_negative("airflow", flow)
    v, t = positive("volume of the room", volume), not_negative("time", time)
    c0 = not_negative("concentration at the start", start, "ppm")
    if q == 0:
        return finite("concentration", c0 + PPM * g * t / v)
    end = PPM * g / q
    return finite("concentration", c0 - (end - c0) * math.expm1(-q * t / v))


def time_to_reach(generation: float, flow: float, volume: float, ppm: float) -> float:
    """E7: time from clean air to `ppm`: -(V/Q') ln((G - Q' C)/G). Raises OutOfRange where it is never reached."""
    g, q, v = (
        positive("generation", generation),
        positive("airflow", flow),
        positive("volume of the room", volume),
    )
    c = not_negative("concentration", ppm, "ppm") / PPM
    if q * c >= g:
        raise OutOfRange("concentration", ppm, f"below the {PPM * g / q:.3g} ppm that this source ends at")
    return -(v / q) * math.log1p(-q * c / g)


def decay(start: float, flow: float, volume: float, time: float) -> float:
    """E8: ppm left some time after the source is off: C1 exp(-Q' t / V). Q' after K, not Q."""
    q, v = not_negative("airflow", flow), positive("volume of the room", volume)
    return not_negative("concentration", start, "ppm") * math.exp(-q * not_negative("time", time) / v)


def time_to_clear(start: float, end: float, flow: float, volume: float) -> float:
    """E8 turned round: time from `start` to `end`: (V/Q') ln(C1/C2); 0 where it is there already. Q' after K."""
    c1, c2 = not_negative("concentration at the start", start), positive("concentration at the end", end)
    if c1 <= c2:
        return 0.0
    return finite("time", positive("volume of the room", volume) / positive("airflow", flow) * math.log(c1 / c2))


def time_to_remove(share: float, changes: float, factor: float = 1.0) -> float:
    """Minutes until `share` (0 to below 1) of what is in the air is gone, at so many air changes an hour."""
    left = 1 - within("share", share, 0, 0.999999)
    return -60 * within("mixing factor K", factor, 1, 10) / positive("air changes", changes, "an hour") * math.log(left)


def purge_changes(start: float, end: float, efficiency: float) -> float:
    """Air changes that bring `start` down to `end` (same unit) at a mixing efficiency k: ln(C1/C2) / k."""
    c1, c2 = positive("concentration at the start", start), positive("concentration at the end", end)
    return max(0.0, math.log(c1 / c2)) / within("mixing efficiency k", efficiency, 0.1, 1)


def at_once(grams: float, mw: float, volume: float) -> float:
    """E10: ppm if all of it evaporates at once into a room (m3): 24 450 m / (MW V). 25 °C. The safe side."""
    v = positive("volume of the room", volume, "m3")
    return finite("concentration", 1000 * MOLAR_VOLUME * not_negative("mass", grams, "g") / (_mw(mw) * v))


def grams_for(ppm: float, mw: float, volume: float) -> float:
    """How many grams at once fill a room (m3) to `ppm`; the inverse of `at_once`."""
    return (
        not_negative("concentration", ppm, "ppm")
        * _mw(mw)
        * positive("volume of the room", volume, "m3")
        / (1000 * MOLAR_VOLUME)
    )


# ------------------------------------------------------------------ limits


def time_weighted(spells: Iterable[tuple[float, float]], hours: float = 8.0) -> float:
    """E11: average over 8 h: sum of C T / 8, from (concentration, hours) pairs. Hours beyond those named
    count as clean."""
    pairs = [(not_negative("concentration", c), not_negative("hours", t)) for c, t in spells]
    over = positive("hours", hours)
    if sum(t for _, t in pairs) > over + 1e-9:
        raise OutOfRange("hours together", sum(t for _, t in pairs), f"at most {over:g}")
    return sum(c * t for c, t in pairs) / over


def mixture_index(parts: Iterable[tuple[float, float]]) -> float:
    """E12: sum of C/L over (concentration, limit) pairs in the same unit; above 1 the mixture is over its limit."""
    return sum(not_negative("concentration", c) / positive("limit", limit) for c, limit in parts)


def lel_share(parts: Iterable[tuple[float, float]]) -> float:
    """Share of the lower flammable limit: sum of ppm / (LEL % x 10 000), after Le Chatelier; 0.1 is the line to keep."""
    return sum(not_negative("concentration", c) / (10_000 * within("LEL", lel, 0.1, 50, "%")) for c, lel in parts)


def dilution_for_fire(lel: float, vapour_per_gallon: float) -> float:
    """E13: ft3 of air a gallon of solvent to 25 % of its LEL (%): 4 (100 - LEL) (ft3 vapour a gallon) / LEL."""
    limit = within("LEL", lel, 0.1, 50, "%")
    return 4 * (100 - limit) * positive("vapour", vapour_per_gallon, "ft3/gal") / limit


def _mw(value: float) -> float:
    return within("molecular weight", value, 1, 1000)
