"""One line a person typed -> a turn: what it does, what it says, what it asks, what is left over."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Literal, Protocol

from interview.plan.answers import NOT_SURE, Answers
from interview.reading.commands import Command, read_command
from interview.reading.matching_choices import Unclear, Value
from interview.reading.opening import understand
from interview.reading.plain_words import NO, YES
from interview.reading.replies import PICKED, read_reply
from knowledge.loading import Knowledge
from knowledge.shape import Choice, Question

Act = Literal["agree", "deny", "answer", "add", "correct", "ask", "unsure", "chat", "command", "trial_result", "worry"]


class AskedNow(Protocol):
    """The question on the screen, in the words for this situation."""

    @property
    def question(self) -> Question: ...
    @property
    def choices(self) -> tuple[Choice, ...]: ...


@dataclass(frozen=True, slots=True)
class Focus:
    """Where the line was typed. `at`: a question's id, "opening", "read_back", "end" or another prompt's name."""

    at: str
    asked: AskedNow | None = None
    answers: Answers = field(default_factory=Answers)
    imperial: bool = False
    now: datetime | None = None


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing said. `value`: as in `interview.plan.answers`; a class by its id. `span`: places in the line."""

    question: str
    value: Any
    doubt: bool = False
    span: tuple[int, int] = (0, 0)
    words: str = ""


@dataclass(frozen=True, slots=True)
class Pick:
    """A match too weak to record. `ids`: the likeliest choices, to be asked about; `says`: the line to show."""

    question: str
    ids: tuple[str, ...] = ()
    says: str = ""


@dataclass(frozen=True, slots=True)
class Turn:
    """acts: what the line does, several at once. facts: what it says. removes: (question, value) taken away.

    command: a wish about the conversation. asks: its questions, as typed. worries: ids of the question `worries`.
    leftover: words that no act covers. pick: a weak match, to be asked about.
    """

    acts: frozenset[Act] = frozenset()
    facts: tuple[Fact, ...] = ()
    removes: tuple[tuple[str, str], ...] = ()
    command: Command | None = None
    asks: tuple[str, ...] = ()
    worries: tuple[str, ...] = ()
    leftover: tuple[str, ...] = ()
    pick: Pick | None = None

    def value(self, question: str) -> Any:
        """What the line says of a question, or None."""
        return next((fact.value for fact in self.facts if fact.question == question), None)


def read_turn(text: str, focus: Focus, knowledge: Knowledge) -> Turn:
    """Read one line. Never raises; takes time in proportion to the length of the text."""
    command = read_command(text)
    if command is not None and command.name == "ask":
        return Turn(frozenset(("ask",)), asks=(text.strip(),))
    if command is not None and command.name == "not sure":
        facts = () if focus.asked is None else (Fact(focus.at, NOT_SURE, span=(0, len(text)), words=text),)
        return Turn(frozenset(("unsure",)), facts)
    plain = " ".join("".join(c if c.isalnum() else " " for c in text.casefold()).split())
    if focus.asked is None and plain in YES:
        return Turn(frozenset(("agree",)))
    if focus.asked is None and plain in NO:
        return Turn(frozenset(("deny",)))
    if command is not None:
        return Turn(frozenset(("command",)), command=command)
    return _said(text, focus, knowledge)


def _said(text: str, focus: Focus, knowledge: Knowledge) -> Turn:
    span = (0, len(text))
    facts: dict[str, Fact] = {}
    pick: Pick | None = None
    leftover: tuple[str, ...] = ()
    if focus.asked is not None:
        reply = read_reply(text, focus.asked.question, focus.asked.choices, imperial=focus.imperial)
        if isinstance(reply, Value):
            facts[focus.at] = Fact(focus.at, reply.value, span=span, words=text)
            leftover = reply.leftover
        elif isinstance(reply, Unclear):
            pick = Pick(focus.at, says=reply.says)
    if focus.asked is None or (focus.asked.question.kind in PICKED and len(text.split()) > 2):
        got = understand(text, knowledge)
        for question, value in got.proposed.items():
            facts.setdefault(question, Fact(question, value, span=span, words=text))
        leftover = leftover or got.not_understood
    elsewhere = {q for q in facts if q != focus.at}
    acts: set[Act] = {"answer"} if focus.at in facts else set()
    acts |= {"correct" if q in focus.answers else "add" for q in elsewhere}
    return Turn(frozenset(acts), tuple(facts.values()), leftover=leftover, pick=None if focus.at in facts else pick)
