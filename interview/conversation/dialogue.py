"""The conversation: the opening sentence, then one question at a time until nothing more can change the plan.

Every answer is written down before the next question. Every question takes back, why, not sure, change, show
me,
help and stop.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from interview.conversation.asking import Sentence, make_prompt, read, word
from interview.conversation.corrections import choose_answer, settle_contradiction, tell_difference, tell_stale
from interview.conversation.opening_stage import introduce
from interview.conversation.rescuing import handed_over, is_trouble
from interview.conversation.talk import Stopped, Talk
from interview.conversation.telling import TURNS, help_lines, so_far
from interview.reading.commands import Command, read_command
from interview.reading.matching_choices import Unclear
from interview.reading.plain_words import WORDS
from interview.terminal.prompt import Prompt

if TYPE_CHECKING:
    from interview.reasoning.agenda import Asked

Ending = Literal["stopped", "done", "next"]


@dataclass(frozen=True, slots=True)
class Move:
    """Where the conversation goes: to a question by id, to the end, or on as the agenda says."""

    to: str | None = None
    ending: Ending | None = None


def converse(talk: Talk, first: str | None = None) -> Ending:
    """The whole conversation, or the rest of one taken up again. `first`: the reply to the first question,
    if asked.

    Raises EndOfInput or Interrupted from the console.
    """
    try:
        if not talk.answers and not talk.kept.trail:
            introduce(talk, first)
        move = Move()
        while move.ending is None:
            move = _next_move(talk, move.to or settle_contradiction(talk))
        return move.ending
    except Stopped:
        talk.say(where_kept(talk))
        return "stopped"


def where_kept(talk: Talk) -> str:
    """How to take it up again, in one line."""
    if not talk.answers and not talk.kept.opening:
        return "Nothing was said yet, so nothing is kept."
    if talk.keeper.name and talk.keeper.safe:
        return f'All you said is kept as "{talk.keeper.name}". beforepour resume {talk.keeper.name} goes on from here.'
    return "Nothing of this is kept." if talk.pace == "counter" else "Not all of this is on disk."


def _next_move(talk: Talk, wanted: str | None) -> Move:
    question = (
        talk.adviser.question(wanted)
        if wanted
        else talk.adviser.next_question(talk.answers, talk.pace, len(talk.kept.trail))
    )
    if question is None:
        return _conclude(talk)
    if wanted is None and question.id not in talk.answers:  # nothing stale is left: the change is through
        tell_difference(talk)
    return _ask(talk, question.id)


# ------------------------------------------------------------------ one question


def _ask(talk: Talk, id: str) -> Move:
    asked = word(talk, id)
    _tell_turn(talk, asked.question.part)
    again = whole = False
    while True:
        typed = talk.console.ask(replace(make_prompt(talk, asked, whole=whole), again=again))
        reply = read(talk, typed, asked)
        if isinstance(reply, Unclear) and handed_over(talk, typed):
            again = False
        elif isinstance(reply, Unclear):
            talk.say(f"  {reply.says}", "warning")
            again = True
        elif isinstance(reply, Sentence):
            if _take_sentence(talk, reply):
                return Move()
            again = False
        elif isinstance(reply, Command):
            move = _wish(talk, reply, asked)
            if move is not None:
                return move
            again = reply.name in ("why", "ask", "help")
            whole = reply.name == "list"
        else:
            _take(talk, id, reply.value, typed, reply.said, reply.leftover)
            return Move()


def _tell_turn(talk: Talk, part: str) -> None:
    """Say so where the questions turn from one part to the next."""
    before = talk.adviser.question(talk.kept.trail[-1]).part if talk.kept.trail else "piece"
    if part != before and part in TURNS and part not in talk.turned:
        talk.turned.add(part)
        talk.say("")
        talk.say(TURNS[part])


def _take(talk: Talk, id: str, value: object, typed: str, said: str = "", leftover: tuple[str, ...] = ()) -> None:
    """Note one answer, say what follows from it, and mark what has to be asked again."""
    if said:
        talk.say(f"  {said}", "answer")
    if leftover:
        talk.say(f'  Not understood, and left out: "{" ".join(leftover)}".', "quiet")
    before = talk.answers
    after = before.say(id, value, "trial" if talk.adviser.question(id).part == "trials" else "said", typed)
    old = before.get(id)
    if old is not None and old.value != value:
        after = talk.adviser.make_stale(before, after)
    trail = (*(q for q in talk.kept.trail if q != id), id)
    talk.set_answers(after, trail)
    line = talk.adviser.acknowledge(before, after)
    if line:
        talk.say(f"  {line}", "answer")
    tell_stale(talk, before, after)


def _take_sentence(talk: Talk, sentence: Sentence) -> bool:
    """A reply that says more than was asked: said back, and taken if it was meant so."""
    talk.say(f"  {sentence.said_back}")
    if talk.confirm("Is that right?") is not True:
        talk.say("  Then the question again.", "quiet")
        return False
    for id, value in sentence.proposed.items():
        if id == sentence.asked or not talk.answers.has(id):
            _take(talk, id, value, "")
    return True


# ------------------------------------------------------------------ wishes


def _wish(talk: Talk, command: Command, asked: Asked | None) -> Move | None:
    """Do what was wished. None: the question stays. `asked`: the question it was said at, if at one."""
    match command.name:
        case "stop":
            raise Stopped
        case "next" if talk.pace == "counter":
            return Move(ending="next")
        case "back":
            return _back(talk)
        case "change":
            return _change(talk, command.rest)
        case "why" if asked:
            talk.say(f"  {asked.why}", "quiet")
        case "help" if asked:
            talk.say_all(help_lines(asked), "quiet")
        case "ask":
            talk.explain(command.rest, asked, "end")
        case "show me":
            show(talk, command.rest)
        case "same as":
            talk.say("  That can be said at the beginning only: stop, and start anew.", "quiet")
        case _:
            pass
    return None


def _back(talk: Talk) -> Move:
    """To the question before, with its answer offered. What was said since stays."""
    if talk.before_change is not None:
        talk.before_change = None
        talk.say("  Left as it was.", "quiet")
        return Move()
    *rest, last = talk.kept.trail or (None,)
    if last is not None:
        talk.set_answers(talk.answers.make_stale(last), tuple(rest))
        return Move(last)
    introduce(talk)
    return Move()


def _change(talk: Talk, rest: str) -> Move:
    id = choose_answer(talk, "Which answer shall be changed?", rest)
    if id is not None:
        talk.before_change = talk.plan()
    return Move(id)


def show(talk: Talk, rest: str = "") -> None:
    """The plan so far in a few lines, or the whole brief."""
    if rest:
        talk.say(talk.brief(full=True))
    else:
        talk.say_all(so_far(talk.plan(), talk.adviser, talk.answers))


# ------------------------------------------------------------------ the end


def _conclude(talk: Talk) -> Move:
    """The brief, unless a change left it as it was, and then whatever the person still wants to know."""
    changed = tell_difference(talk) if talk.before_change is not None else not talk.kept.done
    if changed or not talk.kept.done:
        talk.say("")
        talk.say(talk.brief())
    talk.save(replace(talk.kept, done=True))
    if talk.keeper.name and talk.keeper.safe:
        talk.say(f'Kept as "{talk.keeper.name}". beforepour brief {talk.keeper.name} shows it again.', "quiet")
    return _afterwards(talk)


def _afterwards(talk: Talk) -> Move:
    counter = talk.pace == "counter"
    text = "Anything the customer wants to know?" if counter else "Anything to change, or to ask about it?"
    hint = f"Enter: {'the next customer' if counter else 'finish'}. Or: change, back, why not brush?, show me, stop."
    if talk.pace == "quick":
        hint += " numbers: amounts, room and time."
    words = (*WORDS, "numbers") if talk.pace == "quick" else WORDS
    prompt = Prompt(text, hint=hint, words=words, status=hint, check=_only_wishes)
    while True:
        typed = talk.console.ask(prompt)
        command = read_command(typed)
        if typed.strip() and command is None and handed_over(talk, typed):
            continue
        if not typed.strip() or command is None or command.name in ("stop", "next"):
            onward = counter and (command is None or command.name == "next")
            return Move(ending="next" if onward else "done")
        if command.name == "numbers":
            talk.pace = "full"
            talk.save(replace(talk.kept, pace="full", done=False))
            return Move()
        move = _late_wish(talk, command)
        if move is not None:
            return move
        prompt = replace(prompt, again=True)


def _late_wish(talk: Talk, command: Command) -> Move | None:
    if command.name in ("why", "help"):
        talk.say_all((f"  {line.name}: {' '.join(line.why)}" for line in talk.plan().zone_lines), "quiet")
        return None
    if command.name in ("back", "change", "ask", "show me"):
        if command.name == "back" and talk.kept.trail:
            talk.before_change = talk.plan()
            return Move(talk.kept.trail[-1])
        return _wish(talk, command, None)
    talk.say("  That says nothing here. Press Enter to finish.", "quiet")
    return None


def _only_wishes(text: str) -> str | None:
    if not text.strip() or read_command(text) or is_trouble(text):
        return None
    return "Press Enter to finish, or type change, or a question such as why not brush?"
