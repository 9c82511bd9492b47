"""The outline of a piece in mm, in its true proportions, and how it is seen from above and aside."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from interview.drawing.svg import Point

ROUND = ("circle", "oval", "cylinder")
_CORNERS = 48  # of a round outline
_UNKNOWN = (400.0, 300.0)  # mm, where the size is not known
_LEAN, _LIE = 0.36, 0.34  # how far what lies behind is moved aside and up, in parts of its depth
_SHEET = 1.0  # mm, where the thickness is not known


@dataclass(frozen=True, slots=True)
class Outline:
    """The face as points in mm (x to the right, y to the back), and the thickness."""

    points: tuple[Point, ...]
    width: float
    height: float
    thickness: float
    known: bool

    @property
    def round(self) -> bool:
        return len(self.points) == _CORNERS


@dataclass(frozen=True, slots=True)
class View:
    """Millimetres -> places on the sheet: one scale for everything, seen aslant."""

    scale: float
    x: float

    def at(self, point: Point, y: float) -> Point:
        across, back = point
        return (self.x + self.scale * (across + back * _LEAN), y - self.scale * back * _LIE)

    def all(self, points: Sequence[Point], y: float) -> list[Point]:
        return [self.at(p, y) for p in points]

    def rise(self, outline: Outline) -> float:
        """How high a lying face is on the sheet."""
        return self.scale * outline.height * _LIE


def view_of(outline: Outline, x: float, width: float, highest: float) -> View:
    """The largest scale in which a face is no wider and no higher than that."""
    across = outline.width + outline.height * _LEAN
    return View(min(width / across, highest / (outline.height * _LIE)), x)


def outline_of(answers: Mapping[str, object]) -> Outline:
    size = answers.get("size")
    told: Mapping[str, Any] = size if isinstance(size, Mapping) else {}
    shape = str(told.get("shape", "rectangle"))
    wide = _side(told, "width") or _side(told, "diameter")
    high = _side(told, "diameter") if shape == "cylinder" else _side(told, "height") or _side(told, "diameter")
    known = bool(wide and high)
    if not known:
        wide, high = _UNKNOWN
    thick = _side(told, "depth") or _side(answers, "thickness") or _SHEET
    return Outline(tuple(_points(shape if known else "rectangle", told, wide, high)), wide, high, thick, known)


def _points(shape: str, told: Mapping[str, Any], wide: float, high: float) -> list[Point]:
    if shape in ROUND:
        turns = [2 * math.pi * n / _CORNERS for n in range(_CORNERS)]
        return [(wide / 2 * (1 + math.cos(t)), high / 2 * (1 + math.sin(t))) for t in turns]
    cut_x, cut_y = _side(told, "cut_width"), _side(told, "cut_height")
    if shape == "l_shape" and 0 < cut_x < wide and 0 < cut_y < high:
        return [(0, 0), (wide, 0), (wide, high - cut_y), (wide - cut_x, high - cut_y), (wide - cut_x, high), (0, high)]
    return [(0, 0), (wide, 0), (wide, high), (0, high)]


def _side(told: Mapping[str, Any], name: str) -> float:
    """In mm; 0 where there is none, or none that can be drawn."""
    side = told.get(name, 0)
    return float(side) if isinstance(side, (int, float)) and math.isfinite(side) and side > 0 else 0.0


def ragged(corners: Sequence[Point], by: float) -> list[Point]:
    """The outline of a tear: always the same, so that the same plan gives the same drawing."""
    made: list[Point] = []
    for (x0, y0), (x1, y1) in zip(corners, [*corners[1:], corners[0]], strict=True):
        length = max(math.hypot(x1 - x0, y1 - y0), 0.1)
        count = max(int(length / 7), 1)
        for n in range(count):
            off = by * (0.0, 0.8, 0.25, 1.0, 0.1, 0.65)[len(made) % 6]
            along = n / count
            made.append(
                (x0 + (x1 - x0) * along + (y1 - y0) / length * off, y0 + (y1 - y0) * along - (x1 - x0) / length * off)
            )
    return made
