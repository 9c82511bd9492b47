"""Nothing a person types makes it fail, and what it proposes is always a possible answer."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hypothesis import example, given, settings
from hypothesis import strategies as st

from interview.reading.opening import Understanding, lexicon_of, understand
from interview.reading.tokens import LONGEST
from knowledge.loading import load

KNOWLEDGE = load()
_WORDS = sorted(" ".join(words) for words in lexicon_of(KNOWLEDGE).phrases)
_MARKS = (
    ",",
    ".",
    ";",
    "?",
    "no",
    "not",
    "without",
    "on",
    "with",
    "or",
    "and",
    "but",
    "not sure",
    "12 x 16",
    "30 of them",
    "of",
)
_ROWS: Mapping[str, Mapping[str, object]] = {
    "support": KNOWLEDGE.materials,
    "mounted": KNOWLEDGE.materials,
    "media": KNOWLEDGE.media,
    "laid_on": KNOWLEDGE.inclusions,
}


def _possible(question: str, value: str) -> bool:
    rows: Mapping[str, object] = _ROWS.get(question, {})
    if value in rows:
        return question != "mounted" or KNOWLEDGE.materials[value].mount
    return value in {c.id for c in KNOWLEDGE.questions[question].choices}


def check(got: Understanding) -> None:
    """Every proposal is a row or a choice of its question; sizes and counts are possible ones."""
    for question, value in got.proposed.items():
        if question == "count":
            assert 1 <= value <= 100_000
        elif question == "pieces":
            asked = KNOWLEDGE.questions["pieces"]
            assert asked.low is not None and asked.high is not None and asked.low <= value <= asked.high
        elif question == "size":
            assert all(1 <= side <= 20_000 for name, side in value.items() if name not in ("shape", "area"))
        else:
            values: Any = value if isinstance(value, frozenset) else (value,)
            assert isinstance(value, frozenset) == (KNOWLEDGE.questions[question].kind == "several")
            assert values
            assert all(_possible(question, v) for v in values), (question, value)
    for left in got.open:
        assert left.words
        assert not left.known & left.among


@settings(max_examples=150, deadline=None)
@given(st.text(max_size=300))
@example("")
@example("no")
@example("no no no")
@example("on on with of ,,, .")
@example("not")
@example("12 x")
@example("1/0 x 3 in")
@example("Ⅷ ½ ①② x ⅞")
@example("ﬁne pa\u0301per \u200d on \U0001f600")
@example("'" * 50)
@example("un")
@example("x" * 5000)
def test_any_text(text: str) -> None:
    check(understand(text, KNOWLEDGE))


@settings(max_examples=150, deadline=None)
@given(st.lists(st.one_of(st.sampled_from(_WORDS), st.sampled_from(_MARKS)), max_size=14))
def test_any_words_of_the_vocabulary_in_any_order(words: list[str]) -> None:
    check(understand(" ".join(words), KNOWLEDGE))


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(_WORDS), st.sampled_from(("{}", "{}!", "{}.", "({})", "\u201c{}\u201d", "  {}\n")))
def test_case_and_marks_do_not_matter(word: str, frame: str) -> None:
    plain = understand(word, KNOWLEDGE).proposed
    assert understand(frame.format(word.upper()), KNOWLEDGE).proposed == plain


def test_a_very_long_text_is_read_up_to_a_limit() -> None:
    tail = " and glitter"
    got = understand("tissue on plywood. " + "blah " * LONGEST + tail, KNOWLEDGE)
    assert got.proposed["mounted"] == "plywood"
    assert "laid_on" not in got.proposed
    assert len(got.not_understood) <= 12


def test_the_same_text_gives_the_same_understanding() -> None:
    text = "torn tissue on plywood, 12 by 16, with glitter and zorbs"
    assert understand(text, KNOWLEDGE) == understand(text, KNOWLEDGE)
