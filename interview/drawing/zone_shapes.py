"""How each kind of zone looks when the piece is lifted apart."""

from __future__ import annotations

from collections.abc import Sequence

from interview.drawing.mark import Mark, area, around, line
from interview.drawing.outline import Outline, View, ragged
from interview.drawing.pictures import thing_of
from interview.drawing.svg import Point, tag
from interview.plan.parts import Zone

_SPREAD = (
    (0.14, 0.2),
    (0.42, 0.74),
    (0.7, 0.25),
    (0.9, 0.72),
    (0.16, 0.78),
    (0.62, 0.6),
)  # where things lie, of the face
_THING = 21.0  # how large their sign is


def drawn_layer(zone: Zone, outline: Outline, view: View, floor: float, thick: float, *, stop: bool) -> list[Mark]:
    """The marks of one zone. `floor`: where its near edge lies; `thick`: of its sides, downwards."""
    face = view.all(outline.points, floor)
    match zone.kind:
        case "inclusion":
            made = [area(zone.id, face, "ghost"), *_things(zone, outline, view, floor)]
        case "gaps":
            made = [area(zone.id, face, "ghost"), *_scraps(zone.id, outline, view, floor)]
        case "seams":
            made = [area(zone.id, face, "face"), *_joints(zone.id, outline, view, floor)]
        case "features":
            made = [area(zone.id, face, "ghost"), *_knots(zone.id, outline, view, floor)]
        case "edges":
            torn = "torn" in _set(zone, "opened")
            outer = ragged(face, -5.0) if torn else face
            made = [area(zone.id, outer, "rim"), area(zone.id, _shrunk(face), "hole")]
        case "sides":
            made = _sides(zone.id, outline, view, floor, thick)
        case "back":
            made = [area(zone.id, face, "face"), *_hatching(zone.id, outline, view, floor)]
        case _:
            made = [area(zone.id, ragged(face, -3.0) if "torn" in _set(zone, "opened") else face, "face")]
    if stop:
        made += [line(zone.id, [face[n], face[n + len(face) // 2]], "never") for n in (0, len(face) // 4)]
    return made


def _set(zone: Zone, name: str) -> frozenset[str]:
    value = next((v for key, v in zone.facts if key == name), frozenset())
    return value if isinstance(value, frozenset) else frozenset()


def _things(zone: Zone, outline: Outline, view: View, floor: float) -> list[Mark]:
    picture = thing_of(sorted(_set(zone, "materials")))
    made = []
    for across, back in _SPREAD:
        x, y = view.at((outline.width * across, outline.height * back), floor)
        x, y = x - _THING / 2, y - _THING / 2
        made.append(Mark(zone.id, around([(x, y), (x + _THING, y + _THING)]), picture.placed(x, y, _THING)))
    return made


def _field(points: Sequence[Point], outline: Outline, view: View, floor: float) -> list[Point]:
    return view.all([(x * outline.width, y * outline.height) for x, y in points], floor)


def _scraps(layer: str, outline: Outline, view: View, floor: float) -> list[Mark]:
    """Two scraps that overlap, and the gap between them."""
    right = _field([(0.4, 0.1), (0.95, 0.2), (0.9, 0.9), (0.42, 0.85)], outline, view, floor)
    gap = _field([(0.4, 0.1), (0.6, 0.12), (0.62, 0.86), (0.42, 0.85)], outline, view, floor)
    left = _field([(0.05, 0.15), (0.52, 0.05), (0.5, 0.9), (0.1, 0.8)], outline, view, floor - 7)
    return [area(layer, right, "face"), area(layer, gap, "dark"), area(layer, left, "face")]


def _joints(layer: str, outline: Outline, view: View, floor: float) -> list[Mark]:
    made = []
    for n in (1, 2, 3):
        knob = [(n / 4, 0), (n / 4, 0.4), (n / 4 - 0.04, 0.46), (n / 4 + 0.02, 0.54), (n / 4, 0.6), (n / 4, 1)]
        made.append(line(layer, _field(knob, outline, view, floor), "joint"))
    for n in (1, 2):
        knob = [(0, n / 3), (0.45, n / 3), (0.5, n / 3 + 0.08), (0.55, n / 3), (1, n / 3)]
        made.append(line(layer, _field(knob, outline, view, floor), "joint"))
    return made


def _knots(layer: str, outline: Outline, view: View, floor: float) -> list[Mark]:
    x, y = view.at((outline.width * 0.3, outline.height * 0.6), floor)
    crack = _field([(0.5, 0.1), (0.62, 0.35), (0.7, 0.3), (0.85, 0.7)], outline, view, floor)
    knot = tag("ellipse", cx=x, cy=y, rx=12, ry=6, class_="dark")
    return [Mark(layer, around([(x - 12, y - 6), (x + 12, y + 6)]), knot), line(layer, crack, "crack")]


def _shrunk(points: Sequence[Point]) -> list[Point]:
    x = sum(p[0] for p in points) / len(points)
    y = sum(p[1] for p in points) / len(points)
    return [(x + (px - x) * 0.88, y + (py - y) * 0.8) for px, py in points]


def _sides(layer: str, outline: Outline, view: View, floor: float, thick: float) -> list[Mark]:
    """The rim of the body: its top left open, its near and right side to be seen."""
    top = view.all(outline.points, floor)
    if outline.round:
        return [area(layer, [(x, y + thick) for x, y in top], "rim"), area(layer, top, "hole")]
    near = [top[0], top[1], (top[1][0], top[1][1] + thick), (top[0][0], top[0][1] + thick)]
    right = [top[1], top[2], (top[2][0], top[2][1] + thick), (top[1][0], top[1][1] + thick)]
    return [area(layer, top, "ghost"), area(layer, near, "rim"), area(layer, right, "rim")]


def _hatching(layer: str, outline: Outline, view: View, floor: float) -> list[Mark]:
    """A back is told from a face by lines in one direction."""
    if outline.round:
        return [line(layer, _field([(0.2, y), (0.8, y)], outline, view, floor), "hatch") for y in (0.3, 0.5, 0.7)]
    whole = max(p[1] for p in outline.points if p[0] == outline.width) / outline.height
    return [
        line(layer, _field([(x, 0), (x, 1 if x < 0.5 else whole)], outline, view, floor), "hatch")
        for x in (0.1, 0.2, 0.8, 0.9)
    ]
