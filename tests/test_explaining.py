"""Why, why not and what if, answered from the plan's own findings."""

from __future__ import annotations

import pytest

from interview.reasoning.explaining import asked_what_if, explain
from interview.reasoning.planner import make_plan
from knowledge.loading import Knowledge
from tests.test_trade import TABLE, answers_of


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ("why not brush?", "would tear tissue paper"),
        ("Why not just use a brush", "would tear tissue paper"),
        ("why not spray?", "It is used: spray acrylic"),
        ("why not shellac?", "It yellows"),
        ("why so many coats?", "several coats"),
        ("why three coats", "several coats"),
        ("why seal the back?", "warps"),
        ("why the glitter?", "drift"),
        ("why not just pour?", "Resin soaks into"),
        ("why the rub?", "comes off"),
        ("why not porridge?", "I know of no 'porridge' here"),
    ],
)
def test_the_findings_answer(knowledge: Knowledge, asked: str, says: str) -> None:
    case = next(c for c in TABLE["case"] if c["says"].startswith("tissue collage"))
    plan = make_plan(knowledge, answers_of(knowledge, case["answers"]))
    told = explain(asked, plan)
    assert told is not None
    assert says in told
    assert "common practice" in told or "It is used" in told or "I know of no" in told


@pytest.mark.parametrize("asked", ["what now?", "why", "thank you", "", "why is the sky blue"])
def test_other_talk_is_not_taken_for_a_question_about_the_plan(knowledge: Knowledge, asked: str) -> None:
    plan = make_plan(knowledge, answers_of(knowledge, {"support": ["glass"], "piece": "hard"}))
    assert explain(asked, plan) is None


@pytest.mark.parametrize(
    ("asked", "method"),
    [
        ("what if I spray?", "spray"),
        ("what if i only brush it", "brush"),
        ("what about a roller?", "brush"),
        ("what if", None),
    ],
)
def test_what_if_names_a_way(asked: str, method: str | None) -> None:
    assert asked_what_if(asked) == method
