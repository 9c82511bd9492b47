"""The first stage: a sentence in the person's own words, said back, confirmed or mended. Or: the same as
before.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from interview.conversation.greeting import first_words
from interview.conversation.rescuing import handed_over
from interview.conversation.talk import Stopped, Talk
from interview.conversation.telling import said_so_far
from interview.plan.answers import Answers
from interview.reading.commands import Command, read_command
from interview.reading.fitting import keep_fitting

if TYPE_CHECKING:
    from interview.reading.opening import Understanding

_BUT = re.compile(r"\s*(?:,|;|\bbut\b)\s*(?:but\b)?\s*", re.IGNORECASE)
_AS = re.compile(r"^.*?\bas (?:the )?", re.IGNORECASE)
_CARRIER = re.compile(r"^(?:it is |it's )?(?:mounted |glued |stuck |all )?(?:on|onto|to)\b", re.IGNORECASE)
_LEAD_NO = re.compile(r"^(?:no|nope|not quite|wrong)\b[\s,.:;-]*(?:it'?s\b\s*)?", re.IGNORECASE)


def introduce(talk: Talk, first: str | None = None) -> None:
    """Until something is understood and confirmed, or the person would rather be asked step by step.

    `first`: the reply to the first question, where it has been asked already.
    """
    offered, again = talk.kept.opening, False
    while True:
        text = first if first is not None else first_words(talk, greet=False, offered=offered, again=again)
        first, again = None, False
        command = read_command(text)
        if not text.strip() or (command and command.name == "not sure"):
            talk.say("Then step by step.")
            if talk.kept.opening:
                talk.save(replace(talk.kept, opening="", answers=Answers(), trail=()))
            return
        if command is not None and command.name != "same as":
            again = _wish(talk, command)
            continue
        if command is None and handed_over(talk, text, opening=True):
            offered = ""
            continue
        if _agreed(talk, text, command):
            return
        offered = "" if command else text


def _wish(talk: Talk, command: Command) -> bool:
    """Answer a word that is no description. True: the question still stands on the screen."""
    if command.name == "stop":
        raise Stopped
    if command.name == "why":
        talk.say("  What I understand from it I need not ask. Press Enter to be asked step by step.", "quiet")
    elif command.name == "back":
        talk.say("  This is the first question.", "quiet")
    elif command.name in ("show me", "change", "ask", "numbers"):
        talk.say("  There is no plan yet. Describe the piece, or press Enter to be asked step by step.", "quiet")
    else:
        talk.say(
            "  Say what it is, what it is made on and with, what lies on it, and its size: as much as you like. "
            "Or press Enter to be asked step by step. To begin from an earlier piece: same as, and its name.",
            "quiet",
        )
    return command.name != "repeat"


def _agreed(talk: Talk, text: str, command: Command | None) -> bool:
    """Understand, say back, mend. False: ask the first question once more."""
    opening, answers = text, Answers()
    if command is not None:
        start = _from_earlier(talk, command.rest)
        if start is None:
            return False
        answers, text = start
    else:
        talk.save(replace(talk.kept, opening=opening))
    while True:
        taken = _take_in(talk, text, answers)
        if taken is None:
            return False
        whole = not answers and not (taken.got and taken.got.same_as)
        got, answers = taken.got, taken.answers
        if not answers:
            return _nothing_understood(talk, got)
        talk.say("")
        shown = got.said_back if got and whole else said_so_far(talk.adviser, answers)
        talk.say(shown)
        _remark(talk, got, answers, shown)
        reply = talk.confirm("Is that right?")
        if isinstance(reply, bool):
            talk.save(replace(talk.kept, opening=opening, answers=answers, trail=()))
            return reply or _mend(talk)
        wish = read_command(reply)
        if wish is not None and wish.name == "back":
            return False
        if wish is not None:
            talk.say("  First say yes, no, or what is different.", "quiet")
        text = "" if wish else _LEAD_NO.sub("", reply)


@dataclass(frozen=True, slots=True)
class _Taken:
    """The answers after a sentence, and what was understood of it."""

    answers: Answers
    got: Understanding | None


def _take_in(talk: Talk, text: str, answers: Answers) -> _Taken | None:
    """Add what a sentence says. None, told why, where there is nothing to coat or no such earlier piece."""
    got = _understand(talk, text, answers) if text else None
    if got and got.same_as and not answers:
        start = _from_earlier(talk, _AS.sub("", got.same_as))
        if start is None:
            return None
        answers = start[0]
    if got and not got.coatable:
        talk.say(f"  {got.said_back}", "warning")
        return None
    return _Taken(keep_fitting(_with(answers, got), talk.adviser.knowledge)[0], got)


def _understand(talk: Talk, text: str, answers: Answers) -> Understanding:
    """Read a description; "on MDF" said of a known piece is about what carries it, not about what it is."""
    piece, support = answers.value("piece"), answers.value("support") or frozenset()
    if isinstance(piece, str) and _CARRIER.match(text):
        names = " and ".join(talk.adviser.knowledge.materials[id].name for id in sorted(support))
        with_piece = talk.adviser.understand(f"{piece} of {names} {text}" if names else f"{piece} {text}")
        if with_piece.proposed.get("piece") == piece:
            return with_piece
    return talk.adviser.understand(text)


def _nothing_understood(talk: Talk, got: Understanding | None) -> bool:
    _remark(talk, got, Answers())
    if talk.answers:
        talk.say("  I understood nothing in that to go by.", "warning")
        return False
    talk.say("I understood nothing in that to go by, so I ask step by step.")
    return True


def _with(answers: Answers, got: Understanding | None) -> Answers:
    """Take what the sentence proposes, and take back what it denies."""
    if got is None:
        return answers
    for question, ids in got.denied.items():
        value = answers.value(question)
        left = value - ids if isinstance(value, frozenset) else value
        if value in ids or left == frozenset():
            answers = answers.withdraw(question)
        elif left != value:
            answers = answers.say(question, left)
    for question, value in got.proposed.items():
        answers = answers.say(question, value)
    return answers


def _remark(talk: Talk, got: Understanding | None, answers: Answers, shown: str = "") -> None:
    """Slips that were mended, words that were not understood and not named in what was `shown`, and what follows
    already.
    """
    if got:
        talk.narrowed.update({each.question: each.among for each in got.open if each.among})
        talk.say_all((f'  "{typed}" read as {meant}.' for typed, meant in got.corrected), "quiet")
        unknown = [*got.not_understood, *(thing for thing in got.things if thing not in shown)]
        if unknown:
            talk.say(
                f"  Not understood, and left out: {', '.join(f'{chr(34)}{w}{chr(34)}' for w in unknown)}.",
                "quiet",
            )
    line = talk.adviser.acknowledge(Answers(), answers) if answers else ""
    if line:
        talk.say(f"  {line}", "answer")


def _mend(talk: Talk) -> bool:
    """Let the person pick what was wrong; that question is then asked first."""
    from interview.conversation.corrections import choose_answer

    wrong = choose_answer(talk, "Which of these is wrong?")
    if wrong is not None:
        talk.set_answers(talk.answers.make_stale(wrong))
    return True


def _from_earlier(talk: Talk, rest: str) -> tuple[Answers, str] | None:
    """Answers of an earlier piece, and what was said to differ. Trial results are asked for anew."""
    from interview.files.journal import NotKept

    name, *different = _BUT.split(rest, maxsplit=1)
    if talk.earlier is None:
        talk.say("  No earlier pieces are kept here.", "warning")
        return None
    try:
        kept = talk.earlier(name)
    except NotKept as error:
        talk.say(f"  {error}", "warning")
        return None
    answers = kept.answers
    for id in kept.answers:
        if id not in talk.adviser.knowledge.questions:
            answers = answers.withdraw(id)
        elif talk.adviser.question(id).part == "trials":
            answers = answers.make_stale(id)
    talk.say(f"The same as {kept.name}.")
    return answers, different[0] if different else ""
