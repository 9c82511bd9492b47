"""The known word nearest to one that is not known."""

from __future__ import annotations

from collections.abc import Iterable


def nearest(word: str, known: Iterable[str]) -> str:
    """The nearest known word, or "" where none is near."""
    from rapidfuzz import fuzz, process

    found = process.extractOne(word[:100], list(known), scorer=fuzz.ratio, score_cutoff=60)
    return found[0] if found else ""


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """' Did you mean "tissue"?' or ""."""
    near = nearest(word, known)
    return f' Did you mean "{near}"?' if near else ""
