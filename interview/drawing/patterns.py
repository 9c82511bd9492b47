"""Hatchings that tell treatments and layers apart without colour. Each has a name that drawings and
swatches use.
"""

from __future__ import annotations

from interview.drawing.svg import Svg, path, rectangle, tag

# told apart at a glance, the strongest first; "blank" is kept for what gets nothing
TREATED = ("slant", "dots", "weave", "fall", "upright", "rings", "level", "chevron")
BLANK = "blank"
THINGS = "things"  # what lies on or in a piece is drawn as shapes, not hatched


def reference(name: str) -> str:
    """What a fill says to use it."""
    return f"url(#p-{name})"


def definitions() -> Svg:
    """All patterns, once a page, in a drawing that takes no room."""
    made = [_pattern(name, size, *marks) for name, (size, marks) in _marks().items()]
    return tag("svg", tag("defs", *made), width=0, height=0, aria_hidden="true", focusable="false", class_="store")


def swatch(name: str) -> Svg:
    """A small sample beside a line of text."""
    field = rectangle(1, 1, 30, 22, fill=reference(name), class_="outline")
    if name == THINGS:
        field = tag("path", d="M4 19 q12 -26 24 0Z", class_="thing")
    return tag("svg", field, viewBox="0 0 32 24", aria_hidden="true", focusable="false", class_="swatch")


def _pattern(name: str, size: float, *marks: Svg) -> Svg:
    ground = rectangle(0, 0, size, size, class_="ground")
    return tag("pattern", ground, *marks, id=f"p-{name}", width=size, height=size, patternUnits="userSpaceOnUse")


def _line(*points: tuple[float, float], weight: str = "mark") -> Svg:
    return path(points, closed=False, class_=weight)


def _dot(x: float, y: float, r: float) -> Svg:
    return tag("circle", cx=x, cy=y, r=r, class_="dot")


def _marks() -> dict[str, tuple[float, tuple[Svg, ...]]]:
    ring = tag("circle", cx=5, cy=5, r=2.6, class_="mark")
    return {
        BLANK: (10, ()),
        "slant": (8, (_line((-2, 6), (6, -2)), _line((2, 10), (10, 2)))),
        "dots": (8, (_dot(2, 2, 1.3), _dot(6, 6, 1.3))),
        "weave": (8, (_line((0, 0), (8, 8)), _line((8, 0), (0, 8)))),
        "fall": (8, (_line((2, -2), (10, 6)), _line((-2, 2), (6, 10)))),
        "upright": (7, (_line((3.5, 0), (3.5, 7)),)),
        "rings": (10, (ring,)),
        "level": (7, (_line((0, 3.5), (7, 3.5)),)),
        "chevron": (10, (_line((0, 7), (5, 3), (10, 7)),)),
        "stop": (12, (_line((2, 2), (10, 10), weight="heavy"), _line((10, 2), (2, 10), weight="heavy"))),
        # layers of the section
        "grain": (26, (_line((0, 5), (9, 7), (18, 4), (26, 5)), _line((0, 14), (8, 12), (17, 15), (26, 14)),
                       _line((0, 22), (10, 23), (20, 20), (26, 22)))),
        "fibre": (12, (_line((1, 3), (5, 2)), _line((7, 8), (11, 9)), _line((3, 10), (4, 7)))),
        "stone": (14, (_dot(3, 4, 0.9), _dot(10, 3, 0.9), _line((5, 10), (8, 8), (9, 11)), _dot(12, 11, 1))),
        "glue": (5, (_dot(1.5, 1.5, 1), _dot(4, 4, 1))),
        "image": (9, (_line((0, 6), (2, 2), (4, 6), (6, 2), (9, 6), weight="heavy"),)),
        "film": (4, (_line((0, 2), (4, 2), weight="heavy"),)),
        "clear": (16, (_line((3, 12), (6, 9)), _line((10, 6), (13, 3)))),
    }  # fmt: skip
