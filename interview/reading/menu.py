"""The choices of a question by every word they go by, made ready for reading replies."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from knowledge.shape import Choice

_TOKEN = re.compile(r"[^\W_]+(?:['’][^\W_]+)*|[,;.:/&+|-]")
_HEAD = re.compile(r"[:,(]")
MARKS = frozenset(",;.:/&+|")
# American and other spellings -> the one used here; on the data and on what is typed alike
_SPELLINGS = {
    "color": "colour", "colored": "coloured", "colors": "colour", "gray": "grey", "mold": "mould", "molded": "moulded",
    "jewelry": "jewellery", "fiber": "fibre", "aluminum": "aluminium", "watercolor": "watercolour",
    "fibers": "fibre", "yep": "yes", "yeah": "yes", "y": "yes", "yup": "yes", "nope": "no", "nah": "no", "n": "no",
}  # fmt: skip

Tokens = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Menu:
    """`phrases`: words -> numbers of the choices they name. `plain`: each choice's phrases as text, its own
    first.
    """

    phrases: dict[Tokens, frozenset[int]]
    plain: tuple[tuple[str, ...], ...]
    names: tuple[str, ...]
    known: frozenset[str]
    longest: int


def menu_of(choices: Sequence[Choice]) -> Menu:
    return _menu(tuple((choice.id, choice.text, choice.also) for choice in choices))


@lru_cache(maxsize=64)
def _menu(rows: tuple[tuple[str, str, tuple[str, ...]], ...]) -> Menu:
    named = [_phrases_of(id, text, also) for id, text, also in rows]
    names = _names([text for _, text, _ in rows])
    table: dict[Tokens, frozenset[int]] = {}
    for number, phrases in enumerate(named):
        for phrase in phrases:
            table[phrase] = table.get(phrase, frozenset()) | {number}
    for number, name in enumerate(names):
        short = plain_tokens(name)
        others = (phrase for n, phrases in enumerate(named) if n != number for phrase in phrases)
        if short not in table and not any(phrase[: len(short)] == short for phrase in others):
            table[short] = frozenset((number,))
    return Menu(
        phrases=table,
        plain=tuple(tuple(" ".join(phrase) for phrase in phrases) for phrases in named),
        names=names,
        known=frozenset(word for phrase in table for word in phrase),
        longest=max(map(len, table), default=0),
    )


def _phrases_of(id: str, text: str, also: tuple[str, ...]) -> tuple[Tokens, ...]:
    found = (plain_tokens(words) for words in (text, id.replace("_", " "), *also))
    return tuple(dict.fromkeys(phrase for phrase in found if phrase))


def _names(texts: list[str]) -> tuple[str, ...]:
    """Each text's head where that tells it apart, else the whole text."""
    heads = [head(text) for text in texts]
    counted = Counter(heads)
    return tuple(short if counted[short] == 1 else text for short, text in zip(heads, texts, strict=True))


def head(text: str) -> str:
    """What a choice's text begins with, before it explains itself: "whole" of "whole, as it came"."""
    return _HEAD.split(text, maxsplit=1)[0].strip()


@lru_cache(maxsize=8192)
def tokens_of(text: str) -> Tokens:
    """Words and marks, folded: small letters, no accents, one spelling, no plural."""
    folded = unicodedata.normalize("NFKD", text.casefold())
    folded = "".join(c for c in folded if not unicodedata.combining(c))
    return tuple(stem(t.replace("'", "").replace("’", "")) for t in _TOKEN.findall(folded))


def plain_tokens(text: str) -> Tokens:
    """The words alone."""
    return tuple(t for t in tokens_of(text) if t not in MARKS and t != "-")


def stem(word: str) -> str:
    word = _SPELLINGS.get(word, word)
    if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
        return f"{word[:-3]}y" if word.endswith("ies") and len(word) > 4 else _without_plural(word)
    return word


def _without_plural(word: str) -> str:
    return word[:-2] if word.endswith(("sses", "shes", "ches", "xes")) else word[:-1]
