"""The ledger: every line typed, and what became of each thing it said."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

from interview.files.kept import Kept, Said, Took
from interview.plan.answers import NOT_SURE

if TYPE_CHECKING:
    from knowledge.loading import Knowledge

_SHORT = 4  # words of a reply that says no more than an answer to what was asked
Fate = Literal["used", "doubted", "narrowed", "contradicted", "not covered"]


@dataclass(frozen=True, slots=True)
class Entry:
    """`words` as typed; `question`: the answer that holds them, "" where none does; `value`: what they were read as."""

    words: str
    fate: Fate
    question: str = ""
    value: Any = None


def entries(kept: Kept, knowledge: Knowledge) -> Iterator[Entry]:
    """In the order of saying."""
    for number, said in enumerate(kept.said):
        yield from (_entry(took, kept, knowledge) for took in said.took if took.value is not NOT_SURE and took.words)
        if not _said_again(said, kept.said[number + 1 :]):
            yield from (Entry(words, "not covered") for words in said.left)


def not_covered(kept: Kept, knowledge: Knowledge) -> tuple[str, ...]:
    """What was told and is treated nowhere, in the maker's words, each once."""
    told = {word for said in kept.said for took in said.took for word in took.words.casefold().split()}
    words = (e.words for e in entries(kept, knowledge) if e.fate == "not covered")
    return tuple(dict.fromkeys(w for w in words if w.casefold() not in told))


def _said_again(said: Said, later: tuple[Said, ...]) -> bool:
    """A short reply that was not understood, and then given in other words at the same prompt."""
    then = next((other for other in later if other.took or other.left), None)
    return not said.took and len(said.typed.split()) <= _SHORT and then is not None and then.at == said.at


def _entry(took: Took, kept: Kept, knowledge: Knowledge) -> Entry:
    answer = kept.answers.get(took.question)
    fate: Fate = "used"
    if answer is None or not _holds(answer.value, took.value):
        inside = answer is not None and not answer.unsure and _within(answer.value, took.value, knowledge)
        fate = "narrowed" if inside else "contradicted"
    elif took.doubt:
        fate = "doubted"
    return Entry(took.words, fate, took.question, took.value)


def _holds(now: Any, then: Any) -> bool:
    return then <= now if isinstance(now, frozenset) and isinstance(then, frozenset) else bool(now == then)


def _within(now: Any, then: Any, knowledge: Knowledge) -> bool:
    """Whether what is known now is a kind of the class that was said then."""
    from interview.conversation.effects import members

    ids = now if isinstance(now, frozenset) else {now} if isinstance(now, str) else set()
    said = then if isinstance(then, frozenset) else {then} if isinstance(then, str) else set()
    return all(id in ids or members(knowledge, id) & ids for id in said) and bool(said)
