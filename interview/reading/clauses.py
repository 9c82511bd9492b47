"""A line -> clauses: where one ends, what joins it to the one before, and its words as they are spoken."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from interview.reading.lexicon import phrases_of, read_spelling
from interview.reading.tokens import Token, fold
from knowledge.word_files import read_words

STRONG = frozenset(".;!?\n")
_JOINERS = frozenset(("but", "except", "though", "although", "however", "because", "so", "and"))


@dataclass(frozen=True, slots=True)
class Clause:
    """words: as spoken, without marks. places: where each token starts. joiner: the word before it.

    mark: what ends it. start, end: its places in the line.
    """

    words: tuple[str, ...]
    tokens: tuple[Token, ...]
    joiner: str
    mark: str
    start: int
    end: int

    def rest(self, after: int) -> Clause:
        """The clause without its first words."""
        tokens = self.tokens[after:]
        start = tokens[0].start if tokens else self.end
        return Clause(self.words[after:], tokens, self.joiner, self.mark, start, self.end)


@cache
def _respelt() -> dict[str, str]:
    return dict(read_words("spelling")["spoken"])


@cache
def spoken(typed: str) -> str:
    """A word as it is spoken: small letters, no apostrophe, one form for singular and plural."""
    word = fold(typed).replace("'", "")
    return read_spelling().stem(_respelt().get(word, word))


@cache
def spoken_list(name: str) -> frozenset[str]:
    """The single words of one list of speech.toml, as they are spoken."""
    return frozenset(spoken(word) for word in phrases_of(read_words("speech")[name]))


def spoken_words(phrase: str) -> tuple[str, ...]:
    """The words of a phrase of the data files, or of a person."""
    return tuple(spoken(word) for word in phrase.replace("-", " ").split())


def plainly(text: str) -> tuple[str, ...]:
    """The words of a line as they are spoken, without its marks."""
    return spoken_words("".join(c if c.isalnum() else "" if c in "'’" else " " for c in text))


def split(tokens: Iterable[Token], text: str) -> tuple[Clause, ...]:
    """The clauses in order. Every token that is no mark is in one of them."""
    splitter = _Splitter(text)
    listed = list(tokens)
    for place, token in enumerate(listed):
        splitter.take(token, listed[place + 1] if place + 1 < len(listed) else None)
    splitter.close("", len(text))
    return tuple(splitter.done)


class _Splitter:
    """Reads tokens one by one."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.done: list[Clause] = []
        self.held: list[Token] = []
        self.joiner = ""

    def close(self, mark: str, end: int) -> None:
        if self.held:
            words = tuple(spoken(t.typed) for t in self.held)
            self.done.append(Clause(words, tuple(self.held), self.joiner, mark, self.held[0].start, end))
            self.joiner = ""
        elif self.done and mark in STRONG and self.done[-1].mark in ("", ","):
            last = self.done.pop()
            self.done.append(Clause(last.words, last.tokens, last.joiner, mark, last.start, end))
        self.held = []

    def take(self, token: Token, after: Token | None) -> None:
        if token.kind == "mark":
            self._mark(token, after)
            return
        word = spoken(token.typed)
        if word in ("apart", "other") and after is not None and spoken(after.typed) in ("from", "than"):
            word = "except"
        if word in _JOINERS and self.held and self._parts(word, after):
            self.close("", token.start)
            self.joiner = word
            if word == "and":
                return
        elif word in _JOINERS and not self.held:
            self.joiner = word
            if word in ("and", "so"):
                return
        self.held.append(token)

    def _mark(self, token: Token, after: Token | None) -> None:
        mark = token.typed
        if mark.isalnum() or not (mark in ",:-()" or mark in STRONG):
            if mark not in "\"'%/+&*#°$£€x×":
                self.held.append(token)  # a sign that speaks: a thumb, a tick
            return
        inside = mark == ":" and after is not None and after.tight and after.kind == "number"
        if not inside and not (mark == "-" and token.tight):
            self.close(mark if mark in STRONG else ",", token.start + 1)

    @staticmethod
    def _parts(word: str, after: Token | None) -> bool:
        if word in ("and", "so"):
            return after is not None and after.kind == "word" and spoken(after.typed) in spoken_list("begins")
        return True
