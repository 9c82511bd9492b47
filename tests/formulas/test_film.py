"""Film thickness and volumes, against UFC 3-190-06 (MIL-HDBK-1110), NIST Handbook 44 and 16 CFR 500.19."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowledge.formulas import film
from knowledge.formulas.limits import OutOfRange

SQUARE_FOOT = 0.09290304  # m2; 16 CFR 500.19: 929.0304 cm2
FLUID_OUNCE = 29.5735295625  # mL; 1/128 of 231 in3


def test_constant_of_the_us_gallon() -> None:
    """231 in3 (NIST Handbook 44, App. C) spread over a square foot are 1604 mil."""
    assert pytest.approx(1604.17, abs=0.01) == film.SQ_FT_MIL_PER_GALLON
    assert film.area_covered_us(1, 1) == pytest.approx(1604, abs=0.5)


def test_worked_example() -> None:
    """paintcenter.org, rj/oct03e.cfm: 1 gal, 52 % solids, 30 % transfer, 1.5 mil dry -> 167 ft2."""
    assert film.area_covered_us(1, 1.5, 52, 0.30) == pytest.approx(167, abs=0.5)


# UFC 3-190-06 §2.1.5(b), 50 % solids; it rounds 1604 to 1600 (its own 600 ft2 at 1 mil is a misprint for 800)
@pytest.mark.parametrize(("mil", "square_feet"), [(1, 800), (2, 400), (4, 200)])
def test_coverage_at_half_solids(mil: float, square_feet: float) -> None:
    assert film.area_covered_us(1, mil, 50) == pytest.approx(square_feet, rel=0.003)


def test_metric_and_us_are_the_same() -> None:
    """3.785411784 L over 25.4 um a mil."""
    assert film.area_covered(3.785411784, 25.4) / SQUARE_FOOT == pytest.approx(film.area_covered_us(1, 1))
    assert film.area_covered(1, 1000) == 1


def test_a_square_foot_an_eighth_deep() -> None:
    """18 in3, so 9.974 US fl oz."""
    assert film.pour_volume(SQUARE_FOOT, 3.175) / FLUID_OUNCE == pytest.approx(9.974, abs=0.001)


def test_wet_and_dry() -> None:
    """UFC 3-190-06 §2.1.5: dry = wet x solids."""
    assert film.dry_film(100, 40) == pytest.approx(40)
    assert film.wet_film(40, 40) == pytest.approx(100)
    assert film.thinned_solids(40, 0.25) == pytest.approx(32)


# 40 CFR 60.313(c)(1) Table 1 (as printed in Wis. NR 440.48): air 0.25, manual electrostatic 0.60, dip 0.90
@pytest.mark.parametrize(("transfer", "times"), [(0.25, 4), (0.60, 1.667), (0.90, 1.111)])
def test_loss_in_the_air_costs_sealer(transfer: float, times: float) -> None:
    assert film.volume_for(1, 1, 10, transfer) == pytest.approx(100 * times, rel=0.001)


@pytest.mark.parametrize(
    ("depth", "deepest", "pours"), [(3, 3, 1), (3.1, 3, 2), (25, 6, 5), (0.3, 0.1, 3), (1, 25, 1), (0, 3, 0)]
)
def test_layers(depth: float, deepest: float, pours: int) -> None:
    assert film.layers(depth, deepest) == pours


AREA, THICK, SHARE = st.floats(1e-4, 1e4), st.floats(1, 1e4), st.floats(0.02, 1)


@given(AREA, st.integers(1, 6), THICK, SHARE)
def test_what_is_bought_covers_what_it_is_bought_for(area: float, coats: int, wet: float, share: float) -> None:
    volume = film.volume_for(area, coats, film.spread_of(wet), share)
    assert volume > 0
    assert film.area_covered(volume / 1000, wet, share) == pytest.approx(area * coats)


@given(AREA, AREA, THICK)
def test_more_area_takes_more(one: float, other: float, wet: float) -> None:
    small, large = sorted((one, other))
    assert film.volume_for(small, 1, film.spread_of(wet)) <= film.volume_for(large, 1, film.spread_of(wet))


@given(st.floats(0.1, 1000), st.floats(0.1, 100))
def test_layers_are_enough_and_not_one_too_many(depth: float, deepest: float) -> None:
    pours = film.layers(depth, deepest)
    assert pours * deepest >= depth - 1e-6
    assert (pours - 1) * deepest < depth


@pytest.mark.parametrize("call", [
    lambda: film.area_covered(1, 0), lambda: film.area_covered(-1, 10), lambda: film.volume_for(1, 1, 0),
    lambda: film.volume_for(1, 1, 10, 0), lambda: film.volume_for(1, 1, 10, 1.5), lambda: film.dry_film(10, 0),
    lambda: film.dry_film(10, 120), lambda: film.pour_volume(float("nan"), 1), lambda: film.layers(1, 0),
    lambda: film.area_covered(1e308, 1e-300),
])  # fmt: skip
def test_nonsense(call) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange, match="must be"):
        call()
