"""The sheet a clerk hands over: one page, and never without its cautions."""

from __future__ import annotations

from interview.brief.rendering import render
from interview.planner import make_plan
from knowledge.loading import Knowledge
from tests.test_trade import TABLE, answers_of

PAGE = 66  # lines of a sheet at ten to the inch


def test_every_piece_of_the_trade_fits_on_one_page(knowledge: Knowledge) -> None:
    for case in TABLE["case"]:
        plan = make_plan(knowledge, answers_of(knowledge, case["answers"]), "a piece")
        sheet = render(plan, "sheet", width=80)
        assert sheet.count("\n") <= PAGE, case["says"]
        assert "Label and safety data sheet come before this sheet" in sheet, case["says"]
