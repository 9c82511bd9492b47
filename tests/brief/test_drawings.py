"""The drawings say what the brief says: numbers as in the verdict, letters as in the list, waits as in the
steps.
"""

from __future__ import annotations

import math
import re
from xml.etree import ElementTree

import pytest

from interview.brief.composing import compose
from interview.brief.timeline_drawing import DAY, WIDTH, timeline
from interview.drawing.above import above, fills
from interview.drawing.outline import outline_of
from interview.drawing.patterns import BLANK, definitions
from interview.drawing.section import section
from interview.drawing.svg import tag
from interview.plan.model import Plan
from tests.brief.plans import ALL, charcoal, flowers, tile, tissue_collage
from tests.brief.real import CASES, like, real_plan

PLANS = [*(make() for make in ALL.values()), *(real_plan(says) for says in CASES)]


def signs(picture: str) -> list[str]:
    root = ElementTree.fromstring(picture)
    return [e.text or "" for e in root.iter("text")]


def test_the_numbers_from_above_are_those_of_the_verdict() -> None:
    for plan in PLANS:
        picture = above(plan, "x")
        assert picture is not None
        numbers = [n for row in compose(plan).zones for n in row.numbers]
        assert sorted(signs(picture), key=int) == sorted(numbers, key=int)


def test_one_hatching_a_verdict_and_blank_only_for_what_gets_nothing() -> None:
    known = set(re.findall(r'id="p-([\w-]+)"', definitions()))
    for plan in PLANS:
        fill = fills(plan)
        treated = {z for t in plan.treatments for z in t.zones}
        by_row = {row.line: {fill[i] for i in row.ids} for row in compose(plan).zones}
        assert all(len(used) == 1 for used in by_row.values())
        for zone, name in fill.items():
            assert name in known
            assert (zone in treated) == (name not in (BLANK, "stop"))
        used = [f for fs in by_row.values() for f in fs if f not in (BLANK, "stop")]
        assert len(used) == len(set(used))


def test_the_letters_of_the_section_are_those_of_its_list() -> None:
    for plan in PLANS:
        cut = section(plan, "x")
        assert (cut is None) == (not any(s.kind == "pour" for s in plan.steps))
        if cut is not None:
            letters = [sign for sign, _, _ in cut.legend]
            assert signs(cut.picture) == letters
            assert letters == sorted(letters)
            assert cut.legend[0][2].startswith("Resin")


def test_the_section_names_the_layers_from_the_top_down() -> None:
    cut = section(tissue_collage(), "x")
    assert cut is not None
    assert [says for _, _, says in cut.legend] == [
        "Resin",
        "3 to 4 coats of spray acrylic varnish",
        "Glitter",
        "Tissue paper",
        "Adhesive, with no hollow spots",
        "Birch plywood",
    ]
    cut = section(charcoal(), "x")
    assert cut is not None
    assert [says for _, _, says in cut.legend] == [
        "Resin",
        "3 coats of spray acrylic varnish",
        "2 coats of workable fixative",
        "Pastel paper",
        "3 coats of spray acrylic varnish on the back",
    ]
    cut = section(flowers(), "x")
    assert cut is not None
    assert [says for _, _, says in cut.legend][-1] == "Mould"
    cut = section(like("glazed tile"), "x")
    assert cut is not None
    assert not any("coat" in says for _, _, says in cut.legend)


def height(size: object) -> float:
    """Of the outline, which is 320 wide."""
    plan = tile().model_copy(update={"answers": {"size": size}})
    box = re.search(r'viewBox="0 0 348 ([\d.]+)"', above(plan, "x") or "")
    assert box
    return float(box[1]) - 28


