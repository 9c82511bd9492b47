"""The ledger: every line typed, and what became of each thing it said."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

from interview.files.kept import Kept, Said, Took
from interview.plan.answers import NOT_SURE

if TYPE_CHECKING:
    from knowledge.loading import Knowledge

Fate = Literal["used", "doubted", "narrowed", "contradicted", "asked again", "trouble", "not covered"]
TROUBLE = "rescue"  # where a line stands that was heard as something gone wrong
LET_STAND = "let stand "  # before the id of what cannot all be so and was left as it is
_CONTENT = frozenset(("noun", "state", "thing", "uncoated", "unknown", "number"))
# what a thing is said to be in, from or like is no part of the piece: "in the garden", "at a stall", "from my printer"
_BESIDE = (
    r"\b(?:(?:in|at|from|near|by|behind|under|inside|outside|for|to|of|off|into|onto|until|before|after|through|via) "
    r"(?:the|my|our|his|her|your|their|this|that|\w+'s)|(?:at|by|for|like|as|to|until|than|about|every|next|last)(?: an?)?)"
    r"(?: \w+)? {}\b"
)


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
        if said.at == TROUBLE:
            yield Entry(said.typed, "trouble")
        yield from (_entry(took, kept, knowledge) for took in said.took if took.value is not NOT_SURE and took.words)
        again = _answered_later(said, kept.said[number + 1 :])
        yield from (Entry(words, "asked again" if again else "not covered") for words in said.left)


def not_covered(kept: Kept, knowledge: Knowledge) -> tuple[str, ...]:
    """What was told and is treated nowhere, in the maker's words, each once."""
    told = {word for said in kept.said for took in said.took for word in took.words.casefold().split()}
    words = (e.words for e in entries(kept, knowledge) if e.fate == "not covered")
    return tuple(dict.fromkeys(w for w in words if w.casefold() not in told))


def let_stand(kept: Kept) -> frozenset[str]:
    """What cannot all be so and was left as it is."""
    return frozenset(said.at.removeprefix(LET_STAND) for said in kept.said if said.at.startswith(LET_STAND))


def worth_telling(typed: str, left: tuple[str, ...], knowledge: Knowledge) -> tuple[str, ...]:
    """Of what found no place, what could matter to the piece: no talk, and nothing that only stood beside it."""
    from interview.reading.sentence import read_sentence

    found = []
    for words in left:
        if words == typed.strip():
            items = read_sentence(words, knowledge).items
            keep = len(items) > 1 and any(item.role in _CONTENT for item in items)
        else:
            keep = re.search(_BESIDE.format(re.escape(words)), typed, re.IGNORECASE) is None
        found += [words] if keep else []
    return tuple(found)


def _answered_later(said: Said, later: tuple[Said, ...]) -> bool:
    """A whole reply that was not understood, to a question that was answered in other words since."""
    return said.left == (said.typed.strip(),) and any(
        other.at == said.at and any(took.question == said.at.removeprefix("narrow ") for took in other.took)
        for other in later
    )


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
