"""Plans that the planner makes from the table of trade cases: what the forms meet in practice."""

from __future__ import annotations

from functools import cache

from interview.plan.model import Plan
from interview.reasoning.planner import make_plan
from knowledge.loading import Knowledge, load
from tests.test_trade import TABLE, answers_of

CASES: list[str] = [case["says"] for case in TABLE["case"]]


@cache
def _knowledge() -> Knowledge:
    return load()


@cache
def real_plan(says: str) -> Plan:
    """The plan for the case that says so."""
    case = next(c for c in TABLE["case"] if c["says"] == says)
    return make_plan(_knowledge(), answers_of(_knowledge(), case["answers"]), says)


def like(word: str) -> Plan:
    """The first case with the word in it."""
    return real_plan(next(says for says in CASES if word in says))


@cache
def on_a_panel(word: str) -> Plan:
    """The first case with the word in it, mounted on plywood, with its size told."""
    case = next(c for c in TABLE["case"] if word in c["says"])
    answers = answers_of(_knowledge(), case["answers"]).say("mounted", "plywood")
    answers = answers.say("size", {"shape": "rectangle", "width": 300.0, "height": 400.0}).say("thickness", 18.0)
    return make_plan(_knowledge(), answers, "A pier in winter")


@cache
def numbered() -> Plan:
    """The tissue collage with everything told that amounts, room, air and cost are worked out from."""
    case = next(c for c in TABLE["case"] if "tissue collage" in c["says"])
    answers = answers_of(_knowledge(), case["answers"])
    told = {
        "size": {"shape": "circle", "diameter": 300.0},
        "count": 1,
        "thickness": 18.0,
        "coat": 3.0,
        "room_temperature": 21.0,
        "room_humidity": 55.0,
        "price_sealer": 11.5,
        "price_resin": 39.9,
        "pack_resin": 750.0,
    }
    for question, value in told.items():
        answers = answers.say(question, value)
    return make_plan(_knowledge(), answers, "Gull over the pier")
