"""What a question is likely about: every topic with its share, as our own lines taught."""

from __future__ import annotations

from math import log

from interview.reading.learned import Features, in_a_row, in_parts, model, shares
from interview.reading.topic_matching import index_of, read_words, topic_words
from knowledge.loading import Knowledge

NAME = "topics"
HERE = 4.0  # times as likely is a topic at a question that it is marked for (`at`)


def topic_features(text: str, knowledge: Knowledge) -> Features:
    """Its words and their parts, turns of phrase as one, and the sorts of what is named."""
    index = index_of(knowledge)
    read = read_words(text, index)
    words = topic_words(text, index.spelling)
    bag = (f"bag {token}" for token in sorted(read.whole))
    return Features((*in_a_row(words), *bag), in_parts(words), tuple(f"names {sort}" for sort in sorted(read.sorts)))


def rank(text: str, knowledge: Knowledge, at: str = "") -> list[tuple[str, float]]:
    """(topic, share of 1), the likeliest first. `at`: the question on the screen."""
    scores = model(NAME).scores(topic_features(text, knowledge))
    here = {id for id, questions in index_of(knowledge).at.items() if at in questions}
    return list(shares({id: score + (log(HERE) if id in here else 0.0) for id, score in scores.items()}).items())


def why_topic(text: str, knowledge: Knowledge, topic: str) -> tuple[str, ...]:
    """The words that speak most for a topic."""
    return model(NAME).why(topic_features(text, knowledge), topic)
