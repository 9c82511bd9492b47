"""What people write for sizes, amounts, times and prices -> plain numbers in a stated unit, and back again.

The only place that knows pint, which is loaded when the first measure is read. Units: knowledge/units.txt.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any, Literal

import knowledge
from knowledge.nearest import nearest

UNITS = Path(knowledge.__file__).parent / "units.txt"  # checked by knowledge/unit_file.py
System = Literal["metric", "imperial", ""]


class ReadError(ValueError):
    """What was typed cannot be read. The message is one line that says what to type instead."""


@dataclass(frozen=True, slots=True)
class Read:
    """A value in the unit asked for. `system`: what it was written in. `assumed`: what was not said, in words."""

    value: Any
    system: System = ""
    assumed: str = ""


@cache
def _registry() -> Any:
    import pint

    return pint.UnitRegistry(str(UNITS), autoconvert_offset_to_baseunit=False)


def warm_up() -> None:
    """Load the units now, so that the first measure is read without a wait."""
    _registry()


def line_reader() -> Callable[[str], str]:
    """For the check of units.txt: reads its lines one after the other; gives what is wrong with one, or nothing."""
    import pint

    registry: Any = pint.UnitRegistry(None, autoconvert_offset_to_baseunit=False)

    def read_line(line: str) -> str:
        try:
            registry.define(line)
            registry.Quantity(1.0, line.split("=")[0].strip()).to_base_units()
        except Exception as error:  # pint's own errors, of many kinds
            return (str(error) or type(error).__name__).splitlines()[0]
        return ""

    return read_line


def convert(value: float, unit: str, to: str) -> float:
    """A number from one unit of units.txt to another, such as "sqft/gal" to "m2/l". Raises ReadError."""
    scale, offset = _line(unit.lower(), to.lower())
    return value * scale + offset


@cache
def _line(unit: str, to: str) -> tuple[float, float]:
    """Every conversion here is a straight line: pint is asked for two points of it, once."""
    registry = _registry()
    try:
        zero, one = (float(registry.Quantity(float(n), unit).to(to).magnitude) for n in (0, 1))
    except Exception as error:  # pint's own errors, of many kinds; the person gets one line
        raise ReadError(f'"{unit}" cannot be turned into {to}.') from error
    return one - zero, zero


# ------------------------------------------------------------------ reading

# unit of the answer -> what to type; the unit that a bare number has for one who thinks in inches
_LIKE = {
    "mm": ("6 mm or 1/4 in", "in"), "m": ("2 m or 6 ft", "ft"), "m2": ("0.5 m2 or 5 sq ft", "sqft"),
    "mL": ("250 mL or 8 fl oz", "floz"), "g": ("400 g or 14 oz", "oz"), "degC": ("21 C or 70 F", "f"),
    "minutes": ("40 minutes, 2 hours or 3 days", "min"), "%": ("55 %", "%"), "m3": ("30 m3 or 1000 cu ft", "cuft"),
    "size": ("30 x 40 cm, 12 x 16 in, 20 cm round, or A4", "in"), "ratio": ("2:1 by volume, or 100:45 by weight", ""),
    "money": ("18.50", ""), "m3/h": ("85 m3/h or 50 cfm", "cfm"), "m2/L": ("10 m2/L or 400 sq ft per gallon", "sqft/gal"),
}  # fmt: skip
_PINT = {"size": "mm", "degC": "c", "minutes": "min", "mL": "ml", "m2/L": "m2/l", "m3/h": "m3/h"}
_MARKS = str.maketrans({
    "×": "x", "*": "x", "″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "‘": "'", "–": "-", "—": "-", "−": "-",
    "²": "2", "³": "3", "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8",
    "⅓": " 1/3", "⅔": " 2/3", "µ": "u", "μ": "u", "º": "°", "⁄": "/", "\u00a0": " ", "\u202f": " ", "\u2009": " ",
})  # fmt: skip
_COUNTED = [
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen",
    "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty",
]  # fmt: skip
_TENS = ["thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
_WORDS: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(pattern), into)
    for pattern, into in (
        (r"^(?:about|around|approx(?:imately)?\.?|roughly|circa|ca\.?|some|nearly|almost|~)\s*", ""),
        *((rf"\b{word}\b", str(n)) for n, word in enumerate(_COUNTED, 1)),
        *((rf"\b{word}\b", str(10 * n)) for n, word in enumerate(_TENS, 3)),
        (r"\b(?:an?|1) ([a-z]+) and a half\b", r"1.5 \1"),
        (r"\b(\d+) ([a-z]+) and a half\b", r"\1.5 \2"),
        (r"\b(\d+) and a half\b", r"\1.5"),
        (r"\b3 quarters?(?: of)?(?: an?)? (?=[a-z])", "0.75 "),
        (r"\b(?:a )?quarter (?:of )?an? (?=[a-z])", "0.25 "),
        (r"\b(?:an? )?eighth (?:of )?an? (?=[a-z])", "0.125 "),
        (r"\b(?:a )?half (?:of )?(?:an? )?(?=[a-z])", "0.5 "),
        (r"(?<=\d) of (?:an? )?(?=[a-z])", " "),
        (r"\ba couple(?: of)?\b", "2"),
        (r"\ba dozen\b", "12"),
        (r"(?<![a-z2] )\ban? (?=[a-z])", "1 "),
        (r"\bper ?cent\b", "percent"),
        (r"''", '"'),
        (r"\bfl(?:uid|\.)?\s*(?:oz|ounce)s?\.?", "floz"),
        (r"\b(?:square|sq\.?)\s*(?=[a-z])", "sq"),
        (r"\b(?:cubic|cu\.?)\s*m(?:et(?:re|er)s?)?\b", "m3"),
        (r"\b(?:cubic|cu\.?)\s*(?=[a-z])", "cu"),
        (r"\bsqm(?:et(?:re|er)s?)?\b", "m2"),
        (r"\bsq(?:feet|foot|fts?)\b", "sqft"),
        (r"\bsq(?:inche?s?|ins?)\b", "sqin"),
        (r"\bcu(?:feet|foot|fts?)\b", "cuft"),
        (r"\bcu(?:inche?s?|ins?)\b", "cuin"),
    )
)
_NUMBER = r"\d+[ -]\d+/\d+|\d+\s*/\s*\d+|\d[\d.,]*|[.,]\d+"
_TERM = re.compile(
    rf"\s*(?:and\s+|,\s*|\+\s*)?(?P<number>{_NUMBER})\s*(?P<unit>°?[a-z]+(?:[23](?!\d))?(?![a-z])\.?|\"|'|%|°)?"
)
_PER = re.compile(r"\s*(?:/|per|an?|each)\s*(?P<unit>[a-z]+[23]?)\s*\.?\s*$")
_SPAN = re.compile(r"\d\s*[a-z\"'°%]*\s*(?:-|\bto\b|\bor\b)\s*\d")


def read(text: str, kind: str, unit: str = "", *, imperial: bool = False) -> Read:
    """A typed answer of a question's kind, in the question's unit. Raises ReadError.

    Kinds: size (mm), ratio, money, and whatever is measured in `unit`. `imperial`: how to take a bare number.
    """
    plain = _plain(text)
    if not plain or len(plain) > 120:
        raise ReadError(_hint(kind if kind in _LIKE else unit))
    if kind == "size":
        return _read_size(plain, imperial)
    if kind == "ratio":
        return _read_ratio(plain)
    if kind == "money":
        return Read(_read_money(plain))
    return _read_measure(plain, unit, imperial)


def _plain(text: str) -> str:
    plain = " ".join(text.translate(_MARKS).casefold().split()).rstrip(" .!")
    for pattern, into in _WORDS:
        plain = pattern.sub(into, plain)
    return " ".join(plain.split())


def _hint(unit: str) -> str:
    return f"Type it like this: {_LIKE.get(unit, ('a number such as 12.5, and its unit', ''))[0]}."


def _number(text: str) -> float:
    """ "1 1/2", "1-1/2", "12,5", "1,200.5" -> a float. Raises ReadError where it can be read two ways."""
    if "/" in text:
        whole, _, part = re.sub(r"\s*/\s*", "/", text).replace("-", " ").rpartition(" ")
        top, bottom = part.split("/")
        if int(bottom) == 0:
            raise ReadError(f"{text} divides by nothing. Type a fraction such as 1/8.")
        return int(whole or 0) + int(top) / int(bottom)
    plain = text.rstrip(".,")
    if re.fullmatch(r"[1-9]\d{0,2},\d{3}", plain):
        raise ReadError(
            f'"{plain}" can be read two ways: type {plain.replace(",", "")} or {float(plain.replace(",", ".")):g}.'
        )
    if re.fullmatch(r"\d{1,3}(?:,\d{3})+(?:\.\d+)?", plain):
        return float(plain.replace(",", ""))
    if re.fullmatch(r"\d{1,3}(?:\.\d{3})+,\d+|\d{1,3}(?:\.\d{3}){2,}", plain):
        return float(plain.replace(".", "").replace(",", "."))
    if not re.fullmatch(r"\d{0,12}(?:[.,]\d{0,12})?", plain) or not plain.strip(".,"):
        raise ReadError(f'"{_short(plain)}" is no number. {_hint("")}')
    return float(plain.replace(",", "."))


def _read_measure(plain: str, unit: str, imperial: bool) -> Read:
    negative = plain.startswith("-") and unit == "degC"
    body = plain.removeprefix("-").strip() if negative else plain
    terms, per = _terms(body, unit)
    if unit == "%":
        return _percent(plain, terms, per)
    if len(terms) == 1 and not terms[0][1] and not per:
        return _bare(-terms[0][0] if negative else terms[0][0], unit, imperial)
    names = [_unit(word, unit) for _, word in terms]
    under = f"/{_unit(per, unit, under=True)}" if per else ""
    values = [-value if negative else value for value, _ in terms]
    total = _added(values, [name + under for name in names], unit, plain)
    return Read(float(f"{total:.10g}"), _system(names))


def _added(values: list[float], names: list[str], unit: str, plain: str) -> float:
    """The parts together, in the wanted unit; they run from large to small, such as 2 ft 3 in. Raises ReadError."""
    to = _PINT.get(unit, unit)
    try:
        sizes = [abs(convert(1, name, to)) for name in names]
        total = sum(convert(value, name, to) for value, name in zip(values, names, strict=True))
    except ReadError:
        raise ReadError(f'"{_short(plain)}" measures something else. {_hint(unit)}') from None
    if len(names) > 1 and (unit == "degC" or any(b >= a for a, b in pairwise(sizes))):
        raise ReadError(f'"{_short(plain)}" has its parts in an odd order. {_hint(unit)}')
    if not abs(total) < 1e9:
        raise ReadError(f"{total:g} {unit} is far too large. {_hint(unit)}")
    return total


def _terms(plain: str, unit: str) -> tuple[list[tuple[float, str]], str]:
    """ "2 ft 3 in" -> [(2, "ft"), (3, "in")], and the unit it is per, if any. Raises ReadError."""
    if _SPAN.search(re.sub(r"\d+-\d+/\d+", "1", plain)):
        raise ReadError(f'"{plain}" is a range; one value will do, the middle of it. {_hint(unit)}')
    plain = re.sub(r"(?:°|\bdeg(?:ree)?s?\b\.?)\s*(?=[a-z])", "", plain) if unit == "degC" else plain
    plain = re.sub(r"(?:°|\bdeg(?:ree)?s?\b\.?)\s*$", "", plain) if unit == "degC" else plain
    terms: list[tuple[float, str]] = []
    place = 0
    while match := _TERM.match(plain, place):
        terms.append((_number(match["number"]), (match["unit"] or "").rstrip(".")))
        place = match.end()
    per = _PER.match(plain, place)
    if not terms or (plain[place:].strip() and per is None):
        raise ReadError(f'"{_short(plain)}" is not clear to me. {_hint(unit)}')
    if len(terms) > 1 and not all(word for _, word in terms):
        raise ReadError(f'"{_short(plain)}" has a number without its unit. {_hint(unit)}')
    return terms, per["unit"] if per else ""


def _percent(plain: str, terms: list[tuple[float, str]], per: str) -> Read:
    ends = terms[0][1] + per
    if len(terms) != 1 or ends not in ("", "%", "percent", "pc", "pct", "percents", "rh", "cent"):
        raise ReadError(f'"{_short(plain)}" is no percentage. {_hint("%")}')
    return Read(terms[0][0])


def _bare(value: float, unit: str, imperial: bool) -> Read:
    """A number without a unit. Nobody works at 60 °C or at 4 °C, so a temperature tells its scale."""
    if unit == "degC":
        other = value > 45 or (imperial and value > 40)
        return Read(float(f"{convert(value, 'f', 'c'):.10g}") if other else value, "", "in °F" if other else "in °C")
    if not imperial or unit not in _LIKE:
        return Read(value, "", f"in {unit}" if unit else "")
    name = _LIKE[unit][1]
    return Read(convert(value, name, _PINT.get(unit, unit)), "", f"in {_SPELT.get(name, name)}")


_SPELT = {
    "floz": "fl oz",
    "sqft": "sq ft",
    "cuft": "cu ft",
    "sqft/gal": "sq ft per gallon",
    "f": "°F",
    "c": "°C",
}


_NO_NUMBERS = ("nan", "inf", "infinity")  # pint takes them for numbers, and they are not units


def _unit(word: str, wanted: str, *, under: bool = False) -> str:
    """The name in units.txt for a word, where it measures what is wanted. Raises ReadError."""
    word = {'"': "inch", "'": "foot"}.get(word, word)
    if wanted == "mL" and word in ("oz", "ounce", "ounces"):
        word = "floz"
    if wanted == "minutes" and word in ("m", "ms"):
        raise ReadError(f'"{word}" can mean minutes or months. {_hint(wanted)}')
    if word in ("mil", "mils") and wanted in ("mm", "size"):
        raise ReadError(f"A mil is a thousandth of an inch, and some say it for mm. {_hint(wanted)}")
    registry = _registry()
    if not word.isidentifier() or word in _NO_NUMBERS or word not in registry:
        near = nearest(word, (n for n in registry._units if n.isascii() and "delta" not in n))
        meant = f'; did you mean "{near}"?' if near else "."
        raise ReadError(f'I know no unit "{_short(word)}"{meant} {_hint(wanted)}')
    name = str(registry.get_name(word))
    target = registry.parse_units(_PINT.get(wanted, wanted))
    if "/" not in wanted and not under and registry.get_dimensionality(name) != registry.get_dimensionality(target):
        raise ReadError(f'"{word}" measures something else. {_hint(wanted)}')
    return name


def _system(names: list[str]) -> System:
    if all(name in ("minute", "second", "hour", "day", "week", "month", "year") for name in names):
        return ""
    return "imperial" if any(n in _registry().get_group("imperial").members for n in names) else "metric"


def _read_ratio(plain: str) -> Read:
    found = re.fullmatch(
        r"(?:equal parts|even)(?P<even>)|(?P<a>[\d.,]+)\s*(?:parts?)?\s*(?:resin|[ax]\b)?\s*"
        r"(?::|/|to|-|and|,)\s*(?P<b>[\d.,]+)\s*(?:parts?)?\s*(?:hardener|[by](?!\w| ?v| ?w)\b)?",
        re.sub(r"[, ]*\(?(?:by )?\b(volume|vol|weight|mass|wt|v/v|w/w)\b\.?\)?", "", plain).strip(),
    )  # fmt: skip
    how = re.search(r"\b(?:(volume|vol|v/v)|(weight|mass|wt|w/w))\b", plain)
    if found is None:
        raise ReadError(f'"{_short(plain)}" is no mixing ratio. {_hint("ratio")}')
    a, b = (1.0, 1.0) if found["even"] is not None else (_number(found["a"]), _number(found["b"]))
    if not (a > 0 and b > 0) or not 1 / 50 <= a / b <= 50:
        raise ReadError(f"{a:g}:{b:g} is no mixing ratio of resin to hardener. {_hint('ratio')}")
    if how is None and max(a, b) > 10:
        raise ReadError(f"Is {a:g}:{b:g} by weight or by volume? Type {a:g}:{b:g} by weight, or by volume.")
    by = "volume" if how is None or how[1] else "weight"
    return Read((a, b, by), "", "by volume" if how is None else "")


def _read_money(plain: str) -> float:
    body = re.sub(r"(?:[$€£¥]|\b(?:us|usd|eur|gbp|chf|dollars?|euros?|pounds?|francs?)\b)", "", plain).strip()
    if re.fullmatch(r"\d{1,3}(?:,\d{3})+(?:\.\d{1,2})?", body):  # money has no three decimals
        return float(body.replace(",", ""))
    if not re.fullmatch(r"[\d.,]+", body) or re.search(r"[.,]\d{3,}$", body):
        raise ReadError(f'"{_short(plain)}" is no price. {_hint("money")}')
    return _number(body)


# ------------------------------------------------------------------ sizes

# ISO 216 A and B series in mm; the North American sheets of ANSI/ASME Y14.1
_SHEETS = {
    "a0": (841, 1189), "a1": (594, 841), "a2": (420, 594), "a3": (297, 420), "a4": (210, 297), "a5": (148, 210),
    "a6": (105, 148), "a7": (74, 105), "b3": (353, 500), "b4": (250, 353), "b5": (176, 250), "b6": (125, 176),
    "letter": (215.9, 279.4), "legal": (215.9, 355.6), "tabloid": (279.4, 431.8),
}  # fmt: skip
_SHAPES = (
    ("l_shape", r"\bl[- ]?shaped?\b|\bl[- ]shape\b"), ("oval", r"\b(?:oval|ellip\w+)\b"), ("cylinder", r"\b(?:cylind\w+|tube)\b"),
    ("square", r"\bsquare\b"), ("circle", r"\b(?:round|circ\w+|dis[ck]s?|diameter|dia|across)\b\.?|ø"), ("", r"\bbox\b|\brectang\w+\b"),
)  # fmt: skip
SIDES = {"rectangle": ("width", "height"), "box": ("width", "height", "depth"), "circle": ("diameter",), "oval": ("width", "height"),
          "cylinder": ("diameter", "height"), "l_shape": ("width", "height", "cut_width", "cut_height")}  # fmt: skip
SMALLEST, LARGEST = 1.0, 20_000.0  # mm; outside it is no size of a piece, nor of a room


def _read_size(plain: str, imperial: bool) -> Read:
    sheet = _SHEETS.get(re.sub(r"[- ]?(?:size[d]?|paper|sheet|landscape|portrait)\b", "", plain).strip())
    if sheet:
        wide, high = sorted(sheet, reverse="landscape" in plain)
        return Read({"shape": "rectangle", "width": float(wide), "height": float(high)})
    shape, body = "", plain
    body = re.sub(r"(?<=[a-z\"] )in (?=dia)", "", body)
    for name, pattern in _SHAPES:
        body, count = re.subn(pattern, " ", body)
        shape = shape or (name if count else "")
    body = re.sub(r"\b(?:less|minus|without|(?:with )?(?:a )?(?:cut[- ]?out|notch)(?: of)?)\b", " x ", body)
    parts = [
        p for p in (_tidied(p) for p in re.split(r"\s*\bby\b\s*|\s*(?<![a-z])x\s*|(?<=[a-z\"'])\s*x\s+", body)) if p
    ]
    sides, system, assumed = _sides(parts, imperial)
    if sides is None:
        return _area_size(parts[0] if parts else plain)
    return Read(_shaped(shape, sides), system, assumed)


def _tidied(part: str) -> str:
    cut = re.sub(r"\b(?:wide|high|tall|deep|thick|long|size[d]?|paper|sheet|room|of|the)\b", " ", part).strip(" ,;()")
    return re.sub(r"(?<=[\d\"'])\s*(?:w|h|d|l)$", "", " ".join(cut.split()))


def _sides(parts: list[str], imperial: bool) -> tuple[list[float] | None, System, str]:
    """Each side in mm; a side without a unit takes the next one's, the last the one before. None where it is an area."""
    read_parts = [_terms(p, "size") for p in parts]
    if len(parts) == 1 and re.search(r"2$|^sq", read_parts[0][0][-1][1]):
        return None, "", ""
    words = [terms[-1][1] for terms, _ in read_parts]
    if not parts or any(per for _, per in read_parts):
        raise ReadError(_hint("size"))
    assumed = "" if any(words) else "in"
    if assumed and not imperial:
        raise ReadError(f"In which unit? Type {' x '.join(parts)} cm, or {' x '.join(parts)} in.")
    known = [w for w in words if w]
    sides, names = [], []
    for n, (terms, _) in enumerate(read_parts):
        default = next((w for w in words[n:] if w), known[-1] if known else assumed)
        found = [(value, _unit(word or default, "size")) for value, word in terms]
        names += [name for _, name in found]
        sides.append(round(sum(convert(value, name, "mm") for value, name in found), 3))
    return sides, _system(names), "in inches" if assumed else ""


