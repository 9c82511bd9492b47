"""Areas, edges and joints of the shapes people have. Any one unit of length; areas in its square."""

from __future__ import annotations

import math

from knowledge.formulas.limits import OutOfRange, finite, not_negative, positive, within


def rectangle(width: float, height: float) -> float:
    """Area of a rectangle."""
    return finite("area", _side("width", width) * _side("height", height))


def ellipse(width: float, height: float) -> float:
    """Area of an oval (or, both the same, of a circle) by its two diameters: pi w h / 4."""
    return finite("area", math.pi / 4 * _side("width", width) * _side("height", height))


def l_shape(width: float, height: float, cut_width: float, cut_height: float) -> float:
    """Area of a rectangle with a smaller one cut out of a corner. Raises OutOfRange where the cut is not smaller."""
    _smaller("cut-out width", cut_width, width)
    _smaller("cut-out height", cut_height, height)
    return rectangle(width, height) - rectangle(cut_width, cut_height)


def rectangle_edge(width: float, height: float) -> float:
    """Length round a rectangle; also round an L-shape, whose cut-out corner adds nothing."""
    return finite("edge", 2 * (_side("width", width) + _side("height", height)))


def ellipse_edge(width: float, height: float) -> float:
    """Length round an oval: Ramanujan's first approximation (1914), within 0.5 % down to a flat line; exact
    for a circle."""
    a, b = _side("width", width) / 2, _side("height", height) / 2
    return finite("edge", math.pi * (3 * (a + b) - math.sqrt((3 * a + b) * (a + 3 * b))))


def square_edge(area: float) -> float:
    """Length round a square of this area: what is taken where only an area is given."""
    return 4 * math.sqrt(positive("area", area))


def sides(edge: float, thickness: float) -> float:
    """Area of the sides of a flat piece: length of the edge x thickness."""
    return finite("area of the sides", positive("edge", edge) * not_negative("thickness", thickness))


def box(width: float, height: float, depth: float) -> float:
    """Area of all six faces."""
    w, h, d = _side("width", width), _side("height", height), _side("depth", depth)
    return finite("area", 2 * (w * h + w * d + h * d))


def cylinder(diameter: float, height: float) -> float:
    """Area all round, both ends included."""
    d, h = _side("diameter", diameter), _side("height", height)
    return finite("area", math.pi * d * (d / 2 + h))


def box_volume(width: float, height: float, depth: float) -> float:
    """Volume of a box."""
    return finite("volume", _side("width", width) * _side("height", height) * _side("depth", depth))


def cylinder_volume(diameter: float, height: float) -> float:
    """Volume of a cylinder."""
    return finite("volume", math.pi / 4 * _side("diameter", diameter) ** 2 * _side("height", height))


def several(area: float, count: float) -> float:
    """Area of so many equal pieces."""
    return finite("area", not_negative("area", area) * within("number of pieces", count, 1, 1e6))


def joint_length(area: float, edge: float, pieces: float, wave: float = 1.0) -> float:
    """Length of the cut joints of a jigsaw: (2 sqrt(A n) - edge/2) x wave; exact for square pieces, straight cuts.

    Each of n pieces has an outline of 4 sqrt(A/n); what lies on the outer edge is no joint, the rest is
    shared by two.
    `wave`: how much longer an interlocking cut is than a straight one.
    """
    n = within("number of pieces", pieces, 1, 1e6)
    straight = 2 * math.sqrt(positive("area", area) * n) - positive("edge", edge) / 2
    return max(0.0, straight) * within("wave", wave, 1, 5)


def _side(what: str, value: float) -> float:
    return positive(what, value)


def _smaller(what: str, value: float, than: float) -> None:
    if not 0 < value < than:
        raise OutOfRange(what, value, f"above 0 and below {than:g}, the whole")
