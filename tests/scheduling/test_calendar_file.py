"""Calendar files, parsed back with the `icalendar` package and held to RFC 5545."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar as Parsed

from interview.brief.calendar_file import calendar_file
from interview.reasoning.lots import Means
from interview.reasoning.timetable import Timeline, arrange, timeline
from interview.text.harmless import harmless
from tests.scheduling.stall import AT_HOME, WEDNESDAY, plan, pour_steps, random_stall, step

STAMP = datetime(2026, 5, 1, 12, tzinfo=UTC)
NOW = Means(AT_HOME, WEDNESDAY)


def one(name: str = "Brush it") -> Timeline:
    steps = [step("seal.a.1", 15, (60, 60), name=name), *pour_steps([("seal.a.1", 60)])]
    return timeline(plan(steps), NOW)


def by_hand(time: Timeline) -> list[tuple[datetime, datetime]]:
    return sorted((d.begins, d.ends) for d in time.doings if d.ends > d.begins)


@pytest.mark.parametrize("seed", range(8))
def test_every_event_comes_back(seed: int) -> None:
    """One event a thing done by hand, at its local time, with no zone."""
    kinds, means = random_stall(seed)
    time = arrange(kinds, means, effort=100)
    parsed = Parsed.from_ical(calendar_file(time, "the stall", STAMP))
    events = parsed.walk("VEVENT")
    spans = sorted((e.decoded("dtstart"), e.decoded("dtend")) for e in events)
    assert spans == by_hand(time)
    assert all(begins.tzinfo is None for begins, _ in spans)
    assert all(e.decoded("dtstamp") == STAMP for e in events)
    assert len({str(e["uid"]) for e in events}) == len(events)
    summaries = sorted(f"{d.name} ({d.who})" if d.who else d.name for d in time.doings if d.ends > d.begins)
    assert sorted(str(e["summary"]) for e in events) == summaries


def test_every_look_has_its_alarm() -> None:
    time = one()
    parsed = Parsed.from_ical(calendar_file(time, "gulls", STAMP))
    pour = next(e for e in parsed.walk("VEVENT") if str(e["summary"]) == "pour.coat")
    rings = [a.decoded("trigger") for a in pour.walk("VALARM") if a["trigger"].params["related"] == "END"]
    looks = [look for d in time.doings if d.kind == "watch" for look in d.looks]
    assert [pour.decoded("dtend") + ring for ring in rings] == looks
    before = [a.decoded("trigger") for a in pour.walk("VALARM") if a["trigger"].params["related"] == "START"]
    assert before == [timedelta(minutes=-10)]


def test_importing_again_changes_no_ids() -> None:
    first, again = (Parsed.from_ical(calendar_file(one(), "gulls", s)) for s in (STAMP, STAMP + timedelta(days=1)))
    assert [str(e["uid"]) for e in first.walk("VEVENT")] == [str(e["uid"]) for e in again.walk("VEVENT")]
    other = Parsed.from_ical(calendar_file(one(), "terns", STAMP))
    assert not {str(e["uid"]) for e in first.walk("VEVENT")} & {str(e["uid"]) for e in other.walk("VEVENT")}


@given(st.text(st.characters(exclude_categories=("Cs",)), min_size=1, max_size=200))
def test_any_name_comes_back_and_no_line_is_long(name: str) -> None:
    """RFC 5545 sections 3.1 (75 octets, CR LF) and 3.3.11 (TEXT)."""
    time = one()
    first = replace(time.doings[0], name=name)
    text = calendar_file(replace(time, doings=(first, *time.doings[1:])), "gulls", STAMP, {first.step: name * 3})
    assert text.endswith("END:VCALENDAR\r\n")
    lines = text.encode().split(b"\r\n")
    assert all(len(line) <= 75 and b"\n" not in line and b"\r" not in line for line in lines)
    event = Parsed.from_ical(text).walk("VEVENT")[0]
    assert str(event["summary"]) == harmless(name)
    assert str(event.get("description", "")) == harmless(name * 3)


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
    parsed = Parsed.from_ical(calendar_file(one(name), name, STAMP))
    assert len(parsed.walk("VEVENT")) == len(by_hand(one(name)))
    assert str(parsed.walk("VEVENT")[0]["summary"]) == harmless(name)
