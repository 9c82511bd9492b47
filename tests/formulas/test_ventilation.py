"""Vapour in a room, against worked examples with published answers; those marked "from memory" were not seen in print."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from knowledge.formulas import ventilation as v
from knowledge.formulas.limits import OutOfRange

CFM = 1.699  # m3/h

# ------------------------------------------------------------------ worked examples


def test_x1_build_up() -> None:
    """R package rEHS, man page `concentration`: 171.90 ppm."""
    assert v.build_up(1.4, 2500, 75_000, 11) == pytest.approx(171.90, abs=0.01)


def test_x2_time_to_reach() -> None:
    """R package rEHS, man page `time.interval`: 11.24 min."""
    assert v.time_to_reach(1.4, 2500, 75_000, 175) == pytest.approx(11.24, abs=0.01)


@pytest.mark.parametrize(("k", "ppm"), [(0.5, 18.9), (0.1, 94.3)])
def test_x3_toluene_with_a_k_that_multiplies(k: float, ppm: float) -> None:
    """Slides of Crowl & Louvar, Chemical Process Safety, ch. 3: 0.1 g/min, 100 ft3/min, 80 °F, 1 atm."""
    litres = v.vapour_volume(0.1, 92.13, (80 - 32) / 1.8)
    flow = v.effective_flow(100 * 28.3168, v.mixing_factor(k))
    assert v.steady_ppm(litres, flow) == pytest.approx(ppm, rel=0.003)


# CDC, MMWR 43(RR-13), 1994, Table S3-1: minutes to remove 90, 99, 99.9 % at K = 1, by air changes an hour
TABLE_S3_1 = {
    1: (138, 276, 414),
    2: (69, 138, 207),
    4: (35, 69, 104),
    6: (23, 46, 69),
    10: (14, 28, 41),
    20: (7, 14, 21),
}


@pytest.mark.parametrize("changes", TABLE_S3_1)
def test_x4_time_to_remove(changes: float) -> None:
    for share, minutes in zip((0.9, 0.99, 0.999), TABLE_S3_1[int(changes)], strict=True):
        assert v.time_to_remove(share, changes) == pytest.approx(minutes, abs=0.6)
        assert v.time_to_remove(share, changes, 3) == pytest.approx(3 * minutes, abs=1.8)


def test_x5_purge() -> None:
    """Design Guide for Heating, Ventilating, and Air Conditioning Systems (2000, rev. 2006), p. 106."""
    changes = v.purge_changes(20, 1.4, 0.20)
    assert changes == pytest.approx(13.3, abs=0.01)
    assert changes / 2 == pytest.approx(6.65, abs=0.01)


def test_x6_average_of_eight_hours() -> None:
    """29 CFR 1910.1000(d)(1)(ii): 81.25 ppm."""
    assert v.time_weighted([(150, 2), (75, 2), (50, 4)]) == 81.25


def test_x7_mixture() -> None:
    """29 CFR 1910.1000(d)(2)(ii): 0.925; its inputs are from memory."""
    assert v.mixture_index([(500, 1000), (45, 200), (40, 200)]) == pytest.approx(0.925)


def test_x9_methyl_chloroform() -> None:
    """From memory, ACGIH Industrial Ventilation: 1.5 pt/h, SG 1.32, MW 133.4, TLV 350, K 5 -> 285 and 1425 cfm."""
    assert v.airflow_us(1.32, 1.5 / 60, 133.4, 350) == pytest.approx(285, abs=1)
    assert v.airflow_us(1.32, 1.5 / 60, 133.4, 350, 5) == pytest.approx(1425, abs=1)


def test_x10_x11_build_up_and_decay() -> None:
    """From memory, ACGIH Industrial Ventilation."""
    assert v.time_to_reach(1.2, 2000, 100_000, 200) == pytest.approx(20.3, rel=0.003)
    assert v.build_up(1.2, 2000, 100_000, 60) == pytest.approx(419, rel=0.003)
    assert v.time_to_clear(100, 25, 2000, 100_000) == pytest.approx(69.3, rel=0.003)
    assert v.decay(100, 2000, 100_000, 60) == pytest.approx(30.1, rel=0.003)


def test_x13_toluene_for_fire() -> None:
    """From memory, 29 CFR 1910.94(c)(6)(ii): LEL 1.4 %, 30.4 ft3/gal -> 8564 ft3/gal."""
    assert v.dilution_for_fire(1.4, 30.4) == pytest.approx(8564, abs=1)


# ------------------------------------------------------------------ ppm and mg/m3


# NIOSH Pocket Guide, conversion at 25 °C: mg/m3 a ppm, to 0.01
@pytest.mark.parametrize(("name", "mw", "factor"), [
    ("toluene, p. 311", 92.14, 3.77), ("ethanol, npgd0262", 46.07, 1.89), ("isopropanol, npgd0359", 60.10, 2.46),
    ("n-butane, npgd0068", 58.12, 2.38),
])  # fmt: skip
def test_conversion_factors(name: str, mw: float, factor: float) -> None:
    assert v.mg_per_m3(1, mw) == pytest.approx(factor, abs=0.01), name


# NIOSH: pairs printed side by side in the limits, rounded there, so to 2 %
@pytest.mark.parametrize(("name", "ppm", "mw", "mg"), [
    ("toluene", 100, 92.14, 375), ("2-butoxyethanol", 5, 118.17, 24), ("acetone", 250, 58.08, 590),
])  # fmt: skip
def test_pairs_of_limits(name: str, ppm: float, mw: float, mg: float) -> None:
    assert v.mg_per_m3(ppm, mw) == pytest.approx(mg, rel=0.02), name
    assert v.ppm_of(mg, mw) == pytest.approx(ppm, rel=0.02), name


def test_403_and_24_45_are_of_different_temperatures() -> None:
    """403 ft3 a pint is about 70 °F; at 25 °C it would be 408.6."""
    at_70 = 473.176473 * v.molar_volume((70 - 32) / 1.8) / 28.316846592
    at_77 = 473.176473 * v.molar_volume(25) / 28.316846592
    assert at_70 == pytest.approx(403.0, abs=0.6)
    assert at_77 == pytest.approx(408.6, abs=0.1)


# ------------------------------------------------------------------ own regression checks, by arithmetic


def test_a_can_of_acetone_in_a_room() -> None:
    peak = v.at_once(85, 58.08, 30)
    assert peak == pytest.approx(1192.8, abs=0.1)
    assert v.mg_per_m3(peak, 58.08) == pytest.approx(2833, abs=1)
    assert v.mixture_index([(peak, 250)]) == pytest.approx(4.8, abs=0.05)
    assert v.lel_share([(peak, 2.5)]) == pytest.approx(0.048, abs=0.001)
    for changes, hours in ((0.45, 3.47), (1.51, 1.03), (2.75, 0.57)):
        assert v.time_to_clear(peak, 250, changes * 30, 30) == pytest.approx(hours, abs=0.01)


def test_fresh_air_hardly_lowers_the_peak_of_a_short_spray() -> None:
    """10 g/min of acetone for 5 min into 30 m3."""
    litres_an_hour = v.vapour_volume(600, 58.08)
    for changes, ppm in ((0.45, 688.6), (2.75, 627.0)):
        assert v.build_up(litres_an_hour / 1000, changes * 30, 30, 5 / 60) == pytest.approx(ppm, abs=0.2)


def test_other_regression_values() -> None:
    assert v.airflow(60, 92.14, 100, 5) == pytest.approx(796, abs=1)
    assert v.airflow(60, 92.14, 100, 5) / CFM == pytest.approx(469, abs=1)
    assert v.grams_for(2500, 58.08, 30) == pytest.approx(178, abs=0.5)
    assert v.air_changes(50 * 60, 10 * 10 * 8) == 3.75


# ------------------------------------------------------------------ what must always hold

PPM = st.floats(0.01, 1e5)
MW = st.floats(16, 300)
ROOM = st.floats(1, 1000)
FLOW = st.floats(0.1, 5000)


@given(PPM, MW)
def test_there_and_back(ppm: float, mw: float) -> None:
    assert v.ppm_of(v.mg_per_m3(ppm, mw), mw) == pytest.approx(ppm)


@given(st.floats(0, 1e4), MW, ROOM)
def test_grams_and_ppm_there_and_back(grams: float, mw: float, room: float) -> None:
    assert v.grams_for(v.at_once(grams, mw, room), mw, room) == pytest.approx(grams, abs=1e-9)


@given(PPM, FLOW, ROOM, st.floats(0.001, 100))
def test_decay_and_time_to_clear_are_inverse(start: float, flow: float, room: float, time: float) -> None:
    end = v.decay(start, flow, room, time)
    assume(end > 1e-6 * start)
    assert v.time_to_clear(start, end, flow, room) == pytest.approx(time, rel=1e-6)


@given(st.floats(1e-4, 10), FLOW, FLOW, ROOM, st.floats(0, 100))
def test_more_air_never_means_more_vapour(
    generation: float, one: float, other: float, room: float, time: float
) -> None:
    less, more = sorted((one, other))
    assert v.build_up(generation, more, room, time) <= v.build_up(generation, less, room, time) * (1 + 1e-9) + 1e-9


@given(st.floats(1e-4, 10), FLOW, ROOM, st.floats(0, 100), st.floats(0, 100))
def test_it_rises_towards_its_end_and_never_above(
    generation: float, flow: float, room: float, one: float, other: float
) -> None:
    early, late = sorted((one, other))
    a, b = v.build_up(generation, flow, room, early), v.build_up(generation, flow, room, late)
    assert 0 <= a <= b * (1 + 1e-9) + 1e-9 and b <= v.steady_ppm(generation, flow) * (1 + 1e-9)


@given(st.floats(1e-4, 10), ROOM, st.floats(0.01, 10))
def test_no_air_is_the_limit_of_little_air(generation: float, room: float, time: float) -> None:
    assert v.build_up(generation, 0, room, time) == pytest.approx(v.build_up(generation, 1e-6, room, time), rel=1e-4)


@given(st.floats(1e-4, 10), FLOW, ROOM, st.floats(0.01, 50))
def test_time_to_reach_is_the_inverse_of_build_up(generation: float, flow: float, room: float, time: float) -> None:
    assume(flow * time / room < 12)
    assert v.time_to_reach(generation, flow, room, v.build_up(generation, flow, room, time)) == pytest.approx(
        time, rel=1e-3
    )


@given(st.floats(0.1, 1))
def test_two_conventions_of_mixing(k: float) -> None:
    assert v.effective_flow(100, v.mixing_factor(k)) == pytest.approx(100 * k)


@given(st.lists(st.tuples(st.floats(0, 1e4), st.floats(1, 1e4)), max_size=6))
def test_a_mixture_is_at_least_as_bad_as_its_worst_part(parts: list[tuple[float, float]]) -> None:
    assert v.mixture_index(parts) >= max((c / limit for c, limit in parts), default=0) * (1 - 1e-9)


@given(MW, ROOM, st.floats(0, 1e4), st.floats(1.01, 10))
def test_units_do_not_matter(mw: float, room: float, grams: float, scale: float) -> None:
    assert v.at_once(grams * scale, mw, room * scale) == pytest.approx(v.at_once(grams, mw, room), rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("call", [
    lambda: v.mg_per_m3(-1, 58), lambda: v.mg_per_m3(1, 0), lambda: v.effective_flow(1, 0.2), lambda: v.mixing_factor(5),
    lambda: v.build_up(1, 1, 0, 1), lambda: v.build_up(math.nan, 1, 1, 1), lambda: v.time_to_reach(1.4, 2500, 75_000, 561),
    lambda: v.at_once(1, 58, 0), lambda: v.time_weighted([(1, 9)]), lambda: v.mixture_index([(1, 0)]),
    lambda: v.lel_share([(1, 0)]), lambda: v.time_to_remove(1, 1), lambda: v.time_to_clear(2, 1, 0, 1),
])  # fmt: skip
def test_nonsense(call) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange, match="must be"):
        call()
