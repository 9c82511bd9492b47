"""At a question with a list: numbers, words of the list, what is offered for Enter, denials, doubt."""

from __future__ import annotations

from typing import Any

import pytest

from interview.plan.answers import NOT_SURE, Answers
from interview.reading.fitting import all_choices
from interview.reading.measures import Unclear
from interview.reading.menu import PICKED, one_named, typed_for_choice
from interview.reading.turn import Focus, Turn, read_turn
from interview.reasoning.agenda import Asked, wording
from knowledge.loading import Knowledge
from knowledge.shape import Choice


def heard(typed: str, id: str, knowledge: Knowledge) -> Turn:
    return read_turn(typed, Focus(id, wording(knowledge.questions[id], knowledge, Answers())), knowledge)


NUMBERS: list[tuple[str, str, Any]] = [
    ("resin_on", "2", "sides"), ("resin_on", " 3. ", "all"), ("resin_on", "#1", "front"), ("resin_on", "no. 2", "sides"),
    ("resin_on", "the last one", "all"), ("wood_features", "2 4", {"knots", "holes"}), ("wood_features", "2,4", {"knots", "holes"}),
    ("wood_features", "2, 3 and 5", {"knots", "cracks", "bark"}), ("wood_features", "2-4", {"knots", "cracks", "holes"}),
    ("resin_on", "9", None), ("resin_on", "0", None), ("resin_on", "1 2", None), ("resin_on", "9" * 24, None),
    ("resin_on", "4", NOT_SURE), ("wood_features", "6", NOT_SURE),
    ("resin_on", "the label says 1:1", None), ("resin_on", "we had 3 of them", None),
]  # fmt: skip


@pytest.mark.parametrize(("id", "typed", "value"), NUMBERS)
def test_a_number_picks_only_where_it_stands_alone(id: str, typed: str, value: Any, knowledge: Knowledge) -> None:
    got = heard(typed, id, knowledge).value(id)
    assert got == (frozenset(value) if isinstance(value, set) else value)


def test_what_is_offered_for_enter_is_read_as_that_choice(knowledge: Knowledge) -> None:
    """Over every question of the knowledge and each of its choices."""
    lost = []
    for question in knowledge.questions.values():
        if question.kind not in PICKED or question.rows == "action":
            continue
        choices = tuple(c for c in all_choices(question, knowledge) if not c.id.startswith("some_"))
        asked = Asked(question, question.text, question.why, choices)
        for number, choice in enumerate(choices):
            typed = typed_for_choice(number, choices)
            got = read_turn(typed, Focus(question.id, asked), knowledge).value(question.id)
            if got != (frozenset((choice.id,)) if question.kind == "several" else choice.id):
                lost.append((question.id, choice.id, typed, got))
    assert not lost


DENIALS = [
    "no {}",
    "not {}",
    "without {}",
    "no {} at all",
    "there is no {}",
    "never {}",
    "not any {}",
    "none of the {}",
]
THINGS = ["glitter", "sand", "pressed flowers", "shells", "coins", "feathers"]


@pytest.mark.parametrize("denial", DENIALS)
@pytest.mark.parametrize("thing", THINGS)
def test_no_way_of_denying_a_thing_takes_it(denial: str, thing: str, knowledge: Knowledge) -> None:
    got = heard(denial.format(thing), "laid_on", knowledge).value("laid_on")
    assert got in (None, NOT_SURE, frozenset(("none",)))


LIST = (Choice("blue_tray", "blue tray"), Choice("blue_box", "blue box"), Choice("gull", "gull, large", ("bird",)))


@pytest.mark.parametrize(
    ("typed", "id"),
    [("1", "blue_tray"), ("gull", "gull"), ("bird", "gull"), ("box", "blue_box"), ("BLUE TRAY", "blue_tray")],
)
def test_one_of_a_list(typed: str, id: str) -> None:
    assert one_named(typed, LIST) == id


@pytest.mark.parametrize("typed", ["", "blue", "7", "xyzzy"])
def test_none_or_several_of_a_list(typed: str) -> None:
    got = one_named(typed, LIST)
    assert isinstance(got, Unclear) and "\n" not in got.says
