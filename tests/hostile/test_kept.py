"""What is kept, with somebody or something at it behind our back: damage is told, nothing is lost, the right one opens."""

from __future__ import annotations

import os
import random
import shutil
import stat
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from interview.commands.entry import main
from interview.files.journal import Journal, begin, read
from interview.files.pieces import listing
from interview.plan.answers import Answers
from tests.hostile.common import known

READERS = {"brief": [], "answers": [], "explain": [], "batch": []}


@pytest.fixture(autouse=True)
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("BEFOREPOUR_DATA", str(tmp_path / "data"))
    return tmp_path / "data"


def answers() -> Answers:
    from interview.files.answers_file import read_answers
    from tests.test_cli import GOOD

    return read_answers(GOOD.encode(), known())


def keep(data: Path, name: str = "tray", *, close: bool = True) -> Journal:
    """One record an answer, as a conversation leaves it."""
    journal = begin(data / "pieces", name, "full", "k")
    told = Answers()
    for question, answer in answers().items():
        told = told.say(question, answer.value, words=answer.words)
        assert journal.keep(replace(journal.kept, answers=told)) == ""
    journal.keep(replace(journal.kept, done=True, opening="a collage"))
    if close:
        journal.close()
    return journal


# ------------------------------------------------------------------ damage


def harms(whole: bytes, odds: random.Random) -> bytes:
    """One flipped bit, a cut at any byte or at a line's end, nothing at all, noise, another line in between."""
    at = odds.randrange(len(whole))
    lines = whole.splitlines(keepends=True)
    kind = odds.randrange(7)
    if kind == 0:
        return whole[:at] + bytes([whole[at] ^ (1 << odds.randrange(8))]) + whole[at + 1 :]
    if kind == 1:
        return whole[:at]
    if kind == 2:
        return b"".join(lines[: odds.randrange(len(lines))])
    if kind == 3:
        return b""
    if kind == 4:
        return odds.randbytes(odds.randrange(1, 3000))
    if kind == 5:
        odds.shuffle(lines)
        return b"".join(lines)
    return whole + odds.choice([b"x", b"\n", lines[-1], lines[1]])


@pytest.mark.parametrize("reader", READERS)
def test_damage_is_told_whoever_reads_and_nothing_is_planned_from_nothing(reader: str, data: Path, capsys: Any) -> None:
    path = keep(data).path
    whole, odds = path.read_bytes(), random.Random(reader)
    assert main([reader, "tray", *READERS[reader]]) == 0
    before = capsys.readouterr()
    assert "damaged" not in before.out + before.err
    for number in range(60):
        harmed = harms(whole, odds)
        path.write_bytes(harmed)
        if harmed == whole:
            continue
        status = main([reader, "tray", *READERS[reader]])
        err = capsys.readouterr().err
        told = err.splitlines()[0] if err else ""
        assert "is damaged" in told, (number, status, err[:300])
        if status == 0:
            kept = read(path)
            assert kept.answers and kept.lost in told
        else:
            assert "holds no answer" in err or "missing" in err, err[:300]
        assert main(["list"]) == 0
        assert "damaged" in capsys.readouterr().out


# ------------------------------------------------------------------ behind our back


def _moved(path: Path) -> None:
    path.parent.rename(path.parent.with_name("elsewhere"))


BEHIND: dict[str, Callable[[Path], object]] = {
    "removed": Path.unlink,
    "moved": lambda path: path.rename(path.with_suffix(".old")),
    "the folder moved": _moved,
    "the folder removed": lambda path: shutil.rmtree(path.parent),
    "replaced by another": lambda path: (path.with_suffix(".x").write_bytes(b"other"), path.with_suffix(".x").replace(path)),
    "replaced by a copy": lambda path: (shutil.copy(path, path.with_suffix(".x")), path.with_suffix(".x").replace(path)),
    "emptied": lambda path: path.write_bytes(b""),
    "cut short": lambda path: path.write_bytes(path.read_bytes()[:100]),
    "written on": lambda path: path.write_bytes(path.read_bytes() + b"more\n"),
}  # fmt: skip


