"""Sizes in a sentence: found in the running text, cut out of it, and read by `interview.quantities.units`.

Where no unit is said, one is chosen by how people size things, and that it was chosen is told.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import islice
from typing import Any

_FRACTION = "½¼¾⅛⅜⅝⅞"
_PART = rf"(?:[ -]\d{{1,2}}/\d{{1,2}}|\s*[{_FRACTION}])"
_NUMBER = rf"(?:\d{{1,6}}(?:[.,]\d{{1,4}})?{_PART}?|\d{{1,2}}/\d{{1,2}}|[{_FRACTION}])"
_UNIT = (
    r"(?:millimet(?:re|er)s?|mms?|centimet(?:re|er)s?|cms?|met(?:re|er)s?|mtrs?|m"
    r"""|inch(?:es)?|ins?\b|feet|foot|ft|"|''|')"""
)
_BY = r"\s*(?:x|×|by|\*)\s*"
_SIDE = rf"{_NUMBER}\s*-?\s*{_UNIT}?"
_HOW = r"(?:long|lengths?|wide|broad|high|tall|deep|thick|thickness|across|in width|in length|in height)"
_PAIR = re.compile(
    rf"(?<![\w.,])(?P<a>{_SIDE}){_BY}(?P<b>{_SIDE})(?:{_BY}(?P<c>{_SIDE}))?(?![\w{_FRACTION}])", re.IGNORECASE
)
_ROUND = r"(?:round|circles?|circular|dis[ck]s?|across|in diameter|diameter|dia)"
_ONE = re.compile(
    rf"(?<![\w.,])(?P<side>(?:{_NUMBER}|an?|one|two|three|four|five|six|eight|nine|ten|twelve)\s*-?\s*{_UNIT})"
    rf"\s*-?\s*(?P<how>square|sq|{_ROUND})\b",
    re.IGNORECASE,
)
_SQUARE = re.compile(  # "a 4 inch tile": what is usually square is, by one side
    rf"(?<![\w.,])(?P<side>{_NUMBER}\s*-?\s*{_UNIT})(?!\w)\s*-?\s*(?P<how>)(?!(?:thick|deep|high|tall|thin)\b)(?=(?:\w+\s){{0,2}}(?:tiles?|squares?|cubes?)\b)",
    re.IGNORECASE,
)
_APART = re.compile(  # "a round coaster mould, 10 cm": the shape first, the measure a few words on
    rf"\bround\b(?:,?\s[a-z]+){{0,3}},?\s(?P<side>{_NUMBER}\s*-?\s*{_UNIT})(?!\w)(?!\s*(?:x|×|by|thick|deep|high|tall|long|wide)\b)",
    re.IGNORECASE,
)
_SHEET = re.compile(r"(?<![\w.])(?:[ab][0-7]|(?:letter|legal|tabloid)[ -]sized?)(?!\w|\.\w)", re.IGNORECASE)
_LONE = re.compile(
    rf"(?<![\w.,]){_NUMBER}\s*-?\s*(?:(?:(?!in\b|ins\b|'(?!')){_UNIT}(?!\w)(?:\s*-?\s*{_HOW}\b)?)"
    rf"|{_UNIT}(?!\w)(?:\s*-?\s*{_HOW}\b|\s*(?=[,.;]|$)))",
    re.IGNORECASE,
)
_ABOUT = re.compile(
    r"\b(?:about|approx(?:imately)?\.?|around|roughly|circa|ca\.?|maybe|perhaps|possibly|probably|something like|give or take)\s*$",
    re.IGNORECASE,
)
_METRIC = re.compile(r"\b(?:cms?|centimet\w+|millimet\w+|mm)\b|\d(?:cm|mm)\b", re.IGNORECASE)
_INCH = re.compile(r"\binch|\d\s?(?:in\b|\")", re.IGNORECASE)
_IS_ROUND = re.compile(r"\b(?:rounds?|circ\w*|dis[ck]s?|coasters?|dish|bowl|plate|clock|slices?)\b", re.IGNORECASE)
_HAS_UNIT = re.compile(rf"{_UNIT}\s*$", re.IGNORECASE)
# pairs of whole numbers that people mean in inches: the usual sheets, frames and canvases
_INCH_PAIRS = frozenset(
    ((2, 3), (3, 4), (3, 5), (4, 4), (4, 6), (5, 5), (5, 7), (6, 6), (6, 8), (8, 8), (8, 10), (8, 12),
     (9, 12), (10, 10), (10, 12), (10, 14), (11, 14), (11, 17), (12, 12), (12, 16), (12, 18), (12, 24),
     (14, 18), (16, 16), (16, 20), (16, 24), (18, 24), (20, 24), (24, 24), (24, 36), (20, 30), (22, 28),
     (22, 30), (36, 48), (24, 48), (30, 36))
)  # fmt: skip
_LARGEST_INCHES = 48  # a bare number above it is centimetres
_LARGEST_CM = 300  # and above this millimetres
MOST = 20  # sizes of a kind in one text
_A_SIDE = re.compile(r"\b(?:high|tall|deep|thick|thickness)$", re.IGNORECASE)
UNIT_NAMES = {"in": "inches", "cm": "centimetres", "mm": "millimetres"}


