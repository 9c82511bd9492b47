"""Taking answers back: picking one to change, telling what became stale, settling what cannot all be so."""

from __future__ import annotations

from typing import TYPE_CHECKING

from interview.conversation.talk import Stopped, Talk
from interview.conversation.telling import answer_line, value_words
from interview.plan.answers import Answers
from interview.reading.commands import read_command
from interview.reading.matching_choices import Unclear, pick
from interview.reading.menu import plain_tokens
from interview.terminal.prompt import Option, Prompt
from knowledge.shape import Choice

if TYPE_CHECKING:
    from knowledge.shape import Contradiction

LEAVE = "leave"


def choose_answer(talk: Talk, text: str, rest: str = "") -> str | None:
    """The id of the answer to change, or None to leave all as it is. `rest`: how the person named it
    already.
    """
    choices = tuple(_choice(talk, id) for id in talk.answers if id in talk.adviser.knowledge.questions)
    if not choices:
        talk.say("  Nothing has been answered yet.", "quiet")
        return None
    if rest:
        named = _named(talk, rest, choices)
        if isinstance(named, str):
            return named
    return _pick_from_list(talk, text, choices)


def _pick_from_list(talk: Talk, text: str, choices: tuple[Choice, ...]) -> str | None:
    options = tuple(Option(c.id, answer_line(c.id, talk.adviser, talk.answers), c.also, word=c.text) for c in choices)

    def check(typed: str) -> str | None:
        if not typed.strip() or read_command(typed):
            return None
        named = _named(talk, typed, choices)
        return named.says if isinstance(named, Unclear) else None

    hint = "Press Enter to leave all as it is."
    typed = talk.console.ask(Prompt(text, options, hint=hint, words=("back", "stop"), check=check))
    command = read_command(typed)
    if command is not None and command.name == "stop":
        raise Stopped
    if command is not None or not typed.strip():
        return None
    named = _named(talk, typed, choices)
    return named if isinstance(named, str) else None


def _choice(talk: Talk, id: str) -> Choice:
    return Choice(id, talk.adviser.question(id).short, (id.replace("_", " "),))


def _named(talk: Talk, typed: str, choices: tuple[Choice, ...]) -> str | Unclear:
    """The answer that is meant: by its number, its question's words, or a word of the answer itself."""
    got = pick(typed, choices, several=False)
    if not isinstance(got, Unclear):
        return got.ids[0]
    words = set(plain_tokens(typed))
    saying = [c.id for c in choices if c.id in talk.answers and words <= set(plain_tokens(_said(talk, c.id)))]
    return saying[0] if words and len(saying) == 1 else got


def _said(talk: Talk, id: str) -> str:
    return value_words(talk.adviser.question(id), talk.answers[id].value, talk.adviser, talk.answers)


def tell_stale(talk: Talk, before: Answers, after: Answers) -> None:
    """Name the answers that have to be given again."""
    stale = [q for q in after if after[q].origin == "stale" and before.has(q)]
    again = [talk.adviser.question(q).short for q in stale if talk.adviser.applies(q, after)]
    gone = [talk.adviser.question(q).short for q in stale if not talk.adviser.applies(q, after)]
    if again:
        talk.say(f"  That hung on it, so I ask again: {', '.join(again)}. Your old answer is offered.", "quiet")
    if gone:
        talk.say(f"  That no longer matters: {', '.join(gone)}.", "quiet")


def tell_difference(talk: Talk) -> bool:
    """Say what a change did to the plan. False where it did nothing."""
    before, talk.before_change = talk.before_change, None
    if before is None:
        return False
    lines = talk.adviser.changes(before, talk.plan())
    talk.say("What that changes:" if lines else "The plan stays as it was.", "heading" if lines else "plain")
    talk.say_all(f"  {line}" for line in lines)
    return bool(lines)


def settle_contradiction(talk: Talk) -> str | None:
    """Where answers cannot all be so, say it at once. The id of the question to ask again, or None."""
    for row in talk.adviser.contradictions(talk.answers):
        if row.id not in talk.accepted:
            return _which_to_mend(talk, row)
    return None


def _which_to_mend(talk: Talk, row: Contradiction) -> str | None:
    ids = [id for id in row.questions if talk.answers.has(id)]
    choices = (
        *(_choice(talk, id) for id in ids),
        Choice(LEAVE, "both are right", ("leave", "leave it", "keep", "keep it")),
    )
    options = [
        Option(c.id, f"change {answer_line(c.id, talk.adviser, talk.answers)}", word=c.text) for c in choices[:-1]
    ]
    options.append(Option(LEAVE, "both are right, leave it", choices[-1].also, word="leave it"))

    def check(typed: str) -> str | None:
        command = read_command(typed)
        if command is not None and command.name in ("stop", "change"):
            return None
        named = _named(talk, typed, choices)
        return named.says if isinstance(named, Unclear) else None

    typed = talk.console.ask(
        Prompt(f"{row.says} Which is to be changed?", tuple(options), words=("stop",), check=check)
    )
    command = read_command(typed)
    if command is not None and command.name == "stop":
        raise Stopped
    chosen = _named(talk, command.rest or "1" if command else typed, choices)
    if isinstance(chosen, Unclear) or chosen == LEAVE:
        talk.accepted.add(row.id)
        return None
    return chosen
