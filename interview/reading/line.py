"""A line as facts are read from it, and what is found in it."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from interview.plan.answers import Answers
from interview.reading.lexicon import in_general_words
from interview.reading.speech import Speech
from knowledge.loading import Knowledge
from knowledge.shape import Choice, Question

Span = tuple[int, int]
PICKED = ("one", "several")
SHELVES = {"support": "materials", "mounted": "materials", "media": "media", "laid_on": "inclusions"}
ROWS = tuple(SHELVES)


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing said. `value`: as in `interview.plan.answers`; a class by its id. `span`: places in the line."""

    question: str
    value: Any
    doubt: bool = False
    span: Span = (0, 0)
    words: str = ""


@dataclass(frozen=True, slots=True)
class Pick:
    """A match too weak to record. `ids`: the likeliest choices, to be asked about; `says`: the line to show."""

    question: str
    ids: tuple[str, ...] = ()
    says: str = ""


@dataclass(slots=True)
class Found:
    """Facts by question, what is taken away, and what is too weak to record."""

    facts: dict[str, Fact] = field(default_factory=dict)
    removes: list[tuple[str, str]] = field(default_factory=list)
    pick: Pick | None = None
    guessed: bool = False  # the question asked is answered by the weight of words alone
    spent: list[Span] = field(default_factory=list)  # clauses that told a trial, and name no material
    names: tuple[str, ...] = ()  # words that nothing was made of, as typed

    def add(self, fact: Fact) -> None:
        self.facts.setdefault(fact.question, fact)


@dataclass(frozen=True, slots=True)
class Line:
    """What facts are read from. text: the line, cleaned; only `said` of it (same places) says something.

    gone: what was put out for something else.
    """

    text: str
    said: str
    gone: str
    heard: Speech
    at: str
    question: Question | None
    choices: tuple[Choice, ...]
    answers: Answers
    imperial: bool
    now: datetime
    knowledge: Knowledge

    def hedged(self, span: Span) -> bool:
        """Whether what stands there is doubted in its clause."""
        return any(
            s.hedged and s.clause.start <= span[0] < max(s.clause.end, s.clause.start + 1) for s in self.heard.said
        )

    def fact(self, question: str, value: Any, span: Span, doubt: bool = False) -> Fact:
        return Fact(
            question,
            value,
            doubt or self.hedged(span),
            span,
            in_general_words(self.text[span[0] : span[1]], self.knowledge),
        )


def inside(span: Span, fact: Fact | None) -> bool:
    """Whether a place lies within what a fact was read from."""
    return fact is not None and fact.span[0] <= span[0] < fact.span[1] and fact.span[1] - fact.span[0] > 0
