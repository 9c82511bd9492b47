"""Whether a value can be an answer to a question at all, whatever the piece. For files and journals."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from interview.answers import NOT_SURE, Answers
from knowledge.shape import Choice, Question

if TYPE_CHECKING:
    from knowledge.loading import Knowledge

_SHELVES = {"material": "materials", "mount": "materials", "medium": "media", "inclusion": "inclusions"}


def all_choices(question: Question, knowledge: Knowledge) -> tuple[Choice, ...]:
    """Every choice the question has in any situation."""
    if not question.rows:
        return question.choices
    rows = getattr(knowledge, _SHELVES[question.rows]).values()
    named = (Choice(r.id, r.name, r.also) for r in rows if question.rows != "mount" or r.mount)
    return (*named, *question.choices)


def fits(value: Any, question: Question, knowledge: Knowledge) -> bool:
    """Whether the value is of the question's kind and among its choices."""
    if value is NOT_SURE:
        return True
    if question.kind in ("one", "several"):
        ids = {choice.id for choice in all_choices(question, knowledge)}
        if question.kind == "one":
            return isinstance(value, str) and value in ids
        return isinstance(value, frozenset) and bool(value) and value <= ids
    if question.kind in ("text", "date"):
        return isinstance(value, str)
    if question.kind == "size":
        return isinstance(value, dict) and "shape" in value
    if question.kind == "ratio":
        return isinstance(value, tuple)
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def keep_fitting(answers: Answers, knowledge: Knowledge) -> tuple[Answers, tuple[str, ...]]:
    """The answers the knowledge still has questions and choices for, and the ids of the others."""
    misfits = tuple(
        id
        for id, answer in answers.items()
        if id not in knowledge.questions or not fits(answer.value, knowledge.questions[id], knowledge)
    )
    for id in misfits:
        answers = answers.withdraw(id)
    return answers, misfits
