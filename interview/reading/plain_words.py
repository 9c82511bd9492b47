"""The plain words that work at any question, as they are shown and offered. `commands` reads them."""

from __future__ import annotations

WORDS: tuple[str, ...] = ("back", "why", "not sure", "change", "show me", "help", "stop")
YES = (
    "yes",
    "y",
    "yep",
    "yeah",
    "yup",
    "right",
    "correct",
    "ok",
    "okay",
    "that is right",
    "thats right",
    "sure",
)
NO = (
    "no",
    "n",
    "nope",
    "nah",
    "wrong",
    "change",
    "change something",
    "no change something",
    "not right",
    "not quite",
)
