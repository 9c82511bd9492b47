"""One question as the console shows it, and what is typed in answer to it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from interview.conversation.rescuing import is_trouble
from interview.conversation.talk import Talk
from interview.conversation.telling import HINT, status, value_words
from interview.plan.answers import NOT_SURE
from interview.reading.matching_choices import Unclear, Value
from interview.reading.plain_words import WORDS
from interview.reading.replies import PICKED, Reply, read_reply, typed_for, typed_for_choice
from interview.terminal.prompt import Option, Prompt

if TYPE_CHECKING:
    from interview.reasoning.agenda import Asked

_HINTED_QUESTIONS = 2
_NOT_SURE = Option("not sure", "not sure", ("don't know", "no idea"))
_LEAST_WORDS = 3  # a reply shorter than this is no sentence
_LONG, _SHORT = 20, 12  # a list longer than the first is cut to the second


@dataclass(frozen=True, slots=True)
class Sentence:
    """A reply that reads like a description: what it proposes for this question and others."""

    asked: str
    proposed: dict[str, Any]
    said_back: str


def word(talk: Talk, id: str) -> Asked:
    """The question for the situation. First come, of a long list, the question's own choices ("nothing"),
    and those
    that the opening sentence left open."""
    asked = talk.adviser.wording(talk.adviser.question(id), talk.answers)
    likely = talk.narrowed.get(id, frozenset())
    own = {choice.id for choice in asked.question.choices} if len(asked.choices) > _LONG else set()
    ordered = sorted(asked.choices, key=lambda choice: (choice.id not in own, choice.id not in likely))
    return replace(asked, choices=tuple(ordered))


def make_prompt(talk: Talk, asked: Asked, *, whole: bool = False) -> Prompt:
    """Text, choices with "not sure" last, hints, the old answer offered, and the check. `whole`: show all
    choices.
    """
    question = asked.question
    long = len(asked.choices) > _LONG and not whole

    def check(typed: str) -> str | None:
        reply = read(talk, typed, asked)
        return reply.says if isinstance(reply, Unclear) and not is_trouble(typed) else None

    def reads(typed: str) -> str:
        reply = read_reply(typed, question, asked.choices, imperial=talk.imperial)
        if isinstance(reply, Value):
            return f"= {value_words(question, reply.value, talk.adviser, talk.answers)}"
        return reply.says if isinstance(reply, Unclear) and len(typed) > 2 else ""

    return Prompt(
        text=asked.text,
        options=_options(asked) if question.kind in PICKED else (),
        several=question.kind == "several",
        hint=_hint(talk, asked),
        status=status(question, len(talk.kept.trail) + 1),
        offered=_offered(talk, asked),
        words=WORDS,
        check=check,
        reads=reads,
        shown=_SHORT if long else 0,
    )


def read(talk: Talk, typed: str, asked: Asked) -> Reply | Sentence:
    """The reply, or, where it reads like a description of the piece, what that proposes."""
    reply = read_reply(typed, asked.question, asked.choices, imperial=talk.imperial)
    partly = isinstance(reply, Unclear) or (isinstance(reply, Value) and reply.leftover)
    if partly and asked.question.kind in PICKED and len(typed.split()) >= _LEAST_WORDS:
        got = talk.adviser.understand(typed)
        if asked.question.id in got.proposed and (isinstance(reply, Unclear) or len(got.proposed) > 1):
            return Sentence(asked.question.id, got.proposed, got.said_back)
    return reply


def _options(asked: Asked) -> tuple[Option, ...]:
    several = asked.question.kind == "several"
    options = (
        Option(c.id, c.text, c.also, c.hint, typed_for_choice(n, asked.choices, several=several))
        for n, c in enumerate(asked.choices)
    )
    return (*options, _NOT_SURE)


def _hint(talk: Talk, asked: Asked) -> str:
    """For someone new: the words that always work, on the first questions. For all: how to name several,
    once.
    """
    lines = []
    if asked.question.kind == "several" and _once(talk, "several", asked.question.id):
        lines.append("More than one: 1 3, or words with commas.")
    if asked.question.example:
        lines.append(f"For example: {asked.question.example}")
    shown = len(talk.kept.trail) < _HINTED_QUESTIONS or asked.question.id in talk.hinted
    if shown and talk.pace == "full" and talk.first_time():
        talk.hinted.add(asked.question.id)
        lines.append(HINT)
    return "\n  ".join(lines)


def _once(talk: Talk, what: str, id: str) -> bool:
    """Whether this question is the first of its kind in the conversation (also when it is asked again)."""
    mark = f"{what}: {id}"
    if any(m.startswith(f"{what}: ") and m != mark for m in talk.hinted):
        return False
    talk.hinted.add(mark)
    return True


def _offered(talk: Talk, asked: Asked) -> str:
    answer = talk.answers.get(asked.question.id)
    if answer is None:
        return ""
    if answer.value is NOT_SURE:
        return "not sure"
    if asked.question.kind in PICKED:
        return typed_for(answer.value, asked.choices, several=asked.question.kind == "several")
    from interview.reading.measures import measure_text

    again = read_reply(answer.words, asked.question, (), imperial=talk.imperial) if answer.words else None
    same = isinstance(again, Value) and again.value == answer.value
    return answer.words if same else measure_text(answer.value, asked.question)