@dataclass(frozen=True, slots=True)
class Measured:
    """A size in the form of an answer. `words`: as it was said. `assumed`: the unit chosen, if none was."""

    size: dict[str, Any]
    words: str
    imperial: bool = False
    assumed: str = ""


def read_sizes(text: str) -> tuple[tuple[Measured, ...], str]:
    """The sizes in the text, and the text with them blanked out (same length). No more than MOST are read."""
    found: list[Measured] = []
    rest = text
    for pattern in (_PAIR, _ONE, _SQUARE, _SHEET):
        for match in islice(pattern.finditer(rest), MOST):
            measured = _read(match, pattern, text)
            if measured is None:
                continue
            found.append(measured)
            rest = _without(rest, match)
    apart = None if found else _APART.search(rest)
    side = re.compile(re.escape(apart["side"])).match(rest, apart.start("side")) if apart else None
    if side is not None and (round_ := _round(side[0])) is not None:
        return (round_,), _without(rest, side)
    return tuple(found), rest


def _round(side: str) -> Measured | None:
    from interview.quantities.units import ReadError, read

    try:
        got = read(f"{side.replace('-', ' ')} round", "size")
    except ReadError:
        return None
    return Measured(got.value, side.strip(), got.system == "imperial")


def _without(text: str, match: re.Match[str]) -> str:
    """The measure blanked out, and "about" or "maybe" before it, which doubts the measure alone."""
    about = _ABOUT.search(text, max(0, match.start() - 20), match.start())
    start = about.start() if about else match.start()
    return text[:start] + " " * (match.end() - start) + text[match.end() :]


@dataclass(frozen=True, slots=True)
class Lone:
    """One measure that makes no size. `side`: how long or wide it is; else how thick, deep or high."""

    words: str
    side: bool


def read_lone(text: str) -> tuple[tuple[Lone, ...], str]:
    """Measures that stand alone, and the text with them blanked out (same length)."""
    found: list[Lone] = []
    rest = text
    for match in islice(_LONE.finditer(text), MOST):
        words = " ".join(match[0].split())
        found.append(Lone(words, not _A_SIDE.search(words)))
        rest = _without(rest, match)
    return tuple(found), rest


def _read(match: re.Match[str], pattern: re.Pattern[str], text: str) -> Measured | None:
    from interview.quantities.units import ReadError, read

    words, assumed = match[0].strip(), ""
    if pattern is _SQUARE:
        words = f"{match['side'].replace('-', ' ')} square"
    if pattern is _PAIR and not any(_HAS_UNIT.search(match[g] or "") for g in "abc"):
        assumed = bare_unit(_first_number(match["a"]), _first_number(match["b"]), text)
        words = f"{words} {assumed}"
    if pattern is _ONE and match["how"].lower() == "across" and not _IS_ROUND.search(text):
        return None  # one measure of something that is not round
    if pattern is _SHEET and re.search(r"\blandscape\b", text, re.IGNORECASE):
        words += " landscape"
    try:
        got = read(words.replace("-", " ") if pattern is _ONE else words, "size")
    except ReadError:
        return None
    return Measured(got.value, match[0].strip(), got.system == "imperial", assumed)


def _first_number(side: str) -> float:
    found = re.match(r"\d+(?:[.,]\d+)?", side)
    return float(found[0].replace(",", ".")) if found else 0.5


def bare_unit(width: float, height: float, text: str) -> str:
    """in, cm or mm for two bare numbers: by other units in the text, the usual sizes, how large they are."""
    large = max(width, height)
    if _METRIC.search(text):
        return "cm" if large <= _LARGEST_CM else "mm"
    if _INCH.search(text) or (min(width, height), large) in _INCH_PAIRS:
        return "in"
    if large > _LARGEST_CM:
        return "mm"
    fives = width % 5 == 0 and height % 5 == 0 and large >= 30
    return "cm" if large > _LARGEST_INCHES or fives else "in"
