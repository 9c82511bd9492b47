"""How much of a museum's medium lines is understood, and how rightly.

    python -m tests.opening.measure MEDIA_LINES.csv MEDIA_LABELS.jsonl [--show N]

The first file has the columns `medium` and `works`; the second, one JSON object a line with `line`, `works`,
`coatable`, `supports`, `media`, `negated` and `note` in a closed vocabulary, mapped in closed.toml.
A line is understood if no word that matters is left over and a support was found, or if the work is none that
one would coat. `--show N` prints up to N lines that failed, to read, never to copy.
"""

from __future__ import annotations

import argparse
import csv
import json
import tomllib
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from interview.reading.opening import Understanding, understand
from knowledge.loading import Knowledge, load

CLOSED = Path(__file__).with_name("closed.toml")
SLOTS = ("supports", "media")


@dataclass(frozen=True, slots=True)
class Closed:
    """Our ids and kinds -> the closed vocabulary, or nothing where it has no word for them."""

    supports: dict[str, frozenset[str]]
    media: dict[str, frozenset[str]]

    @classmethod
    def read(cls) -> Closed:
        data = tomllib.loads(CLOSED.read_text(encoding="utf-8"))
        return cls(*({k: frozenset(v) for k, v in _inverted(data[slot]).items()} for slot in SLOTS))


def _inverted(table: dict[str, list[str]]) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for label, ids in table.items():
        for id in ids:
            found.setdefault(id, set())
            if label != "none":
                found[id].add(label)
    return found


@dataclass(slots=True)
class Score:
    """Hits, misses and wrong claims of one slot."""

    right: int = 0
    wrong: int = 0
    missed: int = 0
    faults: list[str] = field(default_factory=list)

    @property
    def precision(self) -> float:
        return self.right / (self.right + self.wrong) if self.right + self.wrong else 1.0

    @property
    def recall(self) -> float:
        return self.right / (self.right + self.missed) if self.right + self.missed else 1.0

    def add(self, want: frozenset[str], got: frozenset[str], line: str) -> None:
        self.right += len(want & got)
        self.wrong += len(got - want)
        self.missed += len(want - got)
        if want != got:
            self.faults.append(f"{line}: wanted {sorted(want)}, got {sorted(got)}")


def ids_of(understood: Understanding, *questions: str) -> set[str]:
    """Rows and kinds named for these questions."""
    found: set[str] = set()
    for question in questions:
        value: Any = understood.proposed.get(question, ())
        found |= {value} if isinstance(value, str) else set(value)
        for left in understood.open:
            if left.question == question:
                found |= left.known | left.named
    return found - {"no", "none", "no_medium"}


def labels_of(understood: Understanding, closed: Closed) -> dict[str, frozenset[str]]:
    """What was understood, in the closed vocabulary."""
    supports = _mapped(ids_of(understood, "support", "mounted"), closed.supports)
    media = _mapped(ids_of(understood, "media"), closed.media)
    if understood.proposed.get("piece") == "collage":
        media |= {"collage"}
    return {"supports": frozenset(supports), "media": frozenset(media)}


def _mapped(ids: Iterable[str], table: dict[str, frozenset[str]]) -> set[str]:
    found: set[str] = set()
    for id in ids:
        found |= table.get(id, {f"unmapped:{id}"})
    return found


def is_understood(understood: Understanding) -> bool:
    if not understood.coatable:
        return True
    return not understood.not_understood and bool(ids_of(understood, "support", "mounted"))


def _lines(path: Path) -> Iterator[tuple[str, int]]:
    with path.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            yield row["medium"], int(row["works"])


def coverage(path: Path, knowledge: Knowledge, show: int) -> list[str]:
    """The table of coverage, and up to `show` lines that were not understood."""
    lines = works = lines_in = works_in = strict = uncoated = 0
    failed: list[str] = []
    words: Counter[str] = Counter()
    for text, count in _lines(path):
        got = understand(text, knowledge)
        lines, works = lines + 1, works + count
        uncoated += not got.coatable
        if is_understood(got):
            lines_in, works_in = lines_in + 1, works_in + count
            strict += not got.things
        else:
            failed.append(f"  {text}  [{', '.join(got.not_understood) or 'no support'}]")
            words.update(got.not_understood)
    report = [
        f"{'':28}{'all':>8}{'understood':>12}{'share':>9}",
        f"{'distinct lines':28}{lines:8}{lines_in:12}{lines_in / max(lines, 1):9.2%}",
        f"{'works':28}{works:8}{works_in:12}{works_in / max(works, 1):9.2%}",
        f"{'lines without mere things':28}{lines:8}{strict:12}{strict / max(lines, 1):9.2%}",
        f"lines taken as nothing one would coat: {uncoated}",
    ]
    if show:
        report += [
            "",
            "not understood:",
            *failed[:show],
            "",
            "words: " + ", ".join(f"{w} {n}" for w, n in words.most_common(80)),
        ]
    return report


def precision_recall(path: Path, knowledge: Knowledge, show: int) -> list[str]:
    """The table of precision and recall, with and without the lines whose label is marked unsure."""
    closed = Closed.read()
    rows = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines() if line.strip()]
    report = [f"{'':28}{'precision':>10}{'recall':>8}{'right':>7}{'wrong':>7}{'missed':>7}"]
    faults: list[str] = []
    for title, chosen in (
        ("all labels", rows),
        ("labels without 'unsure'", [r for r in rows if not r["note"].startswith("unsure")]),
    ):  # fmt: skip
        scores = {slot: Score() for slot in (*SLOTS, "coatable")}
        for row in chosen:
            _score(row, understand(row["line"], knowledge), closed, scores)
        report.append(f"{title} ({len(chosen)} lines)")
        report += [
            f"  {slot:26}{s.precision:10.3f}{s.recall:8.3f}{s.right:7}{s.wrong:7}{s.missed:7}"
            for slot, s in scores.items()
        ]
        faults = faults or [f"  {slot}: {f}" for slot, s in scores.items() for f in s.faults]
    return [*report, *(["", *faults[:show]] if show else [])]


def _score(row: dict[str, Any], got: Understanding, closed: Closed, scores: dict[str, Score]) -> None:
    scores["coatable"].add(frozenset((str(row["coatable"]),)), frozenset((str(got.coatable),)), row["line"])
    if not row["coatable"]:
        return
    for slot, have in labels_of(got, closed).items():
        scores[slot].add(frozenset(row[slot]), have, row["line"])


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.opening.measure", description=__doc__.splitlines()[0])
    parser.add_argument("lines", type=Path, help="CSV with the columns medium and works")
    parser.add_argument("labels", type=Path, help="JSON lines with the labels")
    parser.add_argument("--show", type=int, default=0, metavar="N", help="print up to N failures of each kind")
    args = parser.parse_args()
    knowledge = load()
    print(
        "\n".join(
            [
                *coverage(args.lines, knowledge, args.show),
                "",
                *precision_recall(args.labels, knowledge, args.show),
            ]
        )
    )


if __name__ == "__main__":
    main()
