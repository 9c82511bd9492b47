"""What people type at a question, and what is made of it. Negations are never read as the thing itself."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from interview.plan.answers import NOT_SURE
from interview.reading.commands import Command, read_command
from interview.reading.matching_choices import Unclear, Value
from interview.reading.plain_words import WORDS
from interview.reading.replies import PICKED, read_reply, typed_for, typed_for_choice
from knowledge.shape import Choice, Question

ONE = Question(
    id="faces", basis="common practice", part="piece", order=1, kind="one", text="Which faces?", why="w", short="faces",
    unsure="sides", unsure_says="sides",
    choices=(
        Choice("front", "the front only, edges taped", ("front", "top", "face")),
        Choice("sides", "the front, running over the sides", ("sides", "front and sides", "edges")),
        Choice("all", "all round, back too", ("all", "both sides", "everything")),
    ),
)  # fmt: skip
TWO = Question(
    id="dry", basis="common practice", part="piece", order=2, kind="one", text="Is it dry?", why="w", short="dry",
    unsure="damp", unsure_says="damp",
    choices=(
        Choice("dry", "yes: indoors for months", ("dry", "yes", "seasoned")),
        Choice("damp", "no: from outdoors or fresh", ("damp", "wet", "no", "green")),
    ),
)  # fmt: skip
MANY = Question(
    id="laid_on", basis="common practice", part="piece", order=3, kind="several", text="What is on it?", why="w",
    short="on it", unsure="none", unsure_says="none", alone=("none",),
    choices=(
        Choice("glitter", "glitter", ("sparkles",)),
        Choice("sand", "real sand", ("beach sand",)),
        Choice("flowers", "dried or pressed flowers", ("flowers", "petals", "dried flowers", "pressed flowers")),
        Choice("shells", "shells", ("sea shells", "mussels")),
        Choice("photo_paper", "colour photo paper", ("photos",)),
        Choice("watercolour_hot", "hot pressed watercolour paper", ("watercolour paper",)),
        Choice("watercolour_cold", "cold pressed watercolour paper", ("watercolour paper",)),
        Choice("none", "nothing", ("none", "no")),
    ),
)  # fmt: skip

UNSURE = "unsure"
ASKS = "asks"
CASES: list[tuple[Question, str, Any]] = [
    # numbers
    (ONE, "2", "sides"), (ONE, " 3. ", "all"), (ONE, "#1", "front"), (ONE, "no. 2", "sides"),
    (ONE, "4", UNSURE),
    (ONE, "5", ASKS), (ONE, "0", ASKS), (ONE, "1 2", ASKS), (ONE, "999999999999999999999999", ASKS),
    (MANY, "1 3", {"glitter", "flowers"}), (MANY, "1,3", {"glitter", "flowers"}),
    (MANY, "1, 2 and 4", {"glitter", "sand", "shells"}),
    (MANY, "1-3", {"glitter", "sand", "flowers"}), (MANY, "2 to 4", {"sand", "flowers", "shells"}),
    (MANY, "9", UNSURE),
    (MANY, "1 8", ASKS), (MANY, "1 and sand", {"glitter", "sand"}),
    # first letters, whole words, other words, capitals, plurals, both spellings
    (ONE, "a", "all"), (ONE, "FRONT", "front"), (ONE, "the front", "front"),
    (ONE, "front and sides", "sides"),
    (ONE, "Everything.", "all"), (MANY, "gl", {"glitter"}), (MANY, "gl, sh", {"glitter", "shells"}),
    (MANY, "s", {"shells"}), (ONE, "the", ASKS),
    (MANY, "shell", {"shells"}), (MANY, "color photo paper", {"photo_paper"}),
    (MANY, "photo", {"photo_paper"}),
    (MANY, "glitter and sand", {"glitter", "sand"}),
    (MANY, "some glitter, a few petals", {"glitter", "flowers"}),
    (MANY, "glitter/sand", {"glitter", "sand"}), (MANY, "glitter & sand", {"glitter", "sand"}),
    (MANY, "dried flowers", {"flowers"}), (MANY, "hot pressed watercolor paper", {"watercolour_hot"}),
    (MANY, "watercolour paper", ASKS), (MANY, "none", {"none"}), (MANY, "No.", {"none"}),
    (MANY, "nothing", {"none"}),
    (TWO, "y", "dry"), (TWO, "Yep", "dry"), (TWO, "nope", "damp"), (TWO, "N", "damp"),
    (TWO, "yes, dry", "dry"),
    # slips of the keys
    (MANY, "gliter", {"glitter"}), (MANY, "glitetr and snad", {"glitter", "sand"}),
    (MANY, "flwoers", {"flowers"}),
    (ONE, "forty", ASKS), (MANY, "hand", ASKS), (MANY, "band", ASKS), (MANY, "bitter", ASKS),
    # what is denied is not there
    (MANY, "no glitter", ASKS), (MANY, "not sand", ASKS), (MANY, "without shells", ASKS),
    (MANY, "no gliter", ASKS),
    (MANY, "no glitter but sand", {"sand"}), (MANY, "no glitter, just sand", {"sand"}),
    (MANY, "sand, no glitter", {"sand"}),
    (MANY, "sand but no glitter", {"sand"}), (MANY, "no glitter, sand", ASKS),
    (MANY, "no glitter and sand", ASKS),
    (MANY, "no glitter or sand", ASKS), (MANY, "neither glitter nor sand", ASKS),
    (MANY, "glitter-free", ASKS),
    (MANY, "sand without any glitter", {"sand"}), (MANY, "there isn't any glitter", ASKS),
    (MANY, "free of sand", ASKS),
    (MANY, "glitter, none of the sand", {"glitter"}), (MANY, "hardly any glitter", ASKS),
    (MANY, "everything except sand", ASKS),
    (TWO, "not dry", "damp"), (TWO, "it isn't dry", "damp"), (TWO, "not damp", "dry"),
    (TWO, "not quite dry", ASKS),
    (TWO, "nearly dry", ASKS), (TWO, "half dry", ASKS), (TWO, "maybe dry", ASKS), (TWO, "dry or damp", ASKS),
    (ONE, "not the front", ASKS), (TWO, "undry", ASKS), (TWO, "dry, but I'm not sure", ASKS),
    # not sure, in many words
    (ONE, "not sure", UNSURE), (ONE, "Don't know", UNSURE), (ONE, "I don’t know.", UNSURE),
    (MANY, "NO IDEA", UNSURE),
    (TWO, "dunno", UNSURE), (TWO, "can't tell", UNSURE), (TWO, "skip", UNSURE),
    # nothing to go by
    (ONE, "", ASKS), (MANY, "   ", ASKS), (MANY, ",;", ASKS), (ONE, "xyzzy", ASKS), (MANY, "…", ASKS),
    (ONE, "日本語", ASKS),
]  # fmt: skip


@pytest.mark.parametrize(("question", "typed", "expected"), CASES, ids=[f"{q.id}-{t or 'empty'}" for q, t, _ in CASES])
def test_reply(question: Question, typed: str, expected: Any) -> None:
    got = read_reply(typed, question, question.choices)
    if expected == ASKS:
        assert isinstance(got, Unclear), got
        assert got.says and "\n" not in got.says
    elif expected == UNSURE:
        assert got == Value(NOT_SURE)
    else:
        assert isinstance(got, Value), got
        assert got.value == (frozenset(expected) if question.kind == "several" else expected)


COMMANDS = [
    ("back", "back", ""), ("Back!", "back", ""), ("GO BACK", "back", ""), ("undo", "back", ""),
    ("/back", "back", ""),
    ("why", "why", ""), ("Why?", "why", ""), ("why do you ask?", "why", ""),
    ("why not brush?", "ask", "why not brush?"),
    ("Why two coats", "ask", "Why two coats"), ("what if I spray?", "ask", "what if I spray?"),
    ("how long does that take?", "ask", "how long does that take?"), ("not sure", "not sure", ""),
    ("change", "change", ""),
    ("change the size", "change", "size"), ("show me", "show me", ""), ("show me all", "show me", "all"),
    ("show me the whole brief", "show me", "whole brief"), ("stop", "stop", ""), ("quit", "stop", ""),
    ("help", "help", ""),
    ("?", "help", ""), ("same as last time", "same as", "last time"),
    ("The same as Blue Tray, but thirty", "same as", "Blue Tray, but thirty"),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "name", "rest"), COMMANDS)
def test_plain_words_are_wishes_at_any_question(typed: str, name: str, rest: str) -> None:
    assert read_command(typed) == Command(name, rest)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "typed",
    ["backing board", "whyte", "stop bath print", "showroom", "changed", "helpful", "unsure of the wood"],
)
def test_words_that_only_begin_like_a_wish_are_none(typed: str) -> None:
    assert read_command(typed) is None


def test_all_words_offered_are_understood() -> None:
    assert all(read_command(word) for word in WORDS)


@settings(max_examples=500, deadline=None)
@given(st.text(max_size=200), st.sampled_from([ONE, TWO, MANY]))
def test_any_text_gives_a_reply_that_fits_the_question(typed: str, question: Question) -> None:
    got = read_reply(typed, question, question.choices)
    if isinstance(got, Value) and got.value is not NOT_SURE:
        ids = {choice.id for choice in question.choices}
        assert got.value in ids if question.kind == "one" else got.value <= ids and got.value
    if isinstance(got, Unclear):
        assert got.says and "\n" not in got.says


DENIALS = [
    "no {}",
    "not {}",
    "without {}",
    "no {} at all",
    "there is no {}",
    "isn't {}",
    "never {}",
    "not any {}",
    "none of the {}",
]


@given(st.sampled_from(DENIALS), st.sampled_from([w for c in MANY.choices[:5] for w in (c.text, *c.also)]))
def test_no_way_of_denying_a_thing_takes_it(denial: str, thing: str) -> None:
    assert isinstance(read_reply(denial.format(thing), MANY, MANY.choices), Unclear)


def test_what_is_offered_for_enter_is_read_as_the_same_value(knowledge: Any) -> None:
    """Over every question of the knowledge and each of its choices."""
    from interview.reading.fitting import all_choices

    for question in knowledge.questions.values():
        if question.kind not in PICKED:
            continue
        choices = all_choices(question, knowledge)
        for number, choice in enumerate(choices):
            several = question.kind == "several"
            value = frozenset((choice.id,)) if several else choice.id
            typed = typed_for(value, choices, several=several)
            got = read_reply(typed, question, choices)
            assert isinstance(got, Value) and got.value == value, (question.id, typed, got)
            assert typed == typed_for_choice(number, choices, several=several)


def test_a_clause_of_doubt_is_not_sure_and_said_back() -> None:
    """Beside words that name nothing; beside a choice it is asked which of the two holds."""
    read = read_reply("been in the shed all winter, not sure", TWO, TWO.choices)
    assert isinstance(read, Value) and read.value is NOT_SURE and read.said == "not sure"
    assert isinstance(read_reply("dry, not sure", TWO, TWO.choices), Unclear)
