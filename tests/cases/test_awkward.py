"""Awkward pieces as a practitioner told them: nothing is done to them that must never be done (tests/cases/awkward.toml)."""

from __future__ import annotations

from typing import Any

import pytest

from knowledge.loading import Knowledge
from tests.cases.awkward import FILE, faults, read, shown

PIECES = read(FILE)
RIGHT = 66  # of them, as far as can be told without a person; grows


@pytest.mark.parametrize("piece", PIECES, ids=lambda p: p["id"])
def test_no_step_does_what_must_never_be_done_there(knowledge: Knowledge, piece: dict[str, Any]) -> None:
    it = shown(knowledge, piece)
    assert it.work or not it.scene.decision.pours, "nothing is to be done at all"
    assert not [f for f in faults(it) if f.startswith("never")]


def test_most_are_right_in_verdict_and_in_what_must_be_there(knowledge: Knowledge) -> None:
    wrong = {p["id"]: list(faults(shown(knowledge, p))) for p in PIECES}
    assert sum(not found for found in wrong.values()) >= RIGHT, {i: f for i, f in wrong.items() if f}


def test_a_fault_is_found(knowledge: Knowledge) -> None:
    piece = next(p for p in PIECES if p["id"] == "charcoal_barn_board")
    never = [{"action": "spray", "on": "charcoal", "until": "never"}]
    assert any(f.startswith("never") for f in faults(shown(knowledge, {**piece, "never": never})))
