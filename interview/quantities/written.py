"""Numbers in stated units -> what people read: both systems, sensible fractions, no false digits.

`amount` is for results (metric first; the brief turns the order round for who thinks in inches). `write` is for
answers: what it gives, `quantities.read` reads back as the same value.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Any

from interview.quantities.units import convert

# unit of a value -> (below this value, unit to show it in, how it is written); the last row has no limit
_Scale = tuple[tuple[float, str, str], ...]
_END = math.inf
_METRIC: Mapping[str, _Scale] = {
    "um": ((_END, "um", "µm"),),
    "mm": ((100, "mm", "mm"), (1000, "cm", "cm"), (_END, "m", "m")),
    "m2": ((0.1, "cm2", "cm²"), (_END, "m2", "m²")),
    "mL": ((1000, "ml", "mL"), (_END, "l", "L")),
    "g": ((1000, "g", "g"), (_END, "kg", "kg")),
    "m3": ((_END, "m3", "m³"),),
    "m3/h": ((_END, "m3/h", "m³/h"),),
    "m2/L": ((_END, "m2/l", "m²/L"),),
    "degC": ((_END, "c", "°C"),),
    "degC apart": ((_END, "c", "°C"),),
}
_IMPERIAL: Mapping[str, _Scale] = {
    "um": ((_END, "mil", "mil"),),
    "mm": ((3048, "inch", "in"), (_END, "foot", "ft")),
    "m2": ((0.0929, "sqin", "sq in"), (_END, "sqft", "sq ft")),
    "mL": (
        (1.2, "drop", "drops"),
        (14.7, "teaspoon", "tsp"),
        (1892, "floz", "fl oz"),
        (7571, "quart", "qt"),
        (_END, "gallon", "gal"),
    ),
    "g": ((907, "oz", "oz"), (_END, "lb", "lb")),
    "m3": ((_END, "cuft", "cu ft"),),
    "m3/h": ((_END, "cfm", "cfm"),),
    "m2/L": ((_END, "sqft/gal", "sq ft/gal"),),
    "degC": ((_END, "f", "°F"),),
    "degC apart": ((_END, "f", "°F"),),
}
_CANON = {"degC": "c", "degC apart": "c", "mL": "ml", "m2/L": "m2/l"}
# below how many of a unit it is told to which fraction
_FRACTIONS: Mapping[str, tuple[tuple[float, int], ...]] = {
    "inch": ((1, 16), (10, 8), (40, 4), (_END, 1)),
    "teaspoon": ((1, 8), (_END, 4)),
    "floz": ((1, 8), (10, 4), (24, 2), (_END, 1)),
    "quart": ((_END, 4),),
    "gallon": ((_END, 4),),
    "oz": ((1, 8), (10, 4), (24, 2), (_END, 1)),
    "lb": ((_END, 4),),
}
_FINEST = {"inch": 64}  # as a ruler has it; of all others eighths
_OFF = 0.1  # no fraction is further from what it stands for; then decimals tell it
_WHOLE = ("c", "f", "drop")


@lru_cache(maxsize=4096)
def amount(low: float, high: float, unit: str, *, up: bool = False, imperial: bool = False) -> str:
    """ "60 to 80 mL (2 to 2 3/4 fl oz)". Units: um, mm, m2, mL, g, m3, m3/h, m2/L, degC, degC apart, %,
    ppm, and others.

    `up`: the high end is rounded up, for what has to be bought. `imperial`: that system first. Units of no table are written as they are.
    """
    if unit not in _METRIC:
        return _range(_rounded(low, up=up and low == high), _rounded(high, up=up), unit)
    scales = (_IMPERIAL, _METRIC) if imperial else (_METRIC, _IMPERIAL)
    own, other = (_in(low, high, unit, scale[unit], up=up) for scale in scales)
    if "-" in own + other:
        return f"{own}, {other}"
    return f"{own} ({other.removeprefix('up to ')})"


def _in(low: float, high: float, unit: str, scale: _Scale, *, up: bool) -> str:
    _, to, label = next(row for row in scale if abs(high) < row[0] or row[0] == _END)
    a, b = (_turned(v, unit, to) for v in (low, high))
    ends = _told(a, to, up=up and low == high), _told(b, to, up=up)
    if to in _FRACTIONS and any("." in end for end in ends):  # never one as a fraction and one in decimals
        ends = _rounded(a, up=up and low == high), _rounded(b, up=up)
    return _range(*ends, "drop" if ends == ("1", "1") and to == "drop" else label)


def _turned(value: float, unit: str, to: str) -> float:
    if unit == "degC apart":
        return value * 1.8 if to == "f" else value
    return convert(value, _CANON.get(unit, unit), to)


def _range(low: str, high: str, label: str) -> str:
    unit = f" {label}" if label else ""
    if low == high:
        return f"{high}{unit}"
    return f"up to {high}{unit}" if low == "0" else f"{low} to {high}{unit}"


def _told(value: float, unit: str, *, up: bool = False) -> str:
    if unit in _WHOLE:
        least = 1 if unit == "drop" and value > 0 else -_END
        return str(max(least, math.ceil(value - 1e-9) if up else math.floor(value + 0.5)))
    steps = _FRACTIONS.get(unit)
    if steps is None:
        return _rounded(value, up=up)
    parts = next(n for limit, n in steps if value < limit)
    while parts <= _FINEST.get(unit, 8):
        count = _count(value, parts, up=up)
        if abs(count / parts - value) <= _OFF * value:
            return fraction(value, parts, up=up)
        parts *= 2
    return _rounded(value, up=up)


def fraction(value: float, parts: int, *, up: bool = False) -> str:
    """A number to the nearest (or next higher) 1/parts: "2 3/4", "1/8", "12"."""
    whole, top = divmod(_count(value, parts, up=up), parts)
    if not top:
        return str(whole)
    shared = math.gcd(top, parts)
    rest = f"{top // shared}/{parts // shared}"
    return f"{whole} {rest}" if whole else rest


def _count(value: float, parts: int, *, up: bool) -> int:
    return math.ceil(value * parts - 1e-6) if up else math.floor(value * parts + 0.5)


def _rounded(value: float, digits: int = 2, *, up: bool = False) -> str:
    """To two digits that count, never in powers of ten."""
    if value == 0:
        return "0"
    step = 10.0 ** (math.floor(math.log10(abs(value)) + 1e-12) - digits + 1)
    count = math.ceil(value / step - 1e-6) if up else math.floor(value / step + 0.5)
    places = max(0, -math.floor(math.log10(step) + 0.5))
    return f"{count * step:.{places}f}".rstrip("0").rstrip(".") if places else f"{count * step:.0f}"


def plain(value: float, digits: int = 3) -> str:
    """A number for the lines of a calculation: so many digits that count, no trailing zeros."""
    return _rounded(value, digits)


# ------------------------------------------------------------------ answers

_ORDER = {
    "rectangle": ("width", "height"), "box": ("width", "height", "depth"), "circle": ("diameter",),
    "oval": ("width", "height"), "cylinder": ("diameter", "height"), "l_shape": ("width", "height"),
}  # fmt: skip
_AROUND = {"circle": "{} round", "oval": "oval {}", "cylinder": "cylinder {}"}
_TYPED = {
    "mm": ("mm", "mm", "inch", "in"), "m": ("m", "m", "foot", "ft"), "m2": ("m2", "m2", "sqft", "sq ft"),
    "mL": ("ml", "mL", "floz", "fl oz"), "g": ("g", "g", "oz", "oz"), "degC": ("c", "°C", "f", "°F"),
    "m3": ("m3", "m3", "cuft", "cu ft"), "m3/h": ("m3/h", "m3/h", "cfm", "cfm"),
    "m2/L": ("m2/l", "m2/L", "sqft/gal", "sq ft per gallon"),
}  # fmt: skip


def write(value: Any, kind: str, unit: str = "", *, imperial: bool = False) -> str:
    """An answer as one would write it, in the maker's own system; `quantities.read` reads it back."""
    if kind == "size":
        return _size(value, imperial)
    if kind == "ratio":
        a, b, by = value
        return f"{a:g}:{b:g} by {by}"
    if kind == "money":
        return f"{value:.2f}"
    if unit == "minutes":
        return _duration(value)
    if unit in _TYPED:
        own, label, other, other_label = _TYPED[unit]
        to, word = (other, other_label) if imperial else (own, label)
        return f"{_number(convert(value, own, to), to)} {word}"
    return f"{value:g} {unit}".strip()


