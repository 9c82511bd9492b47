"""What comes next: what cannot be so, a kind to be told, the next question, or the brief."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from interview.conversation.ledger import let_stand
from interview.conversation.places import Place, to_narrow
from interview.conversation.talk import Talk
from interview.conversation.telling import TURNS
from interview.reasoning.agenda import COUNTER_QUESTIONS

if TYPE_CHECKING:
    from knowledge.shape import Question


def onward(talk: Talk, place: Place | None = None) -> Place:
    """`place`: where the conversation stood; if it comes back there, the question is shown in short."""
    left = let_stand(talk.kept)
    for row in talk.adviser.contradictions(talk.answers):
        if row.id not in left:
            among = tuple(id for id in row.questions if talk.answers.has(id))
            return Place("clash", row.id, among=among, says=f"{row.says} Which is to be changed?")
    question = talk.adviser.next_question(talk.answers, talk.pace, talk.asked_so_far)
    narrow = to_narrow(talk)
    if narrow is not None and (talk.pace != "counter" or _is_weightier(talk, narrow, question)):
        return Place("narrow", narrow)
    if question is None:
        _take_as_nothing(talk)
        return concluded(talk)
    _tell_turn(talk, question)
    same = place is not None and place.kind == "question" and place.id == question.id
    return Place("question", question.id, short=same, anew=question.id in talk.answers)


def _is_weightier(talk: Talk, narrow: str, question: Question | None) -> bool:
    """At the counter a kind is one of the six questions, and asked for in its turn."""
    early = talk.asked_so_far < COUNTER_QUESTIONS - 1
    return early and question is not None and talk.adviser.question(narrow).counter < question.counter


def _take_as_nothing(talk: Talk) -> None:
    """Asked at the counter what lies on it, people tell of all else: then nothing does, and the slip says so."""
    asked = {said.at for said in talk.kept.said} if talk.pace == "counter" else set()
    for id in asked & set(talk.adviser.knowledge.questions):
        question = talk.adviser.question(id)
        if question.rows == "inclusion" and question.alone and id not in talk.answers:
            nothing = frozenset(question.alone[:1])
            talk.save(replace(talk.kept, answers=talk.answers.say(id, nothing, "assumed", doubt=True)))


def _tell_turn(talk: Talk, question: Question) -> None:
    """Say so where the questions turn from one part to the next; the answer in short as soon as it is settled."""
    before = talk.adviser.question(talk.kept.trail[-1]).part if talk.kept.trail else "piece"
    part = question.part
    if part == before or part in talk.turned or part not in TURNS or talk.kept.done:
        return
    talk.turned.add(part)
    talk.say("")
    if part == "numbers":
        talk.say(talk.adviser.short_answer(talk.answers))
    talk.say(TURNS[part])


def concluded(talk: Talk) -> Place:
    """The brief, the first time; after a change what it did has been said already."""
    before = talk.kept.done
    if not before:
        talk.say("")
        talk.say(talk.brief())
        if talk.pace == "counter":  # what the clerk says aloud stands last on the screen
            talk.say("")
            talk.say(talk.adviser.short_answer(talk.answers), "heading")
        talk.save(replace(talk.kept, done=True))
        if talk.keeper.name and talk.keeper.safe:
            talk.say(f'Kept as "{talk.keeper.name}". beforepour brief {talk.keeper.name} shows it again.', "quiet")
    return Place("end", short=before)
