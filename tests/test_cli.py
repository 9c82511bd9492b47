"""The commands, as typed: what they print, what they write, and how they refuse."""

from __future__ import annotations

import io
import json
import os
import stat
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from interview.commands.entry import main
from interview.commands.parser import NAMES, make_parser
from interview.files.answers_file import AnswersError, read_answers, write_answers
from interview.files.journal import begin
from interview.files.kept import Kept
from interview.plan.answers import NOT_SURE, Answers

GOOD = """
piece = "collage"
support = ["tissue_paper"]
opened = ["torn"]
layers = "flat"
mounted = "plywood"
adhesive = "pva"
hollow = "none"
media = "no_medium"
laid_on = ["none"]
resin_on = "front"
ways = ["brush", "spray_outdoors"]
only_one = "replaceable"
tried = ["none"]
"""


@pytest.fixture(autouse=True)
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "data"
    monkeypatch.setenv("BEFOREPOUR_DATA", str(folder))
    monkeypatch.setenv("COLUMNS", "80")
    return folder


@pytest.fixture
def tray(data: Path) -> Answers:
    """A finished conversation, kept as "tray"."""
    answers = Answers().say("piece", "collage").say("support", frozenset({"tissue_paper"})).say("layers", NOT_SURE)
    journal = begin(data / "pieces", "tray", "full", "k")
    journal.keep(Kept(name="tray", opening="a collage", answers=answers, trail=("layers",), done=True))
    journal.close()
    return answers


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    """Exit status, what was printed, what was complained of."""
    try:
        status = main(arguments)
    except SystemExit as done:
        status = int(done.code or 0)
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    return status, out, err


def answers_file(tmp_path: Path, text: str | bytes) -> str:
    path = tmp_path / "answers.toml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return str(path)


# ------------------------------------------------------------------ plan


@pytest.mark.parametrize("form", ["terminal", "markdown", "json", "html", "csv-steps"])
def test_plan_from_an_answers_file(capsys: Any, tmp_path: Path, form: str) -> None:
    status, out, err = run(capsys, "plan", answers_file(tmp_path, GOOD), "--as", form)
    assert (status, err) == (0, "")
    assert "pray" in out  # tissue is sprayed
    if form == "json":
        assert json.loads(out)["answers"]["support"] == ["tissue_paper"]


def test_plan_from_standard_input(capsys: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(GOOD.replace("\n", "\r\n").encode())))
    assert run(capsys, "plan", "-")[0] == 0


def test_missing_answers_are_listed_in_the_words_of_their_questions(capsys: Any, tmp_path: Path) -> None:
    status, out, err = run(capsys, "plan", answers_file(tmp_path, 'piece = "collage"'))
    assert (status, out) == (2, "")
    assert "support: Which papers or other sheets are in it?" in err
    assert all(line.startswith("beforepour: ") for line in err.splitlines())


def test_assume_takes_not_sure_for_all_that_is_missing(capsys: Any, tmp_path: Path) -> None:
    status, out, _ = run(capsys, "plan", answers_file(tmp_path, 'piece = "collage"'), "--assume", "--as", "json")
    plan = json.loads(out)
    assert status == 0 and plan["complete"] and plan["origins"]["support"] == "assumed"


