"""The view from above: zones numbered as in the verdict, hatched by what is done. Only the outline is to
scale.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from interview.drawing.outline import Outline, outline_of
from interview.drawing.patterns import BLANK, TREATED, reference
from interview.drawing.svg import Point, Svg, callout, drawing, group, path, tag
from interview.plan.model import Plan
from interview.plan.parts import Zone

WIDTH, MARGIN, RING = 348.0, 14.0, 20.0


@dataclass(frozen=True, slots=True)
class Marked:
    """A zone as it is drawn: its number and its hatching."""

    zone: Zone
    number: int
    fill: str


def fills(plan: Plan) -> dict[str, str]:
    """The hatching of each zone by its id: one for each different verdict."""
    names: dict[tuple[str, str], str] = {}
    made: dict[str, str] = {}
    for line in plan.zone_lines:
        key = (line.line, line.need)
        if key not in names:
            treated = len([n for n in names.values() if n in TREATED])
            names[key] = _fill(line.need, any(line.zone in t.zones for t in plan.treatments), treated)
        made[line.zone] = names[key]
    return made


def _fill(need: str, treated: bool, place: int) -> str:
    if treated:
        return TREATED[place % len(TREATED)]
    return "stop" if need == "must not" else BLANK


def above(plan: Plan, id: str) -> Svg | None:
    """The drawing, or None where there is no zone to show."""
    if not plan.zones:
        return None
    fill = fills(plan)
    numbers = {line.zone: n for n, line in enumerate(plan.zone_lines, 1)}
    marked = [Marked(z, numbers.get(z.id, n), fill.get(z.id, BLANK)) for n, z in enumerate(plan.zones, 1)]
    outline = outline_of(plan.answers, MARGIN, MARGIN, WIDTH - 2 * MARGIN)
    shapes = _draw(marked, outline)
    says = "; ".join(f"{m.number}, {m.zone.name}" for m in marked)
    height = outline.height + 2 * MARGIN
    return drawing(WIDTH, height, "The piece from above", f"Zones: {says}.", id, *shapes)


def _draw(marked: Sequence[Marked], outline: Outline) -> list[Svg]:
    shapes: list[Svg] = []
    box = outline
    signs: list[Svg] = []
    by_kind = {(m.zone.body == "mount", m.zone.kind): m for m in marked}
    kinds = ((True, "sides"), (False, "edges"), (False, "sides"))
    rings = [m for m in (by_kind.get(kind) for kind in kinds) if m]
    for place, ring in enumerate(rings):
        shapes.append(_ring(ring, box))
        signs.append(callout(*box.on_edge(place, RING / 2), str(ring.number)))
        box = box.inner(RING)
    front = by_kind.get((False, "front"))
    shapes.append(path(box.points(), fill=reference(front.fill if front else BLANK), class_="outline"))
    back = by_kind.get((False, "back")) or by_kind.get((True, "back"))
    drawn = {id(m) for m in (*rings, front, back) if m}
    cells = [m for m in marked if id(m) not in drawn]
    more, numbers = _cells(([front] if front else []) + cells, box.free())
    shapes += more
    signs += numbers
    if back:
        x, y = outline.corner()
        shapes.append(_reverse(back, x, y) if outline.round else _corner(back, x, y))
        signs.append(callout(x - 24, y - 24, str(back.number)))
    return [*shapes, *signs]


def _ring(ring: Marked, box: Outline) -> Svg:
    """A band round the box; the torn one is ragged on its outside."""
    opened = next((value for key, value in ring.zone.facts if key == "opened"), ())
    outer = _ragged(box.points()) if "torn" in opened else box.points()  # type: ignore[operator]
    return path(outer, fill=reference(ring.fill), class_="outline")


def _ragged(corners: Sequence[Point]) -> list[Point]:
    """The outline of a tear: always the same, so that the same plan gives the same drawing."""
    points: list[Point] = []
    for (x0, y0), (x1, y1) in zip(corners, [*corners[1:], corners[0]], strict=True):
        length = max(math.hypot(x1 - x0, y1 - y0), 0.1)
        count = max(int(length / 9), 1)
        across = ((y1 - y0) / length, -(x1 - x0) / length)
        for n in range(count):
            off = (0.0, 3.2, 1.0, 4.0, 0.4, 2.6)[len(points) % 6]
            along = n / count
            points.append((x0 + (x1 - x0) * along - across[0] * off, y0 + (y1 - y0) * along - across[1] * off))
    return points


def _corner(back: Marked, x: float, y: float) -> Svg:
    """A corner turned up, so that the back shows."""
    right, bottom, size = x + 3, y + 3, 62.0
    gone = path([(right, bottom - size), (right, bottom), (right - size, bottom)], class_="gone")
    flap = [(right, bottom - size), (right - size, bottom), (right - size * 0.82, bottom - size * 0.82)]
    return group(gone, path(flap, fill=reference(back.fill), class_="outline"))


def _reverse(back: Marked, x: float, y: float) -> Svg:
    """A round piece has no corner to turn up: it is shown once more, small, from behind."""
    return tag("circle", cx=x - 24, cy=y - 24, r=26, fill=reference(back.fill), class_="outline")


# ------------------------------------------------------------------ what lies inside the front


def _cells(marked: Sequence[Marked], box: Outline) -> tuple[list[Svg], list[Svg]]:
    """Each zone inside the front gets a field of its own, in rows; the front's number the first."""
    columns = max(1, min(len(marked), math.ceil(math.sqrt(len(marked) * box.width / max(box.height, 1)))))
    rows = math.ceil(len(marked) / columns)
    shapes, signs = [], []
    for n, one in enumerate(marked):
        cell = Outline(
            box.x + box.width * (n % columns) / columns,
            box.y + box.height * (n // columns) / rows,
            box.width / columns,
            box.height / rows,
        )
        shapes += _figure(one, cell)
        signs.append(callout(cell.x + cell.width / 2, cell.y + cell.height / 2, str(one.number)))
    return shapes, signs


def _figure(one: Marked, cell: Outline) -> list[Svg]:
    """How a zone of this kind looks."""
    x, y = cell.x + cell.width / 2, cell.y + cell.height / 2
    size = min(cell.width, cell.height, 96.0) / 2 - 4
    fill = reference(one.fill)
    match one.zone.kind:
        case "front":
            return []
        case "gaps":
            return [_scraps(x, y, size, fill)]
        case "seams":
            return [_joint(x, y, size, fill)]
        case "features":
            return [_knot(x, y, size, fill)]
    return [_petals(x, y, size, fill)]


def _scraps(x: float, y: float, s: float, fill: str) -> Svg:
    """Two scraps that overlap, and the gap between them."""
    left = [
        (x - s, y - s * 0.7),
        (x + s * 0.1, y - s * 0.9),
        (x + s * 0.3, y + s * 0.6),
        (x - s * 0.8, y + s * 0.8),
    ]
    right = [
        (x - s * 0.1, y - s * 0.6),
        (x + s, y - s * 0.8),
        (x + s * 0.9, y + s * 0.9),
        (x + s * 0.1, y + s * 0.8),
    ]
    gap = [left[1], (x + s * 0.42, y - s * 0.7), (x + s * 0.58, y + s * 0.82), left[2]]
    return group(path(right, class_="scrap"), path(gap, fill=fill, class_="outline"), path(left, class_="scrap"))


def _joint(x: float, y: float, s: float, fill: str) -> Svg:
    """A jigsaw joint with its knob."""
    r, low, high = s * 0.42, y + s * 0.25, y - s * 0.25
    knob = f"M{x:.1f} {y - s:.1f}V{high:.1f}A{r:.1f} {r:.1f} 0 1 1 {x:.1f} {low:.1f}V{y + s:.1f}"
    across = f"M{x - s:.1f} {y - s * 0.6:.1f}H{x:.1f}"
    lines = [tag("path", d=d, class_="joint", style=f"stroke:{fill}") for d in (knob, across)]
    edges = [tag("path", d=d, class_="joint-edge") for d in (knob, across)]
    return group(*edges, *lines)


def _knot(x: float, y: float, s: float, fill: str) -> Svg:
    """A knot, and a crack that runs into it."""
    crack = [
        (x - s, y - s * 0.9),
        (x - s * 0.5, y - s * 0.45),
        (x + s, y + s * 0.9),
        (x + s * 0.3, y + s * 0.5),
    ]
    knot = tag("ellipse", cx=x, cy=y, rx=s * 0.7, ry=s * 0.5, fill=fill, class_="outline")
    return group(path(crack, fill=fill, class_="outline"), knot)


def _petals(x: float, y: float, s: float, fill: str) -> Svg:
    """Things laid on or cast in: a ring of ovals."""
    made = []
    for n in range(6):
        turn = 360 / 6 * n
        made.append(
            tag(
                "ellipse", cx=x, cy=y - s * 0.62, rx=s * 0.24, ry=s * 0.36, fill=fill, class_="outline",
                transform=f"rotate({turn:g} {x:.1f} {y:.1f})",
            )
        )  # fmt: skip
    middle = tag("circle", cx=x, cy=y, r=s * 0.3, fill=fill, class_="outline")
    return group(*made, middle)
