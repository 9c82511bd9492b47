"""Wood, against the Wood Handbook (USDA Forest Products Laboratory, FPL-GTR-190, 2010)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowledge.formulas.limits import OutOfRange
from knowledge.formulas.wood import (
    density,
    dimensional_change,
    equilibrium_moisture,
    equilibrium_moisture_fahrenheit,
    greatest_moisture,
    moisture_after,
    shrinkage,
    specific_gravity,
    void_fraction,
)

# Wood Handbook, Table 4-2: EMC (%) by temperature (°F) for 5, 10 ... 95 % relative humidity
HUMIDITIES = range(5, 100, 5)
TABLE_4_2 = """
30 1.4 2.6 3.7 4.6 5.5 6.3 7.1 7.9 8.7 9.5 10.4 11.3 12.4 13.5 14.9 16.5 18.5 21.0 24.3
40 1.4 2.6 3.7 4.6 5.5 6.3 7.1 7.9 8.7 9.5 10.4 11.3 12.3 13.5 14.9 16.5 18.5 21.0 24.3
50 1.4 2.6 3.6 4.6 5.5 6.3 7.1 7.9 8.7 9.5 10.3 11.2 12.3 13.4 14.8 16.4 18.4 20.9 24.3
60 1.3 2.5 3.6 4.6 5.4 6.2 7.0 7.8 8.6 9.4 10.2 11.1 12.1 13.3 14.6 16.2 18.2 20.7 24.1
70 1.3 2.5 3.5 4.5 5.4 6.2 6.9 7.7 8.5 9.2 10.1 11.0 12.0 13.1 14.4 16.0 17.9 20.5 23.9
80 1.3 2.4 3.5 4.4 5.3 6.1 6.8 7.6 8.3 9.1 9.9 10.8 11.7 12.9 14.2 15.7 17.7 20.2 23.6
90 1.2 2.3 3.4 4.3 5.1 5.9 6.7 7.4 8.1 8.9 9.7 10.5 11.5 12.6 13.9 15.4 17.3 19.8 23.3
100 1.2 2.3 3.3 4.2 5.0 5.8 6.5 7.2 7.9 8.7 9.5 10.3 11.2 12.3 13.6 15.1 17.0 19.5 22.9
110 1.1 2.2 3.2 4.0 4.9 5.6 6.3 7.0 7.7 8.4 9.2 10.0 11.0 12.0 13.2 14.7 16.6 19.1 22.4
120 1.1 2.1 3.0 3.9 4.7 5.4 6.1 6.8 7.5 8.2 8.9 9.7 10.6 11.7 12.9 14.4 16.2 18.6 22.0
"""
CELLS = [
    (float(row.split()[0]), humidity, float(cell))
    for row in TABLE_4_2.strip().splitlines()
    for humidity, cell in zip(HUMIDITIES, row.split()[1:], strict=True)
]


def test_every_cell_of_the_moisture_table_from_both_forms() -> None:
    assert len(CELLS) == 190
    for fahrenheit, humidity, cell in CELLS:
        assert equilibrium_moisture((fahrenheit - 32) / 1.8, humidity) == pytest.approx(cell, abs=0.07)
        assert equilibrium_moisture_fahrenheit(fahrenheit, humidity) == pytest.approx(cell, abs=0.07)


# recomputed once from the Celsius form of Eq. 4-5
@pytest.mark.parametrize(
    ("celsius", "humidity", "percent"),
    [(21.1, 50, 9.243), (21.1, 65, 11.958), (20, 50, 9.271), (60, 55, 8.373)],
)
def test_spot_values(celsius: float, humidity: float, percent: float) -> None:
    assert equilibrium_moisture(celsius, humidity) == pytest.approx(percent, abs=0.001)


def test_sixty_degrees_agrees_with_the_table_not_with_a_page_that_disputes_it() -> None:
    """Table 4-2 says 8.4 at 140 °F and 55 %."""
    assert equilibrium_moisture_fahrenheit(140, 55) == pytest.approx(8.4, abs=0.07)


CELSIUS = st.floats(-1, 60)
HUMIDITY = st.floats(0, 100)


@given(CELSIUS, HUMIDITY, HUMIDITY)
def test_more_humidity_never_means_drier_wood(celsius: float, one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert 0 <= equilibrium_moisture(celsius, low) <= equilibrium_moisture(celsius, high) < 40


@given(st.floats(15, 60), st.floats(15, 60), HUMIDITY)
def test_warmer_air_of_the_same_humidity_means_drier_wood(one: float, other: float, humidity: float) -> None:
    cold, warm = sorted((one, other))
    assert equilibrium_moisture(warm, humidity) <= equilibrium_moisture(cold, humidity) + 1e-9


@given(st.floats(0, 50), HUMIDITY)
def test_both_units_agree(celsius: float, humidity: float) -> None:
    """The handbook fits the two forms apart, so they differ by a little: most near saturation."""
    imperial = equilibrium_moisture_fahrenheit(celsius * 1.8 + 32, humidity)
    assert equilibrium_moisture(celsius, humidity) == pytest.approx(imperial, abs=0.25)


# ------------------------------------------------------------------ shrinkage, density, voids


# Handbook Table 4-3 (green to ovendry, volume) and Table 5-3 (G green, G at 12 %), in turn: white ash,
# black walnut,
# yellow-poplar, western redcedar. The relation is an average line: species lie within 0.02 of it.
@pytest.mark.parametrize(("name", "green", "volume", "at_12"), [
    ("white ash", 0.55, 13.3, 0.60), ("black walnut", 0.51, 12.8, 0.55), ("yellow-poplar", 0.40, 12.7, 0.42),
    ("western redcedar", 0.31, 6.8, 0.32),
])  # fmt: skip
def test_gravity_at_twelve_per_cent_follows_from_green(name: str, green: float, volume: float, at_12: float) -> None:
    assert specific_gravity(green, shrinkage(volume, 12)) == pytest.approx(at_12, abs=0.021), name


def test_density_example() -> None:
    """Missouri forestry functions, quoting GTR-190 ch. 4: G 0.4 at 12 % is 448 kg/m3."""
    assert density(0.4, 12) == pytest.approx(448, abs=0.5)


# from memory, Siau 1984: G and voids at 12 %
@pytest.mark.parametrize(("gravity", "voids"), [(0.60, 0.53), (0.38, 0.70), (0.63, 0.50), (0.68, 0.46), (0.32, 0.75)])
def test_voids_of_known_woods(gravity: float, voids: float) -> None:
    assert void_fraction(gravity, 12) == pytest.approx(voids, abs=0.006)


def test_half_air_at_three_quarters() -> None:
    """Lecture notes FW 1035, Michigan Technological Univ.: ovendry gravity 0.75 is half air at 1.5 g/cm3 of wall."""
    assert void_fraction(0.75, 0) == pytest.approx(0.5, abs=0.001)


# from memory, Handbook Eq. 4-4: basic gravity -> greatest moisture (%)
@pytest.mark.parametrize(("basic", "most"), [(0.55, 117), (0.35, 221), (0.60, 102), (0.31, 258)])
def test_greatest_moisture(basic: float, most: float) -> None:
    assert greatest_moisture(basic) == pytest.approx(most, abs=0.6)


def test_a_maple_top_moves() -> None:
    """Handbook Table 13-5: sugar maple 0.00353 tangential; 300 mm from 6 to 12 % grows by 6.4 mm."""
    assert dimensional_change(300, 0.00353, 6, 12) == pytest.approx(6.354, abs=0.001)
    assert dimensional_change(300, 0.00353, 12, 6) == pytest.approx(-6.354, abs=0.001)


@given(st.floats(0, 30), st.floats(0, 200), st.floats(0, 200))
def test_shrinkage_falls_with_moisture_and_ends_at_saturation(s0: float, one: float, other: float) -> None:
    dry, wet = sorted((one, other))
    assert 0 <= shrinkage(s0, wet) <= shrinkage(s0, dry) <= s0
    assert shrinkage(s0, 30) == shrinkage(s0, 200) == 0


# ------------------------------------------------------------------ weighing


def test_moisture_after_a_loss() -> None:
    assert moisture_after(12, 100 * 12 / 112) == pytest.approx(0, abs=1e-9)


NONSENSE = [
    lambda: equilibrium_moisture(20, 101), lambda: equilibrium_moisture(20, -1), lambda: equilibrium_moisture(500, 50),
    lambda: equilibrium_moisture(float("nan"), 50), lambda: density(0, 12), lambda: density(9, 12),
    lambda: void_fraction(0.5, 60), lambda: shrinkage(-1, 5),
    lambda: dimensional_change(300, 0.003, 2, 12), lambda: moisture_after(10, 50),
]  # fmt: skip


@pytest.mark.parametrize("call", NONSENSE)
def test_nonsense_gets_one_clear_line(call) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange) as error:
        call()
    said = str(error.value)
    assert "\n" not in said and "must be" in said and error.value.what and error.value.allowed
