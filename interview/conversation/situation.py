"""Where a question is typed: what is known, and what stands on the screen."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from interview.plan.answers import Answers

if TYPE_CHECKING:
    from datetime import datetime

    from interview.plan.model import Plan
    from interview.reasoning.agenda import Asked, Pace
    from knowledge.loading import Knowledge


@dataclass(frozen=True, slots=True)
class Situation:
    """Where a question is typed. `at`: a question's id, "piece", "read_back", "end" or another prompt's name.

    `plan`: of the answers so far, made here where it is None. `last`: the topic answered before.
    """

    knowledge: Knowledge
    answers: Answers = field(default_factory=Answers)
    at: str = ""
    asked: Asked | None = None
    plan: Plan | None = None
    last: str = ""
    imperial: bool = False
    pace: Pace = "full"
    asked_so_far: int = 0
    now: datetime | None = None
