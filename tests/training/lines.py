"""Our own lines, by the hand that wrote them: a table a model, and the lines as examples."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from interview.plan.answers import Answers
from interview.reading.acts_heard import TRIALS, features
from interview.reading.topic_matching import features as topic_features
from interview.reading.turn import Focus, read_turn, taken
from interview.reasoning.agenda import wording
from knowledge.loading import Knowledge
from tests.training.fitting import Example, Settings

HERE = Path(__file__).parents[1]
LINES = HERE / "lines"
NOW = datetime(2026, 11, 25, 10, 0)
_TURNS = tuple(HERE / "reading" / f"{name}.jsonl" for name in ("turns", "own_turns", "held_turns"))
_ASKED = {"count_60": "count_other"}  # a file's name, ours
_KINDS = {"term": "a_term", "will_it_do": "a_stand_in", "not_a_question": "fact"}
Row = tuple[str, dict[str, Any]]  # the hand, and the fields


@dataclass(frozen=True, slots=True)
class Lesson:
    """What a model is taught. rows: the lines as they stand in the files; example: one of them as the model sees it."""

    rows: Callable[[], Iterator[Row]]
    example: Callable[[Row, Knowledge], Example | None]
    settings: Settings

    def digest(self) -> str:
        """Of all rows, by which weights and lines are held together."""
        found = hashlib.sha256()
        for hand, row in self.rows():
            found.update(json.dumps([hand, row], sort_keys=True, ensure_ascii=False).encode())
        return found.hexdigest()[:16]

    def examples(self, knowledge: Knowledge) -> list[Example]:
        told = (self.example(row, knowledge) for row in self.rows())
        return [example for example in told if example is not None]


def _objects(*paths: Path) -> Iterator[Row]:
    for path in paths:
        for line in path.read_text(encoding="utf-8").splitlines():
            if line.strip():
                yield path.stem, json.loads(line)


def _fields(kind: str, *names: str) -> Iterator[Row]:
    for path in sorted(LINES.glob(f"{kind}_*.tsv")):
        for line in path.read_text(encoding="utf-8").splitlines():
            if line.strip():
                yield path.stem, dict(zip(names, line.split("\t"), strict=True))


def focus_of(said_before: str | None, at: str, knowledge: Knowledge) -> Focus:
    answers = Answers()
    if said_before:
        for fact in read_turn(said_before, Focus("opening", now=NOW), knowledge).facts:
            answers = answers.say(fact.question, fact.value)
    question = knowledge.questions.get(at)
    return Focus(at, wording(question, knowledge, answers) if question else None, answers, now=NOW)


# ------------------------------------------------------------ acts


def turns() -> Iterator[Row]:
    """Whole turns, and replies to one question as such."""
    yield from _objects(*_TURNS, *sorted(LINES.glob("turns_*.jsonl")))
    for hand, row in replies():
        if row["says"] != "other":
            acts = ["unsure"] if row["says"] == "unsure" else ["answer"]
            acts += ["trial_result"] if acts == ["answer"] and row["at"] in TRIALS else []
            yield hand, {"said_before": None, "at": row["at"], "typed": row["typed"], "act": acts}


def replies() -> Iterator[Row]:
    yield from _fields("replies", "at", "says", "doubt", "typed")


def _turn(row: Row, knowledge: Knowledge) -> Example:
    hand, told = row
    line, found = taken(told["typed"], focus_of(told["said_before"], told["at"], knowledge), knowledge)
    return Example(features(line, found), frozenset(told["act"]), hand, 0.3 if hand.startswith("replies") else 1.0)


# ------------------------------------------------------------ topics


def asks() -> Iterator[Row]:
    """What people ask, with its topic; what tells something, though it may look like a question, is `fact`."""
    yield from _fields("asks", "topic", "typed")
    for hand, row in _objects(*(HERE / "asking" / f"{name}.jsonl" for name in ("questions", "held", "aside"))):
        named = "two_tins" if row["topic"] == "two_tins" else _KINDS.get(row["kind"])
        yield f"asking_{hand}", {"topic": named or _ASKED.get(row["topic"], row["topic"]), "typed": row["typed"]}
    for hand, row in replies():
        if row["says"] != "other":
            yield hand, {"topic": "fact", "typed": row["typed"]}
    for hand, row in _objects(*sorted(LINES.glob("turns_*.jsonl"))):
        if not {"ask", "worry", "command"} & set(row["act"]):
            yield hand, {"topic": "fact", "typed": row["typed"]}


def _ask(row: Row, knowledge: Knowledge) -> Example:
    hand, told = row
    topic = told["topic"].partition(" ")[0]  # "a_term mdf": which term it is, is named
    weight = 1.0 if hand.startswith("ask") else 0.3
    return Example(topic_features(told["typed"], knowledge), frozenset((topic,)), hand, weight)


LESSONS = {
    "acts": Lesson(turns, _turn, Settings(one=False, strength=5, prune=2)),
    "topics": Lesson(asks, _ask, Settings(one=True, strength=2, least=2, prune=3)),
}
