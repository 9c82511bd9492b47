"""Hours and days as people write them: "weekdays 18-22, sat 9-17", "13 June 9:00", "saturday"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta, tzinfo
from itertools import pairwise

from interview.reasoning.scheduling.hours import DAY, ClockChange, Day, Hours, Week
from interview.text.harmless import harmless

_DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_MONTHS = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november",
    "december",
)  # fmt: skip
_GROUPS = {
    "weekdays": range(5), "weekday": range(5), "workdays": range(5), "weekends": (5, 6), "weekend": (5, 6),
    "every day": range(7), "daily": range(7), "all days": range(7), "any day": range(7),
}  # fmt: skip
_NAMED_HOURS = {
    "evenings": (1080, 1320), "evening": (1080, 1320), "mornings": (480, 720), "morning": (480, 720),
    "afternoons": (780, 1080), "afternoon": (780, 1080), "all day": (540, 1080), "daytime": (540, 1020),
    "any time": (0, DAY), "round the clock": (0, DAY),
}  # fmt: skip
_CLOCK = r"(\d{1,2})(?:[:.h](\d{2}))? ?(am|pm|a\.m\.|p\.m\.)?|(noon|midnight)"
_SPAN = re.compile(rf"(?:from )?(?:{_CLOCK}) ?(?:-|–|to|till|until) ?(?:{_CLOCK})")
FAR = 400  # days from now, either way: no plan of a piece goes further
_USUAL = Hours(540, 1080)  # where a day is named without hours
_EXAMPLE = 'write them like "weekdays 18-22, sat 9-17"'


class HoursError(ValueError):
    """The text holds no hours, or no day. The message says what to write instead."""


# ------------------------------------------------------------ hours of a week


def read_hours(text: str) -> Week:
    """The hours of each day of the week, Monday first; days not named have none. Raises HoursError.

    A day that is named by itself has the hours said of it, and not those of every day: "evenings, sat 9-17".
    """
    plain = " ".join(text.casefold().split())
    if not plain:
        raise HoursError(f"No hours are given; {_EXAMPLE}.")
    week: list[list[Hours]] = [[] for _ in _DAYS]
    every: list[Hours] = []
    named: tuple[int, ...] = ()  # days of the part before
    bare = False  # whether they still wait for their hours
    for part in (p.strip() for p in re.split(r"[,;]| and ", plain)):
        if not part:
            continue
        days, spans = _part(part)
        if spans and not days and not bare and (not named or part in _NAMED_HOURS):
            every += spans
            continue
        if bare or not days:
            days = (*named, *days) or tuple(range(7))
        for day in days:
            week[day].extend(spans)
        named, bare = days, not spans
    for day in named if bare else ():
        week[day].append(_USUAL)
    if not any(week) and not every:
        raise HoursError(f"No hours are given; {_EXAMPLE}.")
    return _week(tuple(_day(spans or every, text) for spans in week))


def week_words(week: Week) -> str:
    """ "Monday to Friday 18:00 to 22:00; Saturday 9:00 to 17:00"."""
    parts: list[str] = []
    first = 0
    for number in range(7):
        if number == 6 or week[number + 1] != week[first]:
            if week[first]:
                names = _DAYS[first].capitalize()
                names += f" to {_DAYS[number].capitalize()}" if number > first else ""
                parts.append(f"{names} {' and '.join(map(_hours_words, week[first]))}")
            first = number + 1
    return "; ".join(parts)


def _hours_words(hours: Hours) -> str:
    return " to ".join(f"{minute // 60 % 24}:{minute % 60:02}" for minute in (hours.opens, hours.closes))


def _part(part: str) -> tuple[tuple[int, ...], list[Hours]]:
    """Days and hours, days alone, or hours alone."""
    spans = [_span(match, part) for match in _SPAN.finditer(part)]
    rest = _SPAN.sub(" ", part).strip(" :")
    for name, (opens, closes) in _NAMED_HOURS.items():
        if not spans and re.search(rf"\b{name}\b", rest):
            spans.append(Hours(opens, closes))
            rest = re.sub(rf"\b{name}\b", " ", rest).strip(" :")
    return (_days(rest, part) if rest else ()), spans


def _week(days: tuple[Day, ...]) -> Week:
    monday, tuesday, wednesday, thursday, friday, saturday, sunday = days
    return (monday, tuesday, wednesday, thursday, friday, saturday, sunday)


def _days(text: str, part: str) -> tuple[int, ...]:
    if text in _GROUPS:
        return tuple(_GROUPS[text])
    found: list[int] = []
    for piece in re.split(r" ?/ ?| & | ", re.sub(r" ?(?:-|–|\bto\b) ?", "-", text)):
        ends = [_weekday(word) for word in piece.split("-")]
        if len(ends) > 2 or None in ends:
            raise HoursError(f'"{_shown(part)}" is no day with hours; {_EXAMPLE}.')
        first, last = int(ends[0] or 0), int(ends[-1] or 0)
        found += [(first + n) % 7 for n in range((last - first) % 7 + 1)]
    return tuple(dict.fromkeys(found))


def _weekday(word: str) -> int | None:
    word = word.strip(". ")
    singular = word.removesuffix("s") if len(word) > 4 else word
    return next(
        (n for n, day in enumerate(_DAYS) if len(word) >= 2 and (day.startswith(word) or day == singular)),
        None,
    )


def _span(match: re.Match[str], part: str) -> Hours:
    opens, closes = _minute(match.groups()[:4], part), _minute(match.groups()[4:], part)
    if (
        match[3] is None
        and match[7] in ("pm", "p.m.")
        and match[4] is None
        and opens < DAY / 2
        and opens + DAY / 2 < closes
    ):
        opens += DAY // 2  # "6-10 pm"
    if closes <= opens:
        closes += DAY  # past midnight
    if opens >= DAY or closes - opens > DAY:
        raise HoursError(f'"{_shown(part)}" holds no hours of a day; {_EXAMPLE}.')
    return Hours(int(opens), int(closes))


def _minute(groups: Sequence[str | None], part: str) -> int:
    hour, minutes, half, word = groups
    if word:
        return DAY // 2 if word == "noon" else DAY
    number, past = int(hour or 0), int(minutes or 0)
    if half:
        number = number % 12 + (12 if half.startswith("p") else 0)
    if number > 24 or past > 59 or number * 60 + past > DAY:
        raise HoursError(f'"{_shown(part)}" holds no time of a day; {_EXAMPLE}.')
    return number * 60 + past


def _day(spans: Sequence[Hours], text: str) -> Day:
    ordered = sorted(spans, key=lambda h: h.opens)
    if any(later.opens < earlier.closes for earlier, later in pairwise(ordered)):
        raise HoursError(f'"{_shown(text)}" names hours of one day twice.')
    return tuple(ordered)


# ------------------------------------------------------------ days and times


def read_days(text: str, today: date) -> frozenset[date]:
    """Several days, parted by commas: "12 june, saturday". Raises HoursError."""
    return frozenset(
        read_when(part, datetime.combine(today, datetime.min.time())).date() for part in text.split(",") if part.strip()
    )


def day_named(word: str, today: date, *, past: bool) -> date | None:
    """The last such day where it is `past`, else the next; today is either. None where it names no day."""
    if word.strip() == "yesterday":
        return today - timedelta(days=1)
    plain = word.strip().removesuffix("s")
    number = _weekday(plain.removeprefix("this ").removeprefix("next "))
    if number is None:
        found = _day_of(plain, today)
        return found if found is None or not past or found <= today else found.replace(year=found.year - 1)
    ahead = (number - today.weekday()) % 7
    return today + timedelta(days=(ahead - 7 if past and ahead else ahead + 7 * plain.startswith("next ")))


def read_when(text: str, now: datetime, usual: int = 540) -> datetime:
    """A day, with or without a time; `usual`: the minute of the day if none is given. Raises HoursError."""
    plain = " ".join(text.casefold().replace(",", " ").split())
    if plain in ("now", "at once"):
        return now
    plain, minute = _time_of(plain, usual)
    day = _day_of(plain, now.date())
    if day is None:
        raise HoursError(f'"{_shown(text)}" is no day; write it like "2026-06-13 9:00", "13 june" or "saturday".')
    if abs((day - now.date()).days) > FAR:
        first, last = now.date() - timedelta(days=FAR), now.date() + timedelta(days=FAR)
        raise HoursError(f'"{_shown(text)}" is too far away; name a day from {first} to {last}.')
    return datetime.combine(day, datetime.min.time()) + timedelta(minutes=minute)


def _time_of(plain: str, usual: int) -> tuple[str, int]:
    clock = re.search(
        r"(?:\bat )?(?:\b|(?<=\dt))(?:(\d{1,2})[:h](\d{2}) ?(am|pm)?|(\d{1,2}) ?(am|pm)|(noon|midnight))$",
        plain,
    )
    if clock is None:
        return plain, usual
    hour, minutes, half, bare, bare_half, word = clock.groups()
    minute = _minute((hour or bare, minutes, half or bare_half, word), plain)
    return plain[: clock.start()].removesuffix("t").strip(), minute


def _day_of(plain: str, today: date) -> date | None:
    plain = plain.removeprefix("on ").removeprefix("by ").strip()
    if plain in ("today", "tonight"):
        return today
    if plain == "tomorrow":
        return today + timedelta(days=1)
    try:
        return date.fromisoformat(plain)
    except ValueError:
        return _weekday_of(plain, today) or _dated(plain, today)


def _weekday_of(plain: str, today: date) -> date | None:
    """The next such day; "saturday week" and "next saturday" are a week on."""
    week_on = plain.endswith(" week") or plain.startswith("next ")
    word = plain.removesuffix(" week").removeprefix("next ").removeprefix("this ")
    number = _weekday(word) if len(word) >= 3 else None
    if number is None:
        return None
    return today + timedelta(days=(number - today.weekday() - 1) % 7 + 1 + (7 if week_on else 0))


def _dated(plain: str, today: date) -> date | None:
    """ "13 june", "june 13th", "13 june 2027"; without a year the next one."""
    plain = re.sub(r"^(\d{1,2})\.(\d{1,2})\.(\d{4})$", lambda m: f"{m[1]} {_month(int(m[2]))} {m[3]}", plain)
    words = [re.sub(r"^(\d+)(?:st|nd|rd|th)$", r"\1", word.strip(".")) for word in plain.split() if word != "of"]
    numbers = [int(w) for w in words if w.isascii() and w.isdigit() and len(w) <= 4]
    months = [n for w in words for n, name in enumerate(_MONTHS, 1) if len(w) >= 3 and name.startswith(w)]
    if len(months) != 1 or len(numbers) + 1 != len(words) or not 1 <= len(numbers) <= 2:
        return None
    years = [n for n in numbers if n > 31]
    day = next((n for n in numbers if n <= 31), 0)
    if len(numbers) == 2 and not years:
        return None
    try:
        if years:
            return date(years[0], months[0], day)
        this_year = date(today.year, months[0], day)
        return this_year if this_year >= today else date(today.year + 1, months[0], day)
    except ValueError:
        return None


def _shown(text: str) -> str:
    return harmless(text, one_line=True)[:40]


def _month(number: int) -> str:
    return _MONTHS[number - 1] if 1 <= number <= 12 else "no month"


# ------------------------------------------------------------ the machine's zone


def clock_changes(begin: datetime, days: int, zone: tzinfo | None = None) -> tuple[ClockChange, ...]:
    """When the clocks change within so many days of a local time. `zone` None: the machine's own."""
    first = (begin.astimezone() if zone is None else begin.replace(tzinfo=zone)).astimezone(UTC)

    def offset(instant: datetime) -> timedelta:
        return instant.astimezone(zone).utcoffset() or timedelta()

    made = []
    for number in range(days):
        low, high = first + timedelta(days=number), first + timedelta(days=number + 1)
        before, after = offset(low), offset(high)
        while before != after and high - low > timedelta(minutes=1):
            middle = low + timedelta(minutes=(high - low) // timedelta(minutes=1) // 2)
            low, high = (middle, high) if offset(middle) == before else (low, middle)
        if before != after:
            local = (high + before).replace(tzinfo=None)
            made.append(ClockChange(local, (after - before) // timedelta(minutes=1)))
    return tuple(made)
