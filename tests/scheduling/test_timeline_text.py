"""Timelines in fixed letters: they fit, and they say what is so."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from interview.brief.timeline_text import in_days, sheet_text, timeline_text
from interview.brief.typesetting import columns
from interview.reasoning.batch import make_batch, sheets
from interview.reasoning.clock import arrange, timeline
from interview.reasoning.lots import Kind, Means
from tests.scheduling.stall import AT_HOME, WEDNESDAY, plan, pour_steps, random_stall, step

NOW = Means(AT_HOME, WEDNESDAY, waits="shortest")


@pytest.mark.parametrize("seed", range(4))
def test_no_line_is_wider_than_the_window(seed: int) -> None:
    kinds, means = random_stall(seed)
    time = arrange(kinds, replace(means, ready_by=WEDNESDAY + timedelta(days=3)), effort=50)
    for width in (60, 72, 80, 100, 120):
        lines = timeline_text(time, width).split("\n")
        for sheet in sheets(time):
            lines += sheet_text(sheet.day, sheet.doings, sheet.looks, width).split("\n")
        assert max(map(columns, lines)) <= width


@pytest.mark.parametrize(("width", "is_"), [(1, 60), (59, 60), (121, 120), (1000, 120)])
def test_widths_beyond_are_brought_in(width: int, is_: int) -> None:
    time = timeline(plan(pour_steps([])), NOW)
    assert timeline_text(time, width) == timeline_text(time, is_)


def test_the_bars_of_one_evening() -> None:
    steps = [
        step("seal.a.1", 60, (60, 60), name="Brush the face: sealer, coat 1 of 2", sealer="brush"),
        step(
            "seal.a.2",
            60,
            (60, 60),
            name="Brush the face: sealer, coat 2 of 2",
            after=(("seal.a.1", 60, None),),
        ),
        step("prepare.flat", 30, name="Lay it flat", after=(("seal.a.2", 30, None),)),
    ]
    text = timeline_text(timeline(plan(steps), NOW), 60)
    assert text.split("\n")[:4] == [
        "                         6 May",
        "                         |",
        "Brush the face: sealer,… █░█░",
        "Lay it flat                 █",
    ]
    assert "2 coats" in timeline_text(timeline(plan(steps), NOW), 120)
    assert "Begin Wed 6 May, 18:00. Ready Wed 6 May, 22:00." in text


def test_late_is_said_plainly() -> None:
    kind = Kind("sign", plan(pour_steps([])))
    late = make_batch([kind], replace(NOW, ready_by=datetime(2026, 5, 8, 8)), effort=50)
    text = timeline_text(late.timeline, 80)
    assert "It cannot be ready by Fri 8 May, 08:00: it is 2 days and 14 hours late." in " ".join(text.split())


def test_a_sheet_has_a_box_for_each_task() -> None:
    time = timeline(plan(pour_steps([])), NOW)
    sheet = sheets(time)[0]
    text = sheet_text(sheet.day, sheet.doings, sheet.looks, 70)
    assert text.startswith("Wednesday 6 May\n[ ] 18:00 to 18:30 prepare.room\n")
    assert text.count("[ ]") == len(sheet.doings) + len(sheet.looks)
    assert "(pot 1)" in text


@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        (0, "0 minutes"), (1, "1 minute"), (59, "59 minutes"), (60, "1 hour"), (61, "2 hours"), (1440, "1 day"),
        (1500, "1 day and 1 hour"), (20 * 1440 + 5, "20 days"),
    ],
)  # fmt: skip
def test_spans_in_words(minutes: int, words: str) -> None:
    assert in_days(timedelta(minutes=minutes)) == words