WRONG = [
    ("a wrong key", 'suport = ["tissue_paper"]', ["suport", 'Did you mean "support"?']),
    ("a wrong choice", 'piece = "colage"', ["piece", '"collage"']),
    ("a choice of another question", 'layers = "pva"', ["layers", "flat, lifted"]),
    ("a number for a choice", "piece = 3", ["piece", "in quotes", "3"]),
    ("a list for one choice", 'piece = ["collage", "sheet"]', ["piece", "one choice"]),
    ("an empty list", "support = []", ["support", "list is empty"]),
    ("an empty list for nothing", "laid_on = []", ["laid_on", 'Write "none"']),
    ("a list of numbers", "support = [1]", ["support", "list"]),
    ("a choice named twice", 'opened = ["torn", "torn"]', ["opened", "twice"]),
    ("choices that exclude each other", 'opened = ["whole", "torn"]', ["opened", "whole"]),
    ("not sure in a list", 'opened = ["not sure"]', ["opened", "alone"]),
    ("a key twice", 'piece = "collage"\npiece = "sheet"', ["piece", "twice", "line 2"]),
    ("no TOML", "piece is a collage", ["not TOML", "line 1"]),
    ("no end of a text", 'piece = "collage', ["not TOML"]),
    ("not UTF-8", b'piece = "\xff"', ["not UTF-8", "byte 10"]),
    ("nothing", "", ["empty"]),
    ("only a remark", "# nothing", ["no answers"]),
    ("a table", '[piece]\nx = "collage"', ["piece", "in quotes"]),
    ("nested too deep", "x = " + "[" * 5000, ["not TOML"]),
    ("too large", b"#" * 1_000_001, ["larger than 1 MB"]),
    ("origin of nothing", 'piece = "collage"\n[origin]\nlayers = "said"', ["origin.layers"]),
    ("an unknown origin", 'piece = "collage"\n[origin]\npiece = "heard"', ["origin.piece", "said, trial, label"]),
    ("origin no table", 'piece = "collage"\norigin = 3', ["origin"]),
    ("a jigsaw of glass", 'piece = "jigsaw"\nsupport = ["glass"]', ["jigsaw", "Change one"]),
    ("NUL", b'piece = "a\x00"', ["not TOML"]),
    ("escapes", 'piece = "\\u001b[31mred"', ["piece"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "words"), [(t, w) for _, t, w in WRONG], ids=[name for name, _, _ in WRONG])
def test_an_answers_file_that_will_not_do(capsys: Any, tmp_path: Path, text: str | bytes, words: list[str]) -> None:
    target = tmp_path / "out.md"
    status, out, err = run(capsys, "plan", answers_file(tmp_path, text), "--to", str(target))
    assert (status, out) == (2, "")
    assert all(word in err for word in words), err
    assert "\x1b" not in err and all(len(line) < 400 for line in err.splitlines())
    assert not target.exists()


def test_all_faults_of_a_file_are_told_at_once(capsys: Any, tmp_path: Path) -> None:
    _, _, err = run(capsys, "plan", answers_file(tmp_path, 'piece = "colage"\nsuport = []\nopened = 3'))
    assert [line.split(":")[1].strip() for line in err.splitlines()] == ["piece", "suport", "opened"]


@pytest.mark.parametrize("place", ["nowhere.toml", "."])
def test_an_answers_file_that_is_not_there(capsys: Any, tmp_path: Path, place: str) -> None:
    status, _, err = run(capsys, "plan", str(tmp_path / place))
    assert status == 2 and "cannot be read" in err and len(err.splitlines()) == 1


def test_answers_written_out_are_read_back_the_same(knowledge: Any) -> None:
    answers = read_answers(GOOD.encode(), knowledge).say("layers", NOT_SURE).say("drop_result", "beads", "trial")
    again = read_answers(write_answers(answers, knowledge).encode(), knowledge)
    assert {q: (a.value, a.origin) for q, a in again.items()} == {q: (a.value, a.origin) for q, a in answers.items()}


@settings(max_examples=300, deadline=None)
@given(
    st.one_of(
        st.binary(max_size=200),
        st.text(max_size=200).map(str.encode),
        st.sampled_from(GOOD.splitlines()).map(str.encode),
    )
)
def test_any_bytes_are_answers_or_faults(knowledge: Any, data: bytes) -> None:
    try:
        read_answers(data, knowledge)
    except AnswersError as error:
        assert error.faults and all(fault and "\n" not in fault for fault in error.faults)


# ------------------------------------------------------------------ kept pieces


def test_brief_answers_and_list_of_a_kept_piece(capsys: Any, tray: Answers, knowledge: Any) -> None:
    assert "tray (planned): a collage" in run(capsys, "list")[1]
    assert "tissue paper" in run(capsys, "brief", "tray")[1]
    status, out, _ = run(capsys, "answers", "tray")
    assert status == 0
    assert {q: a.value for q, a in read_answers(out.encode(), knowledge).items()} == {
        q: a.value for q, a in tray.items()
    }


def test_a_file_is_private_whole_and_never_overwritten_unasked(capsys: Any, tray: Answers, tmp_path: Path) -> None:
    target = tmp_path / "brief.md"
    assert run(capsys, "brief", "tray", "--as", "markdown", "--to", str(target))[0] == 0
    assert stat.S_IMODE(target.stat().st_mode) == 0o600
    first = target.read_text()
    target.write_text("mine")
    status, _, err = run(capsys, "brief", "tray", "--as", "markdown", "--to", str(target))
    assert status == 2 and "--overwrite" in err and target.read_text() == "mine"
    assert run(capsys, "brief", "tray", "--as", "markdown", "--to", str(target), "--overwrite")[0] == 0
    assert target.read_text() == first
    assert [p.name for p in tmp_path.iterdir() if p.name.startswith(".")] == []


@pytest.mark.parametrize("target", ["no/such/folder/x.md", ".", "x" * 300])
def test_a_file_that_cannot_be_written_is_told(capsys: Any, tray: Answers, tmp_path: Path, target: str) -> None:
    status, _, err = run(capsys, "brief", "tray", "--to", str(tmp_path / target))
    assert status in (1, 2) and len(err.splitlines()) == 1


def test_an_unknown_name_brings_the_nearest(capsys: Any, tray: Answers) -> None:
    for command in ("brief", "answers", "explain", "forget", "resume"):
        status, out, err = run(capsys, command, "trya")
        assert status == 2 and "Did you mean tray" in out + err


def test_explain_answers_a_question_about_the_plan(capsys: Any, tray: Answers) -> None:
    status, out, _ = run(capsys, "explain", "tray", "why", "not", "brush?")
    assert status == 0 and "tear" in out
    status, _, err = run(capsys, "explain", "tray", "the moon")
    assert status == 2 and "no figure" in err


def test_forget_removes_a_piece(capsys: Any, tray: Answers, data: Path) -> None:
    assert run(capsys, "forget", "tray")[0] == 0
    assert list((data / "pieces").iterdir()) == []


def test_resume_with_nothing_to_resume(capsys: Any, tray: Answers) -> None:
    assert "no unfinished conversation" in run(capsys, "resume", "--plain")[1]


def test_answers_that_no_longer_fit_the_knowledge_are_told_and_left_out(capsys: Any, data: Path) -> None:
    journal = begin(data / "pieces", "old", "full", "k")
    journal.keep(
        Kept(
            name="old",
            answers=Answers().say("piece", "sheet").say("support", frozenset({"moon_rock"})).say("gone", "x"),
        )
    )
    journal.close()
    status, _, err = run(capsys, "brief", "old")
    assert status == 0 and "support: this answer no longer fits" in err and "gone: this answer" in err


# ------------------------------------------------------------------ the rest


def test_questions_are_listed_with_choices_and_when_they_are_asked(capsys: Any, knowledge: Any) -> None:
    status, out, _ = run(capsys, "questions")
    assert status == 0
    for question in knowledge.questions.values():
        assert f"{question.id}: {question.text.split('{')[0].strip()}" in out
    assert "asked: piece is collage" in out
    status, out, _ = run(capsys, "questions", "support")
    assert all(id in out for id in knowledge.materials if id != "unsure")
    status, _, err = run(capsys, "questions", "suport")
    assert status == 2 and 'Did you mean "support"?' in err


@pytest.mark.parametrize(
    ("arguments", "words"),
    [(["pln"], ["pln", 'Did you mean "plan"?']), (["plan", "x", "--as", "jsn"], ['Did you mean "json"?']),
    (["plan"], ["ANSWERS.toml"]),
     (["brief", "x", "--frm"], ["--frm"])],
)  # fmt: skip
def test_a_command_that_was_mistyped(capsys: Any, arguments: list[str], words: list[str]) -> None:
    status, _, err = run(capsys, *arguments)
    assert status == 2 and len(err.splitlines()) == 1 and all(word in err for word in words)


def test_every_command_has_help(capsys: Any) -> None:
    for command in NAMES:
        status, out, _ = run(capsys, command, "--help")
        assert status == 0 and command in out
    assert all(command in run(capsys, "--help")[1] for command in NAMES)


def test_a_folder_of_knowledge_that_is_not_there(capsys: Any, tmp_path: Path) -> None:
    status, _, err = run(capsys, "questions", "--knowledge", str(tmp_path / "none"))
    assert status == 2 and "no such folder" in err


def test_broken_additions_are_told_line_by_line(capsys: Any, tmp_path: Path) -> None:
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "x.toml").write_text('[[material]]\nid = "x"\n')
    for command in (["questions", "--knowledge"], ["knowledge"]):
        status, _, err = run(capsys, *command, str(tmp_path / "mine"))
        assert status == 2 and "x.toml" in err and "is missing" in err


