"""The other ways a phrase of the word files is said: "printed at home", "printed it at home"."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from interview.reading.tokens import Spelling, words_of

_AT = frozenset(("at", "off", "from", "on", "in", "by", "onto", "into"))  # after a verb: "printed AT the shop"
_IN_A = (("in", "a"), ("into", "a"))


@dataclass(frozen=True, slots=True)
class Forms:
    """verbs: may have "it" or "them" after them. between: may follow "in a". nots: may stand for "not"."""

    verbs: frozenset[str]
    between: tuple[tuple[str, ...], ...]
    nots: tuple[tuple[str, ...], ...]

    def of(self, words: tuple[str, ...], sort: str) -> Iterator[tuple[str, ...]]:
        """The phrase and its other forms. `sort`: of its sense."""
        yield words
        if len(words) < 2:
            return
        if words[0] in self.verbs and words[1] not in ("it", "them") and (sort != "row" or words[1] in _AT):
            yield from ((words[0], pronoun, *words[1:]) for pronoun in ("it", "them"))
        if len(words) == 3 and words[:2] in _IN_A:
            yield from ((*words[:2], *more, words[2]) for more in self.between)
        if sort == "state" and words[0] == "not":
            yield from ((*other, *words[1:]) for other in self.nots)


def read_forms(verbs: frozenset[str], between: frozenset[str], nots: frozenset[str], spelling: Spelling) -> Forms:
    """From the lists of grammar.toml."""
    return Forms(
        frozenset(spelling.stem(word) for word in verbs),
        tuple(words_of(word, spelling) for word in sorted(between)),
        tuple(words_of(phrase, spelling) for phrase in sorted(nots)),
    )
