"""A line typed in answer to a question -> a value, a wish about the conversation, or what to type instead."""

from __future__ import annotations

import re
from collections.abc import Sequence

from interview.plan.answers import NOT_SURE
from interview.reading.commands import Command, read_command
from interview.reading.matching_choices import Unclear, Value, pick
from interview.reading.menu import head, menu_of
from knowledge.shape import Choice, Question

_CLAUSES = re.compile(r"[,;.]|\bbut\b|\bso\b", re.IGNORECASE)
PICKED = ("one", "several")


Reply = Value | Command | Unclear


def read_reply(text: str, question: Question, choices: Sequence[Choice], *, imperial: bool = False) -> Reply:
    """`imperial`: a bare number is in inches and the like rather than in the question's own unit."""
    command = read_command(text)
    if command is not None and command.name != "not sure":
        return command
    if command is not None:
        return Value(NOT_SURE)
    if question.kind in PICKED:
        return _read_choice(text, question, choices)
    from interview.reading.measures import read_measure

    return read_measure(text, question, imperial=imperial)


def _read_choice(text: str, question: Question, choices: Sequence[Choice]) -> Value | Unclear:
    if text.strip(" .)#") == str(len(choices) + 1):  # the list ends with "not sure"
        return Value(NOT_SURE)
    several = question.kind == "several"
    got = pick(text, choices, several=several, alone=question.alone)
    if isinstance(got, Unclear):
        return Value(NOT_SURE, "not sure") if _ends_in_doubt(text, choices, several) else got
    value = frozenset(got.ids) if several else got.ids[0]
    return Value(value, choice_words(value, choices) if got.rough else "", got.leftover)


def _ends_in_doubt(text: str, choices: Sequence[Choice], several: bool) -> bool:
    """ "It was in the shed all winter, not sure": a clause that says so, and nothing that names a choice."""
    clauses = [c for c in _CLAUSES.split(text) if c.strip()]
    rest = [c for c in clauses if not _is_not_sure(c)]
    return len(rest) < len(clauses) and all(isinstance(pick(c, choices, several=several), Unclear) for c in rest)


def _is_not_sure(text: str) -> bool:
    command = read_command(text)
    return command is not None and command.name == "not sure"


def choice_words(value: str | frozenset[str], choices: Sequence[Choice]) -> str:
    """The names of what was chosen, in the order of the list."""
    ids = (value,) if isinstance(value, str) else value
    texts = [name for name, choice in zip(menu_of(choices).names, choices, strict=True) if choice.id in ids]
    texts += sorted(id.replace("_", " ") for id in ids if id not in {choice.id for choice in choices})
    return texts[0] if len(texts) == 1 else ", ".join(texts)


def typed_for(value: str | frozenset[str], choices: Sequence[Choice], *, several: bool) -> str:
    """A text that `read_reply` reads back as this value, to be offered for Enter; "" where the choices lack
    it.
    """
    ids = (value,) if isinstance(value, str) else value
    listed = tuple(choices)
    words = [typed_for_choice(n, listed, several=several) for n, c in enumerate(choices) if c.id in ids]
    return ", ".join(words) if len(words) == len(ids) else ""


def typed_for_choice(number: int, choices: tuple[Choice, ...], *, several: bool) -> str:
    """The shortest telling words for one choice that are read as this choice alone; its number where none
    are.
    """
    choice = choices[number]
    for words in (choice.text, head(choice.text), *choice.also):
        plain = words and len(words) <= 40 and not set(",;:()/&+") & set(words) and " and " not in words
        if plain and read_command(words) is None and _reads_as(words, choice.id, choices, several=several):
            return words
    return str(number + 1)


def _reads_as(words: str, id: str, choices: Sequence[Choice], *, several: bool) -> bool:
    got = pick(words, choices, several=several)
    return not isinstance(got, Unclear) and got.ids == (id,) and not got.rough and not got.leftover
