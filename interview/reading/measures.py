"""Typed answers that are no choice: words, counts, numbers; sizes and measures through `interview.quantities.units`."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from knowledge.shape import Question

if TYPE_CHECKING:
    from datetime import datetime


@dataclass(frozen=True, slots=True)
class Value:
    """An answer. `said`: how it was read, where that is worth saying back."""

    value: Any
    said: str = ""


@dataclass(frozen=True, slots=True)
class Unclear:
    """The line to show: what is wrong and what to type instead."""

    says: str


_COUNT = re.compile(r"^(?:about |some |ca\.? |x ?)?(\d{1,9})(?: ?(?:x|pieces?|of them|off|pcs))?$")
_NUMBER = re.compile(r"^-?(?:\d{1,9}(?:[.,]\d{1,6})?|[.,]\d{1,6})$")
_ONES = (
    "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen "
    "eighteen nineteen twenty"
)
_COUNTED = {word: number for number, word in enumerate(_ONES.split(), 1)} | {
    "a": 1, "just one": 1, "only one": 1, "a pair": 2, "half a dozen": 6, "a dozen": 12, "dozen": 12, "two dozen": 24,
    "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "a hundred": 100, "hundred": 100,
}  # fmt: skip
_INCHES = re.compile(r"[\d½¼¾⅛⅜⅝⅞]\s*-?(?:in\b|inch|\"|″|ft\b|feet|foot|'|′|fl\.? ?oz|oz\b|°?F\b)", re.IGNORECASE)
_METRES = re.compile(r"\d\s*-?(?:mm|cm|m\b|met(?:re|er)|ml\b|l\b|g\b|kg\b|°?C\b)", re.IGNORECASE)


def read_measure(
    text: str, question: Question, *, imperial: bool = False, now: datetime | None = None
) -> Value | Unclear:
    """The value in the question's own unit, or what to type instead. `now`: the moment that days are counted from."""
    plain = " ".join(text.split())
    if not plain:
        return Unclear(_how_to(question))
    if question.kind == "text":
        return Value(plain)
    if question.kind in ("date", "hours"):
        return _times(plain, question, now)
    if question.kind == "count":
        return _bounded(_count(plain.casefold()), plain, question)
    if question.kind == "number" and not question.unit:
        return _bounded(_number(plain), plain, question)
    return _quantity(plain, question, imperial=imperial)


def _times(plain: str, question: Question, now: datetime | None) -> Value | Unclear:
    """Hours stay as they were written; a day becomes a date and a time that will not shift with the days."""
    from datetime import datetime

    from interview.reading.hours_told import HoursError, read_hours, read_when, week_words

    try:
        if question.kind == "hours":
            return Value(plain, week_words(read_hours(plain)))
        now = now or datetime.now()
        when = read_when(plain, now)
    except HoursError as error:
        return Unclear(str(error))
    if when <= now:
        return Unclear(f"{when:%A %d %B %Y %H:%M} is over already. Type a day to come.")
    return Value(f"{when:%Y-%m-%d %H:%M}", f"{when:%A} {when.day} {when:%B %Y, %H:%M}")


def _quantity(plain: str, question: Question, *, imperial: bool) -> Value | Unclear:
    from interview.quantities.units import ReadError, read

    try:
        got = read(plain, question.kind, question.unit, imperial=imperial)
    except ReadError as error:
        return Unclear(str(error))
    if isinstance(got.value, (int, float)):
        within = _bounded(got.value, plain, question)
        if isinstance(within, Unclear):
            return within
    assumed = f", {got.assumed}" if got.assumed else ""
    inches = imperial or got.system == "imperial"
    return Value(got.value, f"{measure_words(got.value, question, imperial=inches)}{assumed}")


def _count(plain: str) -> int | None:
    found = _COUNT.match(plain)
    return int(found[1]) if found else _COUNTED.get(plain)


def count_of(text: str) -> int | None:
    """A count as people say it: 12, "a dozen"; None where it is none."""
    found = _count(" ".join(text.casefold().split()))
    return found if found and found <= 2000 else None


def _number(plain: str) -> float | None:
    return float(plain.replace(",", ".")) if _NUMBER.match(plain) else None


def _bounded(value: float | None, typed: str, question: Question) -> Value | Unclear:
    if value is None:
        shown = typed if len(typed) <= 40 else f"{typed[:37]}..."
        wanted = "a whole number" if question.kind == "count" else "a number"
        return Unclear(f'"{shown}" is not {wanted}. {_how_to(question)}')
    low, high = question.low, question.high
    if (low is not None and value < low) or (high is not None and value > high):
        return Unclear(f"{typed} is out of reach: it has to be {_limits(question)}. {_how_to(question)}")
    return Value(value)


def _limits(question: Question) -> str:
    unit = f" {question.unit}" if question.unit else ""
    if question.low is None:
        return f"at most {question.high:g}{unit}"
    if question.high is None:
        return f"at least {question.low:g}{unit}"
    return f"{question.low:g} to {question.high:g}{unit}"


def _how_to(question: Question) -> str:
    return f"Type it like this: {question.example}. Or not sure." if question.example else "Or type not sure."


def thinks_in_inches(texts: Iterable[str]) -> bool:
    """Whether what was typed has inches and the like in it, and no metric unit."""
    said = " ".join(texts)
    return bool(_INCHES.search(said)) and not _METRES.search(said)


# ------------------------------------------------------------------ back into words


def measure_text(value: Any, question: Question, *, imperial: bool = False) -> str:
    """The value as `read_measure` reads it back."""
    if question.kind in ("text", "date", "hours", "count") or (question.kind == "number" and not question.unit):
        return str(value)
    from interview.quantities.written import write

    return write(value, question.kind, question.unit, imperial=imperial)


def measure_words(value: Any, question: Question, *, imperial: bool = False) -> str:
    """The value as one would say it: a size or a temperature in both systems, rounded."""
    if isinstance(value, dict):
        from interview.quantities.written import size_words

        return size_words(value, imperial=imperial)
    if question.unit == "degC":
        from interview.quantities.written import amount

        return amount(value, value, "degC")
    return measure_text(value, question, imperial=imperial)
