"""How much of a material is air: by its density against that of the same stuff without any."""

from __future__ import annotations

from interview.plan.parts import Basis, Input, Zone
from interview.reasoning.numeric_answers import Told, from_allowance, span_words
from knowledge.allowances import solid_density
from knowledge.shape import Material


def porous(told: Told, zone: Zone) -> list[Material]:
    """The rows of what a zone is made of; things laid on or cast in are none of them."""
    return [told.knowledge.materials[i] for i in sorted(zone.ids("materials")) if i in told.knowledge.materials]


def voids_of(row: Material) -> tuple[float, float]:
    """Least and greatest share of air; the denser end gives the less."""
    solid = solid_density(row.family).value.low
    return max(0.0, 1 - row.density.high / solid), max(0.0, 1 - row.density.low / solid)


def density_inputs(row: Material) -> tuple[Input, ...]:
    """What `voids_of` rests on."""
    density = Input(f"density of {row.name}", span_words(row.density), Basis(row.basis, row.source, row.locator))
    return (density, from_allowance(solid_density(row.family)))
