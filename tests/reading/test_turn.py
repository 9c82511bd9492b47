"""The turn: what a line does and says, as tables; and what must hold of any line."""

from __future__ import annotations

import time
from datetime import datetime
from itertools import pairwise, permutations
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from interview.plan.answers import Answers
from interview.reading.turn import Focus, Turn, read_turn
from interview.reasoning.agenda import wording
from knowledge.loading import Knowledge, load

NOW = datetime(2026, 11, 25, 10, 0)
PIECE = "a watercolour on cartridge paper, 30 x 40 cm, with glitter"


def told(text: str, knowledge: Knowledge) -> Answers:
    answers = Answers()
    for fact in read_turn(text, Focus("opening", now=NOW), knowledge).facts:
        answers = answers.say(fact.question, fact.value)
    return answers


def heard(text: str, at: str, knowledge: Knowledge, answers: Answers | None = None) -> Turn:
    answers = Answers() if answers is None else answers
    question = knowledge.questions.get(at)
    asked = wording(question, knowledge, answers) if question else None
    return read_turn(text, Focus(at, asked, answers, now=NOW), knowledge)


# (at, typed): nothing may be recorded for these questions
NEGATIVE: list[tuple[str, str, tuple[str, ...]]] = [
    ("read_back", "i forgot the glitter", ("size", "count")),
    ("read_back", "a mix", ("size", "count", "support")),
    ("size", '24"', ("size",)),
    ("media", "what is gouache?", ("media",)),
    ("media", "whats gouache", ("media",)),
    ("opened", "the label says 1:1", ("opened", "count")),
    ("count", "between 10 and 12", ("count",)),
    ("thickness", "two fingers", ("thickness",)),
    ("adhesive", "some glue, forgot which", ("adhesive",)),
    ("hollow", "havent tapped it yet", ("hollow",)),
    ("hollow", "i think its ok", ()),
    ("darken", "what does that mean, darker", ("darken",)),
    ("mounted", "does it need to be?", ("mounted",)),
    ("ways", "will olive oil seal it", ("ways",)),
    ("end", "im 5 months pregnant, should i be doing this at all?", ("count", "media_age")),
    ("end", "my daughter is 8 and wants to pour it with me. ok?", ("count",)),
]


@pytest.mark.parametrize(("at", "typed", "questions"), NEGATIVE, ids=lambda v: v if isinstance(v, str) else "")
def test_what_gives_nothing(at: str, typed: str, questions: tuple[str, ...], knowledge: Knowledge) -> None:
    turn = heard(typed, at, knowledge, told(PIECE, knowledge))
    assert not {q for q in questions if isinstance(turn.value(q), (str, int, float, frozenset, dict))}


POSITIVE: list[tuple[str, str, str, Any]] = [
    ("size", "18 1/4 x 4 1/4 in", "size", {"shape": "rectangle", "width": 463.55, "height": 107.95}),
    ("size", "thirty by forty centimetres", "size", {"shape": "rectangle", "width": 300.0, "height": 400.0}),
    ("size", "it's 30 wide and 40 high, cm", "size", {"shape": "rectangle", "width": 300.0, "height": 400.0}),
    ("count", "six plus two spares", "count", 8),
    ("count", "two boxes of 12", "count", 24),
    ("thickness", "three quarter inch", "thickness", 19.05),
    ("pack_resin", "500 ml of each", "pack_resin", 1000.0),
    ("ratio", "2 parts resin to 1 hardener, by volume", "ratio", (2.0, 1.0, "volume")),
    ("hollow", "mostly tight but there's a corner lifting", "hollow", "some"),
    ("hollow", "tight everywhere except the bottom left corner", "hollow", "some"),
    ("layers", "flat, all of it", "layers", "flat"),
    (
        "ways",
        "anything goes except spraying in the house",
        "ways",
        frozenset(("brush", "spray_outdoors", "spray_booth")),
    ),
    ("support", "brellapaper, the shop calls it", "support", frozenset(("some_paper",))),
    ("mounted", "some kind of wood", "mounted", "some_wood"),
    ("resin_on", "1", "resin_on", "front"),
    ("resin_on", "number 1", "resin_on", "front"),
    ("resin_on", "the first one", "resin_on", "front"),
    ("end", "the drop sank in after ten seconds", "drop_result", "fast"),
    ("end", "rubbed it, the cloth came away grey", "rub_result", "marked"),
    ("end", "the scrap went milky", "coupon_result", "cloudy"),
    ("end", "it has to be ready by 13 june", "ready_by", "2027-06-13 09:00"),
]


@pytest.mark.parametrize(("at", "typed", "question", "value"), POSITIVE, ids=lambda v: v if isinstance(v, str) else "")
def test_what_is_taken(at: str, typed: str, question: str, value: Any, knowledge: Knowledge) -> None:
    got = heard(typed, at, knowledge, told(PIECE, knowledge)).value(question)
    if isinstance(value, dict):
        assert {k: pytest.approx(v) if isinstance(v, float) else v for k, v in value.items()} == got
    else:
        assert got == (pytest.approx(value) if isinstance(value, float) else value)


ACTS = [
    ("read_back", "sounds right", "agree"), ("read_back", "no thats wrong", "deny"), ("read_back", "👍", "agree"),
    ("read_back", "yes, but what does MDF mean?", "agree ask"), ("read_back", "almost, it's gouache", "correct"),
    ("read_back", "no, it's gouache", "deny correct"), ("read_back", "you forgot the shells", "add"),
    ("read_back", "no no thats right", "agree"), ("read_back", "hm", "unsure"), ("end", "no, all good", "deny"),
    ("end", "go back to the size", "command"), ("end", "many thanks, very useful", "chat"), ("size", "stop for now please", "command"),
    ("end", "i only have my bedroom for this", "worry"), ("media", "hm dont know really", "unsure"),
    ("media", "gouache, is that bad?", "answer ask"), ("end", "the drop beaded up", "trial_result"),
]  # fmt: skip


