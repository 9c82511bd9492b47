"""What is known of this piece: an immutable mapping from question id to answer, each with its origin.

Five states, kept apart: not there (not asked, or the question does not apply), said, assumed ("not sure"), read off a
label or shown by a trial, and stale (an earlier answer changed, so ask again with this as the offered reply).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal

Origin = Literal["said", "trial", "label", "assumed", "stale"]


class NotSure:
    """The answer "not sure". One object, equal to itself, written as the word."""

    __slots__ = ()

    def __repr__(self) -> str:
        return "not sure"


NOT_SURE = NotSure()


@dataclass(frozen=True, slots=True)
class Answer:
    """A value with where it came from. `words`: what the person typed. `doubt`: said with "I think" or the like.

    Values: str for one choice, frozenset of str for several, float for measures in the question's unit,
    int for counts, dict for a size ({"shape": "rectangle", "width": 300.0, "height": 400.0} in mm),
    str for text, ratios as (a, b, "volume" or "weight"), NOT_SURE.
    """

    value: Any
    origin: Origin = "said"
    words: str = ""
    doubt: bool = False

    @property
    def unsure(self) -> bool:
        return self.value is NOT_SURE


@dataclass(frozen=True, slots=True)
class Answers(Mapping[str, Answer]):
    """Immutable. Every change gives a new object; the order of saying is kept."""

    entries: tuple[tuple[str, Answer], ...] = ()

    def __getitem__(self, question: str) -> Answer:
        for name, answer in self.entries:
            if name == question:
                return answer
        raise KeyError(question)

    def __iter__(self) -> Iterator[str]:
        return (name for name, _ in self.entries)

    def __len__(self) -> int:
        return len(self.entries)

    def value(self, question: str) -> Any:
        """The value, or None where there is none, it is stale, or it is NOT_SURE."""
        answer = self.get(question)
        if answer is None or answer.origin == "stale" or answer.unsure:
            return None
        return answer.value

    def has(self, question: str) -> bool:
        """Whether the question needs no asking: answered (also with "not sure") and not stale."""
        answer = self.get(question)
        return answer is not None and answer.origin != "stale"

    def say(
        self, question: str, value: Any, origin: Origin = "said", words: str = "", *, doubt: bool = False
    ) -> Answers:
        """Add or replace an answer. "Not sure" is always of origin assumed."""
        new = Answer(value, "assumed" if value is NOT_SURE else origin, words, doubt)
        kept = tuple((n, new if n == question else a) for n, a in self.entries)
        return Answers(kept if question in self else (*self.entries, (question, new)))

    def withdraw(self, question: str) -> Answers:
        return Answers(tuple((n, a) for n, a in self.entries if n != question))

    def make_stale(self, question: str) -> Answers:
        return Answers(tuple((n, replace(a, origin="stale") if n == question else a) for n, a in self.entries))
