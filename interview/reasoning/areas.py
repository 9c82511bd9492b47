"""How much face, edge and joint every zone has: from the size, the thickness, and how many there are."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from interview.plan.parts import Basis, Input, Zone
from interview.quantities.written import amount, plain, size_words
from interview.reasoning.numeric_answers import Told, from_allowance
from knowledge.allowances import allowance
from knowledge.formulas import shapes

M2 = 1e-6  # m2 a mm2
ROUND = ("circle", "oval", "cylinder")


@dataclass(frozen=True, slots=True)
class Extent:
    """The flat size of one piece: m2, mm, mm. `depth` None where the size has none."""

    face: float
    edge: float
    depth: float | None
    words: str


@dataclass(frozen=True, slots=True)
class ZoneArea:
    """What of a zone is to be covered, m2, all pieces together, with its line of working and what it rests on."""

    zone: str
    low: float
    high: float
    line: str
    inputs: tuple[Input, ...] = ()


def extent(size: Mapping[str, Any]) -> Extent:
    """Face, edge and depth of a size as answers hold it. A box is taken by its first two sides, its third the depth."""
    return _extent(tuple(sorted(size.items())))


@lru_cache(maxsize=1024)
def _extent(told: tuple[tuple[str, Any], ...]) -> Extent:
    """Kept: every figure of a plan asks for it."""
    size = dict(told)
    shape = size["shape"]
    words = size_words(size)
    if shape == "area":
        return Extent(size["area"], shapes.square_edge(size["area"] / M2), None, words)
    if shape in ROUND:
        wide = size["diameter"] if "diameter" in size else size["width"]
        high = size["height"] if shape == "oval" else wide
        depth = size["height"] if shape == "cylinder" else None
        return Extent(shapes.ellipse(wide, high) * M2, shapes.ellipse_edge(wide, high), depth, words)
    wide, high = size["width"], size["height"]
    face = shapes.rectangle(wide, high)
    if shape == "l_shape":
        face = shapes.l_shape(wide, high, size["cut_width"], size["cut_height"])
    return Extent(face * M2, shapes.rectangle_edge(wide, high), size.get("depth"), words)


def piece_extent(told: Told) -> Extent:
    return extent(told["size"].value)


def count(told: Told) -> float:
    return told.needed("count")


def thickness(told: Told, zone: Zone) -> tuple[float, Input]:
    """Thickness (mm) of the body a zone belongs to: said, or by its size, its material, or assumed."""
    size = piece_extent(told)
    given = told["thickness"]
    if zone.body != "sheet" and given.said:
        return given.value, Input("thickness", amount(given.value, given.value, "mm"), given.basis)
    if size.depth is not None and zone.body != "sheet":
        return size.depth, Input("thickness", amount(size.depth, size.depth, "mm"), told.basis("size"))
    rows = [told.knowledge.materials[i] for i in _materials(zone) if i in told.knowledge.materials]
    spans = [r for r in rows if r.thickness is not None]
    if spans:
        row = max(spans, key=lambda r: r.thickness.high if r.thickness else 0)
        assert row.thickness is not None
        middle = (row.thickness.low + row.thickness.high) / 2
        words = amount(row.thickness.low, row.thickness.high, "mm")
        return middle, Input(f"thickness of {row.name}", words, _row_basis(row))
    return given.value, Input("thickness", amount(given.value, given.value, "mm"), given.basis)


def _materials(zone: Zone) -> list[str]:
    return sorted(zone.ids("materials"))


def _row_basis(row: Any) -> Basis:
    return Basis(row.basis, row.source, row.locator)


# ------------------------------------------------------------------ zone by zone


def zone_area(told: Told, zone: Zone) -> ZoneArea:
    """The area of one zone over all pieces. Positive and finite for every zone there is."""
    low, high, line, inputs = _ZONES.get(zone.kind, _face)(told, zone)
    n = count(told)
    if n > 1:
        line = f"{line}; x {n:g} pieces = {_m2(low * n, high * n)}"
        inputs = (*inputs, Input("number of pieces", f"{n:g}", told.basis("count")))
    return ZoneArea(zone.id, low * n, high * n, f"{zone.name}: {line}", inputs)


_Found = tuple[float, float, str, tuple[Input, ...]]


def _m2(low: float, high: float) -> str:
    return amount(low, high, "m2")


def _size_input(told: Told) -> Input:
    return Input("size", piece_extent(told).words, told.basis("size"))


def _face(told: Told, _: Zone) -> _Found:
    size = piece_extent(told)
    return size.face, size.face, f"{size.words} = {_m2(size.face, size.face)}", (_size_input(told),)


def _edges(told: Told, zone: Zone) -> _Found:
    """A band along the edge of a sheet; the whole side of a board or an object."""
    if zone.body != "sheet":
        return _sides(told, zone)
    size, band = piece_extent(told), allowance("edge_band")
    inputs = [_size_input(told), from_allowance(band)]
    least, most, times = 1.0, 1.0, ""
    if zone.word("form") == "collage":
        inner = allowance("inner_edges")
        least, most = inner.value.low, inner.value.high
        times = f" x {least:g} to {most:g}"
        inputs.append(from_allowance(inner))
    low, high = (size.edge * f * b * M2 for f, b in ((least, band.value.low), (most, band.value.high)))
    bands = f"{band.value.low:g} to {band.value.high:g} mm"
    return low, high, f"edge of {plain(size.edge)} mm{times} x {bands} = {_m2(low, high)}", tuple(inputs)


def _sides(told: Told, zone: Zone) -> _Found:
    size = piece_extent(told)
    thick, given = thickness(told, zone)
    area = shapes.sides(size.edge, thick) * M2
    line = f"edge of {plain(size.edge)} mm x {plain(thick)} mm = {_m2(area, area)}"
    return area, area, line, (_size_input(told), given)


def _seams(told: Told, zone: Zone) -> _Found:
    """Both walls of every joint of a jigsaw."""
    size, wave = piece_extent(told), allowance("joint_wave")
    thick, given = thickness(told, zone)
    pieces = told["pieces"]
    lengths = [
        shapes.joint_length(size.face / M2, size.edge, pieces.value, f) for f in (wave.value.low, wave.value.high)
    ]
    low, high = (max(2 * length * thick * M2, 1e-6) for length in lengths)
    line = (
        f"joints of {pieces.value:g} pieces, (2 x √(area x pieces) - edge/2) x {wave.value.low:g} to "
        f"{wave.value.high:g} = {amount(lengths[0], lengths[1], 'mm')}, both walls x {plain(thick)} mm = {_m2(low, high)}"
    )
    told_pieces = Input("pieces of the jigsaw", f"{pieces.value:g}", pieces.basis)
    return low, high, line, (_size_input(told), told_pieces, given, from_allowance(wave))


def _share(id: str) -> Any:
    def found(told: Told, _: Zone) -> _Found:
        size, row = piece_extent(told), allowance(id)
        low, high = (size.face * share / 100 for share in (row.value.low, row.value.high))
        shares = f"{row.value.low:g} to {row.value.high:g} %"
        return low, high, f"{shares} of the face = {_m2(low, high)}", (_size_input(told), from_allowance(row))

    return found


def _gaps(told: Told, zone: Zone) -> _Found:
    """Sealed in one go with the torn edges that they lie under: the same bands once more."""
    return _edges(told, zone)


FLAT, BALL = 2.0, 4.0  # surface over shadow
SHEETS = {"paper", "photo", "cloth", "botanical"}  # what lies flat, where it holds little air


def _inclusion(told: Told, zone: Zone) -> _Found:
    """Laid on, a share of the face; cast in, its whole surface: both sides of a flat thing, and up to four times the
    shadow of a round one (a ball: 4 pi r2 over pi r2)."""
    if zone.word("form") != "cast":
        found: _Found = _share("things_share")(told, zone)
        return found
    size, row = piece_extent(told), allowance("things_share")
    flat = zone.ids("family") <= SHEETS and zone.level("air") <= 1
    most = FLAT if flat else BALL
    low, high = FLAT * size.face * row.value.low / 100, most * size.face * row.value.high / 100
    shares = f"{row.value.low:g} to {row.value.high:g} %"
    round_ = "both sides" if flat else f"{FLAT:g} (flat) to {BALL:g} (a ball) times"
    line = f"{round_} of {shares} of the mould = {_m2(low, high)}"
    return low, high, line, (_size_input(told), from_allowance(row))


_ZONES = {
    "front": _face,
    "back": _face,
    "gaps": _gaps,
    "edges": _edges,
    "sides": _sides,
    "seams": _seams,
    "features": _share("features_share"),
    "inclusion": _inclusion,
}
