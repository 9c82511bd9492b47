"""Signs told apart by shape, word and colour: the four verdicts (ours), and the safety signs.

The safety signs are drawn by us in the shapes, colours and with the meanings of ISO 7010: a filled blue disc orders,
a red ring with a bar forbids, a yellow triangle in a black frame warns (ISO 3864-1).
"""

from __future__ import annotations

from dataclasses import dataclass

from interview.drawing.svg import Svg, group, tag


@dataclass(frozen=True, slots=True)
class Sign:
    """`code`: its number in ISO 7010, or ""."""

    id: str
    word: str
    code: str
    strokes: Svg

    def drawn(self) -> Svg:
        says = f"{self.word} (ISO 7010 {self.code})" if self.code else self.word
        return tag("svg", self.strokes, viewBox="0 0 48 48", role="img", aria_label=says, class_=f"sign {self.id}")


def _path(d: str, style: str) -> Svg:
    return tag("path", d=d, class_=style)


def _order(*inside: Svg) -> Svg:
    return group(tag("circle", cx=24, cy=24, r=23, class_="order"), *inside)


_HEAD = "M14 43q1-9 4-11q-5-4-5-12q0-12 11-12q11 0 11 12q0 8-5 12q3 2 4 11z"
_FLAME = "M24 38q-9 0-9-9q0-6 5-10q0 4 3 5q-2-8 5-14q0 7 4 10q3 4 1 9q-1 9-9 9z"

SAFETY = {
    "eyes": Sign("eyes", "Eye protection", "M004", _order(
        _path(_HEAD, "on"), _path("M12 17h24v3q-1 6-6 6q-4 0-6-4q-2 4-6 4q-5 0-6-6z", "order"),
        _path("M15 19h6q-1 5-3 5q-3 0-3-5zM27 19h6q0 5-3 5q-2 0-3-5z", "on"))),
    "hands": Sign("hands", "Nitrile gloves", "M009", _order(
        _path("M10 40V26l-3-6q0-3 3-2l3 4V9q2-3 4 0v8V7q2-3 4 0v11l2-8q3-2 3 1l-3 15v14z", "on"),
        _path("M29 42V30l-1-9q1-3 3-1l1 7 1-13q2-3 4 0v12l2-10q3-1 3 2l-1 13-2 5v6z", "on"),
        _path("M9 36h15M28 38h11", "bare"))),
    "breath": Sign("breath", "Mask: read which", "M017", _order(
        _path(_HEAD, "on"), _path("M13 19l7 4h8l7-4v3l-6 5q0 8-5 9q-5-1-5-9l-6-5z", "order"),
        _path("M12 27h8v7h-8zM28 27h8v7h-8z", "cartridge"), _path("M20 26h8v6q-4 4-8 0z", "on"))),
    "no_flame": Sign("no_flame", "No flame, no spark", "P003", group(
        tag("circle", cx=24, cy=24, r=21, class_="field"), _path("M21 42l4-17h3l-4 17z", "black"),
        _path("M26 23q-5-2-4-7q1-4 5-8q0 4 2 6q3 5-3 9z", "black"), tag("circle", cx=24, cy=24, r=20.5, class_="forbid"),
        _path("M9.5 9.5L38.5 38.5", "forbid"))),
    "flammable": Sign("flammable", "Burns easily", "W021", group(
        _path("M24 3L46 43H2z", "warn"), tag("g", _path(_FLAME, "black"), transform="translate(4.8 7.5) scale(.8)"),
        _path("M15 40h18", "ground"))),
}  # fmt: skip

VERDICTS = {
    "seal": Sign("seal", "SEAL", "", group(
        _path("M3 5H45V43H3z", "body"), _path("M9 11H39V37H9zM15 17H33V31H15z", "cut"))),
    "no_need": Sign("no_need", "NO NEED", "", group(
        tag("circle", cx=24, cy=24, r=21, class_="body"), _path("M13 25l8 8 14-17", "cut"))),
    "find_a_way": Sign("find_a_way", "FIND A WAY", "", group(
        _path("M24 1L47 24L24 47L1 24z", "body"), _path("M24 37V27L14 21M24 27L34 21M14 26V20H20M34 26V20H28", "cut"))),
    "stop": Sign("stop", "STOP", "", group(
        _path("M15 1H33L47 15V33L33 47H15L1 33V15z", "body"), _path("M10 24H38", "bar"))),
}  # fmt: skip
