"""kill -9 in a real pseudo-terminal at some points; python -m tests.hostile.killing does them all."""

from __future__ import annotations

import pytest

from tests.demo import SCENES
from tests.hostile.killing import Course, Moment, course_of, kill_at


@pytest.fixture(scope="module")
def course() -> Course:
    return course_of(min((s for s in SCENES if s["pace"] in ("full", "quick")), key=lambda s: len(s["replies"])))


@pytest.mark.parametrize(("prompt", "moment"), [(2, "handed over"), (4, "standing")])
def test_killed_everything_confirmed_is_there_and_it_goes_on(course: Course, prompt: int, moment: Moment) -> None:
    assert course.before(4), "the scene has to have answers by then"
    kill_at(course, prompt, moment, 0.005)
