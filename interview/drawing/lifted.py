"""The piece lifted apart, in its true proportions: each zone a layer, with its reasons and a box for each coat.

From the top down: what lies on it, the face and what is in it, its edges and sides, its back, then what it is mounted
on. Beside each layer stands what it is and what is done to it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from interview.drawing.mark import Box, Mark, folded, line, square, text_width, words, written
from interview.drawing.outline import Outline, View, outline_of, view_of
from interview.drawing.reasons import reason_mark
from interview.drawing.svg import Svg, drawing
from interview.drawing.zone_shapes import drawn_layer
from interview.plan.model import Plan
from interview.plan.parts import Treatment, Zone
from interview.text.wording import capital, listed

WIDTH, LEFT, LABELS = 392.0, 180.0, 208.0
LINE, SMALL, BOX, GAP = 12.5, 11.5, 12.0, 10.0
MOST_BOXES = 6
_ORDER = ("inclusion", "gaps", "seams", "features", "part", "front", "edges", "sides", "back")
_COUNTED = ("required", "advised")


@dataclass(frozen=True, slots=True)
class Drawn:
    """The marks, the size of the field they lie in, and all of it in words."""

    marks: tuple[Mark, ...]
    height: float
    says: str

    def svg(self, id: str) -> Svg:
        return drawing(WIDTH, self.height, "The piece lifted apart", self.says, id, written(self.marks))


@dataclass(frozen=True, slots=True)
class Label:
    """What stands beside a layer."""

    name: str
    does: str
    reasons: tuple[tuple[str, str], ...]  # (reason, need) where it counts
    coats: tuple[int, int]  # boxes: so many, and so many more if needed; none where another zone has them
    stop: bool = False


def lifted(plan: Plan) -> Drawn | None:
    """The drawing, or None where there is no zone to show."""
    if not plan.zones:
        return None
    outline = outline_of(plan.answers)
    view = view_of(outline, 8.0, LEFT - 12, 60.0)
    zones = sorted(plan.zones, key=lambda z: (z.body == "mount", _ORDER.index(z.kind) if z.kind in _ORDER else 0))
    labels = {z.id: label_of(plan, z) for z in zones}
    marks: list[Mark] = []
    top = 6.0
    for zone in zones:
        made, top = _layer(zone, labels[zone.id], outline, view, top)
        marks += made
    if all(z.kind == "inclusion" for z in zones):
        made, top = _layer_of_mould(outline, view, top)
        marks += made
    says = "; ".join(f"{labels[z.id].name}: {labels[z.id].does}" for z in zones)
    legend, height = _legend(labels.values(), top + 4, known=outline.known)
    return Drawn((*marks, *legend), height, f"From the top down: {says}.")


def label_of(plan: Plan, zone: Zone) -> Label:
    """Boxes stand on the first zone that a pass hits; the others say with which they go."""
    mine = [t for t in plan.treatments if zone.id in t.zones]
    reasons = tuple((v.reason, v.need) for v in plan.verdicts if v.zone == zone.id and v.need in _COUNTED)
    stopped = [o for o in plan.outlets if zone.id in o.zones]
    if stopped:
        return Label(capital(zone.name), f"leave it alone: {stopped[0].name.lower()}", reasons, (0, 0), stop=True)
    if not mine:
        return Label(capital(zone.name), "no seal", reasons, (0, 0))
    first = _first_of(plan, mine[0], zone)
    if first is not zone and all(first.id in t.zones for t in mine):
        return Label(capital(zone.name), f"with {first.name}", reasons, (0, 0))
    least, most = sum(t.coats_least for t in mine), sum(t.coats_most for t in mine)
    return Label(capital(zone.name), ", then ".join(t.name for t in mine), reasons, (least, most - least))


def _first_of(plan: Plan, treatment: Treatment, zone: Zone) -> Zone:
    """A back is turned up later, so its coats are its own."""
    zones = [plan.zone(id) for id in treatment.zones]
    return next((z for z in zones if (z.kind == "back") == (zone.kind == "back")), zone)


# ------------------------------------------------------------------ one layer and its label


def _layer(zone: Zone, label: Label, outline: Outline, view: View, top: float) -> tuple[list[Mark], float]:
    lines = folded(label.name, LINE, WIDTH - LABELS - 4, 2), folded(label.does, SMALL, WIDTH - LABELS - 4, 2)
    tall = LINE * 1.25 * len(lines[0]) + SMALL * 1.25 * len(lines[1]) + (14 if label.reasons else 2)
    rise, thick = view.rise(outline), max(3.0, view.scale * outline.thickness) if zone.kind == "sides" else 0.0
    height = max(tall, rise + thick) + GAP
    middle = top + height / 2
    floor = middle + (rise - thick) / 2  # where the near edge of the face lies
    marks = drawn_layer(zone, outline, view, floor, thick, stop=label.stop)
    spot = view.at((outline.width / 2, outline.height / 2), floor)
    marks += _boxes(zone.id, label.coats, spot if zone.kind not in ("sides", "edges") else (spot[0], floor + thick / 2))
    marks += _label(zone.id, label, lines, middle - tall / 2)
    edge = view.at((outline.width, outline.height * 0.5), floor)
    marks.append(line(zone.id, [edge, (LABELS - 12, middle), (LABELS - 5, middle)], "leader"))
    return marks, top + height


def _boxes(layer: str, coats: tuple[int, int], middle: tuple[float, float]) -> list[Mark]:
    """On the face itself: one box a coat, dashed for those that only a trial asks for; no more than six in a row."""
    count, made = sum(coats), []
    rows = -(-count // MOST_BOXES)
    for n in range(count):
        row, place = divmod(n, MOST_BOXES)
        here = min(MOST_BOXES, count - row * MOST_BOXES)
        x = middle[0] - (here * (BOX + 3) - 3) / 2 + place * (BOX + 3)
        y = middle[1] + (row - rows / 2) * (BOX + 2)
        made.append(square(layer, x, y, BOX, "coat" if n < coats[0] else "coat maybe"))
    return made


def _label(layer: str, label: Label, lines: tuple[list[str], list[str]], y: float) -> list[Mark]:
    marks = []
    for text in lines[0]:
        y += LINE * 1.25
        marks.append(words(layer, LABELS, y - 3, text, LINE, "words strong"))
    for text in lines[1]:
        y += SMALL * 1.25
        marks.append(words(layer, LABELS, y - 3, text, SMALL))
    x = LABELS
    for reason, need in label.reasons:
        more, x = reason_mark(layer, reason, x, y + 9, SMALL, sure=need == "required")
        marks += more
        x += 8
    return marks


def _layer_of_mould(outline: Outline, view: View, top: float) -> tuple[list[Mark], float]:
    deep = max(12.0, view.scale * outline.thickness)
    floor = top + view.rise(outline) + 4
    marks = []
    for y, style in ((floor + deep, "face"), (floor, "ghost")):
        marks.append(Mark("", *_poly(view.all(outline.points, y), style)))
    marks.append(words("", LABELS, floor + deep / 2, "The mould", LINE, "words strong"))
    return marks, floor + deep + 8


def _poly(points: Sequence[tuple[float, float]], style: str) -> tuple[Box, Svg]:
    from interview.drawing.mark import area

    made = area("", points, style)
    return made.box, made.svg


def _legend(labels: object, y: float, *, known: bool) -> tuple[list[Mark], float]:
    """Every mark of the drawing, once in words."""
    told: list[Label] = list(labels)  # type: ignore[call-overload]
    entries: list[tuple[str, str]] = []
    if any(one.coats[0] for one in told):
        entries.append(("coat", "a coat: tick it when it is on"))
    if any(one.coats[1] for one in told):
        entries.append(("coat maybe", "one more, if a trial asks for it"))
    if any(need == "advised" for one in told for _, need in one.reasons):
        entries.append(("", "(better): advised, not a must"))
    marks: list[Mark] = []
    x = 4.0
    for style, text in entries:
        if x + 16 + text_width(text, SMALL) > WIDTH:
            x, y = 4.0, y + 14
        if style:
            marks.append(square("", x, y, 9, style))
            x += 14
        marks.append(words("", x, y + 8, text, SMALL))
        x += text_width(text, SMALL) + 14
    if not known:
        y += 14 if entries else 0
        marks.append(words("", 4, y + 8, "Size not told: proportions taken as 4 to 3.", SMALL))
    return marks, y + (14 if entries or not known else 0)


def names_of(drawn: Drawn) -> str:
    """All that can be read on the drawing."""
    return listed(m.text for m in drawn.marks if m.text)
