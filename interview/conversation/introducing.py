"""The first stage: a sentence in the person's own words, said back, confirmed or mended. Or: the same as before."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from interview.conversation.adviser import opening_words
from interview.answers import Answers
from interview.conversation.commands import WORDS, Command, read_command
from interview.conversation.talk import Stopped, Talk
from interview.terminal.prompt import Prompt

if TYPE_CHECKING:
    from interview.conversation.opening import Understanding

_BUT = re.compile(r"\s*(?:,|;|\bbut\b)\s*(?:but\b)?\s*", re.IGNORECASE)
_LEAD_NO = re.compile(r"^(?:no|nope|not quite|wrong)\b[\s,.:;-]*(?:it'?s\b\s*)?", re.IGNORECASE)


def introduce(talk: Talk) -> None:
    """Until something is understood and confirmed, or the person would rather be asked step by step."""
    greeting, question, example = opening_words()
    offered = talk.kept.opening
    if not offered:
        talk.say(greeting)
    again = False
    while True:
        talk.console.meanwhile(talk.later.start)
        prompt = Prompt(question, hint=example, offered=offered, words=WORDS, status=" · ".join(WORDS), again=again)
        text = talk.console.ask(prompt)
        again = False
        command = read_command(text)
        if not text.strip() or (command and command.name == "not sure"):
            talk.say("Then step by step.")
            if talk.kept.opening:
                talk.save(replace(talk.kept, opening="", answers=Answers(), trail=()))
            return
        if command is not None and command.name != "same as":
            again = _wish(talk, command)
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
            "Or press Enter to be asked step by step. same as and a name begins from an earlier piece.",
            "quiet",
        )
    return command.name != "repeat"


def _agreed(talk: Talk, text: str, command: Command | None) -> bool:
    """Understand, say back, mend. False: ask the first question once more."""
    if command is not None:
        start = _from_earlier(talk, command.rest)
        if start is None:
            return False
        answers, text = start
    else:
        answers = Answers()
    opening = text
    while True:
        got = talk.adviser.understand(text) if text else None
        answers = _with(answers, got.proposed if got else {})
        if not answers:
            _name_the_rest(talk, got)
            talk.say("I understood nothing in that to go by, so I ask step by step.")
            talk.save(replace(talk.kept, opening=opening))
            return True
        talk.say("")
        talk.say(got.said_back if got and got.said_back and not command else talk.adviser.plan(answers).summary)
        _name_the_rest(talk, got)
        _follow(talk, answers)
        reply = talk.confirm("Is that right?")
        if reply is True:
            talk.save(replace(talk.kept, opening=opening, answers=answers, trail=()))
            return True
        if reply is False:
            talk.save(replace(talk.kept, opening=opening, answers=answers, trail=()))
            return _mend(talk)
        wish = read_command(reply)
        if wish is not None and wish.name == "back":
            return False
        if wish is not None:
            talk.say("  First say yes, no, or what is different.", "quiet")
            text = ""
        else:
            text = _LEAD_NO.sub("", reply)
            command = command or Command("same as")  # from here on the whole is said back, not the last sentence


def _with(answers: Answers, proposed: dict[str, Any]) -> Answers:
    for question, value in proposed.items():
        answers = answers.say(question, value)
    return answers


def _name_the_rest(talk: Talk, got: Understanding | None) -> None:
    if got and got.not_understood:
        words = ", ".join(f'"{words}"' for words in got.not_understood)
        talk.say(f"  Not understood, and left out: {words}.", "quiet")


def _follow(talk: Talk, answers: Answers) -> None:
    line = talk.adviser.acknowledge(Answers(), answers)
    if line:
        talk.say(f"  {line}", "answer")


def _mend(talk: Talk) -> bool:
    """Let the person pick what was wrong; that question is then asked first."""
    from interview.conversation.mending import choose_answer

    wrong = choose_answer(talk, "Which of these is wrong?")
    if wrong is not None:
        talk.set_answers(talk.answers.make_stale(wrong))
    return True


def _from_earlier(talk: Talk, rest: str) -> tuple[Answers, str] | None:
    """Answers of an earlier piece, and what was said to differ. Trial results are asked for anew."""
    from interview.conversation.journal import NotKept

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
