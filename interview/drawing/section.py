"""The section: a cut through the piece, layer by layer, not to scale. Letters lead to the list beside it."""

from __future__ import annotations

from dataclasses import dataclass

from interview.drawing.patterns import THINGS, reference
from interview.drawing.svg import Svg, callout, drawing, group, path, rectangle, tag
from interview.plan.model import Plan
from interview.plan.parts import Treatment, Zone
from interview.text.wording import capital, letter, listed

LEFT, RIGHT, SIGNS, WIDTH = 24.0, 268.0, 324.0, 348.0
_THIN = ("sheet", "collage", "jigsaw", "cloth", "canvas")
_MINERAL = (
    "glass",
    "tile",
    "stone",
    "slate",
    "concrete",
    "plaster",
    "metal",
    "terracotta",
    "ceramic",
    "plastic",
)
COAT, GAP = 6.0, 26.0  # height of one coat; least distance between two callouts


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer: what it is called beside the drawing, its hatching, its height, and how often it lies
    there.
    """

    name: str
    pattern: str
    height: float
    times: int = 1


@dataclass(frozen=True, slots=True)
class Section:
    picture: Svg
    legend: tuple[tuple[str, str, str], ...]  # letter, pattern, words; from the top down


def section(plan: Plan, id: str) -> Section | None:
    """The drawing, or None where nothing is poured and so nothing lies over anything."""
    if not any(s.kind == "pour" for s in plan.steps):
        return None
    cast = bool(plan.zones) and all(z.kind == "inclusion" for z in plan.zones)
    return _cast(plan, id) if cast else _coated(plan, id)


# ------------------------------------------------------------------ a coated piece


def _coated(plan: Plan, id: str) -> Section:
    layers = _layers(plan)
    pours = sum(s.kind == "pour" for s in plan.steps)
    shapes, middles, top = [], [], 16.0
    y = top
    for layer in layers:
        height = layer.height * layer.times
        shapes.append(_band(layer, y))
        middles.append(y + height / 2)
        y += height
    if pours > 1:
        cut = top + layers[0].height / 2
        shapes.append(path([(LEFT, cut), (RIGHT, cut)], closed=False, class_="dashed"))
    shapes.append(_sides(plan, top, layers[0].height, y))
    leaders, height = _leaders(middles, y + 16)
    says = "From the top down: " + "; ".join(f"{letter(n)}, {layer.name}" for n, layer in enumerate(layers)) + "."
    picture = drawing(WIDTH, height, "Section through the layers", says, id, *shapes, *leaders)
    return Section(picture, tuple((letter(n), layer.pattern, capital(layer.name)) for n, layer in enumerate(layers)))


def _layers(plan: Plan) -> list[Layer]:
    """From the top down."""
    front = next((z for z in plan.zones if z.kind == "front"), plan.zones[0])
    laid = [z for z in plan.zones if z.kind == "inclusion"]
    mount = next((z for z in plan.zones if z.body == "mount"), None)
    back = next((z for z in plan.zones if z.kind == "back"), None)
    made = [Layer("resin" if _pours(plan) < 2 else "resin, in two pours", "clear", 44)]
    made += _coat_layers(plan, front)
    made += [Layer(listed(z.what for z in laid), THINGS, 18)] if laid else []
    image = _image(front)
    made += [Layer(image, "image", 10)] if image else []
    made.append(_body(front))
    if mount is not None:
        made.append(Layer("adhesive, with no hollow spots", "glue", 10))
        made.append(Layer(mount.what, "grain", 54))
    made += _coat_layers(plan, back, under=True) if back is not None else []
    return made


def _pours(plan: Plan) -> int:
    return sum(s.kind == "pour" for s in plan.steps)


def _body(front: Zone) -> Layer:
    thin = _fact(front, "form", "sheet") in _THIN and front.body != "board"
    mineral = any(word in front.what for word in _MINERAL)
    return Layer(front.what, "fibre" if thin else "stone" if mineral else "grain", 20 if thin else 54)


def _image(front: Zone) -> str:
    media = _fact(front, "media", frozenset())
    ids: frozenset[str] = media if isinstance(media, frozenset) else frozenset()
    names = sorted(m.replace("_", " ") for m in ids if m != "no_medium" and not m.startswith("unsure"))
    return f"the image: {listed(names)}" if names else ""


def _coat_layers(plan: Plan, zone: Zone, under: bool = False) -> list[Layer]:
    """The last coat lies outermost; `under` turns the order for the back."""
    mine = [t for t in plan.treatments if zone.id in t.zones]
    made = [Layer(_coats(t, " on the back" if under else ""), "film", COAT, t.coats_least) for t in mine]
    return made if under else made[::-1]


def _coats(treatment: Treatment, where: str) -> str:
    low, high = treatment.coats_least, treatment.coats_most
    count = f"{low}" if low == high else f"{low} to {high}"
    return f"{count} coat{'' if count == '1' else 's'} of {treatment.name}{where}"


def _fact(zone: Zone, name: str, otherwise: object) -> object:
    return next((value for key, value in zone.facts if key == name), otherwise)


def _band(layer: Layer, y: float) -> Svg:
    if layer.pattern == THINGS:
        return _things(y, layer.height)
    bands = [
        rectangle(
            LEFT,
            y + n * layer.height,
            RIGHT - LEFT,
            layer.height,
            fill=reference(layer.pattern),
            class_="outline",
        )
        for n in range(layer.times)
    ]
    return group(*bands)


def _things(y: float, height: float) -> Svg:
    """Things that lie on the piece, cut through."""
    base = y + height
    ground = rectangle(LEFT, y, RIGHT - LEFT, height, fill=reference("clear"), class_="outline")
    lumps = [
        tag("path", d=f"M{x:g} {base:g} q{w / 2:g} {-2 * h:g} {w:g} 0Z", class_="thing")
        for x, w, h in ((40, 30, 13), (92, 16, 9), (128, 40, 15), (190, 12, 8), (216, 34, 13))
    ]
    return group(ground, *lumps)


def _sides(plan: Plan, top: float, poured: float, bottom: float) -> Svg:
    """Resin over the sides, or all round, where it goes there; tape where it stops at the edge."""
    where = plan.answers.get("resin_on", "sides")
    if where == "front":
        stops = [
            rectangle(x, top + poured - 12, 5, bottom - top - poured + 12, class_="tape") for x in (LEFT - 6, RIGHT + 1)
        ]
        return group(*stops)
    under = 14 if where == "all" else 0
    over = [
        rectangle(x, top, 12, bottom - top + under, fill=reference("clear"), class_="outline")
        for x in (LEFT - 12, RIGHT)
    ]
    floor = [rectangle(LEFT, bottom, RIGHT - LEFT, under, fill=reference("clear"), class_="outline")] if under else []
    return group(*over, *floor)


def _leaders(middles: list[float], bottom: float) -> tuple[list[Svg], float]:
    """A thin line from each layer to its letter; the letters keep their distance. With the height needed."""
    ys: list[float] = []
    for middle in middles:
        ys.append(max(middle, ys[-1] + GAP) if ys else max(middle, 14.0))
    made = []
    for n, (middle, y) in enumerate(zip(middles, ys, strict=True)):
        made.append(path([(RIGHT - 16, middle), (RIGHT + 20, middle), (SIGNS - 11, y)], closed=False, class_="leader"))
        made.append(tag("circle", cx=RIGHT - 16, cy=middle, r=2, class_="dot"))
        made.append(callout(SIGNS, y, letter(n)))
    return made, max(bottom + 8, ys[-1] + 16)


# ------------------------------------------------------------------ things cast in


def _cast(plan: Plan, id: str) -> Section:
    names = [("resin" if _pours(plan) < 2 else "resin, in two pours: the first gels before the second", "clear")]
    coated = []
    for zone in plan.zones:
        coats = [_coats(t, "") for t in plan.treatments if zone.id in t.zones]
        coated.append(bool(coats))
        names.append((f"{zone.what}, under {listed(coats)}" if coats else zone.what, THINGS))
    names.append(("mould", "grain"))
    says = "From the top down: " + "; ".join(f"{letter(n)}, {name}" for n, (name, _) in enumerate(names)) + "."
    shapes, middles = _mould(coated, _pours(plan) > 1)
    leaders, height = _leaders(middles, 190)
    picture = drawing(WIDTH, height, "Section through the mould", says, id, *shapes, *leaders)
    return Section(picture, tuple((letter(n), pattern, capital(name)) for n, (name, pattern) in enumerate(names)))


def _mould(coated: list[bool], two: bool) -> tuple[list[Svg], list[float]]:
    wall = [
        (LEFT, 20),
        (LEFT + 14, 20),
        (LEFT + 14, 164),
        (RIGHT - 14, 164),
        (RIGHT - 14, 20),
        (RIGHT, 20),
        (RIGHT, 180),
        (LEFT, 180),
    ]
    shapes = [
        rectangle(LEFT + 14, 30, RIGHT - LEFT - 28, 134, fill=reference("clear"), class_="outline"),
        path(wall, fill=reference("grain"), class_="outline"),
    ]
    if two:
        shapes.append(path([(LEFT + 14, 124), (RIGHT - 14, 124)], closed=False, class_="dashed"))
    room = RIGHT - LEFT - 60
    step = room / max(len(coated), 1)
    middles = [44.0]
    for n, sealed in enumerate(coated):
        x, y = LEFT + 30 + step * (n + 0.5), 70 + 76 * (n + 0.5) / len(coated)
        size = min(24.0, step / 2.4, 60 / len(coated) + 6)
        shapes.append(tag("ellipse", cx=x, cy=y, rx=size, ry=size * 0.6, class_="thing"))
        if sealed:
            shapes.append(tag("ellipse", cx=x, cy=y, rx=size + 4, ry=size * 0.6 + 4, class_="skin"))
        shapes.append(path([(x, y), (RIGHT - 16, y)], closed=False, class_="leader"))
        middles.append(y)
    return shapes, [*middles, 172.0]
