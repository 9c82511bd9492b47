"""How wood dries: by diffusion, with the square of its thickness; and what weighings can show of it.

A slab with two open faces, half-thickness h: Crank, *The Mathematics of Diffusion*, eq. 4.18 (from memory). Moisture
is per cent of the mass.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import Literal

from knowledge.formulas.limits import positive, within

DAY = 86400.0  # s
STEPS = 3.0  # a change counts from three steps of the scale on; common practice
ALLOWED = 1.0  # points of moisture that may still be to go, of equilibrium with the room it will live in
COARSE = 2.0  # %; a scale that shows no less tells nothing; common practice
Verdict = Literal["steady", "losing", "gaining", "too soon", "scale too coarse"]


def drying_days(thickness: float, diffusion: float, share: float = 0.9) -> float:
    """Days until `share` of the water that is to go has gone, from both faces of a slab of `thickness` mm.

    `diffusion`: m2/s. The first terms of the series, solved by halving; share 0.01 to 0.999.
    """
    h, d = _half(thickness), positive("diffusion", diffusion, "m2/s")
    return _gone_by(within("share", share, 0.01, 0.999)) * h * h / d / DAY


@cache
def _gone_by(share: float) -> float:
    """D time / h2 when this share has gone."""
    low, high = 0.0, 10.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if _gone(middle) < share else (low, middle)
    return high


def _gone(t: float) -> float:
    """Share gone at t = D time / h2."""
    terms = ((2 * n + 1) ** 2 for n in range(40))
    return 1 - 8 / math.pi**2 * sum(math.exp(-k * math.pi**2 * t / 4) / k for k in terms)


def late_half_life(thickness: float, diffusion: float) -> float:
    """Days in which, late on, half of what is still to go goes: 4 ln 2 / pi2 x h2/D."""
    return 4 * math.log(2) / math.pi**2 * _half(thickness) ** 2 / positive("diffusion", diffusion, "m2/s") / DAY


def still_to_go(lost: float, days: float, thickness: float, diffusion: float) -> float:
    """Points (%) still to go where `lost` % went in the last `days`: lost / (1 - exp(-pi2 D t / 4 h2)) - lost.

    Late in the drying each equal time takes the same share of what is left.
    """
    rate = math.log(2) / late_half_life(thickness, diffusion)
    went = 1 - math.exp(-rate * positive("time", days, "days"))
    return lost / went - lost


def least_mass(step: float, percent: float) -> float:
    """The least mass of which a scale with this step can show a change of `percent`: three steps of it."""
    return STEPS * positive("step of the scale", step) / positive("change", percent, "%") * 100


@dataclass(frozen=True, slots=True)
class Weighing:
    """What two weighings tell. `lost`: % of the first mass, negative where it gained; `left`: points at most to go."""

    lost: float
    left: float
    verdict: Verdict


def compare_weighings(
    first: float, second: float, hours: float, step: float, thickness: float, diffusion: float
) -> Weighing:
    """Whether a piece is within a point of the room's moisture: by diffusion, and by what the scale can show.

    Masses and `step` in one unit; mm; m2/s. "Less than 0.2 % in a day" proves nothing for thick wood or a few grams.
    """
    a, b = positive("first mass", first), positive("second mass", second)
    days = positive("time between the weighings", hours, "hours") / 24
    lost, shows = 100 * (a - b) / a, 100 * STEPS * positive("step of the scale", step) / a
    left = still_to_go(max(abs(lost), shows), days, thickness, diffusion)
    if abs(lost) >= shows and left > ALLOWED:
        return Weighing(lost, left, "losing" if lost > 0 else "gaining")
    if shows > COARSE:
        return Weighing(lost, left, "scale too coarse")
    return Weighing(lost, left, "steady" if left <= ALLOWED else "too soon")


def _half(thickness: float) -> float:
    """m"""
    return positive("thickness", thickness, "mm") / 2000
