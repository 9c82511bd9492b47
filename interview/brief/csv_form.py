"""The shopping list and the steps as tables for a spreadsheet: CSV as in RFC 4180 with a byte order mark, one heading
row, amounts as numbers with their unit beside them.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from interview.brief.cleaning import cleaned
from interview.brief.composing import compose
from interview.brief.pace import pace
from interview.plan.model import Plan
from interview.quantities.units import convert
from interview.reasoning.timetable import Timeline
from interview.text.harmless import like_a_formula
from interview.text.wording import listed

MARK = "\ufeff"  # by which spreadsheets know UTF-8
THINGS = (
    "thing",
    "for",
    "least",
    "most",
    "unit",
    "packs",
    "in a pack",
    "unit of a pack",
    "price each",
    "price",
    "label must say",
)


def shopping(plan: Plan, *, imperial: bool = False) -> str:
    """One row an item; amounts and prices as numbers with a point, empty where unknown."""
    plan = cleaned(plan)
    rows = [
        (
            i.name, i.use, *volumes(i.low, i.high, i.size, i.packs, imperial=imperial), *prices(i.price, i.packs),
            listed(i.look_for),
        )
        for i in plan.items
    ]  # fmt: skip
    return table(THINGS, told(plan, rows, len(THINGS)))


def volumes(
    low: float | None, high: float | None, size: float | None, packs: int, *, imperial: bool
) -> tuple[object, ...]:
    """The columns from "least" to "unit of a pack", from mL."""
    unit = "fl oz" if imperial else "mL"

    def own(volume: float | None) -> object:
        return "" if volume is None else float(f"{convert(volume, 'ml', 'floz') if imperial else volume:.3g}")

    return own(low), own(high), "" if low is None else unit, packs, own(size), "" if size is None else unit


def prices(price: float | None, packs: int) -> tuple[str, str]:
    return ("", "") if price is None else (f"{price:.2f}", f"{price * packs:.2f}")


def steps(plan: Plan, time: Timeline | None = None) -> str:
    """One row a step of the plan, coats apart, with the number that the brief gives it; times in minutes, and by the
    clock where there is a timetable."""
    plan = cleaned(plan)
    brief = compose(plan)
    numbers: dict[str, object] = {id: s.number for phase in brief.phases for s in phase.steps for id in s.ids}
    numbers |= {f"trial.{t.id}": t.letter for t in brief.trials}
    at = pace(plan.steps, time).at
    begins = {d.step: d.begins for d in reversed(time.doings)} if time else {}
    until = {d.step: d.until for d in time.doings} if time else {}
    rows = [
        (
            numbers.get(s.id, ""), s.kind, s.name, s.how, s.done_when, f"{s.hands_on:g}", f"{s.wait[0]:g}",
            f"{s.wait[1]:g}", s.place, listed(plan.zone(z).name for z in s.zones), at[s.id].day if s.id in at else "",
            begins.get(s.id, ""), until.get(s.id, ""),
        )
        for s in plan.steps
    ]  # fmt: skip
    heading = (
        "number", "kind", "step", "how", "done when", "hands on, min", "wait at least, min", "wait at most, min",
        "place", "parts", "day", "begins", "wait is over",
    )  # fmt: skip
    return table(heading, told(plan, rows, len(heading)))


def told(plan: Plan, rows: Sequence[Sequence[object]], width: int) -> list[Sequence[object]]:
    """With a first row where the piece was damaged, and a last one for the seal."""

    def row(text: str) -> Sequence[object]:
        return (text, *[""] * (width - 1))

    damage = [row(plan.damage)] if plan.damage else []
    return [*damage, *rows, *([row(f"Seal of this brief: {plan.seal}")] if plan.seal else [])]


def table(heading: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(heading)
    writer.writerows([[inert(cell) for cell in row] for row in rows])
    return MARK + out.getvalue()


def inert(cell: object) -> object:
    """A text that a spreadsheet would take for a formula is set off with an apostrophe."""
    return f"'{cell}" if isinstance(cell, str) and like_a_formula(cell) else cell
