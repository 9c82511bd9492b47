"""What all targets share: the knowledge, a folder in memory, and what is asked of a line or a value."""

from __future__ import annotations

import shutil
import tempfile
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from multiprocessing.util import Finalize
from pathlib import Path
from typing import Any

from interview.conversation.adviser import load_adviser
from interview.plan.answers import Answers
from interview.reading.fitting import all_choices
from interview.text.harmless import harmless
from knowledge.loading import Knowledge
from knowledge.shape import Choice, Question

ROOT = Path(__file__).parent.parent.parent
_FORMS = ("terminal", "markdown", "html", "screen", "json", "csv-shopping", "csv-steps")


@dataclass(frozen=True, slots=True)
class Target:
    """`share`: how many of a million inputs. `sample`: how many in the test run."""

    name: str
    share: int
    sample: int
    run: Callable[[bytes], str]
    seeds: Callable[[], list[bytes]]


def known() -> Knowledge:
    """The knowledge as the program itself has loaded it, with its index of phrases."""
    return load_adviser().knowledge


@cache
def in_memory() -> Path:
    """A folder in memory, where there is one: files are made by the hundred thousand."""
    memory = Path("/dev/shm")
    folder = tempfile.mkdtemp(prefix="hostile-", dir=memory if memory.is_dir() else None)
    Finalize(None, shutil.rmtree, (folder, True), exitpriority=1)  # also where a worker process ends
    return Path(folder)


def now_and_then(data: bytes, often: int) -> bool:
    """True for one input in `often`, and for the same input always."""
    return zlib.crc32(data) % often == 0


def as_typed(data: bytes) -> str:
    """As a console hands over a line."""
    from interview.terminal.plain_console import _decode
    from interview.terminal.prompt import LONGEST_LINE

    return harmless(_decode(data), one_line=True)[:LONGEST_LINE]


def one_line(text: str) -> str:
    """The text as it is shown; it has to be one line of bearable length."""
    assert text and "\n" not in text and len(text) < 700, repr(text)[:300]
    return harmless(text, one_line=True)


# ------------------------------------------------------------------ replies and opening words


@cache
def questions() -> tuple[tuple[Question, tuple[Choice, ...]], ...]:
    return tuple((q, all_choices(q, known())) for q in known().questions.values())


def near(one: Any, other: Any) -> bool:
    """Equal, numbers as near as they are written."""
    if isinstance(one, dict):
        return set(one) == set(other) and all(near(one[k], other[k]) for k in one)
    if isinstance(one, tuple):
        return len(one) == len(other) and all(map(near, one, other))
    if isinstance(one, float):
        return bool(abs(one - other) <= 1e-6 * max(abs(one), abs(other), 1))
    return bool(one == other)


def planned(answers: Answers, data: bytes, name: str) -> str:
    """Whatever was accepted can be planned, drawn, priced and written down."""
    from interview.brief.forms import render
    from interview.reasoning.planner import make_plan

    plan = make_plan(known(), answers, name)
    form = _FORMS[zlib.crc32(data) // 7 % len(_FORMS)]
    text = str(render(plan, form, imperial=bool(len(data) % 2)))
    assert form.startswith("csv") or text == harmless(text), form
    return form
