"""Sizes and counts in a sentence: found in the running text, cut out of it, and turned into mm and whole numbers.

Where no unit is said, one is chosen by how people size things, and that it was chosen is reported.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}
_UNIT_WORDS = {
    "mm": ("mm", "millimetre", "millimeter", "mil"),
    "cm": ("cm", "cms", "centimetre", "centimeter", "cent"),
    "m": ("m", "metre", "meter", "mtr"),
    "in": ("in", "ins", "inch", "inche", '"', "''"),
    "ft": ("ft", "foot", "feet", "'"),
}
UNITS = {word: unit for unit, words in _UNIT_WORDS.items() for word in words}
# ISO 216 A and B series, mm; and the North American sheets, ANSI/ASME Y14.1, in whole mm as commonly given
SHEETS = {
    "a0": (841, 1189), "a1": (594, 841), "a2": (420, 594), "a3": (297, 420), "a4": (210, 297), "a5": (148, 210),
    "a6": (105, 148), "a7": (74, 105), "b3": (353, 500), "b4": (250, 353), "b5": (176, 250), "b6": (125, 176),
    "letter size": (216, 279), "letter sized": (216, 279), "legal size": (216, 356), "tabloid size": (279, 432),
}  # fmt: skip
_NUMBER = r"(?:\d{1,6}(?:[.,]\d{1,4})?(?:\s*[½¼¾⅛⅜⅝⅞])?|[½¼¾⅛⅜⅝⅞])(?:[ -]\d{1,2}/\d{1,2})?|\d{1,2}/\d{1,2}"
_UNIT = r"""(?:mm|millimet(?:re|er)s?|cms?|centimet(?:re|er)s?|met(?:re|er)s?|m|inch(?:es)?|ins?|feet|foot|ft|"|''|')"""
_BY = r"(?:x|×|by|\*)"
_END = r"(?![\w½¼¾])"
_PAIR = re.compile(
    rf"(?<![\w.])(?P<a>{_NUMBER})\s*-?(?P<ua>{_UNIT})?\s*{_BY}\s*(?P<b>{_NUMBER})\s*-?(?P<ub>{_UNIT})?"
    rf"(?:\s*{_BY}\s*(?P<c>{_NUMBER})\s*-?(?P<uc>{_UNIT})?)?(?:{_END}|(?<=['\"]))",
    re.IGNORECASE,
)
_ONE = re.compile(
    rf"(?<![\w.])(?P<a>{_NUMBER}|an?|one|two|three|four|five|six|eight|ten|twelve)\s*-?(?P<u>{_UNIT})\s*"
    r"(?P<how>-?\s*(?:square|sq|round|circles?|circular|discs?|across|in diameter|diameter|dia|wide))\b",
    re.IGNORECASE,
)
_SHEET = re.compile(r"(?<![\w.])(?P<name>[ab][0-7]|(?:letter|legal|tabloid)[ -]sized?)(?![\w.])", re.IGNORECASE)
_ABOUT = re.compile(r"\b(?:about|approx(?:imately)?\.?|around|roughly|circa|ca\.?|some)\s*$", re.IGNORECASE)
_FRACTIONS = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅛": 0.125, "⅜": 0.375, "⅝": 0.625, "⅞": 0.875}
_WORDS = {"a": 1.0, "an": 1.0, "one": 1.0, "two": 2.0, "three": 3.0, "four": 4.0, "five": 5.0, "six": 6.0, "eight": 8.0,
          "ten": 10.0, "twelve": 12.0}  # fmt: skip
# pairs of numbers that people mean in inches: the usual sheet, frame and canvas sizes
_INCH_PAIRS = frozenset(
    ((2, 3), (3, 4), (3, 5), (4, 4), (4, 6), (5, 5), (5, 7), (6, 6), (6, 8), (8, 8), (8, 10), (8, 12), (9, 12), (10, 10),
     (10, 12), (10, 14), (11, 14), (11, 17), (12, 12), (12, 16), (12, 18), (12, 24), (14, 18), (16, 16), (16, 20),
     (16, 24), (18, 24), (20, 24), (24, 24), (24, 36), (20, 30), (22, 28), (22, 30), (36, 48), (24, 48), (30, 36))
)  # fmt: skip
SMALLEST, LARGEST = 1.0, 20_000.0  # mm; outside it is no size of a piece


@dataclass(frozen=True, slots=True)
class Measured:
    """A size, in mm, with the words it was read from and the unit that was assumed, if none was said."""

    size: dict[str, Any]
    words: str
    assumed: str = ""


def read_size(text: str) -> tuple[Measured | None, str]:
    """The first size in the text, and the text with every size blanked out (same length)."""
    first: tuple[int, Measured] | None = None
    rest = text
    for pattern, read in ((_PAIR, _pair), (_ONE, _one), (_SHEET, _sheet)):
        for match in list(pattern.finditer(rest)):
            measured = read(match, text)
            if measured is None:
                continue
            if first is None or match.start() < first[0]:
                first = (match.start(), measured)
            start = match.start() - len(found[0]) if (found := _ABOUT.search(rest[: match.start()])) else match.start()
            rest = rest[:start] + " " * (match.end() - start) + rest[match.end() :]
    return (first[1] if first else None), rest


def _number(text: str) -> float:
    text = text.strip().lower()
    if text in _WORDS:
        return _WORDS[text]
    total = sum(value for sign, value in _FRACTIONS.items() if sign in text)
    for part in re.split(r"[ -]", re.sub("[½¼¾⅛⅜⅝⅞]", " ", text)):
        if "/" in part:
            top, bottom = part.split("/")
            total += float(Fraction(int(top), int(bottom))) if int(bottom) else 0.0
        elif part:
            total += float(part.replace(",", "."))
    return total


def _unit(text: str | None) -> str | None:
    return UNITS.get(text.lower().rstrip("s") if len(text) > 3 else text.lower()) if text else None


def _pair(match: re.Match[str], text: str) -> Measured | None:
    values = [_number(match[g]) for g in "abc" if match[g]]
    said = [_unit(match["u" + g]) for g in "abc" if match[g]]
    last = next((u for u in reversed(said) if u), None)
    assumed = "" if last else assumed_unit(values[0], values[1], text)
    sides = [v * MM[u or last or assumed] for v, u in zip(values, said, strict=True)]
    if not all(SMALLEST <= s <= LARGEST for s in sides[:2]):
        return None
    size: dict[str, Any] = {"shape": "rectangle", "width": round(sides[0], 1), "height": round(sides[1], 1)}
    return Measured(size, match[0].strip(), assumed)


def assumed_unit(width: float, height: float, text: str) -> str:
    """Inches or centimetres (or mm) for two bare numbers: by another unit in the text, by the usual sizes, by how big."""
    low = text.lower()
    if re.search(r"\b(?:cms?|centimet|millimet|mm)\b|\d(?:cm|mm)\b", low):
        return "cm" if max(width, height) <= 300 else "mm"
    if re.search(r"\binch|\d\s?(?:in|\"|'')(?!\w)", low):
        return "in"
    pair = (min(width, height), max(width, height))
    if pair in _INCH_PAIRS:
        return "in"
    if max(width, height) > 300:
        return "mm"
    both_whole_fives = width % 5 == 0 and height % 5 == 0 and max(width, height) >= 30
    return "cm" if max(width, height) > 48 or both_whole_fives else "in"


def _one(match: re.Match[str], text: str) -> Measured | None:
    unit = _unit(match["u"])
    value = _number(match["a"]) * MM[unit] if unit else 0.0
    if not SMALLEST <= value <= LARGEST:
        return None
    how = match["how"].lower().strip(" -")
    if how in ("square", "sq"):
        size: dict[str, Any] = {"shape": "rectangle", "width": round(value, 1), "height": round(value, 1)}
    elif how == "wide" or (how == "across" and not re.search(r"\b(?:round|circ|disc|coaster|dish|bowl)", text.lower())):
        return None
    else:
        size = {"shape": "circle", "diameter": round(value, 1)}
    return Measured(size, match[0].strip())


def _sheet(match: re.Match[str], text: str) -> Measured | None:
    width, height = SHEETS.get(match["name"].lower().replace("-", " "), (0, 0))
    if not width:
        return None
    if "landscape" in text.lower():
        width, height = height, width
    return Measured({"shape": "rectangle", "width": float(width), "height": float(height)}, match[0].strip())
