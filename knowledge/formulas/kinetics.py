"""Temperature and time: Arrhenius, and the rule of thumb that 10 °C doubles the rate, within 10 to 40 °C only."""

from __future__ import annotations

import math

from knowledge.formulas.limits import finite, not_negative, positive, within

R = 8.314462618  # J/(mol K)
ZERO_CELSIUS = 273.15
LOW, HIGH = 10.0, 40.0  # °C; outside it the rule is no guide, nor where a batch heats itself


def arrhenius_factor(energy: float, before: float, after: float) -> float:
    """How many times faster at `after` than at `before` (°C): exp(Ea/R (1/T1 - 1/T2)). Energy in kJ/mol.

    Source: Arrhenius 1889. Epoxies cured with amines commonly 45 to 65 kJ/mol: from memory. Range -40 to 200 °C.
    """
    t1, t2 = _kelvin(before), _kelvin(after)
    return finite(
        "factor", math.exp(1000 * not_negative("activation energy", energy, "kJ/mol") / R * (1 / t1 - 1 / t2))
    )


def doubling_energy(celsius: float) -> float:
    """Activation energy (kJ/mol) at which 10 °C from `celsius` double the rate: R T (T/10 + 1) ln 2 / 1000."""
    t = _kelvin(celsius)
    return R * t * (t / 10 + 1) * math.log(2) / 1000


def time_at(reference: float, reference_temperature: float, celsius: float) -> float:
    """Time (unit of `reference`) at another temperature: t 2^((Tref - T)/10). A rule of thumb, 10 to 40 °C only.

    For working time, gel and cure of a reacting resin. Not for drying of sealers: there evaporation governs.
    """
    t0 = within("temperature of the label", reference_temperature, LOW, HIGH, "°C")
    t = within("temperature", celsius, LOW, HIGH, "°C")
    return positive("time", reference) * 2 ** ((t0 - t) / 10)


def time_range(
    reference: float, reference_temperature: float, celsius: float, energies: tuple[float, float] = (45, 65)
) -> tuple[float, float]:
    """Shortest and longest time (unit of `reference`) at another temperature for a range of activation energies."""
    t0 = within("temperature of the label", reference_temperature, LOW, HIGH, "°C")
    t = within("temperature", celsius, LOW, HIGH, "°C")
    times = [positive("time", reference) / arrhenius_factor(e, t0, t) for e in energies]
    return min(times), max(times)


# stages of a thin coat, in multiples of the working time: common practice; a test of the stage outranks the clock
TACKY, HARD = (3.0, 8.0), 20.0


def gel_stages(working: float) -> tuple[float, float, float]:
    """When a coat is tacky (from, to) and when it is hard (from), in the unit of the working time: 3 to 8 times it,
    and 20 times it. The next layer bonds best while the last still has some tack.

    The multiples are common practice; that the tack counts is published for reaction-cured films (UFC 3-190-06,
    2.2.3: the next coat goes on best while the undercoat has some tack).
    """
    time = positive("working time", working)
    return TACKY[0] * time, TACKY[1] * time, HARD * time


def _kelvin(celsius: float) -> float:
    return within("temperature", celsius, -40, 200, "°C") + ZERO_CELSIUS
