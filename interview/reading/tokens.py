"""Text -> tokens: one fold for spelling, case, accents, hyphens and plurals, used on both data and input."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

Kind = Literal["word", "number", "mark"]
_TOKEN = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)*|\d+(?:[.,]\d+)*|\n|[^\w\s]")
_QUOTES = {ord(c): "'" for c in "’‘ʼ`´′"}
_DASHES = {ord(c): "-" for c in "‐‑‒–—−"}
FOLDED = 30_000
LONGEST = 20_000  # characters; what lies beyond is not read


@dataclass(frozen=True, slots=True)
class Spelling:
    """How words are folded: American parts -> British ones, irregular plurals, common slips."""

    parts: tuple[tuple[str, str], ...] = ()
    whole: Mapping[str, str] = field(default_factory=dict)  # plurals and common slips -> the word meant
    known: dict[str, str] = field(default_factory=dict)  # what was folded before, up to FOLDED words

    def stem(self, word: str) -> str:
        """One form for singular and plural, British and American. Applied to data and input alike."""
        folded = self.known.get(word)
        if folded is None:
            folded = self._stem(word)
            if len(self.known) < FOLDED:
                self.known[word] = folded
        return folded

    def _stem(self, word: str) -> str:
        for american, british in self.parts:
            if american in word and british not in word:
                word = word.replace(american, british)
        return _singular(self.whole.get(word, word))


@dataclass(frozen=True, slots=True)
class Token:
    """One word, number or mark. `word` is folded, `typed` is as it stood; `tight`: no space before it."""

    typed: str
    word: str
    kind: Kind
    start: int
    tight: bool

    @property
    def capital(self) -> bool:
        return self.typed[:1].isupper()


def _singular(word: str) -> str:
    if len(word) <= 3 or not word.endswith("s") or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("sses", "shes", "ches", "xes", "zzes", "toes")):
        return word[:-2]
    return word[:-1]


_ISH = re.compile(r"(?<=\d)(cm|mm|m|in|g|kg|)-?ish\b", re.IGNORECASE)


def clean(text: str) -> str:
    """The text with one kind of quote and dash, without control characters, cut at LONGEST."""
    text = unicodedata.normalize("NFKC", text[:LONGEST]).translate(_QUOTES).translate(_DASHES)
    text = _ISH.sub(r"\1 ish", text)
    return "".join(c if c.isprintable() else "\n" if c in "\n\r" else " " for c in text)[:LONGEST]


def fold(word: str) -> str:
    """Lower case, without accents and without a possessive."""
    plain = unicodedata.normalize("NFKD", word.casefold())
    plain = "".join(c for c in plain if not unicodedata.combining(c))
    return plain[:-2] if plain.endswith("'s") else plain.rstrip("'")


def tokenise(text: str, spelling: Spelling) -> tuple[Token, ...]:
    """Tokens of a cleaned text. A hyphen between two words vanishes: "felt-tip" reads as "felt tip"."""
    found: list[Token] = []
    last_end = -1
    for match in _TOKEN.finditer(text):
        typed, start = match[0], match.start()
        tight = start == last_end
        last_end = match.end()
        if typed[0].isdigit():
            found.append(Token(typed, typed.replace(",", "."), "number", start, tight))
        elif typed[0].isalpha():
            found.append(Token(typed, spelling.stem(fold(typed)), "word", start, tight))
        elif not (typed == "-" and tight and text[last_end : last_end + 1].isalnum()):
            found.append(Token(typed, typed, "mark", start, tight))
    return tuple(found)


def words_of(phrase: str, spelling: Spelling) -> tuple[str, ...]:
    """The folded words of a phrase of the data files."""
    if phrase.isascii() and phrase.replace(" ", "").replace("-", "").isalpha():  # nearly all: the short way
        return tuple(spelling.stem(word) for word in phrase.lower().replace("-", " ").split())
    return tuple(t.word for t in tokenise(clean(phrase), spelling) if t.kind != "mark")
