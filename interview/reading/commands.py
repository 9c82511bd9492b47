"""The plain words one can say at any question: back, why, not sure, change, show me, help, stop and their
kin.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

CommandName = Literal[
    "back",
    "why",
    "ask",
    "not sure",
    "change",
    "show me",
    "help",
    "stop",
    "same as",
    "repeat",
    "list",
    "numbers",
    "next",
]

_SAYINGS: dict[CommandName, tuple[str, ...]] = {
    "back": ("back", "go back", "step back", "previous", "previous question", "undo", "take that back", "one back"),
    "why": ("why", "why is that", "why do you ask", "why do you want to know", "what for", "how come"),
    "not sure": (
        "not sure", "im not sure", "i am not sure", "not sure yet", "not certain", "unsure", "uncertain",
        "dont know", "do not know", "i dont know", "i do not know", "dunno", "i dunno", "idk", "no idea",
        "i have no idea", "no clue", "cant tell", "cannot tell", "cant say", "cannot say", "i cant tell", "hard to say",
        "who knows", "skip", "skip it", "skip this", "pass", "unknown",
    ),
    "change": ("change", "change something", "change an answer", "edit", "correct", "mend", "change answers"),
    "show me": ("show me", "show", "show me the plan", "show plan", "the plan so far", "show me the plan so far"),
    "help": ("help", "help me", "commands", "what can i say", "what can i type", "how does this work"),
    "stop": ("stop", "stop here", "quit", "exit", "q", "bye", "goodbye", "leave", "end", "enough for today"),
    "repeat": ("repeat", "again", "say again", "say that again", "repeat the question", "pardon"),
    "list": ("list", "list all", "list them", "the list", "show the list", "show list", "more", "see all"),
    "numbers": ("numbers", "the numbers", "amounts"),
    "next": ("next", "next customer", "next one"),
}  # fmt: skip
_COMMANDS = {saying: name for name, sayings in _SAYINGS.items() for saying in sayings}
_CHANGE = re.compile(r"^(?:change|edit|correct|mend|fix) (?:the |my )?(.+)$")
_SHOW = re.compile(r"^show (?:me )?(?:the )?(all|everything|whole (?:plan|brief|thing)|brief|full (?:plan|brief))$")
_SAME = re.compile(r"^(?:(?:it'?s |it is )?the )?same as (?:the )?(.+)$", re.IGNORECASE)
_ASKING = re.compile(
    r"^(?:why|what|how|which|when|where|who|can|could|should|must|may|is|are|do|does|will|would)\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Command:
    """A wish about the conversation itself. `rest`: what it is about, as typed."""

    name: CommandName
    rest: str = ""


def read_command(text: str) -> Command | None:
    """The command the whole line is, or None where it is none."""
    line = text.strip()
    if line in ("?", "??"):
        return Command("help")
    plain = _plain(line)
    if plain in _COMMANDS:
        return Command(_COMMANDS[plain])
    if found := _SHOW.match(plain):
        return Command("show me", found[1])
    if found := _SAME.match(line.rstrip(" .!")):
        return Command("same as", found[1])
    if found := _CHANGE.match(plain):
        return Command("change", found[1])
    if plain.startswith(("why ", "what if ")) or (line.endswith("?") and _ASKING.match(line)):
        return Command("ask", line)
    return None


def says_unsure(text: str) -> bool:
    """Whether a longer line holds words of doubt: "torn, but I'm not sure"."""
    plain = f" {_plain(text)} "
    return any(f" {saying} " in plain for saying in _SAYINGS["not sure"] if " " in saying or saying == "unsure")


def _plain(text: str) -> str:
    """Lower case, no apostrophes, no marks at the ends, single blanks."""
    folded = text.casefold().replace("’", "").replace("'", "").replace("/", "", 1 if text.startswith("/") else 0)
    return " ".join(folded.split()).strip(" .,!?:;-")
