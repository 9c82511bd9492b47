"""Which answer a person means: by its question's words, or by a word of the answer itself."""

from __future__ import annotations

from interview.conversation.talk import Talk
from interview.conversation.telling import value_words
from interview.reading.clauses import spoken_words
from interview.reading.measures import Unclear
from interview.reading.menu import one_named
from knowledge.shape import Choice


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
