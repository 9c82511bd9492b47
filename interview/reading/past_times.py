"""When something was done, as people say it: "at six", "20 minutes ago", "yesterday evening", "just now"."""

from __future__ import annotations

import re
from datetime import datetime, timedelta

from interview.reading.hours_told import FAR

_NUMBERS = {
    "a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
    "ten": 10, "eleven": 11, "twelve": 12, "fifteen": 15, "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50,
    "couple": 2, "few": 3,
}  # fmt: skip
_UNITS = {"min": 1, "minute": 1, "hour": 60, "hr": 60, "h": 60, "day": 1440, "week": 10080}
_PARTS = {
    "morning": 9,
    "noon": 12,
    "lunchtime": 12,
    "lunch": 12,
    "afternoon": 15,
    "evening": 20,
    "night": 22,
    "midnight": 0,
}
_DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_AGO = re.compile(r"\b(?:(half) an? |(?:a )?([\w.]+)(?: of)? )(min|minute|hour|hr|h|day|week)s? ago\b")
_CLOCK = re.compile(r"\b(\d{1,2})(?:[:.h](\d{2}))? ?(am|pm|o ?clock)?\b")
_WORD_CLOCK = re.compile(
    rf"\b(?:at |around |about |half past |quarter past |quarter to )?({'|'.join(list(_NUMBERS)[2:14])})\b"
)
_SOME_DAY = re.compile(rf"\b(yesterday|last night|today|tonight|(?:on |last )?(?:{'|'.join(_DAYS)}))\b")


def read_past(text: str, now: datetime) -> datetime | None:
    """The moment meant, never after `now`; None where the text names none. To the minute, local time."""
    plain = " ".join(text.casefold().replace("'", "").split())
    ago = _AGO.search(plain)
    if ago:
        return _ago(ago, now)
    if re.search(r"\bjust( now)?\b|\bright now\b", plain):
        return now
    day = _day(plain, now)
    minutes = _minutes(_SOME_DAY.sub(" ", plain))
    part = next((hour for word, hour in _PARTS.items() if re.search(rf"\b{word}\b", plain)), None)
    if minutes is None and part is None:
        return None if day is None else min(now, _at(day, 18 * 60))
    if minutes is None:
        assert part is not None
        return _not_later(_at(day or now, part * 60), now, named=day is not None)
    hour, sure = minutes
    if not sure and hour < 12 * 60 and (part is not None and part >= 12):
        hour, sure = hour + 12 * 60, True
    if sure:
        return _not_later(_at(day or now, hour), now, named=day is not None)
    both = [_at(day or now, h) for h in (hour, (hour + 12 * 60) % 1440)]
    past = [t for t in both if t <= now] or [t - timedelta(days=1) for t in both]
    return max(past)


def _ago(found: re.Match[str], now: datetime) -> datetime | None:
    half, number, unit = found.groups()
    if half:
        return now - timedelta(minutes=_UNITS[unit] / 2)
    try:
        count = float(_NUMBERS.get(number, 0) or number)
    except ValueError:
        return None
    if not 0 < count * _UNITS[unit] < FAR * 1440:
        return None
    return now - timedelta(minutes=count * _UNITS[unit])


def _day(plain: str, now: datetime) -> datetime | None:
    found = _SOME_DAY.search(plain)
    if not found:
        return None
    word = found[1]
    if word in ("today", "tonight"):
        return now
    if word in ("yesterday", "last night"):
        return now - timedelta(days=1)
    number = _DAYS.index(word.split()[-1])
    return now - timedelta(days=(now.weekday() - number) % 7 or (7 if word.startswith("last") else 0))


def _minutes(plain: str) -> tuple[int, bool] | None:
    """Minutes after midnight, and whether morning or evening is sure."""
    for found in _CLOCK.finditer(plain):
        hour, minute, half = int(found[1]), int(found[2] or 0), found[3] or ""
        told = found[2] is not None or half or re.search(r"\b(?:at|around|about) $", plain[: found.start()])
        if not told or hour > 23 or minute > 59:
            continue
        if half == "pm" and hour < 12:
            hour += 12
        if half == "am" and hour == 12:
            hour = 0
        return hour * 60 + minute, half in ("am", "pm") or hour > 12 or hour == 0
    found_word = re.search(r"\b(?:at|around|about|half past|quarter past|quarter to) .*", plain)
    word = _WORD_CLOCK.search(found_word[0]) if found_word else None
    if not word:
        return None
    extra = 30 if "half past" in word[0] else 15 if "quarter past" in word[0] else -15 if "quarter to" in word[0] else 0
    return _NUMBERS[word[1]] * 60 + extra, False


def _at(day: datetime, minutes: int) -> datetime:
    return day.replace(hour=0, minute=0, second=0, microsecond=0) + timedelta(minutes=minutes)


def _not_later(at: datetime, now: datetime, *, named: bool) -> datetime:
    if at <= now:
        return at
    return now if named else at - timedelta(days=1)
