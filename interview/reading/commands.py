"""The plain words one can say at any question: back, why, not sure, change, show me, help, stop and their kin."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from typing import Literal

from knowledge.word_files import read_words

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
    "meanings",
    "left",
]

_NAMES: tuple[CommandName, ...] = (
    "back", "why", "not sure", "change", "show me", "help", "stop", "repeat", "list", "numbers", "next",
    "meanings", "left",
)  # fmt: skip


@cache
def _sayings() -> dict[str, CommandName]:
    """What people say -> the command, from speech.toml."""
    listed = read_words("speech")
    phrases = ((name, listed[f"say_{name.replace(' ', '_')}"].split(",")) for name in _NAMES)
    return {" ".join(saying.split()): name for name, sayings in phrases for saying in sayings}


_CHANGE = re.compile(r"^(?:change|edit|correct|mend|fix) (?!me\b)(?:the |my )?((?:(?! to | into ).)+)$")
_BACK = re.compile(
    r"^(?:(?:can|could) (?:i|we) )?(?:(?:go|take me|step|jump|get|bring me) back"
    r"(?: one| once| a step| one step| a question)?|back(?= to ))"
    r"(?: to (?:the |my )?(?:question (?:about|of) )?(?:the )?(.+?))?(?: please| now| again)*$"
)
_SHOW = re.compile(r"^show (?:me )?(?:the )?(all|everything|whole (?:plan|brief|thing)|brief|full (?:plan|brief))$")
_STOP = re.compile(
    r"^(?:save (?:it|this|that|all|everything)?(?: and| then)* ?)?(?:stop|quit|exit|leave|close|pause)"
    r"(?: (?:here|now|it|this|there|please|for (?:now|today|tonight|the moment)))*$|"
    r"^save (?:it|this|that|everything|all)(?: for (?:now|later))?$"
)
_SHOW_ME = re.compile(
    r"^(?:show|tell|give|print|read) (?:me )?(?:back )?"
    r"(?:what (?:i|you|we)(?:ve)?\b|my answers|everything|the (?:plan|brief|list|steps|answers|summary|notes)|it again|all that).{0,30}$"
)
_PRINT = re.compile(
    r"^print (?:it|that|this|them|everything|(?:the|my) (?:plan|brief|list|steps|answers))"
    r"(?: (?:off|out|again|for me|please))*$"
)
_AFRESH = re.compile(
    r"^(?:start|begin|do) (?:it |this |that |all |everything )?(?:all )?(?:over|again|afresh|anew|from (?:scratch|the start|zero|nothing))"
    r"(?: (?:again|please|from (?:scratch|the (?:start|beginning|top))))*$"
)
_FORMS: tuple[tuple[CommandName, re.Pattern[str]], ...] = (
    ("stop", _STOP), ("change", _AFRESH), ("show me", _SHOW_ME), ("show me", _PRINT),
)  # fmt: skip
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
    if plain in _sayings():
        return Command(_sayings()[plain])
    if found := _BACK.match(plain):
        return Command("change", found[1]) if found[1] else Command("back")
    if found := _SHOW.match(plain):
        return Command("show me", found[1])
    for name, pattern in _FORMS:
        if pattern.match(plain):
            return Command(name)
    if found := _SAME.match(line.rstrip(" .!")):
        return Command("same as", found[1])
    if found := _CHANGE.match(plain):
        return Command("change", found[1])
    if plain.startswith(("why ", "what if ")) or (line.endswith("?") and _ASKING.match(line)):
        return Command("ask", line)
    return None


def _plain(text: str) -> str:
    """Lower case, no apostrophes, no marks at the ends, single blanks."""
    folded = text.casefold().replace("’", "").replace("'", "").replace("/", "", 1 if text.startswith("/") else 0)
    return " ".join(folded.split()).strip(" .,!?:;-")