@pytest.mark.parametrize("how", BEHIND)
def test_whatever_is_done_to_an_open_file_all_that_was_said_is_kept(how: str, data: Path) -> None:
    journal = keep(data, close=False)
    BEHIND[how](journal.path)
    assert not journal.safe
    told = journal.keep(replace(journal.kept, answers=journal.kept.answers.say("count", 7)))
    assert journal.safe and "\n" not in told
    assert ("written anew, as" in told) == (how not in ("emptied", "cut short", "written on"))
    kept = read(journal.path)
    assert kept.answers == journal.kept.answers and kept.answers.value("count") == 7 and kept.lost == ""
    assert journal.path in listing(data / "pieces")
    journal.keep(replace(journal.kept, answers=journal.kept.answers.say("count", 8)))
    journal.close()
    assert read(journal.path).answers.value("count") == 8
    assert stat.S_IMODE(journal.path.stat().st_mode) == 0o600


# ------------------------------------------------------------------ put aside


def test_what_is_forgotten_comes_back_whole(data: Path, capsys: Any) -> None:
    whole = keep(data).path.read_bytes()
    assert main(["forget", "tray"]) == 0
    assert "beforepour recover tray" in capsys.readouterr().out
    assert main(["list"]) == 0 and "Nothing is kept" in capsys.readouterr().out
    assert main(["list", "--forgotten"]) == 0 and "tray: for 30 more days" in capsys.readouterr().out
    keep(data, "tray")  # another of that name meanwhile
    assert main(["recover", "tray"]) == 0 and '"tray-2" is kept again' in capsys.readouterr().out
    assert (data / "pieces" / "tray-2.jsonl").read_bytes() == whole
    assert main(["recover", "tray"]) == 2 and "was put aside" in capsys.readouterr().err


def test_after_thirty_days_or_at_once_it_is_gone(data: Path, capsys: Any) -> None:
    keep(data), keep(data, "mat")
    assert main(["forget", "tray"]) == main(["forget", "mat", "--now"]) == 0
    aside = data / "forgotten" / "tray.jsonl"
    os.utime(aside, (time.time() - 31 * 86400,) * 2)
    capsys.readouterr()
    assert main(["list", "--forgotten"]) == 0
    assert capsys.readouterr().out == "Nothing was put aside.\n" and not aside.exists()
    assert list((data / "pieces").iterdir()) == []


def test_a_piece_that_is_open_is_not_forgotten(data: Path, capsys: Any) -> None:
    journal = keep(data, close=False)
    for more in ([], ["--now"]):
        assert main(["forget", "tray", *more]) == 1
        assert "Another window is at work" in capsys.readouterr().err
    journal.close()
    assert main(["forget", "tray"]) == 0


def test_kept_folders_are_closed_to_others(data: Path) -> None:
    (data / "pieces").mkdir(parents=True, mode=0o755)
    keep(data)
    assert main(["forget", "tray"]) == 0
    for folder in ("pieces", "forgotten"):
        assert stat.S_IMODE((data / folder).stat().st_mode) == 0o700


# ------------------------------------------------------------------ names

NAMES = ["Möwe", "mowe", "Mowe!", "MOWE", "mo we", "Мowe", "möwe", "mówé", "m-o-w-e"]


def test_names_that_differ_a_little_never_open_another(data: Path, capsys: Any) -> None:
    """Each is kept with its full name and an id; whatever is typed opens that one, or asks."""
    odds = random.Random(4)
    given = NAMES * 2
    odds.shuffle(given)
    made = [(name, keep(data, name).path) for name in given[:9]]
    ids = {read(path).id for _, path in made}
    assert len(ids) == len(made)
    for path in listing(data / "pieces"):
        kept = read(path)
        for name in (kept.id, path.stem, kept.name):
            status = main(["answers", name])
            err = capsys.readouterr().err
            named = [other for other in listing(data / "pieces") if name in (other.stem, read(other).name)]
            assert (status == 0) == (len(named) <= 1), (name, err)
            assert status == 0 or "Type the id" in err
    for name in NAMES:
        if not any(name in (path.stem, read(path).name) for path in listing(data / "pieces")):
            assert main(["forget", name]) == 2
            assert "exactly" in capsys.readouterr().err or "Nothing is kept" in capsys.readouterr().err
    assert len(listing(data / "pieces")) == len(made)


def test_the_full_name_is_on_the_brief(data: Path, capsys: Any) -> None:
    keep(data, "Möwe & Söhne!")
    assert main(["brief", "Möwe & Söhne!", "--as", "terminal"]) == 0
    assert capsys.readouterr().out.startswith("Möwe & Söhne!\n")
