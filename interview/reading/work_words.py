"""What a line typed beside the work does: it is done, it is left out, it waits, something is told or asked."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from interview.reading.past_times import read_past

Does = Literal["done", "skip", "wait", "stop", "back", "show", "next", "say"]

_WISHES: dict[Does, str] = {
    "stop": r"stop|quit|exit|bye|goodbye|thats (?:all|it|enough)(?: for (?:now|today|tonight))?|enough|later|see you.*|good ?night",
    "back": r"back|undo|go back|take (?:that|it) back|i did ?nt|not done(?: yet)?|no i did ?nt.*|oops.*",
    "show": r"show(?: me)?|list|all(?: steps)?|what (?:did|have) i (?:do|done).*|what is done|so far|the rest|what ?i?s left",
    "skip": r"skip|leave (?:it|this|that) out|pass|without (?:it|this)|next one|i(?:ll| will) (?:skip|leave).*",
    "wait": r"wait|waiting|(?:ok )?ill wait|i wait|not yet|still (?:drying|waiting|wet)|i(?:ll| will) be back.*",
    "next": r"next|what ?i?s next|what next|what now|now what|go on|continue",
}
_WORDS = tuple((does, re.compile(f"(?:{pattern})")) for does, pattern in _WISHES.items())
_DONE = frozenset(
    ("done", "did", "finished", "poured", "sprayed", "brushed", "mixed", "complete", "completed", "glued", "weighed")
)
_FIRST_WORDS = 6  # "coat two is done at six"
_NO = re.compile(r"\b(?:not|nt|never|havent|didnt|isnt|cant|wont)\b")


@dataclass(frozen=True, slots=True)
class WorkLine:
    """`at`: when it was done, None where the line names no time."""

    does: Does
    at: datetime | None = None


def read_work(text: str, now: datetime) -> WorkLine:
    """Read one line. What is neither a wish about the work nor "done" is something said: a result, a fact, a question."""
    plain = " ".join(re.sub(r"[^\w: ]", "", text.casefold()).split())
    if text.strip().endswith("?") and plain not in ("next", "what next", "whats next", "what now"):
        return WorkLine("say")
    for does, pattern in _WORDS:
        if pattern.fullmatch(plain):
            return WorkLine(does)
    if _DONE & set(plain.split()[:_FIRST_WORDS]) and not _NO.search(plain) and len(plain.split()) <= 9:
        return WorkLine("done", read_past(text, now))
    if plain in ("yes", "y", "yep", "yeah", "ok", "okay", "check", "tick", "x"):
        return WorkLine("done")
    return WorkLine("say")
