"""What a console is asked to do. A console shows text and takes a line; it knows nothing of the trade."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, Protocol

Tone = Literal["plain", "heading", "quiet", "warning", "answer", "verbatim"]
LONGEST_LINE = 4000  # characters taken from one line; nobody types more about one question
TOO_LONG = f"  That is longer than {LONGEST_LINE} characters. Only the first {LONGEST_LINE} are read."


class EndOfInput(Exception):
    """Ctrl-D, a closed pipe or a closed window: nothing more will be typed."""


class Interrupted(Exception):
    """Ctrl-C: the person wants out, now."""


@dataclass(frozen=True, slots=True)
class Option:
    """One line of a numbered list. `word`: what completion types for it. `also`: other words it is found by."""

    id: str
    text: str
    also: tuple[str, ...] = ()
    hint: str = ""
    word: str = ""


@dataclass(frozen=True, slots=True)
class Prompt:
    """One question as the console sees it.

    `check` gives the line to show where the text will not do, or None; a console asks on until it passes.
    `reads` says in a few words how the text so far would be understood, or "".
    `status`: the quiet line at the foot. `offered`: text put into the line to accept or change.
    `words`: the plain words understood besides the options: back, why, not sure ...
    `again`: the question still stands above; show only the line to type into. `short`: only the question's text.
    `shown`: how many options of a long list to show, from `start` on; the others are found by typing. 0: all.
    `live`: the status anew each second, and whether to ring the bell now; a console without a foot line passes over it.
    """

    text: str
    options: tuple[Option, ...] = ()
    several: bool = False
    hint: str = ""
    status: str = ""
    offered: str = ""
    words: tuple[str, ...] = ()
    check: Callable[[str], str | None] | None = None
    reads: Callable[[str], str] | None = None
    again: bool = False
    short: bool = False
    shown: int = 0
    start: int = 0
    live: Callable[[], tuple[str, bool]] | None = None


class Console(Protocol):
    """prompt_toolkit, plain lines or a script: all show the same content."""

    @property
    def width(self) -> int: ...

    def say(self, text: str, tone: Tone = "plain") -> None:
        """Show text, wrapped to the width; blank lines and indents are kept. "verbatim": as it is, to be copied."""
        ...

    def ask(self, prompt: Prompt) -> str:
        """One line as typed that passes the prompt's check. Raises EndOfInput or Interrupted."""
        ...

    def page(self, text: str) -> None:
        """Show a long text from its top, in a pager where there is one."""
        ...

    def fresh(self) -> None:
        """Somebody else sits here now: what was typed and shown before is gone."""
        ...

    def meanwhile(self, work: Callable[[], None]) -> None:
        """Start `work` once the next question stands on the screen."""
        ...
