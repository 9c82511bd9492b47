"""Everyday sentences: what should be proposed, and what is. `python -m tests.opening.everyday` prints it."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from interview.reading.opening import Understanding, understand
from knowledge.loading import Knowledge, load

SENTENCES = Path(__file__).with_name("sentences.toml")
_SIZE_SLACK = 1.0  # mm


@dataclass(frozen=True, slots=True)
class Sentence:
    """One labelled sentence."""

    say: str
    by: str
    measuring: bool
    expect: dict[str, Any]


@dataclass(slots=True)
class Tally:
    """Slots right, wrong and missed, and sentences without a fault."""

    right: int = 0
    wrong: int = 0
    missed: int = 0
    whole: int = 0
    sentences: int = 0
    faults: list[str] = field(default_factory=list)

    @property
    def precision(self) -> float:
        return self.right / max(self.right + self.wrong, 1)

    @property
    def recall(self) -> float:
        return self.right / max(self.right + self.missed, 1)


def read_sentences() -> tuple[Sentence, ...]:
    data = tomllib.loads(SENTENCES.read_text(encoding="utf-8"))
    return tuple(Sentence(s["say"], s["by"], s["measuring"], s["expect"]) for s in data["sentence"])


def wanted(expect: dict[str, Any]) -> set[tuple[str, Any]]:
    """The expected slots: (question, value), one for each member of a set."""
    found: set[tuple[str, Any]] = set()
    for question, value in expect.items():
        if isinstance(value, list) and question != "size":
            found |= {(question, v) for v in value}
        else:
            found.add((question, tuple(value) if question == "size" else value))
    return found


def given(got: Understanding, expect: dict[str, Any]) -> set[tuple[str, Any]]:
    """The slots that were filled, in the same form."""
    found: set[tuple[str, Any]] = {("open", o.question) for o in got.open}
    for question, value in got.proposed.items():
        if question == "size":
            found.add(("size", _like(value, expect.get("size", ()))))
        elif question != "piece" or "piece" in expect:
            found |= {(question, v) for v in value} if isinstance(value, frozenset) else {(question, value)}
    denied = frozenset().union(*got.denied.values()) if got.denied else frozenset()
    found |= {("denied", id) for id in expect.get("denied", ()) if id in denied}
    if got.same_as:
        found.add(("same_as", True))
    if not got.coatable:
        found.add(("uncoatable", True))
    return found


def _like(size: dict[str, Any], expected: Iterable[float]) -> tuple[float, ...]:
    """The expected sides where they agree within the slack, else the sides as they are."""
    sides = (size["diameter"],) if size["shape"] == "circle" else (size["width"], size["height"])
    wanted_sides = tuple(expected)
    close = len(sides) == len(wanted_sides) and all(
        abs(a - b) <= _SIZE_SLACK for a, b in zip(sides, wanted_sides, strict=True)
    )
    return wanted_sides if close else sides


def tally(sentences: Iterable[Sentence], knowledge: Knowledge) -> Tally:
    total = Tally()
    for sentence in sentences:
        want = wanted(sentence.expect)
        have = given(understand(sentence.say, knowledge), sentence.expect)
        total.sentences += 1
        total.right += len(want & have)
        total.wrong += len(have - want)
        total.missed += len(want - have)
        if want == have:
            total.whole += 1
        else:
            total.faults.append(
                f"{sentence.say}\n    missed {sorted(map(str, want - have))}, wrong {sorted(map(str, have - want))}"
            )
    return total


def main() -> None:
    knowledge = load()
    sentences = read_sentences()
    print(f"{'':12}{'sentences':>10}{'no fault':>10}{'precision':>11}{'recall':>8}")
    for title, measuring in (("for work", False), ("held out", True)):
        got = tally([s for s in sentences if s.measuring is measuring], knowledge)
        print(f"{title:12}{got.sentences:10}{got.whole:10}{got.precision:11.3f}{got.recall:8.3f}")
        if not measuring:
            print("\n".join(f"  {fault}" for fault in got.faults))


if __name__ == "__main__":
    main()