def size_words(size: Mapping[str, Any], *, imperial: bool = False) -> str:
    """A size in both systems, the maker's own first: "12 x 16 in (30 x 41 cm)", "20 cm (7 7/8 in) round"."""

    def both(sides: list[float]) -> str:
        own, other = (_sides(sides, system, rough=True) for system in (imperial, not imperial))
        return f"{own} ({other})"

    if size["shape"] == "area":
        return f"{_area(size['area'], imperial)} ({_area(size['area'], not imperial)})"
    return _shaped(size, both)


def _size(size: Mapping[str, Any], imperial: bool) -> str:
    if size["shape"] == "area":
        return write(size["area"], "area", "m2", imperial=imperial)
    return _shaped(size, lambda sides: _sides(sides, imperial, rough=False))


def _shaped(size: Mapping[str, Any], told: Callable[[list[float]], str]) -> str:
    shape = size["shape"]
    text = _AROUND.get(shape, "{}").format(told([size[n] for n in _ORDER[shape]]))
    if shape != "l_shape":
        return text
    return f"L-shaped {text} less {told([size['cut_width'], size['cut_height']])}"


def _area(area: float, imperial: bool) -> str:
    return _in(area, area, "m2", (_IMPERIAL if imperial else _METRIC)["m2"], up=False)


