"""Answer values <-> the plain forms of an answers file and of JSON."""

from __future__ import annotations

from typing import Any

from interview.plan.answers import NOT_SURE
from knowledge.shape import Question

NOT_SURE_WORD = "not sure"


def plain_value(value: Any) -> Any:
    """A value as text, number, list or table. Sets are sorted, so that the same answers are written alike."""
    if value is NOT_SURE:
        return NOT_SURE_WORD
    if isinstance(value, (frozenset, set)):
        return sorted(value)
    if isinstance(value, tuple):
        return list(value)
    return value


def value_from_plain(question: Question, plain: Any) -> Any:
    """The inverse of `plain_value` for a value that has been checked to fit the question."""
    if plain == NOT_SURE_WORD:
        return NOT_SURE
    if question.kind == "several":
        return frozenset((plain,)) if isinstance(plain, str) else frozenset(plain)
    if question.kind == "ratio" and isinstance(plain, list):
        return tuple(plain)
    return plain
