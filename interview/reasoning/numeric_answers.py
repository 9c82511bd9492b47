"""The answers to the questions about numbers, each with its basis; what was skipped is assumed as the question says."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from interview.plan.answers import NOT_SURE, Answers
from interview.plan.parts import Basis, Input
from interview.quantities.units import ReadError, read
from interview.quantities.written import amount
from knowledge.allowances import Allowance
from knowledge.loading import Knowledge
from knowledge.shape import Question, Span

# read off a label: they beat every table
LABELS = frozenset({"ratio", "working_time", "deepest", "sealer_spread", "pack_resin", "solvents"})
ASSUMED = Basis("assumed")


@dataclass(frozen=True, slots=True)
class Given:
    """One answer. `value` None: not told, and nothing is assumed in its place."""

    question: str
    value: Any
    basis: Basis

    @property
    def said(self) -> bool:
        return self.basis != ASSUMED


class Told:
    """What was told about a decided piece. `facts` are those of the number questions that apply; `imperial`: whether
    the maker thinks in inches."""

    def __init__(
        self, knowledge: Knowledge, answers: Answers, facts: Mapping[str, Any], *, imperial: bool = False
    ) -> None:
        self.imperial = imperial
        self.knowledge = knowledge
        self._answers = answers
        self.facts = facts
        self._given: dict[str, Given] = {}

    def __getitem__(self, id: str) -> Given:
        """The answer, where its question applies; else what that question assumes. Raises KeyError for no question.

        How many there are, and how big, counts also where it was only said in the opening sentence.
        """
        if id not in self._given:
            self._given[id] = self._look_up(id)
        return self._given[id]

    def amount(self, value: float, unit: str, *, up: bool = False) -> str:
        """In both systems, the maker's own first."""
        return amount(value, value, unit, up=up, imperial=self.imperial)

    def _look_up(self, id: str) -> Given:
        question = self.knowledge.questions[id]
        answer = self._answers.get(id)
        applies = id in self.facts or id in ("count", "size")
        if answer is None or answer.origin == "stale" or answer.value is NOT_SURE or not applies:
            return Given(id, assumed(question), ASSUMED)
        label = answer.origin == "label" or id in LABELS
        return Given(id, answer.value, Basis("your label" if label else "your answer"))

    def number(self, id: str) -> float | None:
        """A number, or None where none is known or assumed."""
        value = self[id].value
        return float(value) if isinstance(value, (int, float)) else None

    def needed(self, id: str) -> float:
        """A number of a question that always assumes one."""
        value = self.number(id)
        assert value is not None, id
        return value

    def basis(self, id: str) -> Basis:
        return self[id].basis


def assumed(question: Question) -> Any:
    """What skipping the question comes to: a value in its unit, or None where nothing is assumed."""
    if question.kind == "one":
        return question.unsure
    if question.kind == "several":
        return frozenset(question.unsure.split())
    return _read(question.unsure, question.kind, question.unit)


@lru_cache(maxsize=256)
def _read(text: str, kind: str, unit: str) -> Any:
    if kind in ("count", "number"):
        return float(text) if text.replace(".", "", 1).isdigit() else None
    try:
        return read(text, kind, unit).value
    except ReadError:
        return None


# ------------------------------------------------------------------ inputs of a figure


def from_allowance(row: Allowance) -> Input:
    """An allowance as an input of a figure."""
    return Input(row.name, span_words(row.value), Basis(row.basis, row.source, row.locator))


def span_words(span: Span) -> str:
    """ "10 to 20 %", "5 times"."""
    unit = {"degC": "°C", "m2": "m²"}.get(span.unit, span.unit)
    low, high = f"{span.low:g}", f"{span.high:g}"
    return f"{low} {unit}" if low == high else f"{low} to {high} {unit}"
