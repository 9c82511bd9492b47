"""Bubbles, trapped air, capillaries, sheets, rates: worked examples and laws."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowledge.formulas import bubbles, capillary, kinetics, paper
from knowledge.formulas.limits import OutOfRange

# ------------------------------------------------------------------ bubbles


def test_stokes_worked_example() -> None:
    """School physics, sarthaks.com/1574412: r 0.1 mm, 0.35 cm/s in water, g 9.8 -> 6.2e-3 Pa s."""
    assert bubbles.viscosity_from_rise(0.2e-3, 0.35e-2, 1000, g=9.8) == pytest.approx(6.2e-3, rel=0.005)


# Stokes with 1098.8 kg/m3: diameter um -> um/s at 0.5, 1 and 5 Pa s, and seconds through 3 mm at 1 Pa s
@pytest.mark.parametrize(("um", "half", "one", "five", "seconds"), [
    (50, 2.99, 1.50, 0.299, 2005), (100, 11.97, 5.99, 1.20, 501), (200, 47.9, 23.9, 4.79, 125),
    (500, 299, 150, 29.9, 20), (1000, 1197, 599, 120, 5.0),
])  # fmt: skip
def test_rise_grid(um: float, half: float, one: float, five: float, seconds: float) -> None:
    for eta, speed in ((0.5, half), (1, one), (5, five)):
        got = bubbles.rise_speed(um * 1e-6, eta, 1098.8)
        assert got * 1e6 == pytest.approx(speed, rel=0.005)
        assert bubbles.reynolds(um * 1e-6, got, eta, 1100) < 0.004
    assert bubbles.rise_time(0.003, bubbles.rise_speed(um * 1e-6, 1, 1098.8)) == pytest.approx(seconds, rel=0.01)


def test_a_clean_skin_rises_half_as_fast_again() -> None:
    """From memory, Clift, Grace & Weber 1978 (Hadamard-Rybczynski)."""
    assert bubbles.rise_speed(1e-4, 1, 1100, clean=True) == pytest.approx(1.5 * bubbles.rise_speed(1e-4, 1, 1100))


# Charles: T2/T1 in kelvin
@pytest.mark.parametrize(("before", "after", "times"), [(20, 30, 1.0341), (18, 24, 1.0206), (20, 40, 1.0682)])
def test_expansion(before: float, after: float, times: float) -> None:
    assert bubbles.expansion(before, after) == pytest.approx(times, abs=0.0001)


def test_air_out_of_a_maple_board() -> None:
    """1 dm2 of 10 mm sugar maple at 12 %: 50 mL of voids; 18 to 24 °C drives out about 1.0 mL."""
    voids = bubbles.void_volume(100, 0.50)
    assert voids == 50
    assert bubbles.air_expelled(voids, 18, 24) == pytest.approx(1.0, abs=0.05)
    assert bubbles.air_expelled(voids, 24, 18) < 0


@given(st.floats(0, 1e4), st.floats(0, 40), st.floats(0, 40))
def test_warming_drives_out_and_cooling_draws_in(voids: float, one: float, other: float) -> None:
    cold, warm = sorted((one, other))
    assert bubbles.air_expelled(voids, cold, warm) >= 0 >= bubbles.air_expelled(voids, warm, cold)


@given(st.floats(1e-6, 1e-3), st.floats(1e-6, 1e-3), st.floats(0.1, 100), st.floats(0.1, 100))
def test_larger_bubbles_and_thinner_liquids_are_faster(d1: float, d2: float, e1: float, e2: float) -> None:
    small, large = sorted((d1, d2))
    thin, thick = sorted((e1, e2))
    assert bubbles.rise_speed(small, thick, 1100) <= bubbles.rise_speed(large, thin, 1100)


@pytest.mark.parametrize(("mass", "volume", "floats"), [(0.3, 1.0, True), (8.9, 1.0, False), (1.1, 1.0, False)])
def test_floats(mass: float, volume: float, floats: bool) -> None:
    assert (bubbles.floats(mass, volume, 1.1) < 1) is floats


def test_cork_is_mostly_air() -> None:
    assert bubbles.void_fraction_of(0.2, 1.2) == pytest.approx(0.833, abs=0.001)


# ------------------------------------------------------------------ capillaries


# Lucas-Washburn: tension, radius, angle, viscosity, time -> length; computed from the form (Washburn 1921)
@pytest.mark.parametrize(("tension", "radius", "angle", "eta", "seconds", "metres"), [
    (0.0728, 1e-6, 0, 1.002e-3, 1, 6.027e-3), (0.0728, 2e-6, 0, 1.002e-3, 60, 66.02e-3), (0.040, 2e-6, 30, 1.0, 600, 4.559e-3),
    (0.040, 1e-6, 30, 1.0, 0.5774, 0.1e-3),
])  # fmt: skip
def test_penetration(tension: float, radius: float, angle: float, eta: float, seconds: float, metres: float) -> None:
    assert capillary.penetration(tension, radius, angle, eta, seconds) == pytest.approx(metres, rel=0.001)
    assert capillary.time_to(metres, tension, radius, angle, eta) == pytest.approx(seconds, rel=0.002)


def test_an_open_sheet_is_wetted_long_before_gel() -> None:
    """Even a pore of 0.1 um takes resin through half a millimetre in minutes."""
    assert capillary.time_to(0.5e-3, 0.040, 0.1e-6, 30, 1.0) == pytest.approx(144, abs=1)


@given(st.floats(1e-8, 1e-4), st.floats(0.001, 100), st.floats(1, 1e5), st.floats(1, 4))
def test_four_times_the_time_twice_the_depth(radius: float, eta: float, seconds: float, times: float) -> None:
    once = capillary.penetration(0.04, radius, 30, eta, seconds)
    assert capillary.penetration(0.04, radius, 30, eta, seconds * times**2) == pytest.approx(times * once)


# ------------------------------------------------------------------ sheets


# g/m2 a pound of a ream, by basic size (printingtips.com, t-36-230)
@pytest.mark.parametrize(
    ("grade", "factor"),
    [("bond", 3.760), ("text", 1.480), ("cover", 2.704), ("index", 1.808), ("news", 1.627)],
)
def test_grammage_factor(grade: str, factor: float) -> None:
    assert paper.grammage(1, grade) == pytest.approx(factor, abs=0.001)


@pytest.mark.parametrize(("pounds", "grams"), [(20, 75.2), (24, 90.2), (28, 105.3), (32, 120.3)])
def test_bond_papers(pounds: float, grams: float) -> None:
    assert paper.grammage(pounds, "bond") == pytest.approx(grams, abs=0.1)


# thickness um, g/m2 -> mL/m2, by arithmetic with 1.5 g/cm3 of fibre; tissue to watercolour and greyboard
# from memory
@pytest.mark.parametrize(("um", "grams", "volume"), [
    (35, 18, 23), (70, 48, 38), (102, 75.2, 52), (114, 90.2, 54), (152, 120.3, 72), (300, 250, 133), (450, 300, 250), (1000, 630, 580),
])  # fmt: skip
def test_pore_volume(um: float, grams: float, volume: float) -> None:
    assert paper.pore_volume(um, grams) == pytest.approx(volume, abs=0.6)
    assert paper.uptake(um / 1000, grams / um) == pytest.approx(volume, abs=0.6)


@given(st.floats(20, 3000), st.floats(0.05, 1.5))
def test_pores_never_hold_more_than_the_sheet(um: float, density: float) -> None:
    assert 0 <= paper.pore_volume(um, min(um * density, um * 1.5)) <= um


# ------------------------------------------------------------------ rates


# factor of the rate for ten degrees, Arrhenius, R = 8.314462618: 15 to 25, 20 to 30, 25 to 35 °C
@pytest.mark.parametrize(("energy", "factors"), [
    (40, (1.75, 1.72, 1.69)), (50, (2.01, 1.97, 1.92)), (52.9, (2.10, 2.05, 2.00)), (60, (2.32, 2.25, 2.19)), (70, (2.66, 2.58, 2.50)),
])  # fmt: skip
def test_arrhenius(energy: float, factors: tuple[float, float, float]) -> None:
    for start, factor in zip((15, 20, 25), factors, strict=True):
        assert kinetics.arrhenius_factor(energy, start, start + 10) == pytest.approx(factor, abs=0.005)


@pytest.mark.parametrize(("celsius", "energy"), [(20, 51.2), (25, 52.9)])
def test_energy_that_doubles(celsius: float, energy: float) -> None:
    assert kinetics.doubling_energy(celsius) == pytest.approx(energy, abs=0.05)
    assert kinetics.arrhenius_factor(kinetics.doubling_energy(celsius), celsius, celsius + 10) == pytest.approx(2)


def test_ten_degrees_colder_takes_twice_as_long() -> None:
    assert kinetics.time_at(40, 25, 15) == 80
    assert kinetics.time_at(40, 25, 35) == 20


RULE = st.floats(10, 40)


@given(st.floats(1, 1e4), RULE, RULE, RULE)
def test_warmer_is_faster_and_the_way_does_not_matter(time: float, start: float, one: float, other: float) -> None:
    cold, warm = sorted((one, other))
    assert kinetics.time_at(time, start, warm) <= kinetics.time_at(time, start, cold)
    assert kinetics.time_at(kinetics.time_at(time, start, one), one, other) == pytest.approx(
        kinetics.time_at(time, start, other)
    )
    low, high = kinetics.time_range(time, start, one)
    assert 0 < low <= high


@pytest.mark.parametrize("celsius", [5, 9.9, 41, 60, float("nan")])
def test_the_rule_holds_from_ten_to_forty_only(celsius: float) -> None:
    with pytest.raises(OutOfRange, match="from 10 to 40 °C"):
        kinetics.time_at(40, 20, celsius)


@pytest.mark.parametrize("call", [
    lambda: bubbles.rise_speed(-1, 1, 1), lambda: bubbles.rise_speed(1, 0, 1), lambda: bubbles.expansion(-300, 20),
    lambda: bubbles.void_volume(1, 1.2), lambda: bubbles.floats(0, 1, 1), lambda: bubbles.void_fraction_of(2, 1.5),
    lambda: capillary.penetration(0.04, 1e-6, 120, 1, 1), lambda: capillary.time_to(1, 0.04, 1e-6, 90, 1),
    lambda: paper.pore_volume(100, 200), lambda: paper.uptake(1, 1.6), lambda: paper.grammage(-1, "bond"),
])  # fmt: skip
def test_nonsense(call) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange, match="must be"):
        call()