@pytest.mark.parametrize(("at", "typed", "acts"), ACTS)
def test_what_a_line_does(at: str, typed: str, acts: str, knowledge: Knowledge) -> None:
    assert heard(typed, at, knowledge, told(PIECE, knowledge)).acts == frozenset(acts.split())


# ------------------------------------------------------------------ what must hold of any line

CLAUSES = ("a torn tissue collage", "on plywood", "with sand", "30 x 40 cm")
PROMPTS = [
    "opening",
    "read_back",
    "end",
    "media",
    "support",
    "laid_on",
    "size",
    "hollow",
    "ways",
    "count",
    "ready_by",
    "ratio",
]
REMARKS = ("lovely weather today", "my cat is called Otto", "thanks by the way", "i have a cold", "what a day")
FACTS = {
    "its torn by hand": ("opened", frozenset(("torn",))), "there's sand on it": ("laid_on", frozenset(("sand",))),
    "it's 30 x 40 cm": ("size", 300.0), "there are five of them": ("count", 5), "it is glued to plywood": ("mounted", "plywood"),
}  # fmt: skip


@settings(max_examples=150)
@given(text=st.text(max_size=200), at=st.sampled_from(PROMPTS))
def test_any_text_at_any_prompt(text: str, at: str) -> None:
    knowledge = load_once()
    turn = heard(text, at, knowledge)
    spans = sorted(f.span for f in turn.facts if f.span[1] > f.span[0])
    assert all(a[1] <= b[0] for a, b in pairwise(spans))
    assert turn.acts or at == "opening"
    assert len({f.question for f in turn.facts}) == len(turn.facts)


_LOADED: list[Knowledge] = []


def load_once() -> Knowledge:
    if not _LOADED:
        _LOADED.append(load())
    return _LOADED[0]


def said(lines: list[str], knowledge: Knowledge, answers: Answers) -> dict[str, Any]:
    for line in lines:
        for fact in heard(line, "end", knowledge, answers).facts:
            answers = answers.say(fact.question, fact.value)
    return {q: a.value for q, a in answers.items()}


@given(order=st.permutations(sorted(FACTS)), cuts=st.lists(st.booleans(), min_size=4, max_size=4))
@settings(max_examples=120)
def test_same_facts_in_any_order_over_any_turns(order: list[str], cuts: list[bool]) -> None:
    """In one line or in many, in any order, the same facts are the same answers."""
    knowledge = load_once()
    lines = [order[0]]
    for clause, cut in zip(order[1:], cuts, strict=True):
        if cut:
            lines.append(clause)
        else:
            lines[-1] += f". {clause}"
    answers = told("a drawing on cartridge paper", knowledge)
    got = said(lines, knowledge, answers)
    for question, value in FACTS.values():
        assert (got[question]["width"] if question == "size" else got[question]) == value, (lines, question)


@pytest.mark.parametrize("remark", REMARKS)
@pytest.mark.parametrize(("line", "fact"), FACTS.items(), ids=lambda v: v if isinstance(v, str) else "")
def test_a_remark_changes_nothing(line: str, fact: tuple[str, Any], remark: str, knowledge: Knowledge) -> None:
    answers = told("a drawing on cartridge paper", knowledge)
    plain = {f.question: f.value for f in heard(line, "end", knowledge, answers).facts}
    for mixed in (f"{line}. {remark}", f"{remark}. {line}"):
        got = {f.question: f.value for f in heard(mixed, "end", knowledge, answers).facts if f.question != "worries"}
        assert got == plain, mixed


@pytest.mark.parametrize("hedge", ["i think", "probably", "i guess"])
@pytest.mark.parametrize("value", ["pine", "plywood", "slate", "mdf"])
def test_a_hedge_changes_only_the_doubt(value: str, hedge: str, knowledge: Knowledge) -> None:
    plain, hedged = (heard(text, "support", knowledge) for text in (value, f"{value} {hedge}"))
    assert [(f.question, f.value) for f in plain.facts] == [(f.question, f.value) for f in hedged.facts]
    assert [f.doubt for f in hedged.facts] == [True]
    assert [f.doubt for f in plain.facts] == [False]


@pytest.mark.parametrize("order", list(permutations(CLAUSES[1:])), ids=" ".join)
def test_an_opening_in_any_order(order: tuple[str, ...], knowledge: Knowledge) -> None:
    first = told(", ".join(CLAUSES), knowledge)
    again = told(", ".join((CLAUSES[0], *order)), knowledge)
    assert dict(again) == dict(first)


@pytest.mark.parametrize("wrong", ["plywood", "mdf", "slate"])
def test_a_correction_comes_to_what_was_meant(wrong: str, knowledge: Knowledge) -> None:
    """Wrong at first and put right is the same as right at once."""
    right = told("a photo glued to hardboard", knowledge)
    answers = told(f"a photo glued to {wrong}", knowledge)
    for fact in heard(f"no, not {wrong}, its hardboard", "read_back", knowledge, answers).facts:
        answers = answers.say(fact.question, fact.value)
    assert answers.value("mounted") == right.value("mounted") == "hardboard"


def test_reading_takes_time_in_proportion(knowledge: Knowledge) -> None:
    line = "yes, its torn by hand and theres a bit of sand on it, i think"
    heard(line, "end", knowledge)
    took = []
    for times in (5, 40):
        start = time.perf_counter()
        for _ in range(3):
            heard(". ".join([line] * times), "end", knowledge)
        took.append(time.perf_counter() - start)
    assert took[1] < took[0] * 8 * 4
