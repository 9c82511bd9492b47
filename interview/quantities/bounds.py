"""Whether a value out of a file or a journal is one that `quantities.read` could have given."""

from __future__ import annotations

from typing import Any

from interview.quantities.units import LARGEST, SIDES, SMALLEST

_FAR = 1e6  # parts of a mixture; no label has more


def is_size(value: Any) -> bool:
    """A table of a known shape, with all its sides and no others, in mm; or an area in m2."""
    if not isinstance(value, dict):
        return False
    shape = value.get("shape")
    if shape == "area":
        return value.keys() == {"shape", "area"} and _between(1e-6, value["area"], 400)
    if not isinstance(shape, str) or shape not in SIDES or value.keys() != {"shape", *SIDES[shape]}:
        return False
    if not all(_between(SMALLEST, value[name], LARGEST) for name in SIDES[shape]):
        return False
    return shape != "l_shape" or (value["cut_width"] < value["width"] and value["cut_height"] < value["height"])


def is_ratio(value: Any) -> bool:
    """Two parts, and by what they are measured."""
    if not isinstance(value, tuple) or len(value) != 3 or value[2] not in ("volume", "weight"):
        return False
    small = 1 / _FAR
    return all(_between(small, part, _FAR) for part in value[:2]) and 1 / 50 <= value[0] / value[1] <= 50


def _between(low: float, value: Any, high: float) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool) and low <= value <= high
