"""What a walk has counted and what it has found, and a bar that shows how far it is."""

from __future__ import annotations

import sys
import time
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import TypeVar

T = TypeVar("T")
_WIDTH = 30


@dataclass(slots=True)
class Tally:
    """Counts by name; faults with how often each was met and the first example; rules that held at least
    once; and how many conversations there were of each length.
    """

    counts: Counter[str] = field(default_factory=Counter)
    faults: Counter[str] = field(default_factory=Counter)
    examples: dict[str, str] = field(default_factory=dict)
    held: set[tuple[str, str]] = field(default_factory=set)
    lengths: dict[str, Counter[int]] = field(default_factory=dict)

    def fault(self, says: str, example: object) -> None:
        self.faults[says] += 1
        self.examples.setdefault(says, str(example))

    def add(self, other: Tally) -> None:
        self.counts += other.counts
        self.faults += other.faults
        self.examples = {**other.examples, **self.examples}
        self.held |= other.held
        for label, by_length in other.lengths.items():
            self.lengths[label] = self.lengths.get(label, Counter()) + by_length

    def lines(self) -> list[str]:
        made = [f"  {count:>13,}  {name}" for name, count in self.counts.items()]
        for says, count in self.faults.most_common(40):
            made += [f"  FAULT, {count:,} times: {says}", f"      such as {self.examples[says]}"]
        return made


def shown(items: Sequence[T] | Iterable[T], total: int, label: str, every: float = 0.2) -> Iterator[T]:
    """The items again, with a bar on the error stream where that is a terminal, and a line at the end where
    it is not.
    """
    terminal = sys.stderr.isatty()
    start = last = time.monotonic()
    for done, item in enumerate(items, 1):
        yield item
        now = time.monotonic()
        if terminal and (now - last > every or done == total):
            last = now
            left = (now - start) / done * (total - done)
            bar = "#" * (_WIDTH * done // max(total, 1))
            sys.stderr.write(f"\r{label:<22} [{bar:<{_WIDTH}}] {done:,} of {total:,}, {left:,.0f} s left ")
            sys.stderr.flush()
    if terminal:
        sys.stderr.write("\n")
    else:
        sys.stderr.write(f"{label}: done in {time.monotonic() - start:,.0f} s\n")
