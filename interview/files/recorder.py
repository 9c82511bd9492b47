"""Who writes down what is said: a journal begun with the first answer, or nobody (a clerk with a customer)."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from pathlib import Path

    from interview.files.journal import Journal
    from interview.files.kept import Kept


class Keeper(Protocol):
    """Keeps every state of the conversation."""

    @property
    def name(self) -> str:
        """Under which it can be taken up again; "" where it cannot."""
        ...

    @property
    def title(self) -> str:
        """The full name it was given."""
        ...

    @property
    def safe(self) -> bool: ...

    def keep(self, state: Kept, called: str = "") -> str:
        """Make the state last. `called`: a name for it where it has none yet. Gives a line to show, or ""."""
        ...

    def close(self) -> None: ...


class Nobody:
    """Keeps nothing, by intention."""

    name = title = ""
    safe = True

    def keep(self, state: Kept, called: str = "") -> str:  # noqa: ARG002
        return ""

    def close(self) -> None:
        pass


class OnDisk:
    """Begins a journal when there is something to keep, and tries again where the disk refused."""

    def __init__(
        self,
        folder: Callable[[], Path],
        name: str,
        knowledge: Callable[[], str],
        journal: Journal | None = None,
    ) -> None:
        """`name`: wished for by the person, or "" to make one of what the piece is."""
        self._folder = folder
        self._wanted = name
        self._knowledge = knowledge
        self._journal = journal
        self._told = False

    @property
    def name(self) -> str:
        return self._journal.path.stem if self._journal else ""

    @property
    def title(self) -> str:
        return self._journal.kept.name if self._journal else ""

    @property
    def safe(self) -> bool:
        return self._journal is not None and self._journal.safe

    def keep(self, state: Kept, called: str = "") -> str:
        if self._journal is None:
            trouble = self._begin(state, called)
            if trouble or self._journal is None:
                return trouble
        return self._journal.keep(state)

    def _begin(self, state: Kept, called: str) -> str:
        from interview.files.journal import begin, cannot_keep

        name = self._wanted or name_for(called or state.opening)
        try:
            self._journal = begin(self._folder(), name, state.pace, self._knowledge())
        except OSError as error:
            first, self._told = not self._told, True
            return cannot_keep(error) if first else ""
        return ""

    def close(self) -> None:
        if self._journal is not None:
            self._journal.close()


# words that say nothing of a piece
_SMALL = frozenset(re.findall(
    r"\S+",
    "a an the it its it's this that these i i've i'm my our we have has got is are was on in of with and some for to "
    "from by about bit little one same as not no piece work kind known",
))  # fmt: skip


def name_for(words: str) -> str:
    """A short name out of words about the piece: "collage-torn-tissue-paper"."""
    from interview.files.paths import file_name

    telling = [w for w in words.split() if w.strip(".,;:!?()").casefold() not in _SMALL and not w[0].isdigit()]
    return file_name(" ".join(telling[:4]) or "piece")
