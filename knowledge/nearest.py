"""The known word nearest to one that is not known."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any


def nearest(word: str, known: Iterable[Any]) -> str:
    """The nearest known word, or "" where none is near."""
    from rapidfuzz import fuzz, process

    found = process.extractOne(word[:100], [str(name) for name in known], scorer=fuzz.ratio, score_cutoff=60)
    return found[0] if found else ""


def meant(word: str, known: Iterable[Any]) -> str:
    """ "; did you mean 'tissue'?" or nothing: the end of a fault's line."""
    near = nearest(word, known)
    return f"; did you mean '{near}'?" if near else ""
