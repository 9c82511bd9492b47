"""Lines written by another hand are heard rightly, near enough; none is taken for what it must not be."""

from __future__ import annotations

import json
from pathlib import Path

from knowledge.loading import Knowledge
from tests.reading.measure import score

TURNS = Path(__file__).with_name("turns.jsonl")


def test_lines_of_another_hand(knowledge: Knowledge) -> None:
    rows = [json.loads(line) for line in TURNS.read_text(encoding="utf-8").splitlines()]
    total = score(rows, knowledge)
    assert len(rows) == 280
    assert total.acts_right / total.lines >= 0.92, total.faults
    assert total.taken / total.wanted >= 0.90, total.faults
    assert total.wrong / total.recorded <= 0.05, total.faults
    assert total.broken <= 2, total.faults
