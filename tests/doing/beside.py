"""Work along on a plan with a clock of our own: a line "+90" lets so many minutes pass, all others are typed."""

from __future__ import annotations

import contextlib
from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import Any

from interview.conversation.adviser import Later, load_adviser
from interview.conversation.talk import Talk
from interview.conversation.working_along import work_along
from interview.files.kept import Kept
from interview.files.recorder import Nobody
from interview.plan.answers import NOT_SURE, Answers
from interview.terminal.prompt import EndOfInput, Prompt
from interview.terminal.scripted_console import ScriptedConsole
from tests.test_trade import answers_of

BEGIN = datetime(2026, 6, 6, 10, 0)


class Clock(ScriptedConsole):
    """A scripted console whose lines of the form "+90" move its clock."""

    def __init__(self, replies: Iterable[str], begin: datetime = BEGIN, width: int = 80) -> None:
        super().__init__(replies, width)
        self.time = begin

    def now(self) -> datetime:
        return self.time

    def _next(self, prompt: Prompt) -> str:
        while True:
            typed = super()._next(prompt)
            if not typed.startswith("+"):
                return typed
            self.time += timedelta(minutes=float(typed[1:]))


def planned(told: dict[str, Any]) -> Answers:
    """Answers to a finished plan: those of the trade's usual piece but for what is told; the rest not sure."""
    adviser = load_adviser()
    answers = answers_of(adviser.knowledge, told)
    while missing := adviser.plan(answers).missing:
        answers = answers.say(missing[0], NOT_SURE)
    return answers


def work(
    told: dict[str, Any], lines: Iterable[str], kept: Kept | None = None, begin: datetime = BEGIN
) -> tuple[Talk, Clock]:
    """The state after these lines, and the screen. A script that ends is a closed pipe."""
    console = Clock(lines, begin)
    kept = kept or Kept(opening="", answers=planned(told), done=True)
    talk = Talk(console, Later(load_adviser), Nobody(), "full", kept, now=console.now)
    with contextlib.suppress(EndOfInput):
        work_along(talk)
    return talk, console
