"""Typed answers that are no choice: numbers, counts, words; sizes and measures through `interview.quantities`."""

from __future__ import annotations

import re
from typing import Any

from interview.conversation.choosing import Unclear
from interview.conversation.replies import Value
from knowledge.shape import Question

_COUNT = re.compile(r"^(?:about |some |ca\.? |x ?)?(\d{1,9})(?: ?(?:x|pieces?|of them|off|pcs))?$")
_NUMBER = re.compile(r"^-?(?:\d{1,9}(?:[.,]\d{1,6})?|[.,]\d{1,6})$")
_COUNTED = {
    word: number
    for number, word in enumerate(
        [
            "one",
            "two",
            "three",
            "four",
            "five",
            "six",
            "seven",
            "eight",
            "nine",
            "ten",
            "eleven",
            "twelve",
            "thirteen",
            "fourteen",
            "fifteen",
            "sixteen",
            "seventeen",
            "eighteen",
            "nineteen",
            "twenty",
        ],
        1,
    )
} | {
    "a dozen": 12,
    "dozen": 12,
    "half a dozen": 6,
    "thirty": 30,
    "forty": 40,
    "fifty": 50,
    "a hundred": 100,
    "a": 1,
}


def read_measure(text: str, question: Question, *, imperial: bool = False) -> Value | Unclear:
    """The value in the question's own unit, or what to type instead."""
    plain = " ".join(text.split()).strip()
    if not plain:
        return Unclear(_how_to(question))
    if question.kind == "text":
        return Value(plain)
    if question.kind == "count":
        return _bounded(_count(plain.casefold()), plain, question)
    if question.kind == "number":
        return _bounded(_number(plain), plain, question)
    return Unclear(_how_to(question))


def _count(plain: str) -> int | None:
    found = _COUNT.match(plain)
    return int(found[1]) if found else _COUNTED.get(plain)


def _number(plain: str) -> float | None:
    return float(plain.replace(",", ".")) if _NUMBER.match(plain) else None


def _bounded(value: float | None, typed: str, question: Question) -> Value | Unclear:
    if value is None:
        shown = typed if len(typed) <= 40 else f"{typed[:37]}..."
        return Unclear(f'"{shown}" is not {_wanted(question)}. {_how_to(question)}')
    low, high = question.low, question.high
    if (low is not None and value < low) or (high is not None and value > high):
        return Unclear(f"{typed} is out of reach: {_limits(question)}. {_how_to(question)}")
    return Value(value)


def _wanted(question: Question) -> str:
    return "a whole number" if question.kind == "count" else f"a {question.kind}"


def _limits(question: Question) -> str:
    unit = f" {question.unit}" if question.unit else ""
    if question.low is None:
        return f"at most {question.high:g}{unit}"
    if question.high is None:
        return f"at least {question.low:g}{unit}"
    return f"from {question.low:g} to {question.high:g}{unit}"


def _how_to(question: Question) -> str:
    return (
        f"Type it like this: {question.example}. Or not sure."
        if question.example
        else "Type a number, or not sure."
    )


def measure_words(value: Any, question: Question) -> str:
    """The value as one would write it, and as `read_measure` reads it back."""
    return measure_text(value, question)


def measure_text(value: Any, question: Question) -> str:
    """Exactly the value, in the question's unit."""
    return str(value)
