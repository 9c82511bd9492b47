"""Input that ends at any point of any demo conversation, and its journal cut at every byte."""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path

import pytest

from interview.conversation.sessions import Setting, resume, start
from interview.files import records
from interview.files.journal import _recover, read
from interview.files.kept import Kept
from interview.files.pieces import listing
from interview.plan.answers import Answers
from interview.terminal.plain_console import PlainConsole
from tests.demo import SCENES
from tests.hostile.killing import Course, course_of

EVERY = 6
TALKS = [scene for scene in SCENES if scene["pace"] in ("full", "quick")]
each_scene = pytest.mark.parametrize("scene", TALKS, ids=lambda s: s["name"])


@cache
def _course(name: str) -> Course:
    return course_of(next(scene for scene in SCENES if scene["name"] == name))


def piped(lines: list[str], end: bytes = b"\r\n", encoding: str = "utf-8") -> tuple[Setting, io.BytesIO]:
    """A console that reads these lines through a pipe with the line ends of Windows."""
    out = io.BytesIO()
    source = io.BytesIO(b"".join(line.encode() + end for line in lines))
    return Setting(PlainConsole(source, io.TextIOWrapper(out, encoding, newline=""), echo=True)), out


@each_scene
def test_input_that_ends_at_any_point_leaves_all_that_was_confirmed(
    scene: dict[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    course = _course(scene["name"])
    first = TALKS.index(scene) % EVERY  # the scenes share the points; python -m tests.hostile.killing does all of all
    for prompt in range(first, len(course.replies), EVERY):
        folder = tmp_path / str(prompt)
        monkeypatch.setenv("BEFOREPOUR_DATA", str(folder))
        setting, out = piped(course.replies[:prompt], encoding="ascii" if prompt % 2 else "utf-8")
        status = start(setting, course.pace, course.name)  # type: ignore[arg-type]
        done = course.kept[prompt] and course.states[course.kept[prompt] - 1].done
        assert status == (0 if done else 1)
        assert b"\r" not in out.getvalue() and b"\x1b" not in out.getvalue()
        left = [read(path).answers for path in listing(folder / "pieces")]
        assert (left or [Answers()]) == [Answers() if course.pace == "counter" else course.before(prompt)]


def test_what_was_cut_short_is_taken_up_again_to_the_same_end(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every line a program of its own: begun, cut off, resumed ... comes to the answers of one go."""
    course = _course("beginner_flower_coaster")
    monkeypatch.setenv("BEFOREPOUR_DATA", str(tmp_path))
    start(piped(course.replies[:2])[0], "full", course.name)
    for reply in course.replies[2:-1]:
        resume(piped([reply])[0], course.name)
    (path,) = listing(tmp_path / "pieces")
    assert read(path).answers == course.states[-1].answers


def journal_of(course: Course) -> tuple[bytes, list[Answers]]:
    """The journal of a scene, and the answers after each of its lines."""
    line, chain = records.write_line(records.header("x", course.pace, "k"), 0)
    data, before, after = line, Kept("x", course.pace), [Answers()]
    for state in course.states:
        record = records.step(before, state)
        if record:
            line, chain = records.write_line(record, chain)
            data, before = data + line, state
            after.append(state.answers)
    return data, after


@each_scene
def test_a_journal_cut_anywhere_comes_back_up_to_its_last_whole_record(scene: dict[str, str]) -> None:
    data, after = journal_of(_course(scene["name"]))
    every = 1 if len(data) < 1500 else 61
    near_ends = {n + more for n, byte in enumerate(data) if byte == 10 for more in (0, 1, 2)}
    for cut in sorted({*range(0, len(data) + 1, every), *near_ends, len(data)}):
        whole = data[:cut].count(b"\n")
        assert _recover(data[:cut]).kept.answers == (after[whole - 1] if whole else Answers()), cut
