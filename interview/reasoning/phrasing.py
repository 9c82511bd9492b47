"""The words of a step, put together from those of the actions it consists of."""

from __future__ import annotations

from collections.abc import Sequence

from knowledge.loading import Knowledge


def worded(knowledge: Knowledge, how: str, does: Sequence[str], now: Sequence[str] | None = None) -> str:
    """`how` holds {id} for each of `does`; `now`: what is done in its place, "" where it is left out."""
    said: list[str] = []
    for action, instead in zip(does, does if now is None else now, strict=True):
        words = knowledge.actions[instead].how if instead else ""
        how = how.replace("{" + action + "}", "" if words in said else words)
        said.append(words)
    return " ".join(how.split())
