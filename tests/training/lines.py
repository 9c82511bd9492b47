"""Our own lines, by the hand that wrote them: a table a model, and the lines as examples."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any
from zlib import crc32

from interview.plan.answers import Answers
from interview.reading.acts_heard import TRIALS, features
from interview.reading.signs_heard import NONE, sign_features
from interview.reading.topic_matching import features as topic_features
from interview.reading.turn import Focus, read_turn, taken
from interview.reasoning.agenda import wording
from knowledge.loading import Knowledge
from knowledge.troubles import load_troubles
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
    """What a model is taught. rows: the lines as they stand in the files; example: one of them as the model sees it, or more than
    one. aside: lines of other lessons, that teach what it is not: no part of the digest.
    """

    rows: Callable[[], Iterator[Row]]
    example: Callable[[Row, Knowledge], Iterator[Example]]
    settings: Settings
    aside: Callable[[], Iterator[Row]] = lambda: iter(())

    def digest(self) -> str:
        """Of all rows, by which weights and lines are held together."""
        found = hashlib.sha256()
        for hand, row in self.rows():
            found.update(json.dumps([hand, row], sort_keys=True, ensure_ascii=False).encode())
        return found.hexdigest()[:16]

    def examples(self, knowledge: Knowledge) -> list[Example]:
        return [example for row in (*self.rows(), *self.aside()) for example in self.example(row, knowledge)]


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


def _turn(row: Row, knowledge: Knowledge) -> Iterator[Example]:
    hand, told = row
    line, found = taken(told["typed"], focus_of(told["said_before"], told["at"], knowledge), knowledge)
    yield Example(features(line, found), frozenset(told["act"]), hand, 0.3 if hand.startswith("replies") else 1.0)


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


def _ask(row: Row, knowledge: Knowledge) -> Iterator[Example]:
    hand, told = row
    topic = told["topic"].partition(" ")[0]  # "a_term mdf": which term it is, is named
    weight = 1.0 if hand.startswith("ask") else 0.3
    yield Example(topic_features(told["typed"], knowledge), frozenset((topic,)), hand, weight)


# ------------------------------------------------------------ signs of trouble


def signs() -> Iterator[Row]:
    """What people say of a trouble, with its sign."""
    yield from _fields("signs", "sign", "typed")


def no_trouble() -> Iterator[Row]:
    """What people say and ask where nothing has gone wrong."""
    typed = (row["typed"] for _, row in (*turns(), *asks()) if row.get("topic") != "rescue")
    yield from ((ASIDE, {"sign": NONE, "typed": line}) for line in dict.fromkeys(typed))


def _sign(row: Row, _: Knowledge) -> Iterator[Example]:
    """The line, and once more with what people tell beside a sign: where, how long ago, how it was mixed."""
    hand, told = row
    label = frozenset((told["sign"],))
    brief = hand in ("signs_said", ASIDE)  # phrases, some of them of several signs; and what is many
    yield Example(sign_features(told["typed"]), label, hand, 0.3 if brief else 1.0)
    if not brief and told["sign"] != NONE:
        yield Example(sign_features(_beside(told["typed"])), label, hand, 0.7)


def _beside(typed: str) -> str:
    told = _told_beside()
    one, other = (told[crc32(f"{typed}{end}".encode()) % len(told)] for end in "ab")
    ways = (f"{typed}, {one}", f"{one}, {typed}", f"{typed}. {one}, {other}", f"{one} {typed} {other}")
    return ways[crc32(typed.encode()) % len(ways)]


@cache
def _told_beside() -> tuple[str, ...]:
    looks = (load_troubles().looks[look] for look in _BESIDE)
    return tuple(say for look in looks for find in look.finds if find.id not in _SIGNS_THEMSELVES for say in find.say)


ASIDE = "aside"
_BESIDE = ("since", "room", "seal", "mixed", "under", "poured", "where")
_SIGNS_THEMSELVES = ("no hardener", "two kits", "tape", "torch", "moved")  # finds of looks

LESSONS = {
    "acts": Lesson(turns, _turn, Settings(one=False, strength=5, prune=2)),
    "signs": Lesson(signs, _sign, Settings(one=True, strength=3, prune=4), no_trouble),
    "topics": Lesson(asks, _ask, Settings(one=True, strength=2, least=2, prune=3)),
}
