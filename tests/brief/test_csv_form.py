"""The tables for a spreadsheet. Read back with the csv module, whose default dialect is that of RFC 4180."""

from __future__ import annotations

import csv
import dataclasses
import io

import pytest

from interview.brief.csv_form import MARK
from tests.brief.plans import ALL, tissue_collage
from tests.brief.reading import text_of
from tests.brief.real import CASES, numbered, real_plan


def rows_of(text: str) -> list[dict[str, str]]:
    assert text.startswith(MARK)
    assert text.endswith("\r\n")
    return list(csv.DictReader(io.StringIO(text.removeprefix(MARK), newline=""), strict=True))


def test_every_step_is_a_row_under_the_number_of_the_brief() -> None:
    for says in CASES[::5]:
        plan = real_plan(says)
        rows = rows_of(text_of(plan, "csv-steps"))
        assert [r["step"] for r in rows] == [s.name for s in plan.steps]
        numbers = [r["number"] for r in rows]
        assert all(numbers)
        counted = [int(n) for n in numbers if n.isdigit()]
        assert sorted(set(counted)) == list(range(1, max(counted, default=0) + 1))
        terminal = text_of(plan, "terminal", width=100)
        assert all(f"[ ] {n:>2} " in terminal for n in numbers)


def test_the_shopping_list_adds_up() -> None:
    rows = rows_of(text_of(tissue_collage(), "csv-shopping"))
    assert [r["thing"] for r in rows][:2] == ["spray acrylic varnish", "water-borne acrylic sealer"]
    assert sum(float(r["price"]) for r in rows if r["price"]) == pytest.approx(21.5)
    assert "21.50" in text_of(tissue_collage(), "terminal")


def test_amounts_are_numbers_with_their_unit_beside_them() -> None:
    rows = rows_of(text_of(numbered(), "csv-shopping"))
    for item in numbered().items:
        if item.figure:
            row = next(r for r in rows if r["thing"] == item.name)
            figure = next(f for f in numbered().figures if f.id == item.figure)
            assert (float(row["least"]), float(row["most"])) == pytest.approx((figure.low, figure.high), rel=0.01)
            assert row["unit"] == "mL"
    can = next(r for r in rows if r["thing"] == "spray acrylic sealer")
    assert (float(can["in a pack"]), can["unit of a pack"]) == (400.0, "mL")
    own = next(r for r in rows_of(text_of(numbered(), "csv-shopping", imperial=True)) if r["thing"] == can["thing"])
    assert own["unit"] == "fl oz"
    assert float(own["most"]) * 29.5735 == pytest.approx(float(can["most"]), rel=0.01)  # US fluid ounce, NIST SP 811


@pytest.mark.parametrize("typed", ["=1+1", "+1", "-1", "@sum(a1)", '=cmd|"/c calc"!a0', "\t=1", "\r\n=1", " =1"])
def test_no_cell_is_taken_for_a_formula(typed: str) -> None:
    plan = tissue_collage()
    items = (dataclasses.replace(plan.items[0], name=typed, use=typed), *plan.items[1:])
    text = text_of(plan.model_copy(update={"items": items}), "csv-shopping").removeprefix(MARK)
    for row in csv.reader(io.StringIO(text, newline="")):
        for cell in row:
            assert not cell.startswith(("=", "+", "-", "@", "\t", "\r", "\n"))


@pytest.mark.parametrize("name", ALL)
def test_quotes_and_commas_and_line_ends_stay_in_their_cell(name: str) -> None:
    plan = ALL[name]()
    steps = tuple(dataclasses.replace(s, how=f'{s.how} "so", he said;\nthen, on') for s in plan.steps)
    rows = rows_of(text_of(plan.model_copy(update={"steps": steps}), "csv-steps"))
    assert len(rows) == len(steps)
    assert all(r["how"].endswith('"so", he said; then, on') for r in rows)
