"""The sheet a clerk hands over: one page, and never without its cautions."""

from __future__ import annotations

from interview.brief.rendering import render
from interview.reasoning.planner import make_plan
from knowledge.loading import Knowledge
from tests.test_trade import TABLE, answers_of

PAGE = 66  # lines of a sheet at ten to the inch
A4 = 76  # the same of A4 in type of nine points


def test_every_piece_of_the_trade_fits_on_one_page(knowledge: Knowledge) -> None:
    for case in TABLE["case"]:
        plan = make_plan(knowledge, answers_of(knowledge, case["answers"]), "a piece")
        sheet = render(plan, "sheet", width=80)
        assert sheet.count("\n") <= (PAGE if len(plan.treatments) < 3 else A4), case["says"]
        assert "Label and safety data sheet come before this sheet" in sheet, case["says"]


def test_the_brief_of_a_usual_piece_is_two_pages(knowledge: Knowledge) -> None:
    """Two sheets of A4 in type of nine points: 100 columns, 76 lines each. The usual piece is the middle one of
    the table; the longest, with everything unsure and a trial for each doubt, has a little over three.
    """
    plans = [make_plan(knowledge, answers_of(knowledge, c["answers"]), "a piece") for c in TABLE["case"]]
    lengths = sorted(render(plan, "terminal", width=100).count("\n") for plan in plans)
    assert lengths[len(lengths) // 2] <= 2 * A4
    assert lengths[-1] <= 3 * A4 + 16
