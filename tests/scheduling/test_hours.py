"""The calendar and what is taken of a resource, against the zone database and plain arrays."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from interview.reasoning.scheduling.hours import Calendar, ClockChange, Hours
from interview.reasoning.scheduling.openings import Openings
from interview.reasoning.scheduling.profiles import Profile
from interview.reasoning.scheduling.tasks import Looks, Task
from tests.scheduling.batches import hours, week

# Central European time in 2026, by the IANA zone database: forward on 29 March at 2, back on 25 October at 3
CHANGES = (ClockChange(datetime(2026, 3, 29, 2), 60), ClockChange(datetime(2026, 10, 25, 3), -60))
ZONE = ZoneInfo("Europe/Berlin")
SUMMER_AND_WINTER = Calendar(week(hours((18, 22)), hours((9, 18))), changes=CHANGES)


def true_minutes(begin: datetime, wall: datetime) -> float:
    one, other = (t.replace(tzinfo=ZONE).astimezone(UTC) for t in (begin, wall))
    return (other - one) / timedelta(minutes=1)


@given(
    st.datetimes(datetime(2026, 1, 1), datetime(2026, 3, 28)),
    st.datetimes(datetime(2026, 3, 28), datetime(2026, 12, 31)),
)
def test_minutes_are_true_minutes_across_clock_changes(begin: datetime, wall: datetime) -> None:
    """zoneinfo (IANA database) as reference, outside the hour that does not exist."""
    begin, wall = (t.replace(second=0, microsecond=0) for t in (begin, wall))
    if datetime(2026, 3, 29, 2) <= wall < datetime(2026, 3, 29, 3):
        assert SUMMER_AND_WINTER.minute(begin, wall) == true_minutes(begin, datetime(2026, 3, 29, 3))
        return
    minute = SUMMER_AND_WINTER.minute(begin, wall)
    assert minute == true_minutes(begin, wall)
    assert SUMMER_AND_WINTER.wall(begin, minute) == wall


def test_a_night_is_an_hour_shorter_or_longer() -> None:
    for day, length in ((28, 7), (27, 8)):
        evening = datetime(2026, 3, day, 23)
        assert SUMMER_AND_WINTER.minute(evening, evening + timedelta(hours=8)) == length * 60
    evening = datetime(2026, 10, 24, 23)
    assert SUMMER_AND_WINTER.minute(evening, evening + timedelta(hours=8)) == 9 * 60


def first_start(calendar: Calendar, begin: datetime, task: Task) -> datetime | None:
    found = Openings(calendar, begin).starts(task).next(0, 400 * 1440)
    return None if found is None else calendar.wall(begin, found)


WORK = Task("work", 60)
EVENINGS = Calendar(
    week(hours((18, 22)), hours((9, 18))),
    off=frozenset((date(2026, 6, 2), date(2026, 6, 6))),
    extra=((date(2026, 6, 7), hours((14, 16))),),
)


@pytest.mark.parametrize(
    ("begin", "start"),
    [
        (datetime(2026, 6, 1, 9), datetime(2026, 6, 1, 18)),  # a Monday: in the evening
        (datetime(2026, 6, 1, 20, 30), datetime(2026, 6, 1, 20, 30)),  # at once
        (datetime(2026, 6, 1, 21), datetime(2026, 6, 1, 21)),  # just before closing
        (datetime(2026, 6, 1, 21, 1), datetime(2026, 6, 3, 18)),  # Tuesday is off
        (datetime(2026, 6, 5, 21, 30), datetime(2026, 6, 7, 14)),  # Saturday is off, Sunday an extra day
        (datetime(2026, 6, 7, 15, 30), datetime(2026, 6, 8, 18)),
    ],
)
def test_the_first_free_hour(begin: datetime, start: datetime) -> None:
    assert first_start(EVENINGS, begin, WORK) == start


def test_hours_run_past_midnight() -> None:
    nights = Calendar((hours((22, 26)), (), (), (), (), (), ()))
    assert first_start(nights, datetime(2026, 6, 2, 0, 30), WORK) == datetime(2026, 6, 2, 0, 30)
    assert first_start(nights, datetime(2026, 6, 2, 1, 30), WORK) == datetime(2026, 6, 8, 22)


def test_daylight_may_not_come_for_months() -> None:
    """Evenings from six, and light that late only from April to August."""
    light = tuple(Hours(420, 1260 if month in range(4, 9) else 1020) for month in range(1, 13))
    calendar = Calendar(week(hours((18, 22)), ()), daylight=light)
    outdoors = Task("spray", 60, outdoors=True)
    assert first_start(calendar, datetime(2026, 9, 15), outdoors) == datetime(2027, 4, 1, 18)


def test_hours_that_never_come() -> None:
    assert first_start(Calendar(((),) * 7), datetime(2026, 6, 1), WORK) is None
    assert first_start(EVENINGS, datetime(2026, 6, 1), Task("long", 241, looks=Looks.every(10, 10))) == datetime(
        2026, 6, 13, 9
    )


@pytest.mark.parametrize("span", [(-1, 60), (60, 60), (60, 30), (1440, 1500), (600, 2041)])
def test_hours_that_are_none(span: tuple[int, int]) -> None:
    with pytest.raises(ValueError, match="hours from minute"):
        Hours(*span)


@given(
    st.lists(st.tuples(st.integers(0, 60), st.integers(1, 20), st.integers(1, 3)), max_size=12),
    st.tuples(st.integers(0, 70), st.integers(1, 15), st.integers(1, 4)),
)
def test_a_profile_is_what_an_array_would_be(taken: list[tuple[int, int, int]], asked: tuple[int, int, int]) -> None:
    profile, plain = Profile(4), [0] * 400
    for minute, length, amount in taken:
        if all(used + amount <= 4 for used in plain[minute : minute + length]):
            profile.take(minute, length, amount)
            for m in range(minute, minute + length):
                plain[m] += amount
    minute, length, amount = asked
    found = profile.next_fit(minute, length, amount)
    fits = (m for m in range(minute, 300) if all(used + amount <= 4 for used in plain[m : m + length]))
    assert found == next(fits)
    assert profile.busy_until == max((m + 1 for m, used in enumerate(plain) if used), default=0)
