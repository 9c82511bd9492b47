"""What the dialogue says of itself: answers in words, the plan so far, help for the moment."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from interview.plan.answers import NOT_SURE, Answers
from interview.reading.menu import PICKED, choice_words
from interview.reading.plain_words import WORDS

if TYPE_CHECKING:
    from interview.conversation.adviser import Adviser
    from interview.plan.model import Plan
    from interview.reasoning.agenda import Asked
    from knowledge.shape import Question

PARTS = {"piece": "the piece", "trials": "the trials", "numbers": "the numbers", "clock": "the time"}
# said where the questions turn to something else
TURNS = {
    "trials": "Now what trials have shown, where any were done.",
    "numbers": "That settles the sealing. Now the numbers: where you say not sure, a usual value is taken.",
    "clock": "Now the time.",
}
HINT = f"At any question: {', '.join(WORDS)}. Just type the word."


def value_words(question: Question, value: Any, adviser: Adviser, answers: Answers) -> str:
    """A value as one would say it."""
    if value is NOT_SURE:
        return f"not sure ({question.unsure_says})"
    if question.kind in PICKED:
        choices = adviser.wording(question, answers).choices
        return choice_words(value, (*choices, *adviser.not_offered(question, value, choices)))
    from interview.reading.measures import measure_words

    return measure_words(value, question)


def answer_line(id: str, adviser: Adviser, answers: Answers) -> str:
    """ "what it is made on: tissue paper" """
    question = adviser.question(id)
    stale = " (to be asked again)" if answers[id].origin == "stale" else ""
    return f"{question.short}: {value_words(question, answers[id].value, adviser, answers)}{stale}"


def so_far(plan: Plan, adviser: Adviser, answers: Answers) -> Iterator[str]:
    """The plan as it stands, in a few lines."""
    yield plan.summary
    yield plan.headline
    yield from (f"  {line.name}: {line.line}" for line in plan.zone_lines)
    unsure = [point for point in plan.open_points if point.question in answers and answers[point.question].unsure]
    if unsure:
        assumed = "; ".join(f"{point.about}: {point.assumed}" for point in unsure)
        yield f"  On the safe side where you were not sure: {assumed}."
    if plan.missing:
        yield f"  Still to ask: {', '.join(adviser.question(id).short for id in plan.missing)}."
    yield "  show me all: the whole brief."


def help_lines(asked: Asked | None, kind: str, *, kept: bool = True) -> Iterator[str]:
    """How to answer here, then the words that always work."""
    question = asked.question if asked else None
    if question is None and kind == "opening":
        yield "  Say what it is, what it is made on and with, what lies on it, and its size: as much as you like."
        yield "  Enter: to be asked step by step. To begin from an earlier piece: same as, and its name."
    elif question is None:
        yield "  Say it in your own words: yes, no, what is different, or ask."
    elif question.kind == "one":
        yield "  Type a number of the list, or the thing itself in your own words."
    elif question.kind == "several":
        yield "  Name all that fit: 1 3, or the words with commas or and between them. Leave out what is not there."
    else:
        yield f"  Type it as you would write it{f', for example {question.example}' if question.example else ''}."
    if question is not None and question.unsure_says:
        yield f"  not sure: {question.unsure_says}."
    yield "  back: the question before. change: take an answer back. what are these: what the choices mean."
    yield "  why: what hangs on this. Or ask about the plan: why not brush?, what if I spray?"
    yield "  how many more: questions left. show me: the plan so far, and what became of all you said."
    if kept:
        yield "  stop: leave off; beforepour resume goes on."
    else:
        yield "  slip: the slip so far. print: print it. again: one of the last five slips."
        yield "  next: the next customer. stop: end the counter. Nothing of a customer is kept on disk."


def status(question: Question, number: int) -> str:
    """The quiet line at the foot: where we are, how to go back."""
    return f"{PARTS.get(question.part, question.part)}, question {number} · {' · '.join(WORDS)}"
