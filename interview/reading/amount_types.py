"""What an amount is looked for in, and an amount found."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from interview.plan.answers import Answers
from knowledge.shape import Question

Span = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Asking:
    """A question of amount, the text it is looked for in, and what is known."""

    question: Question
    text: str
    answers: Answers
    now: datetime
    imperial: bool = False


@dataclass(frozen=True, slots=True)
class Told:
    """An amount found: in the question's own form, and where it stands."""

    value: Any
    span: Span
