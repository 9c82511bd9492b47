"""Which numbers of the sources list stand behind a statement.

The source that carries most of the plan (common practice, as a rule) bears no mark: everything unmarked
rests on it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from interview.brief.views import SourceView
from interview.plan.model import SourceLine
from interview.text.wording import listed, marked

_A_TITLE = 40  # letters two lines must share to be of one document


class Marks:
    """The sources of one plan, asked by what rests on them."""

    def __init__(self, sources: Sequence[SourceLine]) -> None:
        heaviest = max(sources, key=lambda s: len(s.backs), default=None)
        self._rest = heaviest if heaviest and len(heaviest.backs) * 2 >= sum(len(s.backs) for s in sources) else None
        self._sources = [s for s in sources if s is not self._rest]
        self._shown: set[int] = set()
        self._by_use: dict[str, list[int]] = {}
        for source in self._sources:
            for use in source.backs:
                self._by_use.setdefault(use, []).append(source.number)

    def of(self, *uses: str, also: Iterable[int] = ()) -> str:
        """ "[2, 5]", or nothing where only the unmarked source stands behind it."""
        unmarked = self._rest.number if self._rest else 0
        given = [n for n in also if n != unmarked]
        return self._marked([n for use in uses for n in self._by_use.get(use, [])] + given)

    def about(self, name: str) -> str:
        """The marks of what is known of a sealer or material: "drying time of NAME"."""
        return self._marked([n for use, ns in self._by_use.items() if use.endswith(f" of {name}") for n in ns])

    def _marked(self, numbers: list[int]) -> str:
        self._shown.update(numbers)
        return marked(numbers)

    @property
    def rest(self) -> str:
        """What everything without a mark rests on, as its line says it; empty if nothing carries most."""
        return self._rest.text if self._rest else ""

    def views(self) -> tuple[SourceView, ...]:
        """All sources with a number. Asked last: what rests on a number that has been given out is not
        told again.
        """
        texts = _the_same([(s.text, s.number in self._shown) for s in self._sources])
        return tuple(
            SourceView(
                s.number,
                text,
                s.short or text,
                "" if s.number in self._shown else listed(s.backs),
                s.number in self._shown,
            )
            for s, text in zip(self._sources, texts, strict=True)
        )


def _the_same(lines: Sequence[tuple[str, bool]]) -> list[str]:
    """A document named in the line before is not named again: "the same, 7.5.4". A line that is always shown
    does not lean on one that may be left out.
    """
    made = [text for text, _ in lines[:1]]
    for (before, was_shown), (text, shown) in pairwise(lines):
        shared = _beginning(before, text).rpartition(", ")[0]
        leans = len(shared) >= _A_TITLE and was_shown >= shown
        made.append(f"the same{text[len(shared) :]}" if leans else text)
    return made


def _beginning(one: str, other: str) -> str:
    """What both begin with."""
    for place, (a, b) in enumerate(zip(one, other, strict=False)):
        if a != b:
            return one[:place]
    return min(one, other, key=len)
