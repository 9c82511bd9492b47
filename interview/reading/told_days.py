"""Days and hours in running text: "the fair is on 4 july, so the day before", "sat 10-16 only"."""

from __future__ import annotations

import re
from datetime import datetime, timedelta

from interview.reading.amount_numbers import AMOUNT, spelt_number
from interview.reading.amount_types import Asking, Told
from interview.reading.hours_told import FAR
from interview.reading.measures import Unclear, read_measure

_MONTHS = (
    "jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|"
    "nov(?:ember)?|dec(?:ember)?"
)
_WEEKDAYS = "mon(?:day)?|tues?(?:day)?|wed(?:nesday)?|thur?s?(?:day)?|fri(?:day)?|sat(?:urday)?|sun(?:day)?"
_NTH = r"\d{1,2}(?:st|nd|rd|th)?"
_DATE = re.compile(
    rf"\b(?:\d{{4}}-\d\d-\d\d|\d{{1,2}}/\d{{1,2}}(?:/\d{{2,4}})?|{_NTH}(?: of)? (?:{_MONTHS})\b(?: \d{{4}})?|"
    rf"(?:{_MONTHS}) (?:the )?{_NTH}\b(?: \d{{4}})?|"
    rf"(?:next |this |coming )?(?:{_WEEKDAYS})\b(?: week)?|tomorrow|tonight|today|in (?:{AMOUNT}) (?:days?|weeks?|months?)|"
    rf"(?:{AMOUNT}) (?:days?|weeks?|months?)(?: from now| time|'s? time)|\d{{1,2}}\.\d{{1,2}}\.\d{{4}}|"
    r"next week(?:end)?|the weekend|the \d{1,2}(?:st|nd|rd|th)|end of (?:the |this )?(?:week|month)|christmas(?: eve)?)"
    r"(?:,? (?:at )?(?:\d{1,2}[:h]\d{2}(?: ?[ap]m)?|\d{1,2} ?[ap]m|noon))?",
    re.IGNORECASE,
)
_CLOCK = r"(?:\d{1,2}(?:[:.h]\d\d)? ?(?:am|pm)?|noon|midnight)"
_HOURS_WORD = re.compile(
    rf"\b(?:{_WEEKDAYS})s?\b|\b(?:weekdays?|workdays?|weekends?|daily|every day|all days|any day|evenings?|mornings?|"
    r"afternoons?|all day|daytime|any time|round the clock)\b|"
    rf"\b(?:from )?{_CLOCK} ?(?:-|–|to|till|until) ?{_CLOCK}\b|(?<=\w)(?: to |-)(?=\w)|,| and ",
    re.IGNORECASE,
)


def read_date(told: Asking) -> Told | Unclear | None:
    found = list(_DATE.finditer(told.text))
    if not found:
        return None
    match = found[0]
    words = _plain_date(match[0], told.now)
    got = read_measure(words, told.question, now=told.now)
    if isinstance(got, Unclear):
        return got
    value = got.value
    if re.search(r"\bday before\b", told.text, re.IGNORECASE):
        value = f"{datetime.strptime(value, '%Y-%m-%d %H:%M') - timedelta(days=1):%Y-%m-%d %H:%M}"
    return Told(value, match.span())


_MONTH_NAMES = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def _next_day(day: int, now: datetime) -> str:
    """ "the 24th": of this month, or of the next one if it is over."""
    month = now if day > now.day else (now.replace(day=28) + timedelta(days=4)).replace(day=1)
    return f"{day} {_MONTH_NAMES[month.month - 1]}"


def _plain_date(words: str, now: datetime) -> str:
    """ "in two weeks", "next weekend", "end of the month" -> a day that can be read."""
    plain = words.casefold()
    if match := re.fullmatch(r"(\d{1,2})/(\d{1,2})(?:/\d{2,4})?", plain):
        day, month = int(match[1]), int(match[2])
        day, month = (month, day) if month > 12 else (day, month)
        return f"{day} {_MONTH_NAMES[month - 1]}" if max(day, month) > 12 and 1 <= month <= 12 else words
    if match := re.search(rf"({AMOUNT}) (day|week|month)", plain):
        number = (spelt_number(match[1]) or 1) * {"day": 1, "week": 7, "month": 30}[match[2]]
        if number > FAR:
            return words
        return f"{now + timedelta(days=number):%Y-%m-%d}"
    if match := re.fullmatch(r"the (\d{1,2})(?:st|nd|rd|th)", plain):
        return _next_day(int(match[1]), now)
    if "weekend" in plain:
        return "saturday"
    if plain == "next week":
        return f"{now + timedelta(days=7):%Y-%m-%d}"
    if plain.startswith("end of"):
        return (
            "friday"
            if "week" in plain
            else f"{(now.replace(day=28) + timedelta(days=4)).replace(day=1) - timedelta(days=1):%Y-%m-%d}"
        )
    return re.sub(r"^christmas(?: eve)?", "24 december", re.sub(r"\bthe (?=\d)", "", plain))


def read_hours_told(told: Asking) -> Told | Unclear | None:
    text = told.text
    if _DATE.search(re.sub(rf"\b(?:{_WEEKDAYS})\b", "", text, flags=re.IGNORECASE)):
        text = text.split(",")[0]  # "weekends, the stall is on 13 june"
    parts = [m[0] for m in _HOURS_WORD.finditer(text)]
    words = " ".join(
        re.sub(
            r"\s*(to|-)\s*", "-", " ".join(p if p.strip() in (",", "-", "to", "and") else f" {p} " for p in parts)
        ).split()
    )
    words = re.sub(r"^(?:[,\s]|and\b)+|(?:[,\s-]|\band)+$", "", words).replace(" ,", ",")
    if not words:
        return None
    got = read_measure(words, told.question)
    return None if isinstance(got, Unclear) else Told(got.value, (0, len(text)))
