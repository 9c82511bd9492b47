"""Weights learned from our own lines: how far the words of a line speak for each of a few labels, and which words.

knowledge/learned/NAME.bin: one line of JSON (labels, scale, digest of the lines), then little-endian arrays:
`keys` (uint32, sorted: CRC-32 of a feature), `starts` (uint32), `owners` (uint16: label), `weights` (int8). Made by
`python -m tests.training`; the model is a linear one (logistic regression), so a score is a sum of weights.
"""

from __future__ import annotations

import json
import sys
from array import array
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from math import exp, sqrt
from pathlib import Path
from zlib import crc32

from knowledge.loading import HOME

FOLDER = HOME / "learned"
START, END = "^", "$"
WORD = 0.35  # value of a word; that of all parts of words together is 1
_GRAMS = (3, 4, 5)
_SHORT = 4  # letters; of shorter words no parts are taken


@dataclass(frozen=True, slots=True)
class Features:
    """What a line holds. words: of its wording; parts: of its words; signals: what was found in it."""

    words: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    signals: tuple[str, ...] = ()

    def weighed(self) -> Iterator[tuple[str, float]]:
        """Each feature with its value; the parts of words weigh together what a few words do."""
        yield from ((feature, WORD) for feature in (*self.words, *self.signals))
        value = 1 / sqrt(len(self.parts)) if self.parts else 0.0
        yield from ((feature, value) for feature in self.parts)


def in_a_row(words: Sequence[str], before: str = "") -> tuple[str, ...]:
    """One to three words in a row, the ends of the line as words. `before`: set before each."""
    row = (START, *words, END)
    found = dict.fromkeys(before + word for word in words)
    for size in (2, 3):
        found.update(dict.fromkeys(before + " ".join(row[i : i + size]) for i in range(len(row) - size + 1)))
    return tuple(found)


def in_parts(words: Iterable[str]) -> tuple[str, ...]:
    """Three to five letters in a row of each longer word, by which a slip or an ending is known."""
    return tuple(dict.fromkeys(f"~{part}" for word in words if len(word) >= _SHORT for part in _parts(f"<{word}>")))


def _parts(word: str) -> Iterator[str]:
    for size in _GRAMS:
        yield from (word[i : i + size] for i in range(len(word) - size + 1))


@dataclass(frozen=True, slots=True)
class Model:
    """labels with what each starts from; `scale`: what one step of a weight is worth; digest: of the lines."""

    labels: tuple[str, ...]
    starts_from: tuple[float, ...]
    scale: float
    digest: str
    keys: array[int]
    starts: array[int]
    owners: array[int]
    weights: array[int]

    def _of(self, feature: str) -> Iterator[tuple[int, float]]:
        key = crc32(feature.encode())
        place = bisect_left(self.keys, key)
        if place < len(self.keys) and self.keys[place] == key:
            for at in range(self.starts[place], self.starts[place + 1]):
                yield self.owners[at], self.weights[at] * self.scale

    def scores(self, features: Features) -> dict[str, float]:
        """label -> logit."""
        sums = list(self.starts_from)
        for feature, value in features.weighed():
            for owner, weight in self._of(feature):
                sums[owner] += weight * value
        return dict(zip(self.labels, sums, strict=True))

    def why(self, features: Features, label: str, most: int = 3) -> tuple[str, ...]:
        """The features that speak most for a label, the strongest first."""
        owner, told = self.labels.index(label), dict[str, float]()
        for feature, value in features.weighed():
            told[feature] = sum(weight * value for name, weight in self._of(feature) if name == owner)
        return tuple(sorted((f for f in told if told[f] > 0), key=lambda f: -told[f])[:most])


@cache
def model(name: str, folder: Path = FOLDER) -> Model:
    """Read from its file at first need. Raises FileNotFoundError where there is none of this name."""
    data = (folder / f"{name}.bin").read_bytes()
    line, rest = data.split(b"\n", 1)
    head = json.loads(line)
    arrays = []
    for kind, count in (("I", head["keys"]), ("I", head["keys"] + 1), ("H", head["weights"]), ("b", head["weights"])):
        one: array[int] = array(kind)
        size = one.itemsize * count
        one.frombytes(rest[:size])
        rest = rest[size:]
        if sys.byteorder == "big":
            one.byteswap()
        arrays.append(one)
    labels = head["labels"]
    return Model(tuple(labels), tuple(labels.values()), head["scale"], head["digest"], *arrays)


def chance(score: float) -> float:
    """A logit as a share of 1."""
    return 1 / (1 + exp(-max(-30.0, min(30.0, score))))


def shares(scores: Mapping[str, float], among: Iterable[str] | None = None) -> dict[str, float]:
    """Logits of labels of which one holds -> shares that add up to 1, the greatest first."""
    told = {label: scores[label] for label in (among if among is not None else scores)}
    top = max(told.values(), default=0.0)
    parts = {label: exp(score - top) for label, score in told.items()}
    total = sum(parts.values())
    return {label: part / total for label, part in sorted(parts.items(), key=lambda p: -p[1])}
