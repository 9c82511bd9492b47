"""What people ask: how much of it is answered right, and that what is said is computed."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from interview.conversation.answering import UNKNOWN, Situation, answer, of_offer, tell
from interview.plan.answers import Answers
from interview.reading.learned import model
from interview.reading.opening import understand
from interview.reading.topic_matching import SAID, Meant
from interview.reasoning.agenda import wording
from interview.reasoning.circumstances import settled
from interview.reasoning.planner import make_plan
from interview.reasoning.standing_in import stand_in_judged
from knowledge.loading import Knowledge
from knowledge.topics import load_topics
from tests.asking.measure import results

HERE = Path(__file__).parent
NOW = datetime(2027, 1, 4, 9)
TISSUE = "torn tissue collage on plywood, 12 x 16 in, bit of glitter"


def _situation(knowledge: Knowledge, opening: str = TISSUE, at: str = "end") -> Situation:
    answers = Answers()
    for question, value in understand(opening, knowledge).proposed.items() if opening else ():
        answers = answers.say(question, value)
    return Situation(knowledge, answers, at, now=NOW)


def test_most_of_what_people_ask_is_answered_right_and_hardly_any_of_it_wrong() -> None:
    count = Counter(r.outcome for r in results(HERE / "questions.jsonl"))
    assert count["right"] >= 0.9 * count.total(), count
    assert count["wrong"] <= 0.04 * count.total(), count


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ("why not brush?", "would tear tissue paper"),
        ("why not shellac?", "It yellows"),
        ("why so many coats?", "several coats"),
        ("why seal the back?", "warps"),
        ("how long in all", "days in all"),
        ("what do i do first", "First:"),
        ("what if i make sixty", "60 of them, not 1"),
        ("what if i cant spray", "pump bottle"),
        ("what if i pour it 6 mm thick", "6 mm, not 3 mm"),
        ("what if its only 15 degrees", "At 15 °C"),
        ("what if i leave the glitter off", "The glitter: no longer part of it."),
        ("what's softwood", "Softwood:"),
        ("can i use hairspray", "No: hairspray"),
        ("will it yellow", "months in full sun"),
        ("is it legal to sell these", "I cannot tell you the law"),
        ("whats the capital of peru", UNKNOWN),
        ("where is the toilet", UNKNOWN),
        ("tell me a joke, and how do i sing", UNKNOWN),
    ],
)
def test_a_question_gets_its_answer(knowledge: Knowledge, asked: str, says: str) -> None:
    told = answer(asked, _situation(knowledge))
    assert told is not None
    assert says in told


def test_a_remark_in_the_shape_of_a_question_is_let_be(knowledge: Knowledge) -> None:
    assert answer("isn't it lovely weather today", _situation(knowledge)) is None


def test_what_if_tells_the_figures_of_the_other_plan(knowledge: Knowledge) -> None:
    situation = _situation(knowledge)
    told = answer("what if i make 5", situation) or ""
    have = frozenset(("count",))
    five = make_plan(knowledge, situation.answers.say("have", have).say("count", 5))
    resin = next(f.shown for f in five.figures if f.id == "amount.resin")
    assert f"Resin: {resin}, not" in told


def test_what_cannot_make_a_difference_is_not_called_the_same(knowledge: Knowledge) -> None:
    """Whether it is dry is no question for a tissue collage: nothing was computed, so nothing is claimed."""
    told = answer("what if the wood isnt quite dry", _situation(knowledge)) or ""
    assert "are the same" not in told
    assert "Dry it first" in told


@pytest.mark.parametrize(
    ("opening", "stand_in", "verdict"),
    [
        ("kids drawing in felt tip on printer paper", "white_glue", "no"),  # water runs felt pen
        ("charcoal drawing on cartridge paper", "white_glue", "no"),  # a brush smears charcoal
        ("a laser print on card", "hairspray", "no"),  # whatever it lies on
        ("oak board", "white_glue", "yes"),
        ("oak board", "polyurethane", "scrap"),
    ],
)
def test_a_stand_in_is_judged_against_the_piece(
    knowledge: Knowledge, opening: str, stand_in: str, verdict: str
) -> None:
    facts = settled(knowledge, _situation(knowledge, f"{opening}, nothing else on it").answers).facts
    facts = {**facts, "media": facts["media"] - {"unsure_medium"}, "laid_on": frozenset()}
    assert stand_in_judged(load_topics().stand_ins[stand_in], knowledge, facts).verdict == verdict


def test_two_tins_are_compared(knowledge: Knowledge) -> None:
    told = tell("white glue or hairspray, which is better", _situation(knowledge, "oak board, bare"))
    assert told is not None
    assert told.topics == ("two_tins", "white_glue", "hairspray")
    assert "Of the two, take the white glue" in told.says


def test_every_topic_is_taught() -> None:
    assert {*load_topics().topics, *SAID} == set(model("topics").labels)


@pytest.mark.parametrize(
    ("asked", "at", "last", "topics", "says"),
    [
        ("sixty, and one more evening", "end", "", ("count_other", "more_hours"), "60 of them, not 1, and which day"),
        ("6 mm thick and only the front", "end", "", ("thicker", "front_only"), "6 mm, not 3 mm, and "),
        ("how do I tell", "media", "", ("print_kind",), "cotton bud"),
        ("how do I tell", "piece", "", ("choices_now",), "A jigsaw puzzle:"),
        ("and the back?", "end", "verdict", ("where_seal",), "The back of the plywood:"),
        ("why?", "end", "where_seal", ("why_seal",), "soak"),
        ("what if she needs it by friday", "end", "", ("earlier_date",), "Working every day, 9 to 22:"),
    ],
)
def test_several_at_once_and_what_goes_on_from_before(
    knowledge: Knowledge, asked: str, at: str, last: str, topics: tuple[str, ...], says: str
) -> None:
    situation = _situation(knowledge, at=at)
    screen = wording(knowledge.questions[at], knowledge, situation.answers) if at in knowledge.questions else None
    told = tell(asked, replace(situation, last=last, asked=screen))
    assert told is not None
    assert told.topics == topics
    assert says in told.says


def test_what_was_offered_is_picked_by_its_place_or_name(knowledge: Knowledge) -> None:
    offered = (Meant("topic", "sun", 0.4), Meant("topic", "heat", 0.3))
    for reply, says in (("the second", "hot mug"), ("sun and outdoors", "full sun")):
        told = of_offer(reply, offered, "can it stand there", _situation(knowledge))
        assert told is not None
        assert says in told.says
