"""Calendar files, parsed back with the `icalendar` package and held to RFC 5545."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar as Parsed

from interview.brief.calendar_file import calendar_file
from interview.reasoning.lots import Means
from interview.reasoning.timetable import Timeline, arrange, timeline
from interview.text.harmless import harmless
from interview.text.wording import capital
from tests.scheduling.stall import AT_HOME, WEDNESDAY, plan, pour_steps, random_stall, step

STAMP = datetime(2026, 5, 1, 12, tzinfo=UTC)
NOW = Means(AT_HOME, WEDNESDAY)


def one(name: str = "Brush it") -> Timeline:
    steps = [step("seal.a.1", 15, (60, 60), name=name), *pour_steps([("seal.a.1", 60)])]
    return timeline(plan(steps), NOW)


def parsed(time: Timeline, name: str = "the stall") -> list[Any]:
    return list(Parsed.from_ical(calendar_file(time, [], name, STAMP)).walk("VEVENT"))


@pytest.mark.parametrize("seed", range(8))
def test_every_stroke_of_work_lies_in_one_event(seed: int) -> None:
    """An event a stop, at its local time, with no zone; fewer events than strokes."""
    kinds, means = random_stall(seed)
    time = arrange(kinds, means)
    events = parsed(time)
    spans = [(e.decoded("dtstart"), e.decoded("dtend")) for e in events]
    hands = [d for d in time.doings if d.ends > d.begins]
    for doing in hands:
        assert [1 for begins, ends in spans if begins <= doing.begins and doing.ends <= ends]
    for look in (look for d in time.doings for look in d.looks):
        assert [1 for begins, ends in spans if begins <= look <= ends]
    assert all(begins.tzinfo is None and begins < ends for begins, ends in spans)
    assert all(e.decoded("dtstamp") == STAMP for e in events)
    assert len({str(e["uid"]) for e in events}) == len(events)
    assert max(begins for begins, _ in spans) == time.ready


def test_each_event_has_one_alarm_and_a_title_that_ends_with_the_piece() -> None:
    for event in parsed(one(), "gulls"):
        (alarm,) = event.walk("VALARM")
        assert alarm.decoded("trigger") == timedelta(minutes=-10)
        assert str(event["summary"]).endswith(": gulls")
        assert not str(event["summary"]).startswith("gulls")


def test_coats_of_one_evening_are_one_event_and_trials_too() -> None:
    steps = [
        step("trial.a", 5, (0, 0), name="Rub"), step("trial.b", 5, (0, 0), name="Drop"),
        step("seal.a.1", 10, (20, 30), after=(("trial.a", 0, None), ("trial.b", 0, None)), name="Spray, coat 1 of 2"),
        step("seal.a.2", 10, (60, 60), after=(("seal.a.1", 20, None),), name="Spray, coat 2 of 2"),
        *pour_steps([("seal.a.2", 60)]),
    ]  # fmt: skip
    titles = [str(e["summary"]) for e in parsed(timeline(plan(steps), NOW), "gulls")]
    assert "Rub and 1 more: gulls" in titles
    assert sum(t.startswith("Spray") for t in titles) == 1
    assert sum(t.startswith("Look at it") for t in titles) == 1
    assert titles[-1] == "Ready: gulls"


def test_importing_again_changes_no_ids() -> None:
    first, again = (Parsed.from_ical(calendar_file(one(), [], "gulls", s)) for s in (STAMP, STAMP + timedelta(days=1)))
    assert [str(e["uid"]) for e in first.walk("VEVENT")] == [str(e["uid"]) for e in again.walk("VEVENT")]
    other = Parsed.from_ical(calendar_file(one(), [], "terns", STAMP))
    assert not {str(e["uid"]) for e in first.walk("VEVENT")} & {str(e["uid"]) for e in other.walk("VEVENT")}


@given(st.text(st.characters(exclude_categories=("Cs",)), min_size=1, max_size=200))
def test_any_name_comes_back_and_no_line_is_long(name: str) -> None:
    """RFC 5545 sections 3.1 (75 octets, CR LF) and 3.3.11 (TEXT)."""
    time = one()
    first = replace(time.doings[0], name=name)
    text = calendar_file(replace(time, doings=(first, *time.doings[1:])), [], name, STAMP)
    assert text.endswith("END:VCALENDAR\r\n")
    lines = text.encode().split(b"\r\n")
    assert all(len(line) <= 75 and b"\n" not in line and b"\r" not in line for line in lines)
    event = Parsed.from_ical(text).walk("VEVENT")[0]
    assert str(event["summary"]).casefold() == harmless(f"{capital(name)}: {name}").casefold()


@pytest.mark.parametrize(
    "name",
    [
        "glue; then wait, a bit",
        "C:\\new",
        "first\nBEGIN:VEVENT\nsecond",
        "\x1b[31mred",
        "a" * 300,
        "é" * 100,
        "羊" * 60,
    ],
)
def test_names_cannot_break_out(name: str) -> None:
    events = parsed(one(name), name)
    assert len(events) == len(parsed(one(), "gulls"))
    assert str(events[0]["summary"]) == harmless(f"{capital(name)}: {name}")
