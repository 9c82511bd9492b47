"""Writing SVG: elements as text, everything in them escaped."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

Point = tuple[float, float]


class Svg(str):
    """A piece of SVG that is safe to put into a page as it is."""

    __slots__ = ()

    def __html__(self) -> str:
        return self


def tag(name: str, *inside: Svg | str, **attributes: object) -> Svg:
    """An element. Text inside is escaped unless it is Svg; `fill_rule` is written as fill-rule, `class_` as class."""
    written = "".join(f' {_name(key)}="{escape(_value(value))}"' for key, value in attributes.items() if value != "")
    body = "".join(part if isinstance(part, Svg) else escape(part) for part in inside)
    return Svg(f"<{name}{written}>{body}</{name}>" if body else f"<{name}{written}/>")


def group(*inside: Svg, **attributes: object) -> Svg:
    return tag("g", *inside, **attributes)


def joined(parts: Iterable[Svg]) -> Svg:
    return Svg("".join(parts))


def rectangle(x: float, y: float, width: float, height: float, **attributes: object) -> Svg:
    return tag("rect", x=x, y=y, width=width, height=height, **attributes)


def path(points: Iterable[Point], *, closed: bool = True, **attributes: object) -> Svg:
    """Straight lines from point to point."""
    line = " ".join(f"{'L' if n else 'M'}{_value(x)} {_value(y)}" for n, (x, y) in enumerate(points))
    return tag("path", d=line + ("Z" if closed else ""), **attributes)


def drawing(width: float, height: float, title: str, says: str, id: str, *inside: Svg) -> Svg:
    """A whole drawing with its name and description for those who hear it."""
    return tag(
        "svg",
        tag("title", title, id=f"{id}-title"),
        tag("desc", says, id=f"{id}-desc"),
        *inside,
        viewBox=f"0 0 {_value(width)} {_value(height)}",
        role="img",
        aria_labelledby=f"{id}-title {id}-desc",
        class_="drawing",
    )


def _name(key: str) -> str:
    return key if key in ("viewBox", "patternUnits", "preserveAspectRatio") else key.rstrip("_").replace("_", "-")


def _value(value: object) -> str:
    return f"{value:.1f}".removesuffix(".0") if isinstance(value, float) else str(value)
