"""The line drawings of the bench sheet and the signs of things, from pictures.toml."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from interview.drawing.svg import Svg, group, tag

SIZE = 48.0


@dataclass(frozen=True, slots=True)
class Picture:
    """One drawing in a field of 48 by 48. `says`: the same in words."""

    id: str
    says: str
    strokes: Svg

    def drawn(self, style: str = "picture") -> Svg:
        """A drawing of its own with its words, for a page."""
        return tag("svg", self.strokes, viewBox="0 0 48 48", role="img", aria_label=self.says, class_=style)

    def placed(self, x: float, y: float, size: float) -> Svg:
        """Inside another drawing."""
        return group(self.strokes, transform=f"translate({x:.1f} {y:.1f}) scale({size / SIZE:.3f})", class_="glyph")


def picture_of(*ids: str) -> Picture:
    """The first of these ids (of steps, trials, preparations, kinds) that a picture stands for."""
    stops = _table("picture", "stops")
    bare = (id for given in ids for id in (given, given.rpartition(".")[0]))  # "prepare.dust_off.2" is a part of one
    return next((stops[id] for id in bare if id in stops), stops["trial"])


def thing_of(ids: Sequence[str]) -> Picture:
    """The sign of a thing laid on or cast in."""
    things = _table("thing", "of")
    return next((things[id] for id in ids if id in things), things["unsure"])


def all_pictures() -> tuple[Picture, ...]:
    return tuple(dict.fromkeys((*_table("picture", "stops").values(), *_table("thing", "of").values())))


@cache
def _table(kind: str, key: str) -> dict[str, Picture]:
    import tomllib

    text = files("interview.drawing").joinpath("pictures.toml").read_text(encoding="utf-8")
    rows: list[dict[str, Any]] = tomllib.loads(text)[kind]
    return {id: made for row in rows for made in [_picture(row)] for id in row[key]}


def _picture(row: dict[str, Any]) -> Picture:
    strokes = [tag("path", d=d) for d in row.get("lines", ())]
    strokes += [tag("path", d=d, class_="thin") for d in row.get("thin", ())]
    strokes += [tag("circle", cx=x, cy=y, r=r, class_="dot") for x, y, r in row.get("dots", ())]
    return Picture(row["id"], row["says"], group(*strokes))
