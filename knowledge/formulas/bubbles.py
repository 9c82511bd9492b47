"""Air: how fast a bubble rises, how much trapped air swells, and what leaves the pores when the piece warms."""

from __future__ import annotations

from knowledge.formulas.limits import OutOfRange, finite, not_negative, positive, within

GRAVITY = 9.80665  # m/s2, standard
ZERO_CELSIUS = 273.15


def rise_speed(
    diameter: float, viscosity: float, density_difference: float, *, clean: bool = False, g: float = GRAVITY
) -> float:
    """Speed (m/s) of a bubble: d2 (rho) g / (18 eta), Stokes 1851; half as fast again where its skin is clean.

    Diameter m, viscosity Pa s, density difference kg/m3. Holds for Reynolds numbers far below 1 (see `reynolds`).
    Clean skin: v = r2 rho g / (3 eta), Hadamard-Rybczynski, from memory (Clift, Grace & Weber 1978).
    """
    d = not_negative("diameter", diameter, "m")
    eta = positive("viscosity", viscosity, "Pa s")
    rho = not_negative("density difference", density_difference, "kg/m3")
    slow = d**2 * rho * positive("gravity", g, "m/s2") / (18 * eta)
    return finite("speed", slow * 1.5 if clean else slow)


def viscosity_from_rise(diameter: float, speed: float, density_difference: float, g: float = GRAVITY) -> float:
    """Viscosity (Pa s) of a liquid in which a bubble (m) rises at this speed (m/s): Stokes, turned round."""
    d, v = positive("diameter", diameter, "m"), positive("speed", speed, "m/s")
    return d**2 * positive("density difference", density_difference, "kg/m3") * g / (18 * v)


def reynolds(diameter: float, speed: float, viscosity: float, density: float) -> float:
    """Reynolds number rho v d / eta, in m, m/s, Pa s, kg/m3. Stokes holds far below 1."""
    return (
        density * not_negative("speed", speed) * not_negative("diameter", diameter) / positive("viscosity", viscosity)
    )


def rise_time(depth: float, speed: float) -> float:
    """Seconds to rise `depth` (m) at `speed` (m/s)."""
    return finite("time", not_negative("depth", depth, "m") / positive("speed", speed, "m/s"))


def expansion(before: float, after: float) -> float:
    """How many times its volume a gas takes at the same pressure: T2/T1 in kelvin (Charles). Temperatures in °C."""
    return _kelvin(after) / _kelvin(before)


def air_expelled(voids: float, before: float, after: float) -> float:
    """Air (unit of `voids`) driven out of open pores by warming from `before` to `after` (°C): V (T2/T1 - 1).

    Negative where the piece cools: then that much resin or air is drawn in. Upper bound: all pores connect.
    """
    return not_negative("volume of the pores", voids) * (expansion(before, after) - 1)


def void_volume(volume: float, fraction: float) -> float:
    """Air (unit of `volume`) held by a porous body."""
    return not_negative("volume", volume) * within("void fraction", fraction, 0, 1)


def void_fraction_of(density: float, solid_density: float) -> float:
    """Share of a body that is air: 1 - density / density of its solid stuff (same unit)."""
    rho, solid = positive("density", density), positive("density of the solid", solid_density)
    if rho > solid:
        raise OutOfRange("density", rho, f"at most that of its solid stuff, {solid:g}")
    return 1 - rho / solid


def floats(mass: float, volume: float, liquid: float) -> float:
    """Density of a thing over that of the liquid: mass (g) / volume (mL) / liquid (g/mL). Below 1 it floats.

    Archimedes. A thing with open pores fills with resin and may sink later.
    """
    return (
        positive("mass", mass, "g")
        / positive("volume", volume, "mL")
        / positive("density of the liquid", liquid, "g/mL")
    )


def _kelvin(celsius: float) -> float:
    return within("temperature", celsius, -40, 200, "°C") + ZERO_CELSIUS
