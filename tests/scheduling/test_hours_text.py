"""Hours and days as people write them."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from interview.reading.hours_told import HoursError, clock_changes, read_days, read_hours, read_when, week_words
from interview.reasoning.scheduling.hours import ClockChange

NOW = datetime(2026, 6, 3, 15)  # a Wednesday


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("weekdays 18-22, sat 9-17", "Monday to Friday 18:00 to 22:00; Saturday 9:00 to 17:00"),
        ("Weekdays 6-10 pm", "Monday to Friday 18:00 to 22:00"),
        (
            "weekdays 6pm to 10pm; weekend 10-16",
            "Monday to Friday 18:00 to 22:00; Saturday to Sunday 10:00 to 16:00",
        ),
        ("evenings", "Monday to Sunday 18:00 to 22:00"),
        ("weekday evenings, saturdays", "Monday to Friday 18:00 to 22:00; Saturday 9:00 to 18:00"),
        ("tue thu 19:00-21:30", "Tuesday 19:00 to 21:30; Thursday 19:00 to 21:30"),
        ("monday and wednesday evenings", "Monday 18:00 to 22:00; Wednesday 18:00 to 22:00"),
        ("sat, sun 10am to 4pm", "Saturday to Sunday 10:00 to 16:00"),
        ("mon 9-12, 13-17", "Monday 9:00 to 12:00 and 13:00 to 17:00"),
        ("fri - sun 8.30-12", "Friday to Sunday 8:30 to 12:00"),
        ("sun-tue 9-10", "Monday to Tuesday 9:00 to 10:00; Sunday 9:00 to 10:00"),
        ("every day 20-2", "Monday to Sunday 20:00 to 2:00"),
        ("18-22", "Monday to Sunday 18:00 to 22:00"),
        ("sat noon to midnight", "Saturday 12:00 to 0:00"),
        ("weekends", "Saturday to Sunday 9:00 to 18:00"),
    ],
)
def test_hours(text: str, words: str) -> None:
    week = read_hours(text)
    assert week_words(week) == words
    assert read_hours(words.replace("0:00", "24:00") if words.endswith(" 0:00") else words) == week


@pytest.mark.parametrize(
    "text", ["", "  ", "blah", "9-9-9", "sat 25-26", "mon 9-12, mon 11-14", "sat 9:75-12", ",;", "mon"[:1]]
)
def test_no_hours(text: str) -> None:
    with pytest.raises(HoursError, match=r"weekdays 18-22|twice"):
        read_hours(text)


@given(st.text(max_size=60))
def test_any_text_is_hours_or_a_plain_refusal(text: str) -> None:
    for read in (read_hours, lambda t: read_when(t, NOW)):
        try:
            read(text)
        except HoursError as error:
            assert str(error).endswith(".") and "\n" not in str(error)


@pytest.mark.parametrize(
    ("text", "when"),
    [
        ("saturday", datetime(2026, 6, 6, 9)),
        ("Saturday week", datetime(2026, 6, 13, 9)),
        ("next fri 9am", datetime(2026, 6, 12, 9)),
        ("wednesday", datetime(2026, 6, 10, 9)),  # today is one
        ("13 june", datetime(2026, 6, 13, 9)),
        ("June 13th, 18:30", datetime(2026, 6, 13, 18, 30)),
        ("1 may", datetime(2027, 5, 1, 9)),
        ("13 june 2027 at noon", datetime(2027, 6, 13, 12)),
        ("13.6.2026", datetime(2026, 6, 13, 9)),
        ("2026-06-13", datetime(2026, 6, 13, 9)),
        ("2026-06-13 8:00", datetime(2026, 6, 13, 8)),
        ("2026-06-13T08:00", datetime(2026, 6, 13, 8)),
        ("tomorrow noon", datetime(2026, 6, 4, 12)),
        ("today 18h30", datetime(2026, 6, 3, 18, 30)),
        ("now", NOW),
    ],
)
def test_when(text: str, when: datetime) -> None:
    assert read_when(text, NOW) == when


@pytest.mark.parametrize("text", ["", "32 june", "30 february", "6/12/2026", "yesterday", "june", "2026-13-01", "soon"])
def test_no_day(text: str) -> None:
    with pytest.raises(HoursError, match="is no day"):
        read_when(text, NOW)


def test_several_days() -> None:
    assert read_days("saturday, 13 june", NOW.date()) == {
        datetime(2026, 6, 6).date(),
        datetime(2026, 6, 13).date(),
    }


@pytest.mark.parametrize(
    ("zone", "changes"),
    [
        (
            "Europe/Berlin",
            (ClockChange(datetime(2026, 3, 29, 2), 60), ClockChange(datetime(2026, 10, 25, 3), -60)),
        ),
        (
            "America/New_York",
            (ClockChange(datetime(2026, 3, 8, 2), 60), ClockChange(datetime(2026, 11, 1, 2), -60)),
        ),
        (
            "Australia/Lord_Howe",
            (ClockChange(datetime(2026, 4, 5, 2), -30), ClockChange(datetime(2026, 10, 4, 2), 30)),
        ),
        ("Asia/Kolkata", ()),
    ],
)
def test_clock_changes_of_the_zone_database(zone: str, changes: tuple[ClockChange, ...]) -> None:
    """IANA zone database by zoneinfo: the changes of 2026."""
    assert clock_changes(datetime(2026, 1, 1, 9), 360, ZoneInfo(zone)) == changes


def test_the_machine_has_a_zone() -> None:
    assert all(abs(c.by) <= 120 for c in clock_changes(datetime(2026, 1, 1), 400))
    assert clock_changes(datetime(2026, 1, 1), 0) == ()
