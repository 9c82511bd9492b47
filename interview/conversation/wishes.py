"""What the plain words do: back, why, change, show me, more, help, stop and their kin, at any prompt."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from interview.conversation.onward import onward
from interview.conversation.places import SHOWN, Place, asked_at
from interview.conversation.saying import ledger_lines, meanings, read_back
from interview.conversation.talk import Stopped, Talk
from interview.conversation.telling import help_lines, so_far

if TYPE_CHECKING:
    from interview.reading.commands import Command

_BUT = re.compile(r"\s*(?:,|;|\bbut\b)\s*(?:but\b)?\s*", re.IGNORECASE)


def wish(talk: Talk, place: Place, command: Command) -> Place:
    """Do what was wished, and give where the conversation then stands."""
    does = _WISHES.get(command.name)
    return does(talk, place, command.rest) if does else replace(place, again=False)


def _stop(talk: Talk, place: Place, rest: str) -> Place:  # noqa: ARG001
    if place.kind == "end":
        return Place("over", ending="done")
    raise Stopped


def _next(talk: Talk, place: Place, rest: str) -> Place:  # noqa: ARG001
    return Place("over", ending="next") if talk.pace == "counter" else replace(place, short=True)


def _back(talk: Talk, place: Place, rest: str) -> Place:  # noqa: ARG001
    """To the question before, its answer standing until another takes its place."""
    if place.kind in ("which", "guess"):
        return onward(talk)
    trail = talk.kept.trail
    if trail:
        talk.save(replace(talk.kept, trail=trail[:-1]))
        return Place("question", trail[-1], anew=True)
    if place.kind == "opening" or not talk.kept.opening:
        talk.say("  This is the beginning. Tell me about the piece.", "quiet")
        return Place("opening", short=True)
    talk.say("  This is where we began. Say what is different.", "quiet")
    read_back(talk)
    return Place("read_back")


def _change(talk: Talk, place: Place, rest: str) -> Place:
    from interview.conversation.naming import answer_named

    if not talk.answers:
        talk.say("  Nothing has been answered yet.", "quiet")
        return replace(place, short=True)
    named = answer_named(talk, rest) if rest else None
    if named is not None:
        return Place("question", named, anew=True)
    return Place("which", says="Which answer shall be changed?")


def _why(talk: Talk, place: Place, rest: str) -> Place:  # noqa: ARG001
    asked = asked_at(talk, place)
    if place.kind == "opening":
        talk.say("  What I understand from it I need not ask.", "quiet")
    elif asked is not None:
        talk.say(f"  {asked.why}", "quiet")
    elif place.kind == "read_back":
        talk.say("  So that nothing is taken wrongly. Say yes, or what is different.", "quiet")
    else:
        talk.say_all((f"  {line.name}: {' '.join(line.why)}" for line in talk.plan().zone_lines), "quiet")
    return replace(place, short=True, again=False)


def _help(talk: Talk, place: Place, rest: str) -> Place:  # noqa: ARG001
    talk.say_all(help_lines(asked_at(talk, place), place.kind, kept=talk.pace != "counter"), "quiet")
    return replace(place, short=True, again=False)


def _show(talk: Talk, place: Place, rest: str) -> Place:
    """The plan so far and what became of all that was said, or the whole brief."""
    if not talk.answers:
        talk.say("  There is no plan yet: tell me about the piece.", "quiet")
    elif rest:
        talk.say(talk.brief(full=True))
    else:
        talk.say_all(so_far(talk.plan(), talk.adviser, talk.answers))
        talk.say_all(ledger_lines(talk))
    return replace(place, short=True, again=False)


def _more(talk: Talk, place: Place, rest: str) -> Place:  # noqa: ARG001
    """At the end the whole brief; at a long list its next choices."""
    if place.kind == "end":
        return _show(talk, place, "all")
    asked = asked_at(talk, place)
    pages = -(-len(asked.choices) // SHOWN) if asked and asked.choices else 1
    return replace(place, page=(place.page + 1) % pages, again=False, short=False)


def _meanings(talk: Talk, place: Place, rest: str) -> Place:  # noqa: ARG001
    asked = asked_at(talk, place)
    lines = list(meanings(talk, place, asked)) if asked else []
    talk.say_all(lines or ["  There is nothing to choose from here: say it in your own words."], "quiet")
    return replace(place, short=True, again=False)


def _left(talk: Talk, place: Place, rest: str) -> Place:  # noqa: ARG001
    least, most = talk.adviser.questions_left(talk.answers, talk.pace, talk.asked_so_far)
    if not most:
        talk.say("  None: that was all.", "quiet")
    elif most == 1:
        talk.say("  One more question.", "quiet")
    else:
        talk.say(f"  {least} more." if least == most else f"  {least} to {most} more, as you answer.", "quiet")
    return replace(place, short=True, again=False)


def _numbers(talk: Talk, place: Place, rest: str) -> Place:  # noqa: ARG001
    if place.kind != "end" or talk.pace == "counter":
        talk.say("  That comes at the end.", "quiet")
        return replace(place, short=True)
    talk.pace = "exact"
    talk.save(replace(talk.kept, pace="exact", done=False))
    return Place("question", "have")


def _same_as(talk: Talk, place: Place, rest: str) -> Place:
    """Answers of an earlier piece, and what was said to differ. Trial results are asked for anew."""
    from interview.conversation.effects import take
    from interview.files.journal import NotKept
    from interview.reading.turn import Focus, read_turn

    if place.kind != "opening":
        talk.say("  That can be said at the beginning only: stop, and start anew.", "quiet")
        return replace(place, short=True)
    name, *different = _BUT.split(rest, maxsplit=1)
    if talk.earlier is None:
        talk.say("  No earlier pieces are kept here.", "warning")
        return replace(place, short=True)
    try:
        kept = talk.earlier(name)
    except NotKept as error:
        talk.say(f"  {error}", "warning")
        return replace(place, short=True)
    answers = talk.adviser.anew(kept.answers)
    if different:
        turn = read_turn(different[0], Focus("read_back", None, answers), talk.adviser.knowledge)
        answers = take(talk.adviser.knowledge, answers, turn).answers
    talk.say(f"The same as {kept.name}.")
    if kept.lost:
        talk.say(f"Its file is damaged: {kept.lost}.", "warning")
    talk.save(replace(talk.kept, answers=answers, opening=talk.kept.opening or f"the same as {rest}"))
    read_back(talk)
    return Place("read_back")


_WISHES: dict[str, Callable[[Talk, Place, str], Place]] = {
    "stop": _stop, "next": _next, "back": _back, "change": _change, "why": _why, "help": _help, "show me": _show,
    "list": _more, "meanings": _meanings, "left": _left, "numbers": _numbers, "same as": _same_as,
}  # fmt: skip
