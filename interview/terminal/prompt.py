"""What a console is asked to do. A console shows text and takes a line; it knows nothing of the trade."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, Protocol

Tone = Literal["plain", "heading", "quiet", "warning", "answer"]


class EndOfInput(Exception):
    """Ctrl-D, a closed pipe or a closed window: nothing more will be typed."""


class Interrupted(Exception):
    """Ctrl-C: the person wants out, now."""


@dataclass(frozen=True, slots=True)
class Option:
    """One line of a numbered list. `also`: other words completion may offer."""

    id: str
    text: str
    also: tuple[str, ...] = ()
    hint: str = ""


@dataclass(frozen=True, slots=True)
class Prompt:
    """One question as the console sees it.

    `check` gives the line to show while or after typing where the text will not do, or None.
    `status`: the quiet line at the foot. `offered`: text put into the line to accept or change.
    """

    text: str
    options: tuple[Option, ...] = ()
    several: bool = False
    hint: str = ""
    status: str = ""
    offered: str = ""
    words: tuple[str, ...] = ()  # the plain words understood besides the options: back, why, not sure ...
    check: Callable[[str], str | None] | None = None


class Console(Protocol):
    """prompt_toolkit, plain lines or a script: all show the same content."""

    @property
    def width(self) -> int: ...

    def say(self, text: str, tone: Tone = "plain") -> None:
        """Show text, wrapped to the width; blank lines and indents are kept."""
        ...

    def ask(self, prompt: Prompt) -> str:
        """One line as typed. Raises EndOfInput or Interrupted."""
        ...
