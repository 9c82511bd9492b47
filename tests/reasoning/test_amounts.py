"""Amounts by hand: what a maker would work out on paper, and what must hold for any of them."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from knowledge.allowances import allowance
from knowledge.loading import Knowledge
from tests.reasoning.pieces import ALL, COASTER, EVERYTHING, JIGSAW, PINE, TILE, TISSUE, Case, size, some


def test_a_flood_coat_by_hand(knowledge: Knowledge) -> None:
    """15 x 15 cm, 3 mm, taped edges: 67.5 mL, and 5 to 10 % for the cup."""
    resin = Case(knowledge, TILE)["amount.resin"]
    assert resin.low == pytest.approx(67.5 * 1.05) and resin.high == pytest.approx(67.5 * 1.10)
    assert resin.shown == "71 to 75 mL (2 1/2 to 2 3/4 fl oz)"
    assert resin.working[0].startswith("15 x 15 cm") and resin.working[0].endswith("= 68 mL (2 1/4 fl oz)")


def test_over_the_edges_takes_more(knowledge: Knowledge) -> None:
    """Face 675 mL; 10 to 20 % drips; side 0.042 m2 in 0.3 to 1 mm... for a tile 18 mm thick of 0.0108 m2."""
    taped, open_ = (
        Case(knowledge, TILE)["amount.resin"],
        Case(knowledge, TILE, resin_on="sides")["amount.resin"],
    )
    side = 4 * 0.15 * 0.018
    assert open_.low == pytest.approx((67.5 * 1.10 + side * 0.3 * 1000) * 1.05)
    assert open_.high == pytest.approx((67.5 * 1.20 + side * 1.0 * 1000) * 1.10)
    assert open_.low > taped.low


def test_a_mould_less_what_the_things_fill(knowledge: Knowledge) -> None:
    """10 x 10 x 1 cm = 100 mL; a fifth of it filled leaves 80."""
    full = Case(knowledge, COASTER)["amount.resin"]
    assert (full.low, full.high) == pytest.approx((105, 110))
    less = Case(knowledge, COASTER, have=some("resin_label"), fill=20.0)["amount.resin"]
    assert (less.low, less.high) == pytest.approx((84, 88))


def test_a_deep_mould_takes_several_pours(knowledge: Knowledge) -> None:
    deep = Case(knowledge, COASTER, size=size("10 x 10 x 2.5 cm"))
    assert deep["amount.layers"].low == 4  # three by the label, and a thin one first: the flowers float
    label = Case(knowledge, COASTER, size=size("10 x 10 x 2.5 cm"), have=some("resin_label"), deepest=25.0)
    assert not label.has("amount.layers")


def test_sealer_by_hand(knowledge: Knowledge) -> None:
    """Pine 100 x 50 cm, 20 mm: face 0.5, back 0.5, sides 0.06 m2; two coats at 8 to 12 m2/L."""
    sealer = Case(knowledge, PINE)["amount.sealer.brush_water_borne"]
    area = 0.5 + 0.5 + 3 * 0.02
    row = knowledge.sealers["brush_water_borne"]
    assert row.spread is not None
    assert sealer.low == pytest.approx(1000 * area * 2 / row.spread.high)
    assert sealer.high == pytest.approx(1000 * area * 2 / row.spread.low)


def test_the_label_beats_the_class(knowledge: Knowledge) -> None:
    label = Case(knowledge, PINE, have=some("sealer_label"), sealer_spread=5.0)
    sealer = label["amount.sealer.brush_water_borne"]
    assert sealer.low == sealer.high == pytest.approx(1000 * 1.06 * 2 / 5)
    assert any(i.basis.kind == "your label" and "5 m²/L" in i.value for i in sealer.inputs)


def test_joints_of_a_jigsaw_count(knowledge: Knowledge) -> None:
    """300 pieces of 20 mm: straight cuts 14 x 400 + 19 x 300 = 11.3 m, 1.3 to 1.8 times as long, two walls
    of 1.9 mm.
    """
    seams = next(line for line in Case(knowledge, JIGSAW).sealer().working if "joints" in line)
    assert "15 to 20 m" in seams
    few, many = Case(knowledge, JIGSAW, pieces=100).sealer(), Case(knowledge, JIGSAW, pieces=1000).sealer()
    assert few.high < many.high


def test_what_bare_pine_would_drink(knowledge: Knowledge) -> None:
    """0.56 m2, 0.3 to 1.5 mm deep, density 0.32 to 0.55 against 1.5 g/cm3: 63 to 79 % air."""
    saved = Case(knowledge, PINE)["amount.saved"]
    assert saved.low == pytest.approx(1000 * 0.56 * 0.3 * (1 - 0.55 / 1.5))
    assert saved.high == pytest.approx(1000 * 0.56 * 1.5 * (1 - 0.32 / 1.5))
    assert "upper bound" in saved.range


def test_glass_drinks_nothing_and_a_glazed_tile_only_at_its_sides(knowledge: Knowledge) -> None:
    tile = Case(knowledge, TILE)
    assert all(line.startswith("the sides") for f in tile.got.figures if f.id == "amount.saved" for line in f.working)
    case = Case(knowledge, TILE, support=some("glass"))
    assert not case.has("amount.drink") and not case.has("amount.saved") and not case.has("amount.sealer")


def test_unsealed_wood_takes_its_share_into_the_pot(knowledge: Knowledge) -> None:
    """Where darkening is welcome and nothing seals it, the resin it drinks has to be mixed too."""
    bare = Case(knowledge, PINE, darken="yes", ways=some("spray_room"))
    assert bare.has("amount.drink")
    assert any("soaks into what is left bare" in line for line in bare["amount.resin"].working)


# ------------------------------------------------------------------ pots


def test_pots_measured_out_by_volume(knowledge: Knowledge) -> None:
    case = Case(knowledge, PINE, have=some("resin_label"), ratio=(2.0, 1.0, "volume"), working_time=40.0)
    pots = case["mixing.pots"]
    assert pots.low == len([line for line in pots.working if line.startswith("pot ")]) >= 2
    assert pots.low * 1000 >= case["amount.resin"].high
    first = next(line for line in pots.working if line.startswith("pot 1"))
    resin, hardener = (float(part.split(" mL")[0]) for part in first.split(": ")[1].split(" and "))
    assert resin == pytest.approx(2 * hardener, rel=1e-3)


def test_pots_measured_out_by_weight(knowledge: Knowledge) -> None:
    pots = Case(knowledge, TILE, have=some("resin_label"), ratio=(100.0, 45.0, "weight"))["mixing.pots"]
    assert "60 g (2.12 oz) of resin and 27 g (0.95 oz) of hardener" in pots.shown


def test_no_ratio_no_parts(knowledge: Knowledge) -> None:
    """A ratio is never guessed."""
    pots = Case(knowledge, TILE)["mixing.pots"]
    assert "as the label says" in pots.working[-1] and "hardener" not in pots.shown


def test_a_short_working_time_means_small_pots(knowledge: Knowledge) -> None:
    slow = Case(knowledge, PINE, have=some("resin_label"), working_time=60.0)["mixing.pots"]
    fast = Case(knowledge, PINE, have=some("resin_label"), working_time=15.0)["mixing.pots"]
    assert fast.low > slow.low


def test_a_warm_room_means_smaller_pots(knowledge: Knowledge) -> None:
    more = {"have": some("resin_label", "room"), "working_time": 25.0, "room_humidity": 50.0}
    cool = Case(knowledge, PINE, room_temperature=20.0, **more)["mixing.pots"]
    warm = Case(knowledge, PINE, room_temperature=33.0, **more)["mixing.pots"]
    assert warm.low > cool.low


# ------------------------------------------------------------------ floating, buying, cost


def test_what_floats_gets_two_pours(knowledge: Knowledge) -> None:
    case = Case(knowledge, COASTER)
    assert case["other.floats.pressed_flowers"].shown == "floats up"
    assert case["other.floats.coin"].shown == "sinks"
    assert "pressed flowers" in case.says("amounts.floats") and "coins" not in case.says("amounts.floats")


def test_each_pour_is_mixed_for_itself(knowledge: Knowledge) -> None:
    """A floater is held by a first layer, so each layer has a pot; what sinks is poured over at once."""
    floater, coin = Case(knowledge, COASTER), Case(knowledge, {**COASTER, "laid_on": some("coin")})
    assert floater["mixing.pots"].label == "pots to mix for each of 2 pours"
    assert coin["mixing.pots"].label == "pots to mix"


@pytest.mark.parametrize(("grams", "word"), [(0.5, "floats up"), (2.2, "may do either"), (8.0, "sinks")])
def test_the_thing_that_was_weighed(knowledge: Knowledge, grams: float, word: str) -> None:
    """2 x 2 x 0.5 cm: 2 mL round it, 1.05 to 2 mL of it the thing; resin 1.05 to 1.15 g/mL."""
    case = Case(knowledge, COASTER, have=some("scale"), thing_mass=grams, thing_size=size("2 x 2 x 0.5 cm"))
    assert case["other.floats.weighed"].shown == word


def test_packs_and_prices_add_up(knowledge: Knowledge) -> None:
    case = Case(knowledge, PINE, have=some("prices"), price_sealer=12.0, pack_resin=750.0, price_resin=39.9)
    goods = {b.item: b for b in case.got.bought}
    kits = math.ceil(case["amount.resin"].high / 750)
    assert goods["resin"].packs == kits and goods["resin"].pack == "750 mL (25 fl oz) kit"
    assert goods["sealer.brush_water_borne"].packs == 1
    assert case["cost.total"].low == pytest.approx(12.0 + kits * 39.9)
    assert case["cost.total"].shown == f"{12.0 + kits * 39.9:.2f}"


def test_no_price_no_sum(knowledge: Knowledge) -> None:
    assert not Case(knowledge, PINE).has("cost")


# ------------------------------------------------------------------ what must hold for all of them


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("have", [some("none"), EVERYTHING])
def test_every_figure_has_its_working(knowledge: Knowledge, name: str, have: frozenset[str]) -> None:
    case = Case(knowledge, ALL[name], have=have)
    ids = [f.id for f in case.got.figures]
    assert len(ids) == len(set(ids))
    for f in case.got.figures:
        assert f.working and f.inputs and f.formula and f.label and f.shown, f.id
        assert f.low <= f.high and math.isfinite(f.low) and math.isfinite(f.high), f.id
        assert f.basis.kind == ("assumed" if any(i.basis.kind == "assumed" for i in f.inputs) else "computed"), f.id
        for i in f.inputs:
            assert (i.basis.kind == "published") == bool(i.basis.source), (f.id, i)
    assert all("\n" not in line for f in case.got.figures for line in (*f.working, f.shown))
    assert all(f.says.endswith(".") for f in case.got.findings)


@pytest.mark.parametrize("name", ALL)
def test_skipping_everything_still_gives_a_plan(knowledge: Knowledge, name: str) -> None:
    """Every number question answered "not sure": the same as none of them answered."""
    piece = {id: value for id, value in ALL[name].items() if knowledge.questions[id].part != "numbers"}
    asked = [q.id for q in knowledge.questions.values() if q.part == "numbers"]
    skipped = Case(knowledge, piece, **dict.fromkeys(asked))
    assert skipped.got == Case(knowledge, piece).got
    assert skipped["amount.resin"].basis.kind == "assumed"


SIDE = st.floats(20, 2000)


@settings(max_examples=40, deadline=None)
@given(SIDE, SIDE, st.integers(1, 200), st.sampled_from(sorted(ALL)))
def test_more_of_it_takes_more_and_never_less_than_nothing(
    knowledge: Knowledge, width: float, height: float, count: int, name: str
) -> None:
    def amounts(wide: float, n: int) -> dict[str, tuple[float, float]]:
        one: dict[str, Any] = {"shape": "box", "width": wide, "height": height, "depth": 12.0}
        case = Case(knowledge, ALL[name], size=one, count=n)
        return {f.id: (f.low, f.high) for f in case.got.figures if f.group == "amounts" and f.unit == "mL"}

    small, wide, many = amounts(width, 1), amounts(width * 1.5, 1), amounts(width, count)
    for id, (low, high) in small.items():
        assert 0 < low <= high
        assert wide[id][0] >= low * (1 - 1e-9) and wide[id][1] >= high * (1 - 1e-9)
        assert many[id][0] == pytest.approx(low * count) and many[id][1] == pytest.approx(high * count)


@settings(max_examples=30, deadline=None)
@given(SIDE, SIDE)
def test_inches_and_millimetres_come_to_the_same(knowledge: Knowledge, width: float, height: float) -> None:
    inches = size(f"{width / 25.4:.9f} x {height / 25.4:.9f} in")
    a = Case(knowledge, TISSUE, size={"shape": "rectangle", "width": width, "height": height})["amount.resin"]
    b = Case(knowledge, TISSUE, size=inches)["amount.resin"]
    assert a.high == pytest.approx(b.high, rel=1e-4)


def test_allowances_say_where_they_are_from() -> None:
    assert allowance("dew_margin").source == "coatings_handbook"
    with pytest.raises(KeyError):
        allowance("nothing")


def test_a_round_thing_has_more_surface_than_its_shadow(knowledge: Knowledge) -> None:
    """A ball has 4 pi r2 of surface over pi r2 of shadow; a sheet has its two faces: geometry."""
    ball = Case(knowledge, COASTER, laid_on=some("pine_cone"), natural_dry="dry")
    flat = Case(knowledge, COASTER, laid_on=some("paper_cutout"))
    lines = [
        [line for f in case.got.figures if f.id.startswith("amount.sealer") for line in f.working]
        for case in (ball, flat)
    ]
    assert any("(a ball) times" in line for line in lines[0])
    assert any("both sides of" in line for line in lines[1])