def test_a_pdf_without_a_browser_says_what_to_do_instead(
    capsys: Any, tray: Answers, monkeypatch: Any, tmp_path: Path
) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    status, out, err = run(capsys, "brief", "tray", "--as", "pdf", "--to", str(tmp_path / "x.pdf"))
    assert (status, out) == (1, "") and "HTML" in err and not (tmp_path / "x.pdf").exists()


def test_a_list_of_what_is_at_hand(capsys: Any, tmp_path: Path) -> None:
    shelf = tmp_path / "shelf.csv"
    shelf.write_text("name,class\nthe red can,spray_acrylic\n")
    status, out, _ = run(capsys, "plan", answers_file(tmp_path, GOOD), "--stock", str(shelf))
    assert status == 0 and "the red can" in out
    shelf = tmp_path / "other.csv"
    shelf.write_text("name,class\nthe red can,spray_acrilic\n")
    status, _, err = run(capsys, "plan", answers_file(tmp_path, GOOD), "--stock", str(shelf))
    assert status == 2 and "other.csv" in err and "spray_acrylic" in err
    done = piped(tmp_path / "data", b"a jigsaw\nyes\n", "new", "--stock", str(shelf))
    assert done.returncode == 2 and b"other.csv" in done.stdout and done.stderr == b""


