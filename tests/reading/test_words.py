"""Every name of a row is read alike as a bare reply and in a sentence: the one reader knows the same words everywhere."""

from __future__ import annotations

import random

import pytest

from interview.plan.answers import Answers
from interview.reading.lexicon import marked, phrases_of
from interview.reading.opening import understand
from interview.reading.turn import Focus, read_turn
from interview.reasoning.agenda import wording
from knowledge.loading import Knowledge
from knowledge.word_files import read_words

SHELVES = {"support": "materials", "media": "media", "laid_on": "inclusions"}
SENTENCES = {
    "support": "a drawing made on {}",
    "media": "a picture made with {} on card",
    "laid_on": "{} cast into a clear block of resin",
}
SAMPLE, RIGHT = 300, 297
Named = tuple[str, str, str]  # question, row, word


def sorts(knowledge: Knowledge) -> list[Named]:
    return [(s["question"], s["row"], word) for s in read_words("sorts")["sort"] for word in phrases_of(s["say"])]


def others(knowledge: Knowledge) -> list[Named]:
    return [
        (question, row.id, word)
        for question, shelf in SHELVES.items()
        for row in getattr(knowledge, shelf).values()
        for word in row.also
        if not row.members
    ]


def led(value: object, row: str, knowledge: Knowledge, question: str) -> bool:
    """The row itself, or a class that holds it."""
    ids = value if isinstance(value, frozenset) else frozenset()
    shelf = getattr(knowledge, SHELVES[question])
    return row in ids or any(row in shelf[id].members for id in ids if id in shelf)


def in_sentence(question: str, row: str, word: str, knowledge: Knowledge) -> bool:
    """Taken as that row, or left open between rows of which it is one."""
    got = understand(SENTENCES[question].format(word), knowledge)
    open_ = [o for o in got.open if o.question in (question, "mounted")]
    return row in got.proposed.get(question, ()) or any(row in o.among | o.known for o in open_)


def in_reply(question: str, row: str, word: str, knowledge: Knowledge) -> bool:
    asked = wording(knowledge.questions[question], knowledge, Answers())
    turn = read_turn(word, Focus(question, asked), knowledge)
    return led(turn.value(question), row, knowledge, question) or bool(turn.pick and row in turn.pick.ids)


def missed(named: list[Named], knowledge: Knowledge, *, reply: bool) -> list[Named]:
    loose = marked("loose")  # of these a sentence makes nothing on purpose: "plan", "note"
    named = [n for n in named if (reply or n[2] not in loose) and not n[1].startswith("unsure")]
    random.Random(20261125).shuffle(named)
    read = in_reply if reply else in_sentence
    return [n for n in named[:SAMPLE] if not read(*n, knowledge)]


@pytest.mark.parametrize("reply", [True, False], ids=["reply", "sentence"])
@pytest.mark.parametrize("words", [sorts, others], ids=["sorts", "also"])
def test_words_are_read_alike(words: object, reply: bool, knowledge: Knowledge) -> None:
    lost = missed(words(knowledge), knowledge, reply=reply)  # type: ignore[operator]
    assert SAMPLE - len(lost) >= RIGHT, lost