@pytest.mark.parametrize(
    ("size", "high"),
    [
        ({"shape": "rectangle", "width": 400.0, "height": 300.0}, 240),
        ({"shape": "rectangle", "width": 300, "height": 300}, 320),
        ({"shape": "rectangle", "width": 300.0, "height": 400.0}, 352),  # drawn no taller than 1.1 to 1
        ({"shape": "rectangle", "width": 1000.0, "height": 10.0}, 176),  # and no slimmer than 0.55 to 1
        ({"shape": "circle", "diameter": 100.0}, 320),
        ({"shape": "oval", "width": 400.0, "height": 300.0}, 240),
        ({"shape": "box", "width": 400.0, "height": 300.0, "depth": 50.0}, 240),
        ({"shape": "cylinder", "diameter": 100.0, "height": 40.0}, 320),
        ({"shape": "l_shape", "width": 600.0, "height": 450.0, "cut_width": 200.0, "cut_height": 100.0}, 240),
        ({"shape": "area", "area": 0.4}, 240),
        (None, 240),
        ("not sure", 240),
        ({"shape": "rectangle", "width": 0, "height": -1}, 240),
        ({"shape": "rectangle", "width": float("inf"), "height": 1}, 240),
        ([300, 400], 240),
    ],
)
def test_the_drawing_has_the_proportions_of_the_piece(size: object, high: float) -> None:
    assert height(size) == pytest.approx(high, abs=0.1)


@pytest.mark.parametrize("shape", ["rectangle", "circle", "l_shape"])
def test_an_inner_outline_keeps_its_distance(shape: str) -> None:
    size = {
        "shape": shape,
        "width": 400.0,
        "height": 300.0,
        "diameter": 300.0,
        "cut_width": 90.0,
        "cut_height": 60.0,
    }
    outer = outline_of({"size": size}, 0, 0, 320)
    inner = outer.inner(20)
    for x, y in inner.points():
        nearest = min(_to_line((x, y), a, b) for a, b in pairs(outer.points()))
        assert 19.3 <= nearest <= 20 * math.sqrt(2) + 0.1  # farther only in the corner of the cut-out
    for x, y in inner.free().points():
        assert outer.x <= x <= outer.x + outer.width
        assert outer.y <= y <= outer.y + outer.height


def pairs(points: list[tuple[float, float]]) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    return list(zip(points, [*points[1:], points[0]], strict=True))


def _to_line(p: tuple[float, float], a: tuple[float, float], b: tuple[float, float]) -> float:
    length = math.dist(a, b)
    along = ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / length**2
    along = min(max(along, 0), 1)
    return math.dist(p, (a[0] + along * (b[0] - a[0]), a[1] + along * (b[1] - a[1])))


def bars(plan: Plan) -> list[tuple[str, list[tuple[float, float]]]]:
    brief = compose(plan)
    made = timeline(plan.steps, brief.phases, brief.trials)
    if made is None:
        return []
    found = []
    for row in made.rows:
        root = ElementTree.fromstring(row.bar)
        spans = [(float(e.get("x", "0")), float(e.get("width", "0"))) for e in root.iter("rect")]
        found.append((row.sign, spans[1:]))
    return found


def test_every_trial_and_step_has_its_bar_inside_the_lane() -> None:
    for plan in PLANS:
        brief = compose(plan)
        rows = bars(plan)
        expected = [t.letter for t in brief.trials if any(s.kind == "trial" for s in plan.steps)]
        expected += [str(s.number) for phase in brief.phases for s in phase.steps]
        assert [sign for sign, _ in rows] == expected
        for _, spans in rows:
            assert spans
            assert all(x >= 0 and width >= 0 and x + width <= WIDTH + 6.5 for x, width in spans)


def test_no_bar_begins_before_what_it_waits_for() -> None:
    """Checked on the days told, by adding up the waits of the plan by hand."""
    for plan in PLANS:
        brief = compose(plan)
        made = timeline(plan.steps, brief.phases, brief.trials)
        if made is None:
            continue
        told = {row.sign: int(re.findall(r"\d+", row.when)[0]) for row in made.rows}
        numbers = {id: str(s.number) for phase in brief.phases for s in phase.steps for id in s.ids}
        ends: dict[str, float] = {}
        for step in plan.steps:
            least = max((ends[b] + low for b, low, _ in step.after if b in ends), default=0.0)
            ends[step.id] = least + step.hands_on
            if step.id in numbers and step.id.endswith((".1", "pour_coat", "cure", "room")):
                assert told[numbers[step.id]] >= int(least // DAY) + 1


def test_text_in_a_drawing_is_escaped() -> None:
    assert tag("text", "<b>&\"'", x=1.0, class_='"') == '<text x="1" class="&quot;">&lt;b&gt;&amp;&quot;&#x27;</text>'
