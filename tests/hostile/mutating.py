"""Inputs made from inputs: bytes flipped, words put in, lines moved. The same seed, the same inputs."""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Sequence

from tests.hostile.nasty import NASTY

LONGEST = 6000  # bytes of most inputs; now and then one is far longer
MUCH_LONGER = 200_000

_WORD = re.compile(rb"[A-Za-z_]{2,}|\d+(?:[.,]\d+)?|[^\sA-Za-z0-9_]")


def words_of(seeds: Sequence[bytes], most: int = 3000) -> tuple[bytes, ...]:
    """The words, numbers and signs of the seeds: the dictionary of a target."""
    return tuple(dict.fromkeys(word for seed in seeds for word in _WORD.findall(seed)))[:most]


class Mutator:
    """Makes new inputs out of a pool. `pool` may be added to while it works."""

    def __init__(self, seed: int, pool: list[bytes], words: Sequence[bytes]) -> None:
        self._random = random.Random(seed)
        self.pool = pool
        self._words = words or (b"a",)

    def next(self) -> bytes:
        """One more input."""
        data = self._random.choice(self.pool)
        for _ in range(self._random.choice((1, 1, 1, 2, 2, 3, 5, 8))):
            data = self._random.choice(_WAYS)(self, data)[:MUCH_LONGER]
        most = MUCH_LONGER if self._random.random() < 0.0005 else LONGEST
        return data[:most]

    def _place(self, data: bytes) -> int:
        return self._random.randint(0, len(data))

    def _span(self, data: bytes) -> tuple[int, int]:
        start = self._place(data)
        return start, min(len(data), start + self._random.choice((1, 2, 4, 8, 16, 64, 256)))

    def _flip(self, data: bytes) -> bytes:
        if not data:
            return b"\xff"
        at = self._random.randrange(len(data))
        return data[:at] + bytes([data[at] ^ (1 << self._random.randrange(8))]) + data[at + 1 :]

    def _byte(self, data: bytes) -> bytes:
        at = self._place(data)
        return data[:at] + bytes([self._random.randrange(256)]) + data[at:]

    def _drop(self, data: bytes) -> bytes:
        start, end = self._span(data)
        return data[:start] + data[end:]

    def _again(self, data: bytes) -> bytes:
        """A piece many times over."""
        start, end = self._span(data)
        many = self._random.choice((2, 2, 3, 10, 100, 1000))
        return data[:start] + data[start:end] * many + data[end:]

    def _move(self, data: bytes) -> bytes:
        start, end = self._span(data)
        rest = data[:start] + data[end:]
        at = self._place(rest)
        return rest[:at] + data[start:end] + rest[at:]

    def _put(self, data: bytes, piece: bytes) -> bytes:
        start, end = self._span(data) if self._random.random() < 0.3 else (self._place(data),) * 2
        return data[:start] + piece + data[end:]

    def _nasty(self, data: bytes) -> bytes:
        return self._put(data, self._random.choice(NASTY))

    def _said(self, data: bytes) -> bytes:
        blank = self._random.choice((b"", b" ", b" "))
        return self._put(data, blank + self._random.choice(self._words) + blank)

    def _swap_word(self, data: bytes) -> bytes:
        """Another word of the dictionary, or something nasty, in the place of a whole one."""
        found = list(_WORD.finditer(data))
        if not found:
            return self._said(data)
        at = self._random.choice(found)
        new = self._random.choice(self._words if self._random.random() < 0.7 else NASTY)
        return data[: at.start()] + new + data[at.end() :]

    def _splice(self, data: bytes) -> bytes:
        other = self._random.choice(self.pool)
        return data[: self._place(data)] + other[self._place(other) :]

    def _lines(self, data: bytes) -> bytes:
        """Lines shuffled, doubled or left out."""
        lines = data.split(b"\n")
        at = self._random.randrange(len(lines))
        way = self._random.randrange(4)
        if way == 0:
            self._random.shuffle(lines)
        elif way == 1:
            lines.insert(self._random.randrange(len(lines) + 1), lines[at])
        elif way == 2:
            del lines[at]
        else:
            lines += self._random.choice(self.pool).split(b"\n")[:3]
        return b"\n".join(lines)

    def _line_ends(self, data: bytes) -> bytes:
        return data.replace(b"\n", self._random.choice((b"\r\n", b"\r", b"\n\n", b"\0")))

    def _cut(self, data: bytes) -> bytes:
        return data[: self._place(data)]

    def _recode(self, data: bytes) -> bytes:
        encoding = self._random.choice(("utf-16", "latin-1", "utf-8-sig", "cp1252"))
        return data.decode("utf-8", "replace").encode(encoding, "replace")


_WAYS: tuple[Callable[[Mutator, bytes], bytes], ...] = (
    Mutator._flip,
    Mutator._byte,
    Mutator._drop,
    Mutator._again,
    Mutator._move,
    Mutator._nasty,
    Mutator._nasty,
    Mutator._said,
    Mutator._said,
    Mutator._swap_word,
    Mutator._swap_word,
    Mutator._swap_word,
    Mutator._splice,
    Mutator._lines,
    Mutator._cut,
    *(Mutator._flip, Mutator._drop, Mutator._said, Mutator._swap_word, Mutator._splice, Mutator._lines) * 2,
    Mutator._line_ends,
    Mutator._recode,
)
