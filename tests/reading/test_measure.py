"""Lines written by another hand, and by ours, are heard rightly, near enough; none is taken for what it must not be."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from knowledge.loading import Knowledge
from tests.reading.measure import score


@pytest.mark.parametrize(("file", "lines"), [("turns.jsonl", 280), ("own_turns.jsonl", 353)])
def test_lines_are_heard_rightly(file: str, lines: int, knowledge: Knowledge) -> None:
    text = Path(__file__).with_name(file).read_text(encoding="utf-8")
    rows = [json.loads(line) for line in text.splitlines()]
    total = score(rows, knowledge)
    assert len(rows) == lines
    assert total.acts_right / total.lines >= 0.92, total.faults
    assert total.taken / total.wanted >= 0.90, total.faults
    assert total.wrong / total.recorded <= 0.05, total.faults
    assert total.broken <= 1, total.faults
