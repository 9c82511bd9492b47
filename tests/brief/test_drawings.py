"""The drawings say what the brief says: numbers as in the verdict, letters as in the list, waits as in the steps."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from interview.brief.composing import compose
from interview.brief.drawing.above import above, fills
from interview.brief.drawing.patterns import BLANK, definitions
from interview.brief.drawing.section import section
from interview.brief.drawing.svg import tag
from interview.brief.drawing.timeline import DAY, WIDTH, timeline
from interview.plan import Plan
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
        "Resin", "3 to 4 coats of spray acrylic varnish", "Glitter", "Tissue paper", "Adhesive, with no hollow spots",
        "Birch plywood",
    ]  # fmt: skip
    cut = section(charcoal(), "x")
    assert cut is not None
    assert [says for _, _, says in cut.legend] == [
        "Resin", "3 coats of spray acrylic varnish", "2 coats of workable fixative", "Pastel paper",
        "3 coats of spray acrylic varnish on the back",
    ]  # fmt: skip
    cut = section(flowers(), "x")
    assert cut is not None
    assert [says for _, _, says in cut.legend][-1] == "Mould"
    cut = section(like("glazed tile"), "x")
    assert cut is not None
    assert not any("coat" in says for _, _, says in cut.legend)


def test_the_drawing_has_the_proportions_of_the_piece() -> None:
    def height(size: object) -> float:
        plan = tile().model_copy(update={"answers": {"size": size}})
        box = re.search(r'viewBox="0 0 348 ([\d.]+)"', above(plan, "x") or "")
        assert box
        return float(box[1]) - 28

    assert height([300, 400]) == pytest.approx(320 * 4 / 3, abs=200)
    assert height([300, 300]) == pytest.approx(320, abs=0.1)
    assert height([400, 300]) == pytest.approx(240, abs=0.1)
    assert height([1000, 10]) == height([1000, 50])  # a strip is drawn no slimmer than can be read
    for odd in (None, "not sure", [], [0, 0], [-1, 5], ["a", "b"], [float("inf"), 1]):
        assert 0 < height(odd) < 400


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
    assert (
        tag("text", "<b>&\"'", x=1.0, class_='"')
        == '<text x="1" class="&quot;">&lt;b&gt;&amp;&quot;&#x27;</text>'
    )
