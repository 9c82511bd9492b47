"""As many pours in the steps as in the numbers, and their windows by the label (common practice)."""

from __future__ import annotations

from typing import Any

import pytest

from interview.plan.answers import Answers
from interview.plan.model import Plan
from interview.reasoning.planner import make_plan
from knowledge.formulas.kinetics import gel_stages
from knowledge.loading import Knowledge

BOX = {"shape": "box", "width": 100.0, "height": 100.0, "depth": 80.0}


def _plan(knowledge: Knowledge, thing: str, **more: Any) -> Plan:
    answers = Answers()
    told = {
        "piece": "cast",
        "laid_on": frozenset((thing,)),
        "natural_dry": "dry",
        "ways": frozenset(("brush", "spray_outdoors")),
    }
    for question, value in {**told, "size": BOX, "have": frozenset(("resin_label",)), **more}.items():
        answers = answers.say(question, value)
    return make_plan(knowledge, answers)


@pytest.mark.parametrize(
    ("thing", "deepest", "count"),
    [("coin", 10.0, 8), ("pressed_flowers", 10.0, 9), ("coin", 20.0, 4), ("coin", 80.0, 1)],
)
def test_as_many_pours_in_the_steps_as_in_the_numbers(
    knowledge: Knowledge, thing: str, deepest: float, count: int
) -> None:
    plan = _plan(knowledge, thing, deepest=deepest, working_time=360.0)
    pours = [s for s in plan.steps if s.kind == "pour"]
    assert len(pours) == count
    told = [f.low for f in plan.figures if f.id == "amount.layers"]
    assert told == ([float(count)] if count > 1 else [])
    assert len({s.id for s in pours}) == count


def test_the_first_layer_is_thin_where_something_floats(knowledge: Knowledge) -> None:
    first = next(s for s in _plan(knowledge, "pressed_flowers", deepest=10.0).steps if s.kind == "pour")
    assert first.how.startswith("Layer 1 of 9, about 3 mm")


def test_the_next_pour_comes_by_the_working_time(knowledge: Knowledge) -> None:
    """Six hours of working time: tacky from 18 to 48 hours, hard after 5 days."""
    second = [s for s in _plan(knowledge, "coin", deepest=10.0, working_time=360.0).steps if s.kind == "pour"][1]
    assert second.after[-1][1:] == (18 * 60.0, 48 * 60.0)
    assert second.alternative == 120 * 60.0


def test_stages_of_a_forty_minute_resin() -> None:
    """8 W 5.33 h, 20 W 13.3 h: arithmetic on the multiples, which are common practice."""
    opens, closes, hard = gel_stages(40.0)
    assert (opens, round(closes / 60, 2), round(hard / 60, 1)) == (120.0, 5.33, 13.3)


def test_bubbles_in_the_trial_change_the_pour(knowledge: Knowledge) -> None:
    answers = Answers().say("piece", "canvas").say("support", frozenset(("canvas_raw",)))
    answers = answers.say("tried", frozenset(("resin_drop",))).say("resin_drop_result", "bubbles")
    assert len([s for s in make_plan(knowledge, answers).steps if s.kind == "pour"]) == 2


def test_a_cloudy_scrap_doubles_the_waits(knowledge: Knowledge) -> None:
    def ready(**more: Any) -> float:
        answers = (
            Answers()
            .say("piece", "sheet")
            .say("support", frozenset(("copy_paper",)))
            .say("ways", frozenset(("brush",)))
        )
        for question, value in more.items():
            answers = answers.say(question, value)
        return max(s.wait[0] for s in make_plan(knowledge, answers).steps if s.kind == "seal")

    assert ready(tried=frozenset(("coupon",)), coupon_result="cloudy") == 2 * ready()
    assert ready(have=frozenset(("room",)), room_temperature=21.0, room_humidity=75.0) == 1.5 * ready()
