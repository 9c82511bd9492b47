"""The drawings, looked at as marks: what lies where, before any of it is SVG."""

from __future__ import annotations

import re
import tomllib
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from interview.brief.page import page
from interview.drawing.lifted import WIDTH, Drawn, lifted
from interview.drawing.mark import Box, folded, text_width
from interview.drawing.outline import outline_of, view_of
from interview.drawing.pictures import all_pictures, picture_of
from interview.drawing.reasons import WORDS
from interview.drawing.signs import SAFETY, VERDICTS
from interview.drawing.svg import tag
from knowledge.loading import Knowledge
from tests.brief.plans import ALL, tissue_collage
from tests.brief.real import CASES, real_plan

SIZES: list[dict[str, Any]] = [
    {"shape": "rectangle", "width": 300.0, "height": 400.0},
    {"shape": "rectangle", "width": 900.0, "height": 120.0},
    {"shape": "rectangle", "width": 100.0, "height": 800.0},
    {"shape": "circle", "diameter": 100.0},
    {"shape": "l_shape", "width": 300.0, "height": 400.0, "cut_width": 100.0, "cut_height": 150.0},
]


def drawings() -> list[tuple[str, Any, Drawn]]:
    plans = [real_plan(says) for says in CASES[::2]] + [make() for make in ALL.values()]
    sized = [p.model_copy(update={"answers": {**p.answers, "size": SIZES[n % 5]}}) for n, p in enumerate(plans)]
    return [(p.name, p, drawn) for p in sized if (drawn := lifted(p)) is not None]


DRAWN = drawings()


@pytest.mark.parametrize(("name", "plan", "drawn"), DRAWN, ids=[d[0] for d in DRAWN])
def test_every_mark_lies_on_the_sheet_and_no_text_on_another(name: str, plan: Any, drawn: Drawn) -> None:
    sheet = Box(-2, -2, WIDTH + 4, drawn.height + 4)
    for mark in drawn.marks:
        assert mark.box.inside(sheet), mark
    for one, other in combinations([m for m in drawn.marks if m.text], 2):
        assert not one.box.meets(other.box), (one.text, other.text)


@pytest.mark.parametrize(("name", "plan", "drawn"), DRAWN, ids=[d[0] for d in DRAWN])
def test_every_zone_is_drawn_and_named_with_its_reasons(name: str, plan: Any, drawn: Drawn) -> None:
    for zone in plan.zones:
        mine = [m for m in drawn.marks if m.layer == zone.id]
        words = " ".join(m.text for m in mine if m.text)
        assert zone.name.split()[-1].casefold() in words.casefold()
        assert len([m for m in mine if not m.text]) >= 2, "a layer and its leader"
        for verdict in plan.verdicts:
            if verdict.zone == zone.id and verdict.need in ("required", "advised"):
                assert WORDS[verdict.reason] in words


@pytest.mark.parametrize(("name", "plan", "drawn"), DRAWN, ids=[d[0] for d in DRAWN])
def test_a_box_for_every_coat(name: str, plan: Any, drawn: Drawn) -> None:
    """Each treatment has its boxes, once a side; dashed ones up to the most that it may take."""
    boxes = [m for m in drawn.marks if m.layer and 'class="coat' in m.svg]
    for treatment in plan.treatments:
        if any(set(o.zones) & set(treatment.zones) for o in plan.outlets):
            continue
        kinds = {plan.zone(z).kind == "back" for z in treatment.zones}
        mine = [b for b in boxes if b.layer in treatment.zones]
        assert len(mine) >= treatment.coats_most * len(kinds), treatment.id


def test_proportions_are_true() -> None:
    """One scale for the whole: width and depth of the face, and its thickness."""
    for size in SIZES:
        outline = outline_of({"size": size, "thickness": 18.0})
        view = view_of(outline, 0, 200, 60)
        ends = view.at((outline.width, 0), 0), view.at((0, outline.height), 0)
        assert ends[0][0] == pytest.approx(view.scale * outline.width)
        assert -ends[1][1] / ends[0][0] == pytest.approx(0.34 * outline.height / outline.width)
        assert max(x for x, _ in view.all(outline.points, 0)) <= 200.01
        assert view.rise(outline) <= 60.01


