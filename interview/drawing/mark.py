"""What a drawing is made of: marks with a box and the layer they belong to. SVG is written last."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from interview.drawing.svg import Point, Svg, group, path, rectangle, tag

_NARROW, _WIDE = "iljtfr.,:;'|!() ", "mwMW@%"  # about how wide letters of a plain sans are, in parts of their size


@dataclass(frozen=True, slots=True)
class Box:
    """Left, top, width, height, in the units of the drawing."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        return self.x + self.width

    @property
    def bottom(self) -> float:
        return self.y + self.height

    def inside(self, other: Box) -> bool:
        return self.x >= other.x and self.y >= other.y and self.right <= other.right and self.bottom <= other.bottom

    def meets(self, other: Box) -> bool:
        return self.x < other.right and other.x < self.right and self.y < other.bottom and other.y < self.bottom


@dataclass(frozen=True, slots=True)
class Mark:
    """One stroke, area or line of text. `layer`: the id of the zone that it shows, or "" for what belongs to all."""

    layer: str
    box: Box
    svg: Svg
    text: str = ""


def area(layer: str, points: Sequence[Point], style: str) -> Mark:
    return Mark(layer, around(points), path(points, class_=style))


def line(layer: str, points: Sequence[Point], style: str) -> Mark:
    return Mark(layer, around(points), path(points, closed=False, class_=style))


def square(layer: str, x: float, y: float, size: float, style: str) -> Mark:
    return Mark(layer, Box(x, y, size, size), rectangle(x, y, size, size, class_=style))


def words(layer: str, x: float, y: float, text: str, size: float, style: str = "words") -> Mark:
    """One line of text whose letters stand on y."""
    box = Box(x, y - 0.8 * size, text_width(text, size), size)
    return Mark(layer, box, tag("text", text, x=x, y=y, font_size=size, class_=style), text)


def text_width(text: str, size: float) -> float:
    """About; enough to lay out lines without a browser."""
    return size * sum(0.34 if c in _NARROW else 0.9 if c in _WIDE else 0.7 if c.isupper() else 0.58 for c in text)


def folded(text: str, size: float, width: float, most: int = 3) -> list[str]:
    """The text in lines no wider than that; what does not fit into `most` lines ends in "..."."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    if len(lines) > most:
        lines = [*lines[: most - 1], f"{lines[most - 1]} ..."]
    return lines


def around(points: Iterable[Point]) -> Box:
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


def written(marks: Iterable[Mark]) -> Svg:
    return group(*(m.svg for m in marks))
