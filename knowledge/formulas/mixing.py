"""Two parts: by volume or by weight, one from the other, and pots no larger than can be spread in time."""

from __future__ import annotations

import math
from dataclasses import dataclass

from knowledge.formulas.limits import finite, not_negative, positive, within


@dataclass(frozen=True, slots=True)
class Pot:
    """What goes into one pot, in the unit of the total."""

    resin: float
    hardener: float

    @property
    def total(self) -> float:
        return self.resin + self.hardener


def weight_ratio(parts_a: float, parts_b: float, density_a: float, density_b: float) -> float:
    """Parts of A to one of B by weight, from parts by volume and densities (same unit): (a rho_a) / (b rho_b)."""
    a = positive("parts of resin", parts_a) * positive("density of the resin", density_a)
    return finite(
        "ratio", a / (positive("parts of hardener", parts_b) * positive("density of the hardener", density_b))
    )


def volume_ratio(parts_a: float, parts_b: float, density_a: float, density_b: float) -> float:
    """Parts of A to one of B by volume, from parts by weight and densities: (a / rho_a) / (b / rho_b)."""
    a = positive("parts of resin", parts_a) / positive("density of the resin", density_a)
    return finite(
        "ratio", a / (positive("parts of hardener", parts_b) / positive("density of the hardener", density_b))
    )


def split(total: float, parts_a: float, parts_b: float) -> Pot:
    """A total in the two parts of a ratio; the sum is the total."""
    whole = not_negative("amount", total)
    share = _share(parts_a, parts_b)
    resin = whole * share
    return Pot(resin, whole - resin)


def mixed_density(parts_a: float, parts_b: float, density_a: float, density_b: float) -> float:
    """Density of the mix from parts by volume: (a rho_a + b rho_b) / (a + b); what volume it gains or loses
    is left out."""
    share = _share(parts_a, parts_b)
    return share * positive("density of the resin", density_a) + (1 - share) * positive(
        "density of the hardener", density_b
    )


def pots(total: float, largest: float, parts_a: float, parts_b: float) -> tuple[Pot, ...]:
    """As few equal pots as hold the total with none above `largest` (same unit). Raises OutOfRange above 100 000 pots."""
    whole = positive("amount", total)
    needed = within("number of pots", whole / positive("largest pot", largest), 0, 100_000)
    count = max(1, math.ceil(needed - 1e-9))
    return (split(whole / count, parts_a, parts_b),) * count


def largest_pot(working: float, mixing: float, speed: float, depth: float) -> float:
    """The most (mL) that is spread before it thickens: (working time - mixing) min x speed (m2/min) x depth
    (mm) x 1000.

    0 where mixing alone takes the whole working time.
    """
    left = max(0.0, positive("working time", working, "min") - not_negative("mixing time", mixing, "min"))
    return finite("pot", 1000 * left * positive("speed", speed, "m2/min") * positive("depth", depth, "mm"))


def _share(parts_a: float, parts_b: float) -> float:
    a, b = within("parts of resin", parts_a, 1e-6, 1e6), within("parts of hardener", parts_b, 1e-6, 1e6)
    return a / (a + b)
