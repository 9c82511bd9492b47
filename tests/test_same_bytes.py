"""Same answers, same plan, byte for byte, whatever the order that sets happen to have in a run. No source."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
DUMP = """
import hashlib
from interview.brief.forms import render
from interview.reasoning.planner import make_plan
from knowledge.loading import load
from tests.test_trade import TABLE, answers_of
knowledge = load()
for case in TABLE["case"][::6]:
    plan = make_plan(knowledge, answers_of(knowledge, case["answers"]), "stall piece")
    for form in ("json", "terminal", "markdown", "csv-steps", "csv-shopping"):
        print(case["says"], form, hashlib.sha256(render(plan, form).encode()).hexdigest())
"""


def _dump(seed: str) -> list[str]:
    env = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)}
    return subprocess.run(
        [sys.executable, "-c", DUMP], env=env, cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.splitlines()


def test_the_order_of_sets_shows_nowhere() -> None:
    one, other = _dump("1"), _dump("2")
    assert len(one) > 100
    assert [pair for pair in zip(one, other, strict=True) if pair[0] != pair[1]] == []
