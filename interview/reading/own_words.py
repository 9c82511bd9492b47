"""A reply in people's own words -> one of a few choices: "gone before I could look" -> it sank in within a minute.

What people say to each choice stands in knowledge/words/replies.toml. The words of a reply are weighed by how much
more often they stand with one choice than with the others (naive Bayes); what decided can be shown.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from math import exp, log

from interview.reading.clauses import spoken_list, spoken_words
from interview.reading.lexicon import phrases_of, phrases_told
from knowledge.word_files import read_words

SURE = 0.8  # from here on a guess is taken
MAYBE = 0.5  # and from here on asked about
_REACH = 3  # words that a negator turns


@dataclass(frozen=True, slots=True)
class Subject:
    """What a question is about, and what yes, no and "partly" stand for there."""

    words: tuple[str, ...] = ()
    yes: str = ""
    no: str = ""
    worse: str = ""


@dataclass(frozen=True, slots=True)
class Guess:
    """The likeliest choice, how likely, and the words that decided."""

    value: str
    share: float
    because: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Weights:
    counts: dict[str, Counter[str]]
    known: frozenset[str]

    def of(self, feature: str) -> dict[str, float]:
        """How far the feature speaks for each choice, as logarithms."""
        size = len(self.known)
        return {v: log((c[feature] + 0.1) / (c.total() + 0.1 * size)) for v, c in self.counts.items()}


def features(words: Sequence[str]) -> Iterator[str]:
    """Words that weigh, each marked where a negator turns it, and pairs of neighbours."""
    turned, kept = 0, []
    for word in words:
        if word in spoken_list("negators"):
            turned = _REACH
            kept.append("no")
        elif word not in spoken_list("dull"):
            kept.append(f"no {word}" if turned else word)
        turned -= turned > 0 and word not in spoken_list("negators")
    yield from kept
    yield from (f"{a}+{b}" for a, b in pairwise(kept))


@cache
def subjects() -> dict[str, Subject]:
    rows = read_words("replies")["subject"]
    return {
        row["question"]: Subject(
            tuple(padded(p) for p in phrases_of(row["say"])),
            row.get("yes", ""), row.get("no", ""), row.get("worse", ""),
        )
        for row in rows
    }  # fmt: skip


@cache
def _weights(question: str) -> _Weights:
    counts: dict[str, Counter[str]] = {}
    for phrase, value in phrases_told(question):
        counts.setdefault(value, Counter()).update(set(features(spoken_words(phrase))))
    return _Weights(counts, frozenset(f for c in counts.values() for f in c))


def guess(words: Sequence[str], question: str, among: Iterable[str]) -> Guess | None:
    """The likeliest of the choices, or None where no word of the reply is known there."""
    weights = _weights(question)
    told = [f for f in dict.fromkeys(features(words)) if f in weights.known and f != "no"]
    values = [v for v in among if v in weights.counts]
    if not told or len(values) < 2:
        return None
    scores = {v: 0.0 for v in values}
    for feature in told:
        for value, weight in weights.of(feature).items():
            if value in scores:
                scores[value] += weight
    best = max(scores, key=lambda v: scores[v])
    total = sum(exp(score - scores[best]) for score in scores.values())
    because = sorted(told, key=lambda f: -weights.of(f)[best] + max(w for v, w in weights.of(f).items() if v != best))
    return Guess(best, 1 / total, tuple(because[:3]))


def raises(words: Sequence[str], question: str) -> bool:
    """Whether words of the question's subject stand in the line."""
    subject = subjects().get(question)
    return subject is not None and has_any(words, subject.words)


def padded(phrase: str) -> str:
    """A phrase of the data as it is looked for among spoken words."""
    return f" {' '.join(spoken_words(phrase))} "


def has_any(words: Sequence[str], phrases: Iterable[str]) -> bool:
    """Whether one of these padded phrases stands among the words."""
    spoken = f" {' '.join(words)} "
    return any(phrase in spoken for phrase in phrases)
