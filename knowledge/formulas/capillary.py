"""How far a liquid creeps into pores: Lucas-Washburn, Phys. Rev. 17 (1921) 273-283 (citation from memory).

An open, unsealed sheet is wetted through long before resin gels, so no seal is decided on this length. Water in paper
departs from it, for fibres swell; the radius is an equivalent one.
"""

from __future__ import annotations

import math

from knowledge.formulas.limits import finite, not_negative, positive, within


def penetration(tension: float, radius: float, angle: float, viscosity: float, seconds: float) -> float:
    """Depth (m) after a time: L = sqrt(tension r cos(angle) t / (2 eta)); no gravity, no slip.

    Tension N/m, radius m, contact angle degrees (0 to 90), viscosity Pa s, time s.
    """
    t = not_negative("time", seconds, "s")
    return finite("depth", math.sqrt(_speed(tension, radius, angle, viscosity) * t))


def time_to(depth: float, tension: float, radius: float, angle: float, viscosity: float) -> float:
    """Seconds to reach a depth (m); the inverse of `penetration`. An angle of 90 degrees never wets: raises OutOfRange."""
    within("contact angle", angle, 0, 89.9, "degrees")
    return finite("time", not_negative("depth", depth, "m") ** 2 / _speed(tension, radius, angle, viscosity))


def _speed(tension: float, radius: float, angle: float, viscosity: float) -> float:
    theta = math.radians(within("contact angle", angle, 0, 90, "degrees"))
    pull = positive("surface tension", tension, "N/m") * positive("pore radius", radius, "m")
    return pull * max(0.0, math.cos(theta)) / (2 * positive("viscosity", viscosity, "Pa s"))
