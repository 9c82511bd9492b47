"""Which sign of trouble a line tells: each with its share, as our own lines taught."""

from __future__ import annotations

from interview.reading.clauses import plainly
from interview.reading.learned import Features, in_a_row, in_parts, model, shares

NAME = "signs"
NONE = "none"  # nothing has gone wrong: a piece, a question, a result


def sign_features(text: str) -> Features:
    """Its words and their parts; numbers are all alike."""
    words = tuple("0" if word[0].isdigit() else word for word in plainly(text))
    return Features(in_a_row(words), in_parts(words))


def signs_of(text: str) -> dict[str, float]:
    """sign, or NONE -> share of 1, the likeliest first."""
    return shares(model(NAME).scores(sign_features(text)))
