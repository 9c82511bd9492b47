"""A device that takes nothing more (/dev/full): one clear line on the error stream, and a status that says so."""

from __future__ import annotations

import io
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from interview.commands.entry import main
from interview.commands.parser import NAMES
from tests.test_cli import GOOD

FULL = Path("/dev/full")
LINE = "beforepour: This cannot be shown where it was to go: the disk is full.\n"
pytestmark = pytest.mark.skipif(not FULL.exists(), reason="this system has no /dev/full")


class _Typed:
    """Standard input that holds one conversation."""

    def __init__(self, typed: bytes) -> None:
        self.buffer = io.BytesIO(typed)

    def isatty(self) -> bool:
        return False


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with an open piece kept in it and an answers file beside it."""
    monkeypatch.setenv("BEFOREPOUR_DATA", str(tmp_path))
    monkeypatch.setattr(sys, "stdin", _Typed(b"a glazed tile\nyes\nstop\n"))
    main(["new", "--name", "tile"])
    assert [p.name for p in (tmp_path / "pieces").iterdir()] == ["tile.jsonl"]
    (tmp_path / "good.toml").write_text(GOOD)
    (tmp_path / "kinds.csv").write_text("name,count,piece,support\ngull,1,hard,glazed_tile\n")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(sys, "stdin", _Typed(b"a glazed tile\nyes\nstop\n"))
    return tmp_path


@contextmanager
def full(stream: str) -> Iterator[None]:
    """With standard output or the error stream going there."""
    with FULL.open("w", encoding="utf-8") as device, pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, stream, device)
        yield


SHOWING = [
    "", "--help", *(f"{name} --help" for name in NAMES), "new", "new --quick", "new --counter", "resume",
    "resume tile", "list", "brief tile", "brief tile --as html", "brief tile --as json", "explain tile", "answers tile",
    "answers tile --to answers.toml", "plan good.toml", "plan good.toml --as csv-steps", "plan good.toml --as calendar",
    "plan good.toml --to brief.md", "batch kinds.csv --assume", "batch kinds.csv --assume --folder out", "questions", "questions piece",
    "knowledge", "forget tile",
]  # fmt: skip


@pytest.mark.usefixtures("home")
@pytest.mark.parametrize("command", SHOWING, ids=lambda c: c or "no command")
def test_every_command_says_so_in_one_line(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    with full("stdout"):
        status = main(command.split())
    assert (status, capsys.readouterr().err) == (1, LINE)


def test_every_command_is_among_them() -> None:
    assert {command.split()[0] for command in SHOWING if command and command[0] != "-"} == set(NAMES)


def test_what_goes_to_a_file_is_whole(home: Path) -> None:
    with full("stdout"):
        assert main(["answers", "tile", "--to", "answers.toml"]) == 1
    assert 'piece = "hard"' in (home / "answers.toml").read_text()


@pytest.mark.usefixtures("home")
@pytest.mark.parametrize("command", ["nonsense", "brief x", "plan x.toml", "list --x"])
def test_complaints_that_cannot_be_shown_keep_their_status(command: str) -> None:
    with full("stderr"):
        assert main(command.split()) == 2
