"""Areas of shapes, joints of a jigsaw, pots of a mix."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowledge.formulas import mixing, shapes
from knowledge.formulas.limits import OutOfRange

SIDE = st.floats(1, 1e4)


def test_plain_shapes() -> None:
    assert shapes.rectangle(300, 400) == 120_000
    assert shapes.ellipse(100, 100) == pytest.approx(7853.98, abs=0.01)
    assert shapes.l_shape(100, 80, 40, 30) == 6800
    assert shapes.rectangle_edge(300, 400) == 1400
    assert shapes.sides(1400, 18) == 25_200
    assert shapes.box(1, 2, 3) == 22
    assert shapes.cylinder(2, 3) == pytest.approx(2 * math.pi * 1 * (1 + 3))
    assert shapes.box_volume(2, 3, 4) == 24
    assert shapes.cylinder_volume(2, 3) == pytest.approx(3 * math.pi)


def test_round_edge_is_exact_and_oval_edge_close() -> None:
    """Oval of 2 by 1: 4.84422, from the complete elliptic integral (tables)."""
    assert shapes.ellipse_edge(10, 10) == pytest.approx(10 * math.pi)
    assert shapes.ellipse_edge(2, 1) == pytest.approx(4.84422, abs=0.0001)


# rows, columns, piece of 20 mm: straight cuts counted by hand, (rows-1) widths and (columns-1) heights
@pytest.mark.parametrize(("rows", "columns"), [(1, 1), (2, 2), (10, 10), (20, 25), (25, 40)])
def test_joints_of_a_jigsaw_of_square_pieces(rows: int, columns: int) -> None:
    width, height = 20.0 * columns, 20.0 * rows
    by_hand = (rows - 1) * width + (columns - 1) * height
    got = shapes.joint_length(width * height, 2 * (width + height), rows * columns)
    assert got == pytest.approx(by_hand, abs=1e-6)
    assert shapes.joint_length(width * height, 2 * (width + height), rows * columns, 1.5) == pytest.approx(
        1.5 * by_hand, abs=1e-6
    )


@given(SIDE, SIDE, st.floats(0.1, 100))
def test_areas_scale_with_the_square(width: float, height: float, scale: float) -> None:
    for shape in (shapes.rectangle, shapes.ellipse, shapes.cylinder):
        assert shape(width * scale, height * scale) == pytest.approx(shape(width, height) * scale**2)


@given(SIDE, SIDE)
def test_an_oval_fits_into_its_rectangle(width: float, height: float) -> None:
    assert 0 < shapes.ellipse(width, height) < shapes.rectangle(width, height)
    assert shapes.ellipse_edge(width, height) < shapes.rectangle_edge(width, height)


@given(SIDE, SIDE, st.integers(1, 5000), st.integers(1, 5000))
def test_more_pieces_more_joints(width: float, height: float, one: int, other: int) -> None:
    few, many = sorted((one, other))
    area, edge = width * height, 2 * (width + height)
    assert 0 <= shapes.joint_length(area, edge, few) <= shapes.joint_length(area, edge, many)


@pytest.mark.parametrize("call", [
    lambda: shapes.rectangle(0, 5), lambda: shapes.rectangle(-1, 5), lambda: shapes.l_shape(10, 10, 10, 5),
    lambda: shapes.l_shape(10, 10, 5, 0), lambda: shapes.ellipse(math.inf, 1), lambda: shapes.several(5, 0),
    lambda: shapes.rectangle(1e200, 1e200), lambda: shapes.joint_length(100, 40, 0),
])  # fmt: skip
def test_nonsense_shapes(call) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange, match="must be"):
        call()


# ------------------------------------------------------------------ mixing


def test_weight_from_volume() -> None:
    """2 : 1 by volume, 1.15 and 0.97 g/mL: 2.30 to 0.97, so 100 : 42.2 by weight."""
    assert mixing.weight_ratio(2, 1, 1.15, 0.97) == pytest.approx(100 / 42.17, abs=0.001)
    assert mixing.mixed_density(2, 1, 1.15, 0.97) == pytest.approx(1.09)


def test_pots() -> None:
    made = mixing.pots(900, 400, 2, 1)
    assert len(made) == 3
    assert made[0].resin == pytest.approx(200) and made[0].hardener == pytest.approx(100)
    assert len(mixing.pots(400, 400, 1, 1)) == 1
    assert mixing.largest_pot(40, 10, 0.01, 3) == pytest.approx(900)
    assert mixing.largest_pot(5, 10, 0.01, 3) == 0


RATIO = st.floats(0.1, 200)
DENSITY = st.floats(0.7, 2.5)


@given(RATIO, RATIO, DENSITY, DENSITY)
def test_volume_and_weight_there_and_back(a: float, b: float, da: float, db: float) -> None:
    assert mixing.volume_ratio(mixing.weight_ratio(a, b, da, db), 1, da, db) == pytest.approx(a / b)


@given(st.floats(0.1, 1e5), RATIO, RATIO)
def test_the_parts_add_up(total: float, a: float, b: float) -> None:
    pot = mixing.split(total, a, b)
    assert pot.total == pytest.approx(total) and pot.resin > 0 and pot.hardener >= 0
    assert pot.resin * b == pytest.approx(pot.hardener * a, rel=1e-6)


@given(st.floats(0.1, 1e4), st.floats(20, 1e4), RATIO, RATIO)
def test_pots_hold_all_and_none_is_too_large(total: float, largest: float, a: float, b: float) -> None:
    made = mixing.pots(total, largest, a, b)
    assert sum(p.total for p in made) == pytest.approx(total)
    assert all(p.total <= largest * (1 + 1e-6) for p in made)


@pytest.mark.parametrize("call", [
    lambda: mixing.split(1, 0, 1), lambda: mixing.split(1, 1, 0), lambda: mixing.split(1, -2, 1), lambda: mixing.pots(0, 1, 1, 1),
    lambda: mixing.pots(1, 0, 1, 1), lambda: mixing.pots(1e9, 1, 1, 1), lambda: mixing.weight_ratio(1, 1, 0, 1),
    lambda: mixing.largest_pot(math.nan, 1, 1, 1),
])  # fmt: skip
def test_nonsense_mixes(call) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange, match="must be"):
        call()
