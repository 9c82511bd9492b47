"""Which numbers of the sources list stand behind a statement.

The source that carries most of the plan (common practice, as a rule) bears no mark: everything unmarked rests on it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from interview.brief.wording import listed, marked
from interview.brief.views import SourceView
from interview.plan import SourceLine


class Marks:
    """The sources of one plan, asked by what rests on them."""

    def __init__(self, sources: Sequence[SourceLine]) -> None:
        heaviest = max(sources, key=lambda s: len(s.backs), default=None)
        self._rest = (
            heaviest if heaviest and len(heaviest.backs) * 2 >= sum(len(s.backs) for s in sources) else None
        )
        self._sources = [s for s in sources if s is not self._rest]
        self._by_use: dict[str, list[int]] = {}
        for source in self._sources:
            for use in source.backs:
                self._by_use.setdefault(use, []).append(source.number)

    def of(self, *uses: str, also: Iterable[int] = ()) -> str:
        """ "[2, 5]", or nothing where only the unmarked source stands behind it."""
        unmarked = self._rest.number if self._rest else 0
        given = [n for n in also if n != unmarked]
        return marked([n for use in uses for n in self._by_use.get(use, [])] + given)

    @property
    def rest(self) -> str:
        """What everything without a mark rests on, as its line says it; empty if nothing carries most."""
        return self._rest.text if self._rest else ""

    def views(self) -> tuple[SourceView, ...]:
        """The sources that have a mark, with what rests on each."""
        return tuple(SourceView(s.number, s.text, listed(s.backs)) for s in self._sources)
