"""How well agreeing, denying and asking are told apart in talk of other trades, and indirect answers to yes and no.

    python -m tests.reading.acts FILE [--show]

A file of turns has `asked`, `typed`, `acts`; one of answers has `asked`, `typed`, `relaxed`. What was asked is given:
after a confirmation another wish counts as a no; a choice counts as a yes. The manner of speech is tested, not the trade.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from interview.reading.manner import does, yes_or_no

ACTS = ("agree", "deny", "ask")


def wanted(row: Mapping[str, Any]) -> set[str]:
    acts = set(row["acts"])
    return acts | {"agree"} if "choose" in acts else acts


def turns(rows: list[dict[str, Any]], *, show: bool) -> None:
    counts = {act: [0, 0, 0] for act in ACTS}
    for row in rows:
        got, gold = does(row["typed"], row["asked"]), wanted(row)
        for act in ACTS:
            forgiven = act == "ask" and act in got and "ask" not in gold and "?" in row["typed"]
            kind = 0 if act in got and act in gold else 1 if act in got else 2 if act in gold else 3
            if kind in (0, 1, 2) and not forgiven:
                counts[act][kind] += 1
                if show and kind:
                    print(f"{'too much' if kind == 1 else 'missed'} {act}: {row['asked']} | {row['typed']}")
    for act, (hit, over, missed) in counts.items():
        print(
            f"{act:6} F1 {2 * hit / max(2 * hit + over + missed, 1):.3f}  right {hit}, too many {over}, missed {missed}"
        )


def answers(rows: list[dict[str, Any]], *, show: bool) -> None:
    turned = right = asked = 0
    for row in rows:
        got, gold = yes_or_no(row["typed"], row["asked"]), row["relaxed"]
        if got == "":
            asked += 1
        right += got.title() == gold
        if {got.title(), gold} == {"Yes", "No"}:
            turned += 1
            if show:
                print(f"{got} for {gold}: {row['asked']} | {row['typed']}")
    print(f"yes for no or no for yes {turned} of {len(rows)}, right {right}, asked about {asked}")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("file", type=Path)
    parser.add_argument("--show", action="store_true")
    given = parser.parse_args()
    rows = [json.loads(line) for line in given.file.read_text(encoding="utf-8").splitlines() if line.strip()]
    (answers if "relaxed" in rows[0] else turns)(rows, show=given.show)


if __name__ == "__main__":
    main()
