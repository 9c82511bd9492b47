"""The conversations of transcripts_demo/: made anew by `python -m tests.demo`, replayed by tests/test_demo.py."""

from __future__ import annotations

import os
import tempfile
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Any

from interview.terminal.prompt import EndOfInput, Prompt
from interview.terminal.scripted_console import ScriptedConsole

HOME = Path(__file__).parent.parent.parent / "transcripts_demo"
SCENES: list[dict[str, Any]] = tomllib.loads((Path(__file__).parent / "scenes.toml").read_text(encoding="utf-8"))[
    "scene"
]
WIDTH = 80
TODAY = datetime(2026, 11, 25, 12)  # every scene is played at noon of this day


class SceneConsole(ScriptedConsole):
    """Answers each prompt with the first unused reply whose words stand in it."""

    def __init__(self, scene: dict[str, Any]) -> None:
        super().__init__((), WIDTH)
        self._pairs = [tuple(pair) for pair in scene["replies"]]
        self._otherwise = scene["otherwise"]
        self._asked = 0

    def _next(self, prompt: Prompt) -> str:
        self._asked += 1
        if self._asked > 80:
            raise EndOfInput
        place = next((n for n, (words, _) in enumerate(self._pairs) if words in prompt.text), None)
        reply = self._otherwise if place is None else self._pairs.pop(place)[1]
        self._lines.append(f"> {reply}")
        return str(reply)

    @property
    def unused(self) -> list[tuple[str, ...]]:
        return self._pairs


@contextmanager
def _fresh_home() -> Iterator[Path]:
    """A data folder of its own, so that a demo neither sees nor leaves anything."""
    with tempfile.TemporaryDirectory() as folder:
        before = os.environ.get("XDG_DATA_HOME")
        os.environ["XDG_DATA_HOME"] = folder
        try:
            yield Path(folder)
        finally:
            if before is None:
                del os.environ["XDG_DATA_HOME"]
            else:
                os.environ["XDG_DATA_HOME"] = before


def play(scene: dict[str, Any]) -> dict[str, str]:
    """File name -> text: the conversation as it stood on the screen, and the brief as Markdown."""
    from interview.conversation.earlier import kept_pieces
    from interview.conversation.sessions import Setting, save_it, start

    if scene["pace"] in ("work", "stall"):
        from tests.demo.doing import worked

        with _fresh_home():
            return {f"{scene['name']}.txt": f"{scene['title']}\n{'=' * len(scene['title'])}\n\n{worked(scene, TODAY)}"}
    console = SceneConsole(scene)
    with _fresh_home():
        setting = Setting(console, now=lambda: TODAY)
        if scene["pace"] == "rescue":
            save_it(setting)
        else:
            start(setting, scene["pace"], scene["name"])
        made = {f"{scene['name']}.txt": f"{scene['title']}\n{'=' * len(scene['title'])}\n\n{console.transcript}"}
        for _, kept in kept_pieces():
            made[f"{scene['name']}.md"] = brief_of(kept.answers, scene["name"])
    assert not console.unused, f"{scene['name']}: never asked: {console.unused}"
    return made


def brief_of(answers: Any, name: str) -> str:
    from interview.brief.forms import render
    from interview.reasoning.planner import make_plan
    from knowledge.loading import load

    return str(render(make_plan(load(), answers, name), "markdown", width=WIDTH))
