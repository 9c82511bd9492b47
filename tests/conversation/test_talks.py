"""Whole conversations from talks.toml: lines as typed, what they come to, what is said back. And the same facts said in
one line, over several, by menu and as corrections come to the same answers and plan."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from interview.conversation.adviser import Adviser, Later
from interview.conversation.dialogue import converse
from interview.conversation.ledger import entries
from interview.conversation.talk import Talk
from interview.files import records
from interview.files.kept import Kept
from interview.files.recorder import Nobody
from interview.terminal.prompt import EndOfInput
from interview.terminal.scripted_console import ScriptedConsole
from knowledge.loading import Knowledge

TALKS = tomllib.loads(Path(__file__).with_name("talks.toml").read_text(encoding="utf-8"))["talk"]


def played(knowledge: Knowledge, lines: list[str]) -> tuple[Talk, str, str]:
    """The talk after these lines, its screen in one line of text, and how it ended."""
    console = ScriptedConsole(lines)
    talk = Talk(console, Later(lambda: Adviser(knowledge)), Nobody())
    try:
        ending: str = converse(talk)
    except EndOfInput:
        ending = "open"
    return talk, " ".join(console.transcript.split()), ending


def plain(value: Any) -> Any:
    return sorted(value) if isinstance(value, frozenset) else list(value) if isinstance(value, tuple) else value


@pytest.mark.parametrize("row", TALKS, ids=lambda row: row["name"])
def test_the_talk_comes_to_this(knowledge: Knowledge, row: dict[str, Any]) -> None:
    talk, screen, ending = played(knowledge, row["lines"])
    for id, value in row.get("answers", {}).items():
        wanted = sorted(value) if knowledge.questions[id].kind == "several" else value
        assert plain(talk.answers.value(id)) == wanted, id
    assert not set(row.get("without", ())) & set(talk.answers)
    assert [id for id in row.get("doubted", ()) if not talk.answers[id].doubt] == []
    assert [words for words in row.get("said", ()) if words not in screen] == [], screen
    assert [words for words in row.get("unsaid", ()) if words in screen] == []
    assert list(talk.plan().not_covered) == row.get("left", [])
    assert set(row.get("open", ())) <= {point.about for point in talk.plan().open_points}
    assert not any(said.at == id for said in talk.kept.said for id in row.get("asked_not", ()))
    assert ending == row.get("ending", "open")


@pytest.mark.parametrize("row", TALKS, ids=lambda row: row["name"])
def test_the_ledger_holds_every_line_and_comes_back_from_the_journal(knowledge: Knowledge, row: dict[str, Any]) -> None:
    talk, _, _ = played(knowledge, row["lines"])
    assert [said.typed for said in talk.kept.said] == row["lines"]
    again = records.apply(Kept(), records.step(Kept(), talk.kept))
    assert (again.said, again.answers) == (talk.kept.said, talk.kept.answers)


# the same piece, told in different ways
SAME = [
    ["torn tissue collage on plywood, 30 x 40 cm, with glitter", "yes"],
    ["with glitter, on plywood, 30 x 40 cm, a torn tissue collage", "yes"],
    ["a torn tissue collage", "yes, on plywood with glitter", "it is 30 x 40 cm"],
    ["a torn tissue collage on cork with sand, 20 x 20 cm", "no, it's plywood, not cork", "glitter, not sand", "30 x 40 cm"],
    ["a torn tissue collage on plywood, 30 x 40 cm", "you forgot the glitter"],
    ["torn tissue collage on plywood, 30 x 40 cm, with glitter, it's for my sister's wedding", "yes"],
]  # fmt: skip


@pytest.mark.parametrize("lines", SAME[1:], ids=["order", "turns", "corrections", "added", "remark"])
def test_the_same_facts_come_to_the_same_answers_and_plan(knowledge: Knowledge, lines: list[str]) -> None:
    one, _, _ = played(knowledge, SAME[0])
    other, _, _ = played(knowledge, lines)
    assert {q: a.value for q, a in other.answers.items()} == {q: a.value for q, a in one.answers.items()}
    assert other.plan().model_dump(exclude={"answers", "origins"}) == one.plan().model_dump(
        exclude={"answers", "origins"}
    )


def test_a_hedge_changes_the_doubt_and_nothing_else(knowledge: Knowledge) -> None:
    sure, _, _ = played(knowledge, ["a torn tissue collage", "yes, on plywood"])
    hedged, _, _ = played(knowledge, ["a torn tissue collage", "yes, on plywood I think"])
    assert {q: a.value for q, a in hedged.answers.items()} == {q: a.value for q, a in sure.answers.items()}
    assert hedged.answers["mounted"].doubt and not sure.answers["mounted"].doubt


USUAL = [
    ["torn tissue collage on plywood, 12 x 16 in, with some glitter", "yes", "flat", "white glue", "no", "nothing", "glued",
     "over the sides", "brush and outdoors"],
    ["wedding photo on glossy photo paper, A4, not mounted", "yes", "whole", "nothing", "front only", "outdoors", "no"],
    ["a bare pine board 30 x 20 cm, charcoal drawing on it", "yes", "none", "dry", "nothing", "sides", "keep it as it is",
     "spray outdoors"],
    ["pressed flowers in a coaster mould", "yes", "pressed for weeks", "outdoors", "9 cm round x 1 cm"],
]  # fmt: skip


@pytest.mark.parametrize("lines", USUAL, ids=lambda lines: lines[0][:24])
def test_a_usual_piece_takes_at_most_ten_replies_to_the_brief(knowledge: Knowledge, lines: list[str]) -> None:
    talk, _, _ = played(knowledge, [*lines, *["not sure"] * (10 - len(lines))])
    assert talk.kept.done


def test_what_was_let_stand_is_not_asked_again_when_the_talk_is_taken_up(knowledge: Knowledge) -> None:
    lines = ["a jigsaw on plywood", "yes", "it is made of glass", "both are right"]
    talk, screen, _ = played(knowledge, lines)
    assert "no jigsaw is cut from" in " ".join(screen.split())
    again = Talk(ScriptedConsole([]), Later(lambda: Adviser(knowledge)), Nobody(), kept=talk.kept)
    with pytest.raises(EndOfInput):
        converse(again)
    assert "no jigsaw is cut from" not in " ".join(again.console.transcript.split())  # type: ignore[attr-defined]


def test_a_line_about_trouble_is_in_the_ledger_too(knowledge: Knowledge) -> None:
    lines = ["a bare pine board, A4", "yes", "i got resin in my eye!", "no"]
    talk, _, _ = played(knowledge, lines)
    assert [entry.fate for entry in entries(talk.kept, knowledge) if entry.words == lines[2]] == ["trouble"]
