"""The three reasons to seal, each by one sign and its word: drinks, loose, air."""

from __future__ import annotations

from interview.drawing.mark import Box, Mark, text_width, words
from interview.drawing.svg import group, tag

WORDS = {"absorption": "drinks", "loose matter": "loose", "trapped air": "air"}


def reason_mark(layer: str, reason: str, x: float, y: float, size: float, *, sure: bool) -> tuple[list[Mark], float]:
    """The sign and its word, letters standing on y; with the place where it ends."""
    low = y - 9
    if reason == "absorption":
        shape = tag("path", d=f"M{x + 4:.1f} {low:.1f}q-6 8 0 9q6-1 0-9z", class_="reason")
    elif reason == "loose matter":
        places = ((1.5, 7.5), (5, 2.5), (8, 6.5), (4.5, 6))
        shape = group(*(tag("circle", cx=x + dx, cy=low + dy, r=1.1, class_="dot") for dx, dy in places))
    else:
        places3 = ((2.5, 6.5, 2.2), (6.5, 2.5, 2.2), (8, 7.5, 1.4))
        shape = group(*(tag("circle", cx=x + dx, cy=low + dy, r=r, class_="reason") for dx, dy, r in places3))
    text = WORDS[reason] + ("" if sure else " (better)")
    return (
        [Mark(layer, Box(x, low, 10, 10), shape), words(layer, x + 13, y, text, size)],
        x + 13 + text_width(text, size),
    )
