"""Names: which answer a person means, by its question's words or by a word of the answer itself; and what they call
the things of their piece."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from interview.conversation.talk import Talk
from interview.conversation.telling import value_words
from interview.reading.clauses import spoken_words
from interview.reading.measures import Unclear
from interview.reading.menu import one_named
from knowledge.shape import Choice

if TYPE_CHECKING:
    from interview.files.kept import Kept, Took
    from knowledge.loading import Knowledge

NAMED = ("support", "mounted", "laid_on")
_APART = re.compile(r"[,;&]|\b(?:and|with|plus|on|in)\b", re.IGNORECASE)
_BEFORE = re.compile(
    r"^(?:(?:an?|the|some|my|our|his|her|their|this|these|those|\w+'s|nans|mums|dads)\s+)+", re.IGNORECASE
)
_MOST = 3  # words of a name


def answer_named(talk: Talk, words: str) -> str | None:
    """The id of the one answer that is meant, or None."""
    ids = [id for id in talk.answers if id in talk.adviser.knowledge.questions]
    choices = tuple(Choice(id, talk.adviser.question(id).short, (id.replace("_", " "),)) for id in ids)
    got = one_named(words, choices)
    if not isinstance(got, Unclear):
        return got
    tokens = set(spoken_words(words))
    saying = [id for id in ids if tokens and tokens <= set(spoken_words(_said(talk, id)))]
    return saying[0] if len(saying) == 1 else None


def _said(talk: Talk, id: str) -> str:
    return value_words(talk.adviser.question(id), talk.answers[id].value, talk.adviser, talk.answers)


def own_words(kept: Kept, knowledge: Knowledge) -> dict[str, str]:
    """Row -> what the maker calls it, where their words name that one row alone and say more than its name does."""
    found: dict[str, str] = {}
    for took in (took for said in kept.said for took in said.took if took.question in NAMED):
        found |= _called(took, knowledge)
    return found


def _called(took: Took, knowledge: Knowledge) -> dict[str, str]:
    from interview.reading.lexicon import in_general_words
    from interview.reading.sentence import lexicon_of
    from interview.reading.tokens import words_of

    spelling = lexicon_of(knowledge).spelling
    ids = took.value if isinstance(took.value, frozenset) else {took.value}
    parts = [_BEFORE.sub("", part.strip()) for part in _APART.split(in_general_words(took.words, knowledge))]
    stems = {
        part: words_of(part, spelling)
        for part in parts
        if 0 < len(part.split()) <= _MOST and not re.search(r"\d", part)
    }
    rows = {id: row for id in ids if (row := _row(knowledge, id)) is not None and not row.members}
    heads = {id: {words_of(name, spelling)[-1:] for name in (row.name, *row.also)} for id, row in rows.items()}
    called: dict[str, str] = {}
    for part, words in stems.items():
        meant = [id for id in rows if words[-1:] in heads[id]]
        if len(meant) == 1 and not set(words) <= set(words_of(rows[meant[0]].name, spelling)):
            called.setdefault(meant[0], part.casefold())
    return called


def _row(knowledge: Knowledge, id: Any) -> Any:
    return knowledge.materials.get(id) or knowledge.inclusions.get(id) if isinstance(id, str) else None
