"""The seal of a brief: whatever the form, a file as it was written is the same; one letter changed is found."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from interview.brief.forms import FORMS
from interview.commands.entry import main
from interview.conversation.adviser import load_adviser
from interview.files.answers_file import read_answers
from interview.files.journal import begin
from interview.files.kept import Kept
from knowledge.loading import load
from tests.test_cli import GOOD

ANSWERS = f'size = "30 x 40 cm"\n{GOOD}'
TIMES = ("--hours", "evenings, sat 9-17", "--from", "saturday")
LOOKS: dict[str, tuple[str, ...]] = {"plain": (), "full in inches": ("--full", "--inches"), "with hours": TIMES}
EVERY = [(form, look) for form in FORMS for look in LOOKS]


@pytest.fixture
def tray(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The file of a finished conversation, kept as "tray"."""
    monkeypatch.setenv("BEFOREPOUR_DATA", str(tmp_path / "data"))
    monkeypatch.setenv("COLUMNS", "80")
    answers = read_answers(ANSWERS.encode(), load())
    journal = begin(tmp_path / "data" / "pieces", "tray", "full", "k")
    journal.keep(Kept(name="tray", opening="a collage", answers=answers, done=True))
    journal.close()
    return next((tmp_path / "data" / "pieces").glob("tray*"))


def written(folder: Path, form: str, *options: str) -> Path:
    path = folder / "brief.out"
    assert main(["brief", "tray", "--as", form, "--to", str(path), "--overwrite", *options]) == 0
    return path


def verified(path: Path, capsys: Any) -> tuple[int, str]:
    capsys.readouterr()
    return main(["verify", str(path)]), capsys.readouterr().out


@pytest.mark.parametrize(("form", "look"), EVERY)
def test_as_written_it_is_the_same_and_a_changed_letter_is_found(
    tray: Path, tmp_path: Path, capsys: Any, form: str, look: str
) -> None:
    path = written(tmp_path, form, *LOOKS[look])
    status, said = verified(path, capsys)
    assert (status, said[:9]) == (0, "The same:"), said
    data = path.read_bytes()
    if form == "pdf":
        changed = data.replace(b"/Type /Page", b"/Type /Rage", 1)
    else:
        changed = re.sub(rb"(?<=[a-z]{3})[a-wy](?=[a-z]{2}[ .,])", b"x", data, count=1)
    assert changed != data
    path.write_bytes(changed)
    status, said = verified(path, capsys)
    assert status != 0 and "hanged" in said and "The same" not in said, said


def test_without_the_kept_piece_the_words_are_still_checked(tray: Path, tmp_path: Path, capsys: Any) -> None:
    path = written(tmp_path, "terminal", *TIMES)
    tray.unlink()
    status, said = verified(path, capsys)
    assert status == 1 and said.startswith("Not one word was changed")
    path.write_text(path.read_text().replace("pray", "pour", 1))
    assert verified(path, capsys)[1].startswith("Changed by hand")


@pytest.mark.parametrize("form", FORMS)
def test_a_damaged_piece_is_told(tray: Path, tmp_path: Path, capsys: Any, form: str) -> None:
    tray.write_bytes(tray.read_bytes() + b"torn\n")
    status, said = verified(written(tmp_path, form), capsys)
    assert status == 1 and "damaged" in said, said


def test_newer_rules_are_told_apart_from_a_hand(tray: Path, tmp_path: Path, capsys: Any, monkeypatch: Any) -> None:
    path = written(tmp_path, "json")
    adviser = load_adviser()
    monkeypatch.setattr(adviser, "rules", {"knowledge": "newer"})
    assert "The rules are newer, and change nothing in it." in verified(path, capsys)[1]
    plan = adviser.plan
    monkeypatch.setattr(adviser, "plan", lambda *a, **k: plan(*a, **k).model_copy(update={"headline": "Wait a week."}))
    status, said = verified(path, capsys)
    assert status == 1 and "Same answers, newer rules." in said and 'now: "headline": "Wait a week.",' in said
    assert said.count("now:") == 1 and "by hand" not in said


@pytest.mark.parametrize(
    "cut", [b"beforepour-1.", b"beforepour-1.A.B.C", b"beforepour-1.eJw.eJw.eJw", b"", b"%PDF-1.7\n"]
)
def test_what_is_no_seal_is_said_to_be_none(tray: Path, tmp_path: Path, capsys: Any, cut: bytes) -> None:
    path = tmp_path / "brief.out"
    path.write_bytes(cut)
    status, said = verified(path, capsys)
    assert status == 1 and re.search("cut short|no seal", said)
