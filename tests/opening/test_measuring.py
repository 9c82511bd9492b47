"""Everyday sentences as a floor, and the measure on lines of our own making."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from knowledge.loading import Knowledge
from tests.opening import measure
from tests.opening.everyday import read_sentences, tally

SENTENCES = read_sentences()


def test_there_are_enough_sentences_and_half_are_held_out() -> None:
    assert len(SENTENCES) >= 150
    held = sum(s.measuring for s in SENTENCES)
    assert abs(2 * held - len(SENTENCES)) <= 1
    assert {s.by for s in SENTENCES} == {"beginner", "seller", "clerk"}
    assert len({s.say for s in SENTENCES}) == len(SENTENCES)


@pytest.mark.parametrize(("measuring", "least"), [(False, 0.95), (True, 0.9)])
def test_everyday_sentences(measuring: bool, least: float, knowledge: Knowledge) -> None:
    got = tally([s for s in SENTENCES if s.measuring is measuring], knowledge)
    assert got.precision >= least, got.faults
    assert got.recall >= least, got.faults


LINES = """medium,works
Tissue paper on plywood,7
"Video, projection, colour",2
Zorblax on plywood,1
"""
LABELS = [
    {
        "line": "Tissue paper on plywood",
        "coatable": True,
        "supports": ["paper", "board"],
        "media": ["collage"],
    },
    {"line": "Video, projection, colour", "coatable": False, "supports": [], "media": []},
    {"line": "Oil paint on canvas", "coatable": True, "supports": ["canvas", "glass"], "media": ["gouache"]},
]


@pytest.fixture
def files(tmp_path: Path) -> tuple[Path, Path]:
    lines, labels = tmp_path / "lines.csv", tmp_path / "labels.jsonl"
    lines.write_text(LINES, encoding="utf-8")
    rows = ({**row, "works": 1, "negated": [], "note": ""} for row in LABELS)
    labels.write_text("\n".join(map(json.dumps, rows)), encoding="utf-8")
    return lines, labels


def test_coverage_counts_works_and_lines(files: tuple[Path, Path], knowledge: Knowledge) -> None:
    report = measure.coverage(files[0], knowledge, show=5)
    assert report[1].split()[-3:] == ["3", "2", "66.67%"]
    assert report[2].split()[-3:] == ["10", "9", "90.00%"]
    assert any("Zorblax" in line for line in report[5:])


def test_precision_and_recall_can_fail(files: tuple[Path, Path], knowledge: Knowledge) -> None:
    report = measure.precision_recall(files[1], knowledge, show=0)
    supports, media, coatable = (line.split() for line in report[2:5])
    assert supports == ["supports", "1.000", "0.750", "3", "0", "1"]
    assert media == ["media", "0.500", "0.500", "1", "1", "1"]
    assert coatable == ["coatable", "1.000", "1.000", "3", "0", "0"]
