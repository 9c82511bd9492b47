"""The weights belong to the lines they were taught by, say which words decided, and are small. No source: our own lines."""

from __future__ import annotations

import pytest

from interview.reading.learned import FOLDER, Features, chance, model, shares
from interview.reading.topic_matching import meant_by, why_meant
from knowledge.loading import Knowledge
from tests.training.lines import LESSONS

MOST = 3_500_000  # bytes, of all models


@pytest.mark.parametrize("name", LESSONS)
def test_weights_belong_to_their_lines(name: str) -> None:
    assert model(name).digest == LESSONS[name].digest(), f"lines have changed: python -m tests.training {name}"


def test_all_models_are_small_and_taught() -> None:
    files = sorted(FOLDER.glob("*.bin"))
    assert [f.stem for f in files] == sorted(LESSONS)
    assert sum(f.stat().st_size for f in files) <= MOST


def test_a_score_is_the_sum_of_what_the_words_say() -> None:
    one, two = Features(("varnish",)), Features(("varnish", "no such word anywhere"))
    assert model("topics").scores(one) == model("topics").scores(two)
    assert model("topics").scores(one) != model("topics").scores(Features())


def test_shares_add_up() -> None:
    assert sum(shares({"a": 1.0, "b": -400.0, "c": 2.5}).values()) == pytest.approx(1)
    assert list(shares({"a": 1.0, "b": 3.0}, among=("b",)).items()) == [("b", 1.0)]
    assert chance(0) == 0.5 and chance(-1000) < 1e-9 < 1 - 1e-9 < chance(1000)


@pytest.mark.parametrize(
    ("asked", "topic", "word"),
    [
        ("will it turn amber on me", "yellowing", "amb"),
        ("can children help me with it", "children", "child"),
        ("how do i get rid of bubbles", "bubbles", "bble"),
    ],
)
def test_a_topic_is_ranked_and_says_why(asked: str, topic: str, word: str, knowledge: Knowledge) -> None:
    ranked = meant_by(asked, knowledge)
    assert ranked[0].id == topic
    assert ranked[0].share > 0.5 > ranked[1].share
    assert any(word in reason for reason in why_meant(asked, topic, knowledge))
