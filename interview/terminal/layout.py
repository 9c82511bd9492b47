"""How text and questions lie on a screen of a given width. Shared by all consoles, so that all show the same."""

from __future__ import annotations

import os
import re
import unicodedata

from interview.text.harmless import harmless

TYPE_CHECKING = False  # so called by `typing`, which loads after the first question
if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from typing import TextIO

    from interview.terminal.prompt import Option, Prompt, Tone

LEAST_WIDTH = 16
MOST_WIDTH = 100  # longer lines are hard to read, however wide the window
_GAP = "   "
_LEAST_SHOWN, _ROWS_BESIDE = 4, 14  # what a question takes besides its list: text, hints, line, menu, foot
_MARKER = re.compile(r"^\s*(?:[-*•☐]|\[.?\]|\d+[.)]?)\s+")


def columns(text: str) -> int:
    """How many columns the text takes: wide letters two, combining marks none."""
    if text.isascii():
        return len(text)
    return sum(_letter_columns(letter) for letter in text)


def _letter_columns(letter: str) -> int:
    if unicodedata.combining(letter) or unicodedata.category(letter) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(letter) in "WF" else 1


def wrap(text: str, width: int) -> list[str]:
    """Lines no wider than `width`. Line breaks and indents stay; what follows a number or a dash hangs under it."""
    width = max(LEAST_WIDTH, width)
    return [line for paragraph in harmless(text).split("\n") for line in _wrap_paragraph(paragraph, width)]


def laid(text: str, tone: Tone, width: int) -> list[str]:
    """The lines to show: wrapped, or as they are where they are to be copied."""
    return harmless(text).split("\n") if tone == "verbatim" else wrap(text, width)


def _wrap_paragraph(paragraph: str, width: int) -> Iterator[str]:
    marker = _MARKER.match(paragraph)
    lead = len(marker[0]) if marker else len(paragraph) - len(paragraph.lstrip(" "))
    hang = " " * min(lead, width // 2)
    if columns(paragraph) <= width:
        yield paragraph.rstrip()
        return
    line = paragraph[:lead] if lead <= width // 2 else hang
    empty = True
    for word in paragraph[lead:].split():
        for piece in _break_word(word, width - len(hang)):
            if not empty and columns(line) + 1 + columns(piece) > width:
                yield line
                line, empty = hang, True
            line += piece if empty else f" {piece}"
            empty = False
    yield line.rstrip()


def _break_word(word: str, width: int) -> Iterator[str]:
    while columns(word) > width:
        taken = 0
        used = 0
        while taken < len(word) and used + _letter_columns(word[taken]) <= width:
            used += _letter_columns(word[taken])
            taken += 1
        taken = max(1, taken)
        yield word[:taken]
        word = word[taken:]
    yield word


def list_options(options: Sequence[Option], width: int, before: int = 0) -> list[str]:
    """The numbered list: on one line where it fits, in columns where it is long, else one to a line.

    `before`: how many options stand before these, so the number of the first less one.
    """
    width = max(LEAST_WIDTH, width)
    labels = [f"{n} {harmless(option.text, one_line=True)}" for n, option in enumerate(options, before + 1)]
    if sum(map(columns, labels)) + len(_GAP) * (len(labels) - 1) + 2 <= width:
        return ["  " + _GAP.join(labels)] if labels else []
    if len(options) > 9:
        labels = [f"{n:>2} {harmless(option.text, one_line=True)}" for n, option in enumerate(options, before + 1)]
        widest = max(map(columns, labels)) + len(_GAP)
        across = (width - 2 + len(_GAP)) // widest
        if across > 1:
            return _in_columns(labels, across, widest)
    return [line for label in labels for line in wrap(f"  {label}", width)]


def _in_columns(labels: Sequence[str], across: int, widest: int) -> list[str]:
    """Numbers run down each column, as in an index."""
    down = -(-len(labels) // across)
    rows = (labels[start::down] for start in range(down))
    return ["  " + "".join(label + " " * (widest - columns(label)) for label in row).rstrip() for row in rows]


def prompt_lines(prompt: Prompt, width: int) -> list[tuple[Tone, str]]:
    """Everything of a question that stands above the line one types into, after a blank line."""
    if prompt.again:
        return []
    lines: list[tuple[Tone, str]] = [("plain", ""), *(("heading", line) for line in wrap(prompt.text, width))]
    if prompt.short:
        return lines
    shown = _window(prompt)
    lines += [("plain", line) for line in list_options(shown, width, prompt.start)]
    if len(shown) < len(prompt.options):
        more = "  Something else? Say it in your own words. Or: more, not sure."
        lines += [("plain", line) for line in wrap(more, width)]
    hints = [option.hint for option in shown if option.hint]
    for hint in (*hints, prompt.hint):
        if hint:
            lines += [("quiet", line) for line in wrap(f"  {hint}", width)]
    return lines


def _window(prompt: Prompt) -> Sequence[Option]:
    return prompt.options[prompt.start :][: prompt.shown] if prompt.shown else prompt.options


def fewer_for(prompt: Prompt, width: int, rows: int) -> int:
    """How many options of a list that is cut anyway fit a low window together with the question."""
    room = max(_LEAST_SHOWN, rows - _ROWS_BESIDE)
    lines = len(list_options(_window(prompt), width))
    return prompt.shown if lines <= room else min(prompt.shown, room)


def window(stream: TextIO) -> tuple[int, int]:
    """Columns and rows of the window that the stream writes to."""
    try:
        columns_there, rows = os.get_terminal_size(stream.fileno())
    except (OSError, ValueError):
        columns_there = rows = 0
    return columns_there or 80, rows or 24


def usable_width(columns_there: int) -> int:
    """The width to write to on a screen that has so many columns."""
    return max(LEAST_WIDTH, min(columns_there, MOST_WIDTH))
