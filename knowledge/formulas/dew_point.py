"""Where water condenses: dew point, its margin below a surface, and the humidity at that surface.

Magnus form over water with the constants of Alduchov & Eskridge, J. Appl. Meteor. 35 (1996) 601-609.
"""

from __future__ import annotations

import math

from knowledge.formulas.limits import within

A, B, C = 6.1094, 17.625, 243.04  # hPa, -, °C
LOW, HIGH = -40.0, 50.0  # °C; the range the paper gives, with an error below 0.4 % (range from memory)
MARGIN = 3.0  # °C; UFC 3-190-06 (2004) §9.6.6 has 5 °F; ISO 8502-4 has 3 °C (clause from memory)


def saturation_pressure(celsius: float) -> float:
    """Vapour pressure (hPa) of saturated air over water: 6.1094 exp(17.625 T / (243.04 + T)). Range -40 to 50 °C."""
    t = within("temperature", celsius, LOW, HIGH, "°C")
    return A * math.exp(B * t / (C + t))


def dew_point(celsius: float, humidity: float) -> float:
    """Dew point (°C, over water also below 0) of air at this temperature (°C) and relative humidity (%).

    g = ln(RH/100) + B T/(C + T); Td = C g / (B - g). Range -40 to 50 °C, above 0.1 to 100 %.
    """
    t = within("temperature", celsius, LOW, HIGH, "°C")
    h = within("relative humidity", humidity, 0.1, 100, "%")
    g = math.log(h / 100) + B * t / (C + t)
    return C * g / (B - g)


def margin(surface: float, celsius: float, humidity: float) -> float:
    """How far (°C) a surface (°C) is above the dew point of the air around it; negative where water condenses on it."""
    return within("temperature of the surface", surface, LOW, HIGH, "°C") - dew_point(celsius, humidity)


def surface_humidity(surface: float, celsius: float, humidity: float) -> float:
    """Relative humidity (%) of the air that touches a surface: RH es(air) / es(surface), 100 where it condenses."""
    h = within("relative humidity", humidity, 0, 100, "%")
    return min(100.0, h * saturation_pressure(celsius) / saturation_pressure(surface))


def least_surface(celsius: float, humidity: float, keep: float = MARGIN) -> float:
    """The coldest (°C) a surface may be and still be `keep` °C above the dew point."""
    return dew_point(celsius, humidity) + within("margin", keep, 0, 20, "°C")
