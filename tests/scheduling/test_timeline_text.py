"""Timelines in fixed letters: they fit, and they say what is so."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from interview.brief.batch_sheet import batch_text
from interview.brief.timeline_text import in_days, look_runs, sheet_text, timeline_text
from interview.brief.typesetting import columns
from interview.reasoning.batch import make_batch, sheets
from interview.reasoning.lots import Kind, Means
from interview.reasoning.timetable import arrange, timeline
from tests.scheduling.stall import AT_HOME, WEDNESDAY, plan, pour_steps, random_stall, step

NOW = Means(AT_HOME, WEDNESDAY, waits="shortest")


@pytest.mark.parametrize("seed", range(4))
def test_no_line_is_wider_than_the_window(seed: int) -> None:
    kinds, means = random_stall(seed)
    time = arrange(kinds, replace(means, ready_by=WEDNESDAY + timedelta(days=3)))
    for width in (60, 72, 80, 100, 120):
        lines = timeline_text(time, width).split("\n")
        for sheet in sheets(time):
            lines += sheet_text(sheet.day, sheet.lines, sheet.looks, width).split("\n")
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
    late = make_batch([kind], replace(NOW, ready_by=datetime(2026, 5, 8, 8)))
    text = timeline_text(late.timeline, 80)
    assert "It cannot be ready by Fri 8 May, 08:00: it is 2 days and 14 hours late." in " ".join(text.split())


def test_a_sheet_has_a_box_for_each_task() -> None:
    time = timeline(plan(pour_steps([])), NOW)
    sheet = sheets(time)[0]
    text = sheet_text(sheet.day, sheet.lines, sheet.looks, 70)
    assert text.startswith("Wednesday 6 May\n[ ] 18:00 to 18:30 prepare.room\n")
    assert text.count("[ ]") == len(sheet.lines) + len(look_runs(sheet.looks))
    assert "every 15 minutes: look at" in " ".join(text.split())
    assert "(pot 1)" in text


AT = datetime(2026, 5, 9, 18, 38)


@pytest.mark.parametrize(
    ("minutes", "says"),
    [
        ([0], "[ ] 18:38 look at gull"),
        ([0, 60], "[ ] 18:38 and 19:38 look at gull"),
        ([0, 15, 30, 45, 60, 75, 90, 105, 120], "[ ] 18:38 to 20:38, every 15 minutes: look at gull"),
        ([0, 60, 120], "[ ] 18:38 to 20:38, every hour: look at gull"),
        ([0, 15, 30, 90, 150], "[ ] 18:38 to 19:08, every 15 minutes: look at gull\n[ ] 20:08 and 21:08 look at gull"),
    ],
)
def test_runs_of_looks_are_one_line(minutes: list[int], says: str) -> None:
    looks = [(AT + timedelta(minutes=m), "gull") for m in minutes]
    assert sheet_text(AT.date(), (), looks, 80) == f"Saturday 9 May\n{says}"


@given(st.lists(st.tuples(st.integers(0, 300), st.sampled_from(("gull", "tern"))), unique=True))
def test_no_look_is_lost_or_made_up_in_runs(given_: list[tuple[int, str]]) -> None:
    looks = [(AT + timedelta(minutes=m), who) for m, who in given_]
    runs = look_runs(looks)
    assert sorted((look, who) for run, who in runs for look in run) == sorted(looks)
    assert all(len({b - a for a, b in pairwise(run)}) <= 1 for run, _ in runs)


def test_a_window_that_was_missed_is_said_in_a_sentence_of_its_own() -> None:
    late = step("seal.a.2", 15, after=(("seal.a.1", 60, 90),), alternative=1440.0, name="Brush it, coat 2 of 2")
    told = plan([step("seal.a.1", 150, (60, 60)), replace(late, hands_on=40.0)])
    time = timeline(told, NOW)
    text = "\n".join(sheet_text(s.day, s.lines, s.looks, 200) for s in sheets(time))
    assert "coat 2 of 2. The window was missed; this is after the longer wait." in text


@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        (0, "0 minutes"), (1, "1 minute"), (59, "59 minutes"), (60, "1 hour"), (61, "2 hours"), (1440, "1 day"),
        (1500, "1 day and 1 hour"), (20 * 1440 + 5, "20 days"),
    ],
)  # fmt: skip
def test_spans_in_words(minutes: int, words: str) -> None:
    assert in_days(timedelta(minutes=minutes)) == words


def test_the_pots_fit_the_window_and_leave_out_what_is_not_known() -> None:
    """Parts only where a ratio was told; for which pieces only where there are several, in lines of their own."""
    many = [Kind(f"a kind with quite a long name {n}", plan(pour_steps([]), resin=10.0), 1) for n in range(6)]
    text = batch_text(make_batch(many, replace(NOW, working_time=120)), 80)
    table = text.split("THE POTS\n--------\n")[1].split("\n\n")[0].split("\n")
    assert max(map(columns, table)) <= 80
    assert table[0].split() == ["pot", "mixed", "all", "in", "for"] and table[-1].startswith(
        "Resin and hardener in parts"
    )
    one = Kind("sign", plan(pour_steps([]), resin=300.0, ratio=[2.0, 1.0, "volume"]))
    text = batch_text(make_batch([one], NOW), 80)
    table = text.split("THE POTS\n--------\n")[1].split("\n\n")[0].split("\n")
    assert table[0].split() == ["pot", "mixed", "all", "in", "resin", "hardener"]
    assert "200 mL" in table[1] and "100 mL" in table[1]
    assert "every 15 minutes: look at it" in text
