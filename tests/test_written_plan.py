"""A plan written as JSON is read back by `beforepour brief` and comes out the same, letter for letter."""

from __future__ import annotations

from pathlib import Path

import pytest

from interview.commands.entry import main

ANSWERS = 'piece = "hard"\nsupport = ["glass"]\nmedia = ["no_medium"]\nlaid_on = ["none"]\nresin_on = "front"\n'


def test_there_and_back_nothing_is_lost(tmp_path: Path) -> None:
    told, once, again = tmp_path / "told.toml", tmp_path / "once.json", tmp_path / "again.json"
    told.write_text(ANSWERS)
    assert main(["plan", str(told), "--assume", "--as", "json", "--to", str(once)]) == 0
    assert main(["brief", str(once), "--as", "json", "--to", str(again)]) == 0
    assert once.read_bytes() == again.read_bytes()


@pytest.mark.parametrize("text", ["", '{"x":', "[]", '{"format": 99}'])
def test_what_is_no_plan_is_told_in_one_line(tmp_path: Path, text: str, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bad.json"
    path.write_text(text)
    assert main(["brief", str(path)]) == 2
    said = capsys.readouterr().err
    assert "bad.json" in said
    assert said.count("\n") == 1
