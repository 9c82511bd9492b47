"""Whether a value can be an answer to a question at all, whatever the piece. For files and journals."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from interview.plan.answers import NOT_SURE, Answers
from knowledge.shape import Choice, Question

if TYPE_CHECKING:
    from knowledge.loading import Knowledge

_SHELVES = {
    "material": "materials",
    "mount": "materials",
    "medium": "media",
    "inclusion": "inclusions",
    "action": "actions",
}
_FAR = 1e9  # nothing of ours is larger, in any unit


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
    if question.kind in ("text", "date", "hours"):
        return isinstance(value, str) and _READ[question.kind](value)
    if question.kind == "size":
        from interview.quantities.bounds import is_size

        return is_size(value)
    if question.kind == "ratio":
        from interview.quantities.bounds import is_ratio

        return is_ratio(value)
    return isinstance(value, int if question.kind == "count" else (int, float)) and _within(value, question)


def _within(value: float, question: Question) -> bool:
    """A finite number, no truth value, inside the question's limits."""
    low = -_FAR if question.low is None else question.low
    high = _FAR if question.high is None else question.high
    return not isinstance(value, bool) and low <= value <= high


def _is_moment(text: str) -> bool:
    """As `read_measure` writes a day: "2026-12-24 18:00"."""
    from datetime import datetime

    try:
        datetime.strptime(text, "%Y-%m-%d %H:%M")
    except ValueError:
        return False
    return True


def _are_hours(text: str) -> bool:
    from interview.reading.hours_told import HoursError, read_hours

    try:
        read_hours(text)
    except HoursError:
        return False
    return True


_READ: dict[str, Callable[[str], bool]] = {"text": bool, "date": _is_moment, "hours": _are_hours}


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