def _area_size(text: str) -> Read:
    got = _read_measure(text, "m2", imperial=False)
    if not 1e-6 <= got.value <= 400:
        raise ReadError(f"{got.value:g} m2 is no area of a piece. {_hint('size')}")
    return Read({"shape": "area", "area": got.value}, got.system)


def _shaped(shape: str, sides: list[float]) -> dict[str, Any]:
    if len(sides) == 1 and shape in ("square", ""):
        if not shape:
            raise ReadError(f"One side only. {_hint('size')}")
        sides = sides * 2
    shape = {"square": "rectangle", "": "box" if len(sides) == 3 else "rectangle"}.get(shape, shape)
    if shape == "circle" and len(sides) == 2:
        shape = "cylinder"
    if len(sides) != len(SIDES[shape]):
        wanted = {1: "one measure", 2: "two measures", 4: "four: the whole, then the cut-out"}.get(
            len(SIDES[shape]), "three"
        )
        raise ReadError(f"For this shape give {wanted}. {_hint('size')}")
    for side in sides:
        if not SMALLEST <= side <= LARGEST:
            raise ReadError(f"A side of {side:g} mm is no size I can work with (1 mm to 20 m). {_hint('size')}")
    made: dict[str, Any] = {"shape": shape, **dict(zip(SIDES[shape], sides, strict=True))}
    if shape == "l_shape" and not (sides[2] < sides[0] and sides[3] < sides[1]):
        raise ReadError("The cut-out must be smaller than the whole: type L-shaped 60 x 40 cm less 20 x 10 cm.")
    return made


def _short(text: str) -> str:
    return text if len(text) <= 40 else f"{text[:37]}..."
