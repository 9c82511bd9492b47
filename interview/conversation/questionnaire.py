"""The questions as a list to read: id, text, choices, and when each is asked. For whoever writes an answers file."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import Any

from interview.reading.fitting import all_choices
from knowledge.conditions import Condition, Either, Every, Leaf, Opposite
from knowledge.loading import Knowledge
from knowledge.shape import Choice, Question

WIDTH = 96
_FEW = 12
_KINDS = {
    "one": "one of",
    "several": "a list of",
    "count": "a whole number",
    "number": "a number",
    "text": "text",
}


def describe_question(question: Question, knowledge: Knowledge, *, whole: bool = False) -> Iterator[str]:
    """The lines about one question. `whole`: every choice with its words, however many."""
    yield f"{question.id}: {question.text}"
    yield from _choice_lines(question, all_choices(question, knowledge), whole=whole)
    yield _line("not sure", question.unsure_says)
    when = in_words(question.when)
    yield _line("asked", "always" if question.always and not when else when or "where it can change the plan")


def _choice_lines(question: Question, choices: tuple[Choice, ...], *, whole: bool) -> Iterator[str]:
    kind = _KINDS.get(question.kind, f"text, such as {question.example}" if question.example else question.kind)
    if not choices:
        yield _line("answer", kind)
    elif whole:
        yield f"  {kind}:"
        yield from (f"    {choice.id:<24} {choice.text}" for choice in choices)
    else:
        ids = sorted((choice.id for choice in choices), key=lambda id: id not in question.alone)
        more = "" if len(ids) <= _FEW else f" and {len(ids) - _FEW} more (beforepour questions {question.id})"
        yield _line(kind, ", ".join(ids[:_FEW]) + more)


def _line(label: str, text: str) -> str:
    return textwrap.fill(f"  {label}: {text}", WIDTH, subsequent_indent="    ")


def in_words(condition: Condition) -> str:
    """A condition as a sentence could hold it: "piece is collage, and mounted is not no"."""
    match condition:
        case Every(parts=parts):
            return ", and ".join(words for part in parts if (words := in_words(part)))
        case Either(parts=parts):
            return f"either {', or '.join(in_words(part) for part in parts)}"
        case Opposite(part=Every(parts=(Leaf() as leaf,)) | (Leaf() as leaf)):
            return _leaf(leaf, denied=True)
        case Opposite(part=part):
            return f"not ({in_words(part)})"
        case Leaf():
            return _leaf(condition, denied=False)
    raise TypeError(condition)


def _leaf(leaf: Leaf, *, denied: bool) -> str:
    name = leaf.of
    if leaf.test == "known":
        return f"{name} is {'' if leaf.value != denied else 'not '}known"
    if leaf.test == "among":
        return f"{name} is {'none' if denied else 'one'} of {', '.join(map(_plain, leaf.value))}"
    if leaf.test == "is" and isinstance(leaf.value, bool):
        return name if leaf.value != denied else f"not {name}"
    relation = {"is": "is", "at_least": "is at least", "at_most": "is at most"}[leaf.test]
    return f"{name} {relation.replace('is', 'is not', 1) if denied else relation} {_plain(leaf.value)}"


def _plain(value: Any) -> str:
    return str(value).lower() if isinstance(value, bool) else str(value)
