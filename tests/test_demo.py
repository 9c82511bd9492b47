"""The demo conversations, replayed word for word against transcripts_demo/."""

from __future__ import annotations

from typing import Any

import pytest

from tests.demo import HOME, SCENES, play


@pytest.mark.parametrize("scene", SCENES, ids=lambda s: s["name"])
def test_the_conversation_goes_as_written(scene: dict[str, Any]) -> None:
    for name, text in play(scene).items():
        assert (HOME / name).read_text(encoding="utf-8") == text, (
            f"{name} differs: python -m tests.demo {scene['name']}"
        )


def test_nothing_else_lies_in_the_folder() -> None:
    wanted = {f"{s['name']}.{end}" for s in SCENES for end in ("txt", "md")}
    assert {p.name for p in HOME.iterdir()} <= wanted | {"README.md"}
