"""Plain words that work at any question."""

from __future__ import annotations

import pytest

from interview.reading.commands import Command, read_command
from interview.reading.plain_words import WORDS

COMMANDS = [
    ("back", "back", ""), ("Back!", "back", ""), ("GO BACK", "back", ""), ("undo", "back", ""),
    ("/back", "back", ""),
    ("why", "why", ""), ("Why?", "why", ""), ("why do you ask?", "why", ""),
    ("why not brush?", "ask", "why not brush?"),
    ("Why two coats", "ask", "Why two coats"), ("what if I spray?", "ask", "what if I spray?"),
    ("how long does that take?", "ask", "how long does that take?"), ("not sure", "not sure", ""),
    ("change", "change", ""),
    ("change the size", "change", "size"), ("show me", "show me", ""), ("show me all", "show me", "all"),
    ("show me the whole brief", "show me", "whole brief"), ("stop", "stop", ""), ("quit", "stop", ""),
    ("help", "help", ""),
    ("?", "help", ""), ("same as last time", "same as", "last time"),
    ("The same as Blue Tray, but thirty", "same as", "Blue Tray, but thirty"),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "name", "rest"), COMMANDS)
def test_plain_words_are_wishes_at_any_question(typed: str, name: str, rest: str) -> None:
    assert read_command(typed) == Command(name, rest)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "typed",
    ["backing board", "whyte", "stop bath print", "showroom", "changed", "helpful", "unsure of the wood"],
)
def test_words_that_only_begin_like_a_wish_are_none(typed: str) -> None:
    assert read_command(typed) is None


def test_all_words_offered_are_understood() -> None:
    assert all(read_command(word) for word in WORDS)
