"""The shopping list and the steps as tables for a spreadsheet: CSV as in RFC 4180, one heading row."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from interview.brief.cleaning import cleaned
from interview.brief.composing import compose
from interview.brief.own_units import Units, arranged
from interview.plan.model import Plan
from interview.text.harmless import like_a_formula
from interview.text.wording import listed


def shopping(plan: Plan, units: Units = "metric") -> str:
    """One row an item; prices as numbers with a point, empty where unknown."""
    plan = cleaned(plan)
    rows = [
        (
            i.name,
            i.use,
            arranged(i.amount, units),
            i.packs,
            arranged(i.pack, units),
            "" if i.price is None else f"{i.price:.2f}",
            "" if i.price is None else f"{i.price * i.packs:.2f}",
            listed(i.look_for),
        )
        for i in plan.items
    ]
    return _table(("thing", "for", "amount", "packs", "pack", "price each", "price", "label must say"), rows)


def steps(plan: Plan) -> str:
    """One row a step of the plan, coats apart, with the number that the brief gives it; times in minutes."""
    plan = cleaned(plan)
    numbers = {id: step.number for phase in compose(plan).phases for step in phase.steps for id in step.ids}
    letters = {f"trial.{trial.id}": view.letter for trial, view in zip(plan.trials, compose(plan).trials, strict=True)}
    rows = [
        (
            numbers.get(s.id, letters.get(s.id, "")),
            s.kind,
            s.name,
            s.how,
            s.done_when,
            f"{s.hands_on:g}",
            f"{s.wait[0]:g}",
            f"{s.wait[1]:g}",
            s.place,
            listed(plan.zone(z).name for z in s.zones),
        )
        for s in plan.steps
    ]
    return _table(
        (
            "number",
            "kind",
            "step",
            "how",
            "done when",
            "hands on, min",
            "wait at least, min",
            "wait at most, min",
            "place",
            "parts",
        ),
        rows,
    )


def _table(heading: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(heading)
    writer.writerows([[inert(cell) for cell in row] for row in rows])
    return out.getvalue()


def inert(cell: object) -> object:
    """A text that a spreadsheet would take for a formula is set off with an apostrophe."""
    return f"'{cell}" if isinstance(cell, str) and like_a_formula(cell) else cell
