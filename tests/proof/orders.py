"""How soon the questions settle the plan: the mean number asked, beside that of the best order found by a search.

Only the order is searched. Which questions apply, and whether one can still change the plan, stays as it is, so every
order asks what it must and no more; orders differ in how often one answer makes another question needless.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from interview.plan.answers import Answers
from interview.reasoning.agenda import can_change_plan
from interview.reasoning.circumstances import assumed_value, known
from knowledge.loading import Knowledge
from tests.proof.pieces import Base, answers_for

Order = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Found:
    """Mean numbers of questions about the piece until nothing open can change the plan."""

    now: float
    best: float
    order: Order
    tried: int


class Asking:
    """Asks pieces whose answers are all known, in any order, and keeps what it has found out on the way."""

    def __init__(self, knowledge: Knowledge, chosen: Sequence[Base]) -> None:
        self.knowledge = knowledge
        self.truths = [_truth(knowledge, base) for base in chosen]
        self._matters: dict[tuple[frozenset[Any], str], bool] = {}
        self._open: dict[frozenset[Any], tuple[str, ...]] = {}

    def mean(self, order: Order) -> float:
        place = {q: n for n, q in enumerate(order)}
        return sum(self._count(truth, place) for truth in self.truths) / len(self.truths)

    def _count(self, truth: dict[str, Any], place: dict[str, int]) -> int:
        answers = Answers()
        while (question := self._next(answers, place)) is not None:
            answers = answers.say(question, truth[question])
        return len(answers)

    def _next(self, answers: Answers, place: dict[str, int]) -> str | None:
        key = frozenset((q, a.value) for q, a in answers.entries)
        if key not in self._open:
            self._open[key] = tuple(q for q in known(self.knowledge, answers).open if q in place)
        for question in sorted(self._open[key], key=place.__getitem__):
            if (key, question) not in self._matters:
                row = self.knowledge.questions[question]
                self._matters[key, question] = can_change_plan(self.knowledge, answers, row)
            if self._matters[key, question]:
                return question
        return None


def _truth(knowledge: Knowledge, base: Base) -> dict[str, Any]:
    drawn = answers_for(knowledge, base)
    return {q: assumed_value(knowledge.questions[q]) if a.unsure else a.value for q, a in drawn.items()}


def order_now(knowledge: Knowledge) -> Order:
    return tuple(q.id for q in knowledge.questions.values() if q.part == "piece")


def search(
    knowledge: Knowledge, chosen: Sequence[Base], rounds: int, after_each: Callable[[], object] = lambda: None
) -> Found:
    """Move one question at a time to another place while that lowers the mean; `rounds` times, from the order now."""
    asking, rng = Asking(knowledge, chosen), random.Random(6)
    order = order_now(knowledge)
    now = best = asking.mean(order)
    tried = 1
    for _ in range(rounds):
        rest = list(order)
        moved = rest.pop(rng.randrange(1, len(rest)))  # what it is comes first: all others lean on it
        rest.insert(rng.randrange(1, len(rest) + 1), moved)
        got = asking.mean(tuple(rest))
        tried += 1
        if got <= best:
            order, best = tuple(rest), got
        after_each()
    return Found(now, best, order, tried)
