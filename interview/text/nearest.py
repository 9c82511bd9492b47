"""Asking whether the known word nearest to what was typed is meant."""

from __future__ import annotations

from collections.abc import Iterable

from knowledge.nearest import nearest


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """' Did you mean "tissue"?' or ""."""
    near = nearest(word, known)
    return f' Did you mean "{near}"?' if near else ""
