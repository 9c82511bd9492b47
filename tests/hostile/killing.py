"""Every demo conversation killed with SIGKILL at every point, in a real pseudo-terminal, and taken up again.

python -m tests.hostile.killing [SCENE ...]   All scenes, every point, in two ways: while the next question
stands there, and in the very moment a reply was handed over. Takes some minutes; test_killed.py runs a few.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

from interview.files.journal import NotKept, read
from interview.files.kept import Kept
from interview.plan.answers import Answers
from interview.terminal.prompt import Prompt
from tests.demo import SCENES, SceneConsole
from tests.terminal.screen import PATIENCE, Terminal

Moment = Literal["standing", "handed over"]
_PROMPT_STANDS = b"\x1b[?2004h"  # bracketed paste on: prompt_toolkit sends it each time it begins to ask
_DELAYS = (0.0, 0.002, 0.005, 0.01, 0.02, 0.05)  # seconds from handing over to the kill


@dataclass(slots=True)
class Course:
    """How a scene goes: what is typed, and every state kept up to each prompt."""

    name: str
    pace: str
    replies: list[str] = field(default_factory=list)
    kept: list[int] = field(default_factory=list)  # how many states were kept when prompt n stood there
    states: list[Kept] = field(default_factory=list)

    def before(self, prompt: int) -> Answers:
        return self.states[self.kept[prompt] - 1].answers if self.kept[prompt] else Answers()


class _Recorder(SceneConsole):
    """Plays a scene and notes where each prompt stood. It keeps the states itself: no file is involved."""

    safe = True
    title = ""

    def __init__(self, scene: dict[str, Any], course: Course) -> None:
        super().__init__(scene)
        self.course = course
        self.name = ""

    def ask(self, prompt: Prompt) -> str:
        self.course.kept.append(len(self.course.states))
        typed = super().ask(prompt)
        self.course.replies.append(self._lines[-1].removeprefix("> "))
        return typed

    def keep(self, state: Kept, called: str = "") -> str:
        self.course.states.append(state)
        return ""

    def close(self) -> None:
        pass


def course_of(scene: dict[str, Any]) -> Course:
    """The course of a scene, found by playing it once in this process."""
    from interview.conversation.adviser import Later, load_adviser
    from interview.conversation.dialogue import converse
    from interview.conversation.greeting import first_words
    from interview.conversation.talk import Talk

    course = Course(scene["name"], scene["pace"])
    recorder = _Recorder(scene, course)
    talk = Talk(recorder, Later(load_adviser), recorder, scene["pace"], Kept(pace=scene["pace"]))
    converse(talk, first_words(talk))
    return course


def kill_at(course: Course, prompt: int, moment: Moment, delay: float = 0.0) -> None:
    """Play up to a prompt, kill, look, take up again, look again. Raises AssertionError for what is lost."""
    with tempfile.TemporaryDirectory() as folder:
        journal = Path(folder) / "pieces" / f"{course.name.replace('_', '-')}.jsonl"
        pace = [] if course.pace == "full" else [f"--{course.pace}"]
        screen = Terminal(Path(folder), "new", *pace, "--name", course.name)
        try:
            for number in range(prompt + 1):
                _until_prompt(screen, number + 1)
                if number < prompt or moment == "handed over":
                    screen.type(f"\x15{course.replies[number]}\r")
            time.sleep(delay)
        finally:
            screen.kill()  # SIGKILL
        if course.pace == "counter":  # nothing of a customer is kept, by intention
            assert not journal.parent.exists()
            return
        left = _left(journal)
        least = course.before(prompt)
        if moment == "standing":
            assert left == least, f"{course.name}, prompt {prompt}: {list(left)} for {list(least)}"
        else:
            after = course.kept[prompt + 1] if prompt + 1 < len(course.kept) else len(course.states)
            possible = [least, *(state.answers for state in course.states[course.kept[prompt] : after])]
            assert left in possible, f"{course.name}, reply {prompt}: {list(left)}"
        if journal.exists():
            _take_up_again(Path(folder), journal, left)


def _until_prompt(screen: Terminal, count: int) -> None:
    end = time.monotonic() + PATIENCE * 2
    while screen.raw.count(_PROMPT_STANDS) < count:
        assert screen.read() and time.monotonic() < end, f"prompt {count} never came\n{screen.display}"


def _left(journal: Path) -> Answers:
    if not journal.exists():
        return Answers()
    try:
        return read(journal).answers
    except NotKept as error:
        raise AssertionError(str(error)) from error


def _take_up_again(folder: Path, journal: Path, left: Answers) -> None:
    """Resume shows the piece and asks on, and nothing is gone from the file."""
    screen = Terminal(folder, "resume", journal.stem)
    try:
        _until_prompt(screen, 1)
        assert not left or f'Going on with "{journal.stem}"'.encode() in screen.raw
        now = _left(journal)
        assert {id: a.value for id, a in now.items()} == {id: a.value for id, a in left.items()}
    finally:
        screen.kill()


def points(names: Sequence[str] = ()) -> Iterator[tuple[Course, int, Moment, float]]:
    """Every point of every scene."""
    for scene in (s for s in SCENES if s["pace"] in ("full", "quick")):
        if not names or scene["name"] in names:
            course = course_of(scene)
            for prompt in range(len(course.replies)):
                yield course, prompt, "standing", 0.0
                yield course, prompt, "handed over", _DELAYS[prompt % len(_DELAYS)]


def main(names: Sequence[str]) -> int:
    done, lost = 0, 0
    for course, prompt, moment, delay in points(names):
        try:
            kill_at(course, prompt, moment, delay)
        except AssertionError as error:
            lost += 1
            print(f"\n{course.name}, prompt {prompt}, {moment}: {error}")
        done += 1
        print(
            f"\r{done} killed, {lost} lost something  {course.name} {prompt:<4}",
            end="",
            file=sys.stderr,
            flush=True,
        )
    print(f"\n{done} conversations killed with SIGKILL and taken up again; {lost} lost something.")
    return 1 if lost or not done else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
