"""Drying by diffusion: against the table of a slab with two open faces in Crank's book (from memory: T = D t / h2 at
half gone 0.197, nine tenths 0.848, 95 % 1.129), with the diffusion of spruce measured across the grain (abstract in
Scientific Reports, 2026: 1.0e-10 m2/s near 20 °C). That it goes with the square root of time at first: FPL, 1939."""

from __future__ import annotations

import pytest

from knowledge.formulas.drying import compare_weighings, drying_days, late_half_life, least_mass, still_to_go
from knowledge.formulas.limits import OutOfRange

SPRUCE, DENSE = 1.0e-10, 3.0e-11


@pytest.mark.parametrize(("share", "t"), [(0.5, 0.197), (0.9, 0.848), (0.95, 1.129)])
def test_a_slab_dries_as_in_the_table(share: float, t: float) -> None:
    h = 9e-3
    assert drying_days(18, SPRUCE, share) * 86400 * SPRUCE / h**2 == pytest.approx(t, abs=0.002)


@pytest.mark.parametrize(
    ("mm", "spruce", "dense"), [(3, 0.2, 0.7), (6, 0.9, 3), (18, 8, 27), (25, 15, 51), (50, 61, 205)]
)
def test_days_to_nine_tenths(mm: float, spruce: float, dense: float) -> None:
    assert drying_days(mm, SPRUCE) == pytest.approx(spruce, rel=0.12)
    assert drying_days(mm, DENSE) == pytest.approx(dense, rel=0.12)


@pytest.mark.parametrize(("mm", "points"), [(18, 0.86), (25, 1.57), (50, 5.96)])
def test_two_tenths_of_a_percent_a_day_is_not_dry(mm: float, points: float) -> None:
    assert still_to_go(0.2, 1, mm, SPRUCE) + 0.2 == pytest.approx(points, rel=0.02)


def test_late_on_half_goes_in_equal_times() -> None:
    week = late_half_life(18, SPRUCE)
    assert still_to_go(1.0, week, 18, SPRUCE) == pytest.approx(1.0)


def test_a_kitchen_scale_shows_half_a_percent_from_600_grams_on() -> None:
    assert least_mass(1.0, 0.5) == pytest.approx(600)
    assert least_mass(0.1, 0.5) == pytest.approx(60)


@pytest.mark.parametrize(
    ("first", "second", "hours", "step", "mm", "verdict"),
    [
        (4120.0, 4100.0, 24, 1.0, 18, "losing"), (4120.0, 4150.0, 24, 1.0, 18, "gaining"),
        (4120.0, 4120.0, 24, 1.0, 6, "steady"), (4120.0, 4120.0, 24 * 7, 1.0, 18, "steady"),
        (520.0, 519.0, 24, 0.1, 25, "losing"), (4120.0, 4120.0, 24, 1.0, 50, "too soon"),
        (0.05, 0.05, 24, 0.01, 3, "scale too coarse"), (40.0, 40.0, 24, 1.0, 12, "scale too coarse"),
    ],
)  # fmt: skip
def test_two_weighings(first: float, second: float, hours: float, step: float, mm: float, verdict: str) -> None:
    assert compare_weighings(first, second, hours, step, mm, DENSE).verdict == verdict


def test_no_thickness_no_answer() -> None:
    with pytest.raises(OutOfRange):
        drying_days(0, SPRUCE)
