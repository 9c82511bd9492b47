"""In how many pours, how deep each, and when the next: from the depth, the label and the temperature of the room."""

from __future__ import annotations

import math
from typing import Any

from interview.plan.parts import Decision, Figure
from interview.quantities.written import plain
from interview.reasoning.amounts import depth_of
from interview.reasoning.numeric_answers import Told
from interview.reasoning.working import Reckoned, figure
from knowledge.formulas import film
from knowledge.formulas.kinetics import gel_stages
from knowledge.shape import Span

LEAST_FIRST = 3.0  # mm; a first layer that holds what floats, and no more; common practice


def pour_count(told: Told, two_pours: bool) -> int:
    """As many as the label's depth asks for; one more where what floats needs a thin first layer and none is left."""
    depth = depth_of(told)
    if not two_pours:
        return depth.layers
    thin = min(LEAST_FIRST, depth.deepest)
    full = depth.layers
    return max(2, full if (full - 1) * depth.deepest + thin >= depth.value - 1e-9 else full + 1)


def layer_figures(told: Told) -> tuple[Figure, ...]:
    """In how many pours, where it is more than one."""
    held, depth = bool(told.facts.get("two_pours")), depth_of(told)
    count = pour_count(told, held)
    if count < 2 or depth.value <= depth.deepest:
        return ()
    first, each = _depths(depth.value, depth.deepest, count, held)
    line = f"{plain(depth.value)} mm / {plain(depth.deepest)} mm, rounded up: {film.layers(depth.value, depth.deepest)} pours"
    more = [f"the first {plain(first)} mm, to hold what floats; {count - 1} of {plain(each)} mm"] if held else []
    shown = f"{count} pours of at most {told.amount(max(first, each), 'mm')}"
    how = Reckoned("depth / deepest pour, rounded up", [line, *more], (depth.input, depth.deepest_input))
    return (figure("amount.layers", "pours", Span(count, count, "pours"), how, group="amounts", shown=shown),)


def _depths(depth: float, deepest: float, count: int, held: bool) -> tuple[float, float]:
    """Of the first layer and of each further one, mm."""
    first = min(LEAST_FIRST, deepest, depth / count) if held else depth / count
    return first, (depth - first) / (count - 1) if count > 1 else depth


def _plain(opens: float, closes: float, hard: float) -> tuple[float, float, float]:
    """In steps of a quarter of an hour, or of hours, on the safe side."""
    step = 15.0 if closes < 24 * 60 else 60.0
    opens = math.ceil(opens / step) * step
    return opens, max(opens, math.floor(closes / step) * step), math.ceil(hard / 60) * 60.0


def pour_facts(told: Told, decision: Decision) -> dict[str, Any]:
    """What the steps of the pour read: `pours.count`, `pours.depths` in words, and `pours.window` in minutes."""
    if not decision.pours:
        return {}
    held = bool(told.facts["two_pours"])
    count, depth = pour_count(told, held), depth_of(told)
    first, each = _depths(depth.value, depth.deepest, count, held)
    known = told["coat"].said or told["size"].said
    made: dict[str, Any] = {"two_pours": count > 1, "pours.count": count}
    if known and count > 1:
        made["pours.depths"] = (told.amount(first, "mm"), told.amount(each, "mm"))
    if told["working_time"].said:  # at the label's temperature; the timetable counts how warm the room is
        made["pours.window"] = _plain(*gel_stages(told["working_time"].value))
    return made
