"""The opening sentence: a person's own words -> proposed answers, never guessed in silence."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from interview.reading.counting import read_count, read_joined
from interview.reading.leftovers import unknown_words
from interview.reading.matching import Item
from interview.reading.resolving import Open, Settled
from interview.reading.sentence import lexicon_of, read_sentence, speaks_of_the_job
from interview.reading.sizes import Lone, Measured
from interview.reading.slots import Draft
from knowledge.loading import Knowledge

__all__ = ["Understanding", "lexicon_of", "understand"]


@dataclass(frozen=True, slots=True)
class Understanding:
    """What a sentence says.

    proposed: question id -> value, in the forms of `interview.plan.answers`; only what is settled.
    not_understood: words that matter and are unknown, as typed.
    coatable: False for film, performance and the like.
    denied: question id -> ids that were said not to be there.
    open: questions that the sentence narrows but does not settle ("paper", "pva or paste").
    same_as: the words that point to an earlier piece, or "".
    corrected: (typed, read as) for each slip that was mended.
    things: everyday things that were named and of which nothing is known here.
    """

    proposed: dict[str, Any] = field(default_factory=dict)
    not_understood: tuple[str, ...] = ()
    coatable: bool = True
    denied: dict[str, frozenset[str]] = field(default_factory=dict)
    open: tuple[Open, ...] = ()
    same_as: str = ""
    corrected: tuple[tuple[str, str], ...] = ()
    things: tuple[str, ...] = ()


def understand(text: str, knowledge: Knowledge) -> Understanding:
    """Read one sentence or a few. Never raises; takes time in proportion to the length of the text."""
    read = read_sentence(text, knowledge)
    draft, settled, items, found, lexicon = read.draft, read.settled, read.items, read.found, read.lexicon
    corrected = tuple(dict.fromkeys((item.typed, item.meant) for item in items if item.meant))
    if not _coatable(draft, settled, items):
        return Understanding(coatable=False, denied=settled.denied, open=tuple(settled.open))
    _take_size(read.sizes, read.alone, settled)
    count = read_count(items, found, lexicon)
    if count is not None:
        settled.proposed["count"] = count
    joined = read_joined(items, found, lexicon)
    if joined is not None and settled.proposed.get("piece") == "jigsaw" and _in_reach(knowledge, joined):
        settled.proposed["pieces"] = joined
    return Understanding(
        proposed=settled.proposed,
        not_understood=(
            *unknown_words(items, {m.place for phrase in read.phrases for m in phrase.shown}),
            *(one.words for one in read.alone if not one.side),
        ),
        denied=settled.denied,
        open=tuple(settled.open),
        same_as=next((item.typed for item in items if item.role == "again"), ""),
        corrected=corrected,
        things=tuple(dict.fromkeys(draft.things)),
    )


def _in_reach(knowledge: Knowledge, joined: int) -> bool:
    asked = knowledge.questions.get("pieces")  # an own folder may have put another row in its place
    return asked is not None and (asked.low or 0) <= joined <= (asked.high or joined)


def _take_size(sizes: tuple[Measured, ...], alone: tuple[Lone, ...], settled: Settled) -> None:
    """The size, where one alone is said; of two it is asked which, and so where a single side is said."""
    sides = tuple(dict.fromkeys(one.words for one in alone if one.side))
    if sides and not sizes:
        settled.open.append(Open("size", sides))
    elif len({repr(s.size) for s in sizes}) > 1:
        settled.open.append(Open("size", tuple(dict.fromkeys(s.words for s in sizes))))
    elif sizes:
        settled.proposed["size"] = sizes[0].size


def _coatable(draft: Draft, settled: Settled, items: tuple[Item, ...]) -> bool:
    """False for works of time and light, and for a bare list of everyday things with no material in it."""
    if draft.never:
        return False
    if draft.seldom and draft.light_first:
        return False
    material = draft.supports or draft.mounts or draft.laid_on or "piece" in settled.proposed
    if material:
        return True
    listed = not any(item.role in ("on", "mounted_on", "article") for item in items) and not speaks_of_the_job(items)
    return not (draft.seldom or (draft.things and listed and not draft.media))
