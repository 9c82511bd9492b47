"""Which numbers of the sources list stand behind a statement, asked by the id of the statement.

The source that carries most of the plan (common practice, as a rule) bears no mark: everything unmarked
rests on it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from interview.brief.views import SourceView
from interview.plan.model import SourceLine
from interview.text.wording import marked


class Marks:
    """The sources of one plan, asked by what rests on them: "caution:resin", "step:mix.mix", "row:glitter"."""

    def __init__(self, sources: Sequence[SourceLine]) -> None:
        heaviest = max(sources, key=lambda s: len(s.ids), default=None)
        self._rest = heaviest if heaviest and len(heaviest.ids) * 2 >= sum(len(s.ids) for s in sources) else None
        self._sources = [s for s in sources if s is not self._rest]
        self._shown: set[int] = set()
        self._by_use: dict[str, list[int]] = {}
        for source in self._sources:
            for use in source.ids:
                self._by_use.setdefault(use, []).append(source.number)

    def of(self, *uses: str, also: Iterable[int] = ()) -> str:
        """ "[2, 5]", or nothing where only the unmarked source stands behind it."""
        unmarked = self._rest.number if self._rest else 0
        numbers = [n for use in uses for n in self._by_use.get(use, [])] + [n for n in also if n != unmarked]
        self._shown.update(numbers)
        return marked(numbers)

    @property
    def rest(self) -> str:
        """What everything without a mark rests on, as its line says it; empty if nothing carries most."""
        return self._rest.text if self._rest else ""

    def views(self) -> tuple[SourceView, ...]:
        """Those whose number has been given out. Asked last."""
        return tuple(SourceView(s.number, s.short or s.text) for s in self._sources if s.number in self._shown)
