"""A new list of tins, told one after the other."""

from __future__ import annotations

from interview.files.stock import OTHER
from interview.reading.measures import Unclear
from interview.reading.menu import one_named
from interview.terminal.prompt import Console, EndOfInput, Option, Prompt
from knowledge.loading import Knowledge
from knowledge.shape import Choice
from knowledge.topics import load_topics

_NAMES = {"resin": "the resin itself", "glue": "a glue"}


def ask_tins(console: Console, knowledge: Knowledge) -> str:
    """The list as CSV. Ends where the name of a tin is left empty, or the input ends: what was told is kept."""
    rows = ["name;class;pack;left;price"]
    choices = [Choice(id, s.plain, s.also) for id, s in knowledge.sealers.items() if not s.at_hand and id != "none"]
    choices += [Choice(id, _NAMES[id], ()) for id in OTHER]
    choices += [Choice(s.id, s.name, s.also) for s in load_topics().stand_ins.values()]
    try:
        while name := console.ask(Prompt("What do you call the tin?", hint="Enter when there is no other.")).strip():
            kind = _class(console, tuple(choices))
            pack = console.ask(Prompt("How much does a full one hold?", hint="Such as 250 mL; Enter for not known."))
            left = console.ask(Prompt("How much is left?", hint="Full, half, 30 %; Enter for full."))
            price = console.ask(Prompt("What did it cost?", hint="Such as 11.50; Enter for not known."))
            rows.append(";".join(cell.replace(";", ",").strip() for cell in (name, kind, pack, left, price)))
    except EndOfInput:
        pass
    return "\n".join(rows) + "\n"


def _class(console: Console, choices: tuple[Choice, ...]) -> str:
    options = tuple(Option(c.id, c.text, c.also, word=c.id) for c in choices)

    def check(typed: str) -> str | None:
        got = one_named(typed, choices)
        return got.says if isinstance(got, Unclear) else None

    got = one_named(console.ask(Prompt("What is in it?", options, check=check, shown=8)), choices)
    return choices[0].id if isinstance(got, Unclear) else got
