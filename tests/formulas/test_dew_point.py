"""Dew point, against PsychroLib 2.5.0 (ASHRAE Handbook, Fundamentals 2017, ch. 1) and values printed there."""

from __future__ import annotations

import psychrolib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowledge.formulas.dew_point import (
    dew_point,
    least_surface,
    margin,
    saturation_pressure,
    surface_humidity,
)
from knowledge.formulas.limits import OutOfRange

TEMPERATURES = (5, 10, 15, 20, 25, 30, 35)
HUMIDITIES = (30, 40, 50, 60, 70, 80, 85, 90, 95)


def test_grid_of_psychrolib() -> None:
    """Below 0 °C the library gives the frost point, over ice; those cells are left out."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    compared = 0
    for t in TEMPERATURES:
        for humidity in HUMIDITIES:
            theirs = psychrolib.GetTDewPointFromRelHum(t, humidity / 100)
            if theirs > 0.5:
                assert dew_point(t, humidity) == pytest.approx(theirs, abs=0.05), (t, humidity)
                compared += 1
    assert compared == 54


# typed from a run of PsychroLib 2.5.0, °C
@pytest.mark.parametrize(("t", "humidity", "dew"), [
    (10, 60, 2.60), (15, 50, 4.67), (20, 50, 9.27), (20, 85, 17.40), (25, 60, 16.70), (30, 80, 26.17), (35, 30, 14.84),
])  # fmt: skip
def test_typed_cells(t: float, humidity: float, dew: float) -> None:
    assert dew_point(t, humidity) == pytest.approx(dew, abs=0.05)


# the same in °F
@pytest.mark.parametrize(("t", "humidity", "dew"), [
    (70, 50, 50.5), (70, 60, 55.5), (75, 50, 55.1), (75, 85, 70.2), (80, 60, 64.9), (60, 50, 41.3),
])  # fmt: skip
def test_typed_cells_in_fahrenheit(t: float, humidity: float, dew: float) -> None:
    assert dew_point((t - 32) / 1.8, humidity) * 1.8 + 32 == pytest.approx(dew, abs=0.1)


# below 0 °C: over water, the dew point and not the frost point (Alduchov & Eskridge's form)
@pytest.mark.parametrize(("t", "humidity", "dew"), [(10, 30, -6.80), (15, 30, -2.45), (5, 30, -11.17)])
def test_below_freezing_it_is_the_dew_point_over_water(t: float, humidity: float, dew: float) -> None:
    assert dew_point(t, humidity) == pytest.approx(dew, abs=0.02)


# ASHRAE Fundamentals 2017, ch. 1, Table 3, in Pa (through PsychroLib's own tests), within the form's 0.4 %
@pytest.mark.parametrize(
    ("t", "pascal"), [(5, 872.6), (25, 3169.7), (50, 12351.3), (15, 1705.4), (20, 2338.8), (30, 4246.0)]
)
def test_saturation_pressure(t: float, pascal: float) -> None:
    assert 100 * saturation_pressure(t) == pytest.approx(pascal, rel=0.004)


def test_ashrae_example_one() -> None:
    """Handbook example 1: 40 °C, 14 % -> dew point about 7 °C."""
    assert dew_point(40, 14) == pytest.approx(7, abs=0.5)


# relative humidity at a surface 5 °F (2.78 °C) above the dew point: NACE 6A192/SSPC-TR 3 gives 82 to 86 %
@pytest.mark.parametrize("surface", [10, 15, 20, 25, 30])
def test_the_margin_and_the_humidity_limit_say_nearly_the_same(surface: float) -> None:
    at_surface = 100 * saturation_pressure(surface - 2.78) / saturation_pressure(surface)
    assert 82 <= at_surface <= 86


def test_a_cold_piece_in_warm_air() -> None:
    """Stone at 15 °C brought into 25 °C and 60 %: water condenses on it."""
    assert margin(15, 25, 60) < 0
    assert surface_humidity(15, 25, 60) == 100
    assert surface_humidity(25, 25, 60) == pytest.approx(60)


AIR = st.floats(-20, 50)
HUMIDITY = st.floats(0.5, 100)


@given(AIR, HUMIDITY)
def test_dew_point_is_never_above_the_air(t: float, humidity: float) -> None:
    assert dew_point(t, humidity) <= t + 1e-9
    assert dew_point(t, 100) == pytest.approx(t)


@given(AIR, HUMIDITY, HUMIDITY)
def test_more_humidity_a_higher_dew_point(t: float, one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert dew_point(t, low) <= dew_point(t, high) + 1e-9


@given(st.floats(0, 40), st.floats(20, 99))
def test_at_the_least_surface_the_margin_is_kept(t: float, humidity: float) -> None:
    assert margin(least_surface(t, humidity), t, humidity) == pytest.approx(3)


@pytest.mark.parametrize(
    ("t", "humidity"), [(20, 101), (20, 0), (20, -5), (90, 50), (float("nan"), 50), (20, float("inf"))]
)
def test_nonsense(t: float, humidity: float) -> None:
    with pytest.raises(OutOfRange, match="must be"):
        dew_point(t, humidity)
