"""Rescue as it is talked: the person first, few looks, what a plan knows is not asked, what came of it is kept."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from pathlib import Path

import pytest

from interview.conversation import earlier, sessions
from interview.conversation.sessions import Setting, save_it, start
from interview.files.journal import read
from interview.plan.answers import Answers
from interview.reasoning.planner import make_plan
from interview.reasoning.proposing import judge_proposals
from interview.terminal.scripted_console import ScriptedConsole
from knowledge.loading import Knowledge
from knowledge.troubles import load_troubles

NOW = datetime(2026, 6, 13, 18, 0)
OPENING = "magazine collage on plywood, 20 x 30 cm, glued down, I can only brush"


def _said(replies: Iterable[str], name: str = "") -> str:
    console = ScriptedConsole(replies)
    save_it(Setting(console, now=lambda: NOW), name)
    return console.transcript


def test_a_smoking_cup_is_answered_with_no_question() -> None:
    told = _said(["help, the cup is smoking", ""])
    first = told.split("> help", 1)[1]
    assert first.index("Do not pour it on") < first.index("is anything wrong with the piece?")
    assert "data sheet" in _said(["hardener in my eye", ""])
    assert "112" in _said(["my son swallowed some hardener", ""])


def test_the_person_and_then_the_piece() -> None:
    told = " ".join(_said(["resin on my hands", "and it is sticky all over after three days", "by eye", ""]).split())
    assert told.index("soap and lukewarm water") < told.index("off the ratio")


def test_cautions_come_before_the_mend_and_the_label_comes_before_all() -> None:
    told = _said(["sticky all over after three days, I measured by eye", ""])
    assert told.index("First, for yourself") < told.index("1. Give it one chance")
    assert "Never:" in told
    assert "Label and safety data sheet come first" in told
    assert "Next time:" in told


def test_not_sure_to_everything_comes_to_an_end_and_says_either() -> None:
    told = _said(["it is sticky", *["not sure"] * 8, ""])
    assert "It could be either this or" in told
    assert "To tell them apart" in told


def test_why_back_and_what_is_not_understood() -> None:
    told = _said(
        ["it is sticky all over since two days ago", "why", "xyzzy", "by eye", "back", "by weight", "cold", "", ""]
    )
    assert "A few per cent off the label's ratio" in told
    assert "Type a number from 1 to" in told
    assert "too cold" in told.split("> by weight")[1]


def test_a_sign_nobody_understood_is_picked_from_lists() -> None:
    told = _said(["it has gone all wibbly", "setting", "1", *["not sure"] * 6, ""])
    assert "What is it about?" in told
    assert "Which of these is nearest?" in told


def test_time_left_is_told_by_the_clock() -> None:
    told = _said(["bubbles all over, still wet, poured 10 minutes ago, whisked it", ""])
    assert "until 18:18" in told  # 0.7 of 40 minutes is 28; ten are gone


@pytest.fixture
def piece(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setattr(earlier, "pieces", lambda: tmp_path)
    monkeypatch.setattr(sessions, "pieces", lambda: tmp_path)
    console = ScriptedConsole([OPENING, "yes", *["not sure"] * 40])
    start(Setting(console, now=lambda: NOW), "full", "collage")
    assert (tmp_path / "collage.jsonl").exists() or list(tmp_path.iterdir()), console.transcript
    return "collage"


def test_a_kept_piece_is_not_asked_what_it_told_and_keeps_what_came_of_it(piece: str, tmp_path: Path) -> None:
    told = _said(
        ["milky under the shine, where I brushed the sealer, poured it the same day", "", "yes"],
        piece,
    )
    assert "What lies right under it?" not in told
    assert "the sealer was not dry through" in told
    path = next(p for p in tmp_path.iterdir() if p.name.startswith(piece))
    kept = read(path)
    assert kept.outcome is not None
    assert kept.outcome.signs == ("milky_under",)
    assert kept.answers.value("went_wrong") == frozenset({"sealer_wet"})


def test_the_next_plan_waits_longer_and_says_why(knowledge: Knowledge) -> None:

    answers = Answers().say("piece", "collage").say("ways", frozenset({"brush"}))
    after = make_plan(knowledge, answers.say("went_wrong", frozenset({"sealer_wet"})))
    before = make_plan(knowledge, answers)
    new = [s for s in after.steps if s.id not in {b.id for b in before.steps}]
    assert [s.name for s in new] == ["Let the seal dry as long again"]
    assert new[0].wait == (24 * 60, 48 * 60)
    assert after.cautions[0].name == "Last time"


def test_trouble_is_heard_at_the_opening_and_at_a_question() -> None:
    console = ScriptedConsole(["I already poured and it went cloudy", *["not sure"] * 6, "", "stop"])
    start(Setting(console, now=lambda: NOW), "counter")
    assert "milky" in console.transcript
    console = ScriptedConsole(["tissue collage on plywood", "yes", "it's sticky", *["not sure"] * 6, "", "stop"])
    start(Setting(console, now=lambda: NOW), "counter")
    assert "Sticky all over, too long" in console.transcript


def test_a_question_asked_back_is_answered_and_the_look_stands() -> None:
    told = _said(["it is sticky", "can I sand it now?", "by eye", *["not sure"] * 6, ""])
    assert told.index("can I sand it now?") < told.index("> by eye")
    assert "Type a number" not in told.split("> by eye")[0]


def test_no_way_does_to_a_layer_what_it_cannot_bear(knowledge: Knowledge) -> None:
    """Whatever of a way meets the piece is played on it: ink and alcohol, charcoal and a brush are told of."""
    pieces = {
        "ballpoint": ("sheet", "copy_paper", "ballpoint"), "charcoal": ("sheet", "pastel_paper", "charcoal"),
        "photo": ("photo", "photo_glossy", "no_medium"),
    }  # fmt: skip
    told: dict[str, list[str]] = {}
    for name, (piece, support, medium) in pieces.items():
        answers = Answers().say("piece", piece).say("support", frozenset({support})).say("media", frozenset({medium}))
        for way in load_troubles().paths.values():
            judged = judge_proposals(knowledge, answers, way.plays)
            told[f"{name} {way.id}"] = [j.action for j in judged if j.verdict != "yes"]
            assert all(j.says for j in judged)
    assert "alcohol_wipe" in told["ballpoint lift_off_all"]
    assert "brush" in told["charcoal closer_sealer"]
