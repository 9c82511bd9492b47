"""How well the reader hears lines it has not seen.

    python -m tests.reading.measure TURNS.jsonl [--show]

One JSON object a line: `said_before` (the opening, or null), `at` (a question's id, "read_back" or "end"), `typed`,
and what a careful listener takes from it: `act`, `takes`, `doubt`, `must_not`, `asks_about`. The opening is read
first, then the reply. The last line is `acts A facts F wrong W broken B`: A the share of lines whose acts are all
right, F of the facts to take, W of the facts recorded, B a count. What only repeats an answer counts for nothing.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

from interview.plan.answers import NOT_SURE, Answers
from interview.reading.measures import Value, read_measure
from interview.reading.turn import Focus, Turn, read_turn
from interview.reasoning.agenda import wording
from knowledge.loading import Knowledge, load

NOW = datetime(2026, 11, 25, 10, 0)
PICKED = ("one", "several")
UNLABELLED = ("worries", "proposals")  # heard, but no label tells of them


@dataclass(slots=True)
class Score:
    lines: int = 0
    acts_right: int = 0
    wanted: int = 0
    taken: int = 0
    recorded: int = 0
    wrong: int = 0
    broken: int = 0
    doubts: int = 0
    doubts_right: int = 0
    by_act: dict[str, list[int]] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)

    def last_line(self) -> str:
        acts, facts = self.acts_right / max(self.lines, 1), self.taken / max(self.wanted, 1)
        return f"acts {acts:.2f} facts {facts:.2f} wrong {self.wrong / max(self.recorded, 1):.2f} broken {self.broken}"


def heard(row: Mapping[str, Any], knowledge: Knowledge) -> tuple[Turn, Answers]:
    """The turn, and the answers before it."""
    answers = Answers()
    if row["said_before"]:
        for fact in read_turn(row["said_before"], Focus("opening", now=NOW), knowledge).facts:
            answers = answers.say(fact.question, fact.value)
    question = knowledge.questions.get(row["at"])
    asked = wording(question, knowledge, answers) if question else None
    return read_turn(row["typed"], Focus(row["at"], asked, answers, now=NOW), knowledge), answers


def plain(question: str, value: Any, knowledge: Knowledge) -> Any:
    """A label's value in the form of an answer; a class as its word with a question mark."""
    asked = knowledge.questions.get(question)
    if isinstance(value, list):
        return frozenset(value)
    if not isinstance(value, str) or value.startswith("?"):
        return value
    if asked is None or asked.kind in PICKED:
        return frozenset((value,)) if asked and asked.kind == "several" else value
    got = read_measure(value, asked, now=NOW)
    return got.value if isinstance(got, Value) else value


def same(wanted: Any, got: Any) -> bool:
    if isinstance(wanted, str) and wanted.startswith("?"):
        ids = got if isinstance(got, frozenset) else {got}
        return {f"?{id.removeprefix('some_')}" for id in ids if id.startswith("some_")} == {wanted}
    if isinstance(wanted, dict) and isinstance(got, dict):
        return wanted.keys() == got.keys() and all(same(wanted[k], got[k]) for k in wanted)
    if isinstance(wanted, int) and isinstance(got, int):
        return wanted == got
    if isinstance(wanted, (int, float)) and isinstance(got, (int, float)):
        return abs(wanted - got) <= 0.005 * max(abs(wanted), abs(got))
    if isinstance(wanted, tuple) and isinstance(got, tuple):
        return len(wanted) == len(got) and all(same(a, b) for a, b in zip(wanted, got, strict=True))
    return bool(wanted == got)


def harmful(question: str, values: Any, got: Any, knowledge: Knowledge) -> bool:
    ids = got if isinstance(got, frozenset) else [got]
    for value in values if isinstance(values, list) else [values]:
        wanted = plain(question, value, knowledge)
        if same(wanted, got) or (isinstance(value, str) and value in ids):
            return True
    return False


def score(rows: Iterable[Mapping[str, Any]], knowledge: Knowledge) -> Score:
    total = Score()
    for row in rows:
        turn, before = heard(row, knowledge)
        for fault in _judge(row, turn, before, knowledge, total):
            total.faults.append(f"{row['said_before']} | {row['at']} | {row['typed']}\n      {fault}")
    return total


def _judge(row: Mapping[str, Any], turn: Turn, before: Answers, knowledge: Knowledge, total: Score) -> Iterator[str]:
    total.lines += 1
    wanted = set(row["act"])
    for act in wanted | turn.acts:
        hits = total.by_act.setdefault(act, [0, 0, 0])
        hits[0 if act in wanted and act in turn.acts else 1 if act in turn.acts else 2] += 1
    if wanted == turn.acts:
        total.acts_right += 1
    else:
        yield f"acts: {', '.join(sorted(turn.acts)) or 'none'} for {', '.join(sorted(wanted))}"
    recorded = {f.question: f for f in turn.facts if f.value is not NOT_SURE and f.question not in UNLABELLED}
    recorded = {q: f for q, f in recorded.items() if q in row["takes"] or not same(_value(before, q), f.value)}
    takes = {q: plain(q, value, knowledge) for q, value in row["takes"].items()}
    total.wanted += len(takes)
    total.recorded += len(recorded)
    for question, value in takes.items():
        got = recorded.get(question)
        if got is not None and same(value, got.value):
            total.taken += 1
        else:
            yield f"missed {question} = {_shown(value)}, got {_shown(got.value) if got else 'nothing'}"
    for question, fact in recorded.items():
        if question not in takes or not same(takes[question], fact.value):
            total.wrong += 1
            yield f"wrong {question} = {_shown(fact.value)}"
        if question in row["must_not"] and harmful(question, row["must_not"][question], fact.value, knowledge):
            total.broken += 1
            yield f"BROKEN {question} = {_shown(fact.value)}"
    doubts = {q for q in row["doubt"] if q in recorded}
    total.doubts += len(doubts)
    total.doubts_right += sum(recorded[q].doubt for q in doubts)
    yield from (f"no doubt of {q}" for q in doubts if not recorded[q].doubt)
    yield from (f"doubt of {q}" for q in recorded if recorded[q].doubt and q not in row["doubt"])


def _value(answers: Answers, question: str) -> Any:
    answer = answers.get(question)
    return answer.value if answer else None


def _shown(value: Any) -> str:
    return str(sorted(value)) if isinstance(value, frozenset) else str(value)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("turns", type=Path)
    parser.add_argument("--show", action="store_true", help="list the lines that fail")
    given = parser.parse_args()
    rows = [json.loads(line) for line in given.turns.read_text(encoding="utf-8").splitlines() if line.strip()]
    total = score(rows, load())
    if given.show:
        print("\n".join(total.faults))
    for act, (hit, over, missed) in sorted(total.by_act.items()):
        print(
            f"  {act:13} F1 {2 * hit / max(2 * hit + over + missed, 1):.2f}  right {hit}, too many {over}, missed {missed}"
        )
    print(f"  doubts marked {total.doubts_right} of {total.doubts}")
    print(total.last_line())


if __name__ == "__main__":
    main()
