"""The maker's own shelf: the plan picks from it, says why the rest does not fit, and faults are named."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from interview.files.stock import StockError, put_on_shelf, read_shelf
from interview.reasoning.deciding import decide
from interview.reasoning.planner import make_plan
from knowledge.loading import Knowledge
from tests.test_trade import answers_of

TINS = """
[[tin]]
name = "green tin"
class = "brush_water_borne"
spread = "9 m2/L"
ready = "36 hours"
price = 11.50

[[tin]]
name = "milky tin"
class = "brush_water_borne"
dries_clear = false

[[tin]]
name = "old amber"
class = "brush_water_borne"
non_yellowing = false
"""


def _shelf(tmp_path: Path, text: str, name: str = "shelf.toml") -> Path:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return path


def test_what_is_at_hand_is_used_before_what_must_be_bought(knowledge: Knowledge, tmp_path: Path) -> None:
    stocked = put_on_shelf(knowledge, _shelf(tmp_path, TINS))
    answers = answers_of(stocked, {"support": ["copy_paper"], "media": ["laser_toner"]})
    decision = decide(stocked, answers)
    assert {t.name for t in decision.treatments} == {"green tin"}
    against = {b.sealer: {f.rule for f in b.findings} for b in decision.barred if b.zone == "front"}
    assert "it_dries_cloudy" in against["tin_milky_tin"]
    assert "it_yellows" in against["tin_old_amber"]


def test_where_nothing_at_hand_fits_the_class_to_buy_is_named(knowledge: Knowledge, tmp_path: Path) -> None:
    stocked = put_on_shelf(knowledge, _shelf(tmp_path, TINS))
    decision = decide(stocked, answers_of(stocked, {"support": ["tissue_paper"]}))
    assert {stocked.sealers[t.sealer].at_hand for t in decision.treatments} == {""}


def test_a_csv_says_the_same_as_toml(knowledge: Knowledge, tmp_path: Path) -> None:
    text = "name;class;spread;ready;price\ngreen tin;brush_water_borne;9 m2/L;36 hours;11.50\n"
    from_csv = put_on_shelf(knowledge, _shelf(tmp_path, text, "shelf.csv"))
    from_toml = put_on_shelf(knowledge, _shelf(tmp_path, TINS))
    one, other = from_csv.sealers["tin_green_tin"], from_toml.sealers["tin_green_tin"]
    assert replace(one, origin="") == replace(other, origin="")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('[[tin]]\nname = "a"\nclass = "brush_waterborne"\n', "did you mean 'brush_water_borne'"),
        ('[[tin]]\nclass = "brush_water_borne"\n', "'name' is missing"),
        ('[[tin]]\nname = "a"\nclass = "spray_acrylic"\ncarier = "water"\n', "did you mean 'carrier'"),
        ('[[tin]]\nname = "a"\nclass = "spray_acrylic"\nspread = "nine"\n', "'spread'"),
        ('[[tin]]\nname = "a"\nclass = "spray_acrylic"\nprice = "cheap"\n', "plain number"),
        ('[[tin]]\nname = "a"\nclass = "spray_acrylic"\nmade_for = ["charcole"]\n', "did you mean 'charcoal'"),
        ('[[tin]]\nname = "a"\nclass = "spray_acrylic"\nrecoat = "20 mL"\n', "write it in minute or hour"),
        ('[[tin]]\nname = "a"\nclass = "spray_acrylic"\npack = "1 can"\n', "write it in mL or L"),
        ('[[tin]]\nname = "a"\nclass = "spray_acrylic"\nspread = "12 m2"\n', "like 9 m2/L"),
        ('[[tin]]\nname = "a"\nclass = "none"\n', "no class"),
        ('[[tin]]\nname = "a"\nclass = "spray_acrylic"\npack = "400 mL"\nleft = "600 mL"\n', "no part of a pack"),
        ("[tin]\nname = 1\n", "with two brackets"),
        ("nonsense", "is not TOML"),
        ("", "lists no tin"),
    ],
)
def test_each_fault_is_named(knowledge: Knowledge, tmp_path: Path, text: str, says: str) -> None:
    with pytest.raises(StockError, match=r"shelf\.toml") as caught:
        put_on_shelf(knowledge, _shelf(tmp_path, text))
    assert says in str(caught.value)


def test_the_brief_says_that_a_row_is_your_own(knowledge: Knowledge, tmp_path: Path) -> None:
    stocked = put_on_shelf(knowledge, _shelf(tmp_path, TINS))
    plan = make_plan(stocked, answers_of(stocked, {"support": ["copy_paper"], "media": ["laser_toner"]}))
    assert any(s.text == "Your own file: shelf.toml, tin 1" for s in plan.sources)


def test_capitals_commas_marks_and_other_tins(knowledge: Knowledge, tmp_path: Path) -> None:
    text = "\ufeffName;Class;Pack;Left;Price\nBlue Tin;Brush_Water_Borne;0,25 L;50 %;11,50\nOld Varnish;polyurethane;;;\nKit;resin;1 L;half;30\n"
    shelf = read_shelf(knowledge, _shelf(tmp_path, text, "shelf.csv"))
    tin = shelf.sealers["tin_blue_tin"]
    assert (tin.left, tin.price, tin.pack and (tin.pack.low, tin.pack.unit)) == (0.5, 11.5, (0.25, "L"))
    assert [(o.kind, o.left) for o in shelf.others] == [("polyurethane", 1.0), ("resin", 0.5)]


@pytest.mark.parametrize(("left", "packs"), [("full", 0), ("empty", 1)])
def test_have_use_buy(knowledge: Knowledge, tmp_path: Path, left: str, packs: int) -> None:
    tin = f'[[tin]]\nname = "green tin"\nclass = "brush_water_borne"\npack = "250 mL"\nleft = "{left}"\nprice = 5\n'
    stocked = put_on_shelf(knowledge, _shelf(tmp_path, tin))
    told = {
        "support": ["copy_paper"],
        "media": ["laser_toner"],
        "size": {"shape": "rectangle", "width": 300.0, "height": 400.0},
    }
    plan = make_plan(stocked, answers_of(stocked, told))
    item = next(i for i in plan.items if i.id == "sealer.tin_green_tin")
    assert item.packs == packs
    assert ("enough" in item.amount) == (not packs)