def _sides(sides: list[float], imperial: bool, *, rough: bool) -> str:
    """One unit for all sides: cm or in, m or ft for a room."""
    large = min(sides) >= 1500
    unit, label = (("foot", "ft") if large else ("inch", "in")) if imperial else (("m", "m") if large else ("cm", "cm"))
    values = [convert(side, "mm", unit) for side in sides]
    numbers = [_rough(v, side, unit) if rough else _number(v, unit) for v, side in zip(values, sides, strict=True)]
    return f"{' x '.join(numbers)} {label}"


def _rough(value: float, side: float, unit: str) -> str:
    """As exact as it was typed, no more: half centimetres stay, 30.48 cm becomes 30."""
    if unit == "cm":
        typed = abs(side - round(side)) < 1e-6 and round(side) % 5 == 0
        return f"{value:g}" if typed else f"{value:.1f}" if side < 95 else f"{value:.0f}"
    if unit in ("m", "foot"):
        return f"{value:.1f}".removesuffix(".0")
    return _told(value, unit)


def _number(value: float, unit: str) -> str:
    """Exactly the value: as a fraction of an inch where it is one, else in decimals."""
    if unit in ("inch", "floz", "oz") and abs(value * 16 - round(value * 16)) < 1e-5 and value > 0:
        return fraction(value, 16)
    text = f"{value:.9g}"
    return text if "e" not in text else f"{value:.9f}".rstrip("0").rstrip(".")


def _duration(minutes: float) -> str:
    for name, size in (("week", 10080), ("day", 1440), ("hour", 60)):
        if minutes >= size and minutes % size == 0:
            return f"{minutes / size:g} {name}{'' if minutes == size else 's'}"
    return f"{minutes:.9g} minute{'' if minutes == 1 else 's'}"
