"""Lines for a screen of fixed letters: wrapping, hanging indents, two columns. Widths in columns."""

from __future__ import annotations

import re
import unicodedata

_BLANKS = re.compile(r"[ \t\n]+")
NARROWEST, WIDEST = 24, 100  # below it nothing can be set; above it the eye loses the line


def columns(text: str) -> int:
    """How many columns a terminal needs for it: two for wide East Asian letters, none for combining marks."""
    if text.isascii():
        return len(text)
    return sum(_columns(letter) for letter in text)


def _columns(letter: str) -> int:
    if unicodedata.combining(letter) or unicodedata.category(letter) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(letter) in "WF" else 1


def wrapped(text: str, width: int, first: str = "", hang: str | None = None, *, tear: bool = True) -> list[str]:
    """The text in lines of at most `width` columns: the first begins with `first`, the others with `hang`.

    Words longer than a line are broken, or with `tear` off stick out. `hang`, if not given, is as many
    blanks as `first` is wide.
    """
    hang = " " * columns(first) if hang is None else hang
    lines: list[str] = []
    line, room = first, width - columns(first)
    empty = True
    for word in _BLANKS.split(text.strip(" ")):
        for piece in _pieces(word, width - max(columns(first), columns(hang))) if tear else [word]:
            need = columns(piece) + (0 if empty else 1)
            if need > room and not empty:
                lines.append(line)
                line, room, empty = hang, width - columns(hang), True
                need = columns(piece)
            line += piece if empty else f" {piece}"
            room -= need
            empty = False
    return [*lines, line.rstrip()]


def _pieces(word: str, width: int) -> list[str]:
    width = max(width, 2)
    if columns(word) <= width:
        return [word]
    made, piece, room = [], "", width
    for letter in word:
        need = _columns(letter)
        if need > room:
            made.append(piece)
            piece, room = "", width
        piece += letter
        room -= need
    return [*made, piece]


def two_columns(left: str, right: str, width: int, left_width: int, first: str = "") -> list[str]:
    """Left and right side by side, each wrapped in its own column."""
    lefts = wrapped(left, columns(first) + left_width, first)
    rights = wrapped(right, width - columns(first) - left_width - 2)
    indent = columns(first) + left_width + 2
    lines = []
    for n in range(max(len(lefts), len(rights))):
        one = lefts[n] if n < len(lefts) else ""
        other = rights[n] if n < len(rights) else ""
        lines.append((one + " " * (indent - columns(one)) + other).rstrip())
    return lines
