"""The outline of a piece as it is drawn from above, and outlines within it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from interview.drawing.svg import Point

ROUND = ("circle", "oval", "cylinder")
_CORNERS = 64  # of a round outline
_SLIM, _TALL = 0.55, 1.1  # height to width: a strip is drawn no slimmer or taller than can be read


@dataclass(frozen=True, slots=True)
class Outline:
    """A rectangle, one with its upper right corner cut out, or the oval that fits into a rectangle."""

    x: float
    y: float
    width: float
    height: float
    round: bool = False
    cut_width: float = 0.0
    cut_height: float = 0.0

    def inner(self, by: float) -> Outline:
        """The outline that runs inside this one at a distance."""
        return replace(self, x=self.x + by, y=self.y + by, width=self.width - 2 * by, height=self.height - 2 * by)

    def points(self) -> list[Point]:
        """All corners, clockwise from the upper left."""
        if self.round:
            return [self._on_oval(360 * n / _CORNERS - 135) for n in range(_CORNERS)]
        right, bottom = self.x + self.width, self.y + self.height
        notch = [(right - self.cut_width, self.y), (right - self.cut_width, self.y + self.cut_height)]
        upper = notch if self.cut_width else []
        return [
            (self.x, self.y),
            *upper,
            (right, self.y + self.cut_height),
            (right, bottom),
            (self.x, bottom),
        ]

    def free(self) -> Outline:
        """A plain rectangle inside, to put things in."""
        if self.round:
            spare = (1 - math.sqrt(0.5)) / 2
            return Outline(
                self.x + self.width * spare, self.y + self.height * spare,
                self.width * (1 - 2 * spare), self.height * (1 - 2 * spare),
            )  # fmt: skip
        return Outline(self.x, self.y, self.width - self.cut_width, self.height)

    def on_edge(self, place: int, depth: float) -> Point:
        """A point `depth` inside the upper edge; different places do not lie on one another."""
        if self.round:
            return self.inner(depth)._on_oval(-130 + 40 * place)
        return self.x + (self.width - self.cut_width) * (0.25 + 0.25 * place), self.y + depth

    def corner(self) -> Point:
        """The lower right corner, or of a round outline that of the rectangle round it, which is free."""
        return self.x + self.width, self.y + self.height

    def _on_oval(self, angle: float) -> Point:
        turn = math.radians(angle)
        return (
            self.x + self.width / 2 * (1 + math.cos(turn)),
            self.y + self.height / 2 * (1 + math.sin(turn)),
        )


def outline_of(answers: Mapping[str, object], x: float, y: float, width: float) -> Outline:
    """In the proportions of the piece, as wide as given; three to four where the size is not known."""
    size = answers.get("size")
    told: Mapping[str, Any] = size if isinstance(size, Mapping) else {}
    shape = str(told.get("shape", "rectangle"))
    wide = _side(told, "width") or _side(told, "diameter")
    high = _side(told, "diameter") if shape == "cylinder" else _side(told, "height") or _side(told, "diameter")
    ratio = min(max(high / wide, _SLIM), _TALL) if wide and high else 0.75
    cut = shape == "l_shape" and wide and high
    return Outline(
        x, y, width, width * ratio, shape in ROUND,
        width * min(_side(told, "cut_width") / wide, 0.6) if cut else 0.0,
        width * ratio * min(_side(told, "cut_height") / high, 0.6) if cut else 0.0,
    )  # fmt: skip


def _side(told: Mapping[str, Any], name: str) -> float:
    """In mm; 0 where there is none, or none that can be drawn."""
    side = told.get(name, 0)
    return float(side) if isinstance(side, (int, float)) and math.isfinite(side) and side > 0 else 0.0
