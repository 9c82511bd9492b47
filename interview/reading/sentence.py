"""A text -> what it says, in one go: items, stances, phrases, a draft, what is settled and what stays open.

A reply is a sentence with the question as its focus: the choices on the screen lend their words, and a word that can
answer the question does.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from interview.reading.lexicon import Lexicon, build, marked
from interview.reading.matching import Item, read_items, with_photographs
from interview.reading.meaning import PAPER_LIKE, belongs
from interview.reading.phrases import Phrase, read_phrases
from interview.reading.resolving import Settled, settle
from interview.reading.scope import Stance, is_denial, stances
from interview.reading.sizes import Lone, Measured, read_lone, read_sizes
from interview.reading.slots import Draft, fill
from interview.reading.tokens import clean, tokenise
from knowledge.loading import Knowledge
from knowledge.shape import Choice, Question


@dataclass(frozen=True, slots=True)
class Known:
    """What the reader has to know of the talk so far.

    question: the one being asked, or None, with its choices. piece: what the piece is, "" where it is not known.
    carried: what it is made on is known, so that "on MDF" is about a mount. families: of what it is made of.
    begun: the piece has been told of, so that the speaker talks of the job and of what was made with it.
    """

    question: Question | None = None
    choices: tuple[Choice, ...] = ()
    piece: str = ""
    carried: bool = False
    families: frozenset[str] = frozenset()
    begun: bool = False

    @property
    def focus(self) -> str:
        return self.question.id if self.question else ""


@dataclass(frozen=True, slots=True)
class Sentence:
    """All that was found in a text. `found`: how each item is held."""

    items: tuple[Item, ...]
    found: list[Stance]
    phrases: list[Phrase]
    draft: Draft
    settled: Settled
    sizes: tuple[Measured, ...]
    alone: tuple[Lone, ...]
    lexicon: Lexicon


class _Kept:
    """The index of the knowledge last used; building it takes some tens of milliseconds."""

    knowledge: Knowledge | None = None
    lexicon: Lexicon | None = None


def lexicon_of(knowledge: Knowledge) -> Lexicon:
    """The index of phrases over this knowledge, built once."""
    if _Kept.lexicon is None or _Kept.knowledge is not knowledge:
        _Kept.lexicon, _Kept.knowledge = build(knowledge), knowledge
    return _Kept.lexicon


def read_sentence(text: str, knowledge: Knowledge, known: Known | None = None) -> Sentence:
    """Read a text. Never raises; takes time in proportion to its length."""
    known = known or Known()
    lexicon = lexicon_of(knowledge).asked(known.question, known.choices)
    sizes, rest = read_sizes(clean(text))
    alone, rest = read_lone(rest)
    items = read_items(tokenise(rest, lexicon.spelling), lexicon)
    items = with_photographs(items, lexicon, marked("persons"))
    found = stances(items)
    phrases = read_phrases(items, found)
    focus = known.focus or ("media" if known.begun and known.carried else "")
    draft = fill(phrases, job=known.begun or speaks_of_the_job(items), focus=focus, cast=known.piece == "cast")
    _carry(draft, phrases, known)
    said = frozenset(
        w
        for item, stance in zip(items, found, strict=True)
        if stance is Stance.SAID and not is_denial(item)
        for w in item.words
    )
    settled = settle(draft, knowledge, said, known.families)
    return Sentence(items, found, phrases, draft, settled, sizes, alone, lexicon)


def speaks_of_the_job(items: Sequence[Item]) -> bool:
    return any(word in marked("job") for item in items for word in item.words)


def _carry(draft: Draft, phrases: list[Phrase], known: Known) -> None:
    """What is named alone in answer to "is it mounted", or after "glued on", carries the piece."""
    if draft.mounts or known.focus == "support":
        return
    if known.focus == "mounted":
        draft.mounts[:], draft.supports[:] = draft.supports, []
        return
    on_something = any(phrase.bases and not any(m.item.role == "noun" for m in phrase.front) for phrase in phrases)
    stuck = draft.stuck or any(any(phrase.stuck) for phrase in phrases)
    if known.carried and on_something:
        carriers = [s for s in draft.supports if stuck or not belongs(s, PAPER_LIKE)]
        draft.mounts[:] = carriers
        draft.supports[:] = [s for s in draft.supports if s not in carriers]
