"""The quiet line at the foot: how what is typed would be read, or else where we are and how to go back."""

from __future__ import annotations

from interview.terminal.layout import columns
from interview.terminal.prompt import Prompt
from interview.text.harmless import harmless


def foot_line(prompt: Prompt, typed: str, width: int) -> str:
    """One line, cut to the width."""
    reading = prompt.reads(typed) if prompt.reads and typed.strip() else ""
    return shorten(reading or prompt.status, width - 1)


def shorten(text: str, width: int) -> str:
    """The text on one line, cut with dots where it is too long."""
    text = harmless(text, one_line=True)
    if columns(text) <= width:
        return text
    while text and columns(text) > width - 1:
        text = text[:-1]
    return text.rstrip() + "…" if width > 0 else ""
