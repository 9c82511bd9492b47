"""What the dialogue says of itself: answers in words, the plan so far, help for the moment."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from interview.answers import NOT_SURE, Answers
from interview.conversation.replies import PICKED, choice_words
from interview.conversation.words import WORDS

if TYPE_CHECKING:
    from interview.conversation.adviser import Adviser
    from interview.conversation.agenda import Asked
    from interview.plan import Plan
    from knowledge.shape import Question

PARTS = {"piece": "the piece", "trials": "the trials", "numbers": "the numbers", "clock": "the time"}
HINT = f"At any question: {', '.join(WORDS)}. Just type the word."


def value_words(question: Question, value: Any, adviser: Adviser, answers: Answers) -> str:
    """A value as one would say it."""
    if value is NOT_SURE:
        return f"not sure ({question.unsure_says})"
    if question.kind in PICKED:
        return choice_words(value, adviser.wording(question, answers).choices)
    from interview.conversation.measures import measure_words

    return measure_words(value, question)


def answer_line(id: str, adviser: Adviser, answers: Answers) -> str:
    """ "what it is made on: tissue paper" """
    question = adviser.question(id)
    stale = " (to be asked again)" if answers[id].origin == "stale" else ""
    return f"{question.short}: {value_words(question, answers[id].value, adviser, answers)}{stale}"


def so_far(plan: Plan, adviser: Adviser) -> Iterator[str]:
    """The plan as it stands, in a few lines."""
    yield plan.summary
    yield plan.headline
    yield from (f"  {line.name}: {line.line}" for line in plan.zone_lines)
    if plan.open_points:
        assumed = "; ".join(f"{point.about}: {point.assumed}" for point in plan.open_points)
        yield f"  On the safe side until you say or try: {assumed}."
    if plan.missing:
        yield f"  Still to ask: {', '.join(adviser.question(id).short for id in plan.missing)}."
    yield "  show me all gives the whole brief."


def help_lines(asked: Asked) -> Iterator[str]:
    """How to answer this question, then the words that always work."""
    question = asked.question
    if question.kind == "one":
        yield f"  Type a number from 1 to {len(asked.choices) + 1}, the first letters, or the thing itself."
    elif question.kind == "several":
        yield "  Name all that fit: 1 3, or the words with commas or and between them. Leave out what is not there."
    else:
        yield f"  Type it as you would write it{f', for example {question.example}' if question.example else ''}."
    yield f"  not sure: {question.unsure_says}."
    yield "  back: the question before.   why: what hangs on this.   why not brush?: ask about the plan."
    yield "  show me: the plan so far.   change: take an answer back.   stop: leave off; it is kept."


def status(question: Question, number: int) -> str:
    """The quiet line at the foot: where we are, how to go back."""
    return f"{PARTS.get(question.part, question.part)}, question {number} · {' · '.join(WORDS)}"
