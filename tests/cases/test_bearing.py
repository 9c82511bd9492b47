"""What each thing cannot bear of each action, and until when (tests/cases/bearing.toml); and that nothing stands idle."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from interview.reasoning.layers import TABLES, limits_of
from interview.reasoning.playing import strengths
from knowledge.loading import Knowledge

ROWS = tomllib.loads((Path(__file__).parent / "bearing.toml").read_text(encoding="utf-8"))["bears"]


def untils(knowledge: Knowledge, row: dict[str, Any]) -> set[str]:
    """Every state that has to be reached first."""
    table = next(t for t in TABLES if t in row)
    action = knowledge.actions[row["action"]]
    strength = strengths(action, "water" if action.liquid == "carrier" else action.liquid)
    limits = limits_of(knowledge, table, row[table], row.get("cast", False), row.get("rub", "none"))
    return {limit.until for limit in limits if strength.get(limit.of, 0) >= limit.least}


@pytest.mark.parametrize("row", ROWS, ids=lambda r: " ".join(map(str, r.values())))
def test_what_it_cannot_bear(knowledge: Knowledge, row: dict[str, Any]) -> None:
    assert untils(knowledge, row) == set(row["until"])


def mutants(knowledge: Knowledge) -> Iterator[tuple[str, Knowledge]]:
    """Each with one "cannot bear" taken away."""
    for id in knowledge.limits:
        yield id, replace(knowledge, limits={k: v for k, v in knowledge.limits.items() if k != id})
    for shelf in ("materials", "media", "inclusions", "adhesives"):
        for row in getattr(knowledge, shelf).values():
            for n in range(0 if row.members else len(row.cannot)):
                less = replace(row, cannot=(*row.cannot[:n], *row.cannot[n + 1 :]))
                yield f"{row.id} {n}", replace(knowledge, **{shelf: {**getattr(knowledge, shelf), row.id: less}})


def test_none_can_be_taken_away_unnoticed(knowledge: Knowledge) -> None:
    idle = [name for name, k in mutants(knowledge) if all(untils(k, row) == set(row["until"]) for row in ROWS)]
    assert not idle
