"""Times said in passing -> how long ago, in hours: "finished two weeks ago", "dry for a month", "back in 1998"."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import datetime
from functools import cache

from interview.reading.amount_numbers import SPELT, spelt_number
from interview.reading.lexicon import phrases_of
from interview.reading.line import Found, Line, Span
from knowledge.shape import Medium
from knowledge.word_files import read_words

_FEW = {
    "a couple of": 2.0, "couple of": 2.0, "a few": 3.0, "few": 3.0, "several": 4.0, "some": 3.0, "half a": 0.5,
    "half an": 0.5, "over a": 1.0,
}  # fmt: skip
_UNITS = {
    "minute": 1 / 60, "min": 1 / 60, "hour": 1.0, "hr": 1.0, "day": 24.0, "night": 24.0, "week": 168.0, "wk": 168.0,
    "fortnight": 336.0, "month": 730.0, "season": 2190.0, "year": 8760.0, "yr": 8760.0, "decade": 87600.0,
    "summer": 8760.0, "winter": 8760.0, "century": 876000.0,
}  # fmt: skip
_COUNT = "|".join((*sorted(_FEW, key=len, reverse=True), SPELT))
_LONG = re.compile(
    rf"\b(?:(?P<digits>\d+(?:[.,]\d+)?)|(?P<count>{_COUNT}))?\s*-?\s*(?:whole |full |more |good )?"
    rf"(?P<unit>{'|'.join(_UNITS)})s?\b(?P<half> and a half)?",
    re.IGNORECASE,
)
_YEAR = re.compile(r"\b(1[6-9]\d\d|20\d\d|[3-9]0s)\b")
_NO_YEAR = re.compile(r"(?:grit|pieces?|pcs|g|ml|gsm|x|by)\b", re.IGNORECASE)
_AGO = re.compile(
    r"\b(?:ago|for|since|old|back|last|now|in|over|dry|dried|pressed|drying|had|has|under|more than|at least|nearly|"
    r"almost|later|gone)\b",
    re.IGNORECASE,
)


def hours_ago(text: str, now: datetime) -> tuple[float, Span] | None:
    """How long ago, in hours, and where it stands; None where no time is said."""
    if found := _year(text, now):
        return found
    for match in _LONG.finditer(text):
        near = text[max(0, match.start() - 14) : match.end() + 14]
        counted = match["digits"] or match["count"] or match[0].lower().endswith("s")
        if counted and _AGO.search(near):
            return _hours(match), match.span()
    said = _passing().search(text)
    return (_passing_hours()[said[0].lower()], said.span()) if said else None


@cache
def _passing_hours() -> dict[str, float]:
    return {phrase: row["hours"] for row in read_words("amounts")["passing"] for phrase in phrases_of(row["say"])}


@cache
def _passing() -> re.Pattern[str]:
    phrases = sorted(map(re.escape, _passing_hours()), key=len, reverse=True)
    return re.compile(rf"\b(?:{'|'.join(phrases)})\b", re.IGNORECASE)


def _year(text: str, now: datetime) -> tuple[float, Span] | None:
    match = _YEAR.search(text)
    if match is None or _NO_YEAR.match(text[match.end() :].lstrip()):
        return None
    year = 1900 + int(match[1][:2]) if match[1].endswith("s") else int(match[1])
    return (max(now.year - year, 0) * 8760.0, match.span()) if year <= now.year else None


def _hours(match: re.Match[str]) -> float:
    count = (match["count"] or "").lower()
    number = (
        float(match["digits"].replace(",", ".")) if match["digits"] else _FEW.get(count) or spelt_number(count) or 2.0
    )
    return (number + (0.5 if match["half"] else 0)) * _UNITS[match["unit"].lower()]


_MADE = re.compile(
    r"\b(?:paint\w*|finish\w*|print\w*|drew|drawn|draw|made|did|done|varnish\w*|dry|dried|drying|old|it has had|pour\w*|"
    r"inked|wrote|written|it is|its|from)\b",
    re.IGNORECASE,
)
_NO_AGE = re.compile(
    r"\b(?:pressed|picked|cut|found|bought|fished|washed|sanded|pregnant|my (?:son|daughter|kid)|years? old and|year old)\b",
    re.IGNORECASE,
)
_DRY_WORDS = re.compile(r"\b(?:dry|dried|indoors|inside|seasoned|kiln)\b", re.IGNORECASE)
_IN_A_BOOK = re.compile(r"\b(?:book|press\w*|dr(?:y|ied|ying)|silica|hung|hang\w*)\b", re.IGNORECASE)
_LONG_DRY = 14 * 24.0  # hours after which people call wood and plaster kept inside dry
_NOT_PAINT = ("dryness", "natural_dry", "laid_on", "wood_finish")


def add_ages(line: Line, found: Found) -> None:
    """Times said in passing as ages of the paint, the wood, the flowers."""
    for said in line.heard.said:
        text = line.said[said.clause.start : said.clause.end]
        got = hours_ago(text, line.now)
        if got is None:
            continue
        hours, (start, end) = got
        span = (said.clause.start + start, said.clause.start + end)
        long = hours >= _LONG_DRY
        if line.at == "natural_dry" and _IN_A_BOOK.search(text):
            found.facts["natural_dry"] = line.fact("natural_dry", "dry" if long else "fresh", span)
        elif line.at == "dryness" and _DRY_WORDS.search(text):
            found.facts["dryness"] = line.fact("dryness", "dry" if long else "damp", span)
        elif line.at == "media_age" or (_MADE.search(text) and not _NO_AGE.search(text) and line.at not in _NOT_PAINT):
            _paint_age(line, hours, span, found)


def _paint_age(line: Line, hours: float, span: Span, found: Found) -> None:
    """Old enough or not, by how long the slowest medium of the piece wants to dry."""
    told = found.facts.get("media")
    media = told.value if told is not None else line.answers.value("media")
    rows = [line.knowledge.media[id] for id in media or () if id in line.knowledge.media]
    if line.at != "media_age" and not any(_hours_high(row) >= 1 for row in rows):
        return
    wanted = max((_hours_high(row) for row in rows), default=14 * 24.0)
    found.facts["media_age"] = line.fact("media_age", "yes" if hours >= wanted else "no", span)


_UNIT_HOURS: Mapping[str, float] = {"minute": 1 / 60, "hour": 1, "day": 24, "week": 168, "month": 730, "year": 8760}


def _hours_high(row: Medium) -> float:
    return row.dry.high * _UNIT_HOURS.get(row.dry.unit.rstrip("s"), 1.0)