def piped(folder: Path, typed: bytes, *arguments: str, **environment: str) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-m", "interview", *arguments], input=typed, capture_output=True, check=False,
        env={**os.environ, "BEFOREPOUR_DATA": str(folder), **environment}, timeout=60,
    )  # fmt: skip


LINES = [b"a torn tissue paper collage on plywood", b"yes", b"flat", b"pva", b"none", b"no", b"not sure"]


def test_a_pipe_with_windows_line_ends_that_ends_in_the_middle_keeps_what_was_said(data: Path) -> None:
    done = piped(data, b"\r\n".join(LINES[:4]) + b"\r\n")
    assert done.returncode == 1 and done.stderr == b""
    assert b"> pva\n" in done.stdout and b"\r" not in done.stdout and b"is kept as" in done.stdout
    done = piped(data, b"", "list")
    assert b"collage-torn-tissue-paper (" in done.stdout


def test_a_pipe_with_no_input_at_all_is_no_fault(data: Path) -> None:
    done = piped(data, b"")
    assert done.returncode == 1 and b"nothing is kept" in done.stdout and done.stderr == b""


@pytest.mark.parametrize("encoding", ["ascii", "latin-1"])
def test_output_in_any_encoding(data: Path, tmp_path: Path, encoding: str) -> None:
    path = answers_file(tmp_path, GOOD)
    done = piped(data, b"", "plan", path, "--as", "markdown", PYTHONIOENCODING=encoding)
    assert done.returncode == 0 and done.stderr == b""
    done.stdout.decode(encoding)


@pytest.mark.parametrize(
    ("arguments", "pace", "plain"),
    [
        ([], "full", False),
        (["--plain"], "full", True),
        (["--counter"], "counter", False),
        (["--plain", "--quick", "new"], "quick", True),
        (["new", "--quick"], "quick", False),
        (["--plain", "brief", "tray"], "full", True),
    ],
)
def test_what_is_said_before_the_command_counts(arguments: list[str], pace: str, plain: bool) -> None:
    options = make_parser().parse_args(arguments)
    assert (options.pace, options.plain) == (pace, plain)
