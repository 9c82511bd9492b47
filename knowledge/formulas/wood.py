"""Water in wood: equilibrium moisture, shrinkage, density, voids, and whether a piece is dry.

Handbook below is *Wood Handbook*, USDA Forest Products Laboratory, FPL-GTR-190 (2010), ch. 4 unless said.
Moisture is per cent of ovendry mass.
"""

from __future__ import annotations

from knowledge.formulas.limits import OutOfRange, not_negative, positive, within

FIBRE_SATURATION = 30.0  # per cent; Handbook ch. 4: averages about 30, varies by several points with species
WATER_DENSITY = 1000.0  # kg/m3, as the Handbook uses it
CELL_WALL_SPACE = 0.667  # cm3/g of ovendry cell wall, so 1.5 g/cm3; from memory, Siau 1984


def equilibrium_moisture(celsius: float, humidity: float) -> float:
    """Moisture (%) that wood comes to in air of this temperature (°C) and relative humidity (%).

    M = 1800/W [Kh/(1-Kh) + (K1 Kh + 2 K1 K2 K2h2)/(1 + K1 Kh + K1 K2 K2h2)], h the humidity as a decimal. Range -1.2
    to 100 °C, 0 to 100 %. Source: Handbook Eq. 4-5, Celsius constants; reproduces Table 4-2 from 30 to 120 °F within
    0.07. Fit against its own data: mean deviation below 0.13, greatest 0.9 points (Simpson).
    """
    t = within("temperature", celsius, -1.2, 100, "°C")
    h = within("relative humidity", humidity, 0, 100, "%") / 100
    return _hailwood_horrobin(
        h,
        w=349 + 1.29 * t + 0.0135 * t**2,
        k=0.805 + 0.000736 * t - 0.00000273 * t**2,
        k1=6.27 - 0.00938 * t - 0.000303 * t**2,
        k2=1.91 + 0.0407 * t - 0.000293 * t**2,
    )


def equilibrium_moisture_fahrenheit(fahrenheit: float, humidity: float) -> float:
    """As `equilibrium_moisture`, from °F by the Handbook's own Fahrenheit constants. Range 29.8 to 212 °F."""
    t = within("temperature", fahrenheit, 29.8, 212, "°F")
    h = within("relative humidity", humidity, 0, 100, "%") / 100
    return _hailwood_horrobin(
        h,
        w=330 + 0.452 * t + 0.00415 * t**2,
        k=0.791 + 0.000463 * t - 0.000000844 * t**2,
        k1=6.34 + 0.000775 * t - 0.0000935 * t**2,
        k2=1.09 + 0.0284 * t - 0.0000904 * t**2,
    )


def _hailwood_horrobin(h: float, *, w: float, k: float, k1: float, k2: float) -> float:
    kh = k * h
    squares = k1 * k2 * kh**2
    return 1800 / w * (kh / (1 - kh) + (k1 * kh + 2 * squares) / (1 + k1 * kh + squares))


def shrinkage(green_to_ovendry: float, moisture: float, saturation: float = FIBRE_SATURATION) -> float:
    """Shrinkage (% of green size) from green to `moisture` (%): S = S0 (1 - M/Mfs), M at most Mfs.

    `green_to_ovendry`: S0 (%), Handbook Table 4-3. Source: Handbook Eq. 4-7.
    """
    s0 = within("shrinkage", green_to_ovendry, 0, 100, "%")
    limit = positive("fibre saturation", saturation, "%")
    m = not_negative("moisture", moisture, "%")
    return s0 * (1 - min(m, limit) / limit)


def specific_gravity(basic: float, shrunk: float) -> float:
    """Specific gravity on the volume at a moisture: G = Gb / (1 - S/100), S the volume shrinkage (%) down to it.

    Source: Handbook Eq. 4-9. Range: Gb above 0 to 1.5, S 0 to 30 %.
    """
    return _gravity(basic) / (1 - within("volume shrinkage", shrunk, 0, 30, "%") / 100)


def density(gravity: float, moisture: float) -> float:
    """Density (kg/m3) of wood at `moisture` (%): 1000 G (1 + M/100), G on the volume at that moisture.

    Source: Handbook ch. 4. Range: G above 0 to 1.5, M 0 to 300 %.
    """
    return WATER_DENSITY * _gravity(gravity) * (1 + within("moisture", moisture, 0, 300, "%") / 100)


def void_fraction(gravity: float, moisture: float) -> float:
    """Share of the wood that is air: v = 1 - G (0.667 + 0.01 M), G on the volume at M (%), M below fibre saturation.

    Source: from memory, Siau, Transport Processes in Wood, 1984. Never below 0.
    """
    m = within("moisture", moisture, 0, FIBRE_SATURATION, "%")
    return max(0.0, 1 - _gravity(gravity) * (CELL_WALL_SPACE + 0.01 * m))


def greatest_moisture(basic: float) -> float:
    """Moisture (%) with every void full of water: 100 (1.54 - Gb) / (1.54 Gb). From memory, Handbook Eq.
    4-4."""
    g = within("specific gravity", basic, 1e-3, 1.54)
    return 100 * (1.54 - g) / (1.54 * g)


def dimensional_change(size: float, coefficient: float, before: float, after: float) -> float:
    """Change in a dimension (unit of `size`): D C (M2 - M1); negative where it shrinks.

    `coefficient` per point of moisture, across the grain, Handbook Table 13-5. Range 6 to 14 % moisture. The form of
    the line is from memory, ch. 13.
    """
    d = positive("size", size)
    c = within("coefficient", coefficient, 0, 0.01)
    return d * c * (within("moisture", after, 6, 14, "%") - within("moisture", before, 6, 14, "%"))


def moisture_after(before: float, lost: float) -> float:
    """Moisture (%) of a piece that was at `before` (%) and lost `lost` (% of its mass then).

    M2 = (100 + M1)(1 - lost/100) - 100: the ovendry mass stays. Raises OutOfRange where more was lost than water.
    """
    m = not_negative("moisture", before, "%")
    after = (100 + m) * (1 - lost / 100) - 100
    if not after >= 0:
        raise OutOfRange("mass lost", lost, f"at most {100 * m / (100 + m):.3g} % (all the water in it)")
    return after


def _gravity(value: float) -> float:
    return within("specific gravity", value, 1e-3, 1.5)