def test_every_stop_and_thing_has_a_picture_of_its_own(knowledge: Knowledge) -> None:
    """A step, trial, preparation or thing that the knowledge gains shall gain its sign too."""
    told = tomllib.loads(Path("interview/drawing/pictures.toml").read_text(encoding="utf-8"))
    stops = {id for row in told["picture"] for id in row["stops"]}
    things = {id for row in told["thing"] for id in row["of"]}
    known = {f"trial.{id}" for id in knowledge.trials} | {f"{s.kind}.{s.id}" for s in knowledge.steps.values()}
    known |= {f"{kind}.{id}" for id in knowledge.preparations for kind in ("prepare", "flatten")}
    assert len(told["picture"]) >= 25
    assert not {id for id in stops if "." in id and not id.startswith("seal.")} - known, "a picture of nothing"
    assert not things - {"unsure"} - set(knowledge.inclusions), "a sign of nothing"
    alone = known - stops - {f"flatten.{id}" for id in knowledge.preparations}
    assert len(alone) <= len(known) // 10, f"too many are shown by the picture of their kind only: {sorted(alone)}"
    assert not set(knowledge.inclusions) - things, "no sign of its own"


def test_pictures_are_strokes_with_words_and_all_differ() -> None:
    made = all_pictures()
    assert len({str(p.strokes) for p in made}) == len({p.says for p in made}) == len({p.id for p in made}) == len(made)
    assert all("<path" in p.strokes or "<circle" in p.strokes for p in made)
    numbers = [float(n) for p in made for n in re.findall(r"M(\d+\.?\d*) ", p.strokes)]
    assert numbers
    assert all(0 <= n <= 48 for n in numbers)
    assert picture_of("trial.unheard_of", "trial").id == "try"


def test_safety_signs_are_those_of_the_standard() -> None:
    """ISO 7010: a blue disc orders, a red ring with a bar forbids, a yellow triangle warns (ISO 3864-1)."""
    assert {s.id: s.code for s in SAFETY.values()} == {
        "eyes": "M004", "hands": "M009", "breath": "M017", "no_flame": "P003", "flammable": "W021",
    }  # fmt: skip
    for sign in SAFETY.values():
        shape = {"M": 'class="order"', "P": 'class="forbid"', "W": 'class="warn"'}[sign.code[0]]
        assert shape in sign.strokes
        assert sign.word in sign.drawn()
    assert len({str(v.strokes) for v in VERDICTS.values()}) == 4


@pytest.mark.parametrize("says", CASES[::3])
def test_what_must_be_worn_stands_at_the_stop_and_in_the_foot(says: str) -> None:
    plan = real_plan(says)
    bench = page(plan, imperial=False).bench
    worn = {id for step in plan.steps for id in step.safety}
    assert {one.sign.id for one in bench.worn} == worn
    for stop in bench.stops:
        assert {s.id for s in stop.safety} <= worn
    named = " ".join(i.name for i in plan.items)
    if "hands" in worn and any(s.kind == "pour" for s in plan.steps):
        assert "gloves" in named
    if any("breath" in s.safety for s in plan.steps):
        assert "mask" in named


def test_lines_of_text_are_folded_by_their_width() -> None:
    lines = folded("a quite long name of a thing that lies on it", 10, 100)
    assert all(text_width(line, 10) <= 100 for line in lines)
    assert " ".join(lines) == "a quite long name of a thing that lies on it"


def test_text_in_a_drawing_is_escaped() -> None:
    assert tag("text", '<b> & "c"', x=1) == '<text x="1">&lt;b&gt; &amp; &quot;c&quot;</text>'
    plan = tissue_collage()
    zone = plan.zone_lines[0]
    assert zone.name
    nasty = plan.model_copy(update={"name": '<&"'})
    made = page(nasty, imperial=False)
    assert made.lifted is not None
    assert '<&"' not in made.lifted
