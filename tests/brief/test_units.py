"""Both systems of units, the maker's own first, in every form: amounts travel as values until a form writes them."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from interview.quantities.written import amount
from interview.reasoning.planner import make_plan
from knowledge.loading import Knowledge
from tests.brief.plans import tissue_collage
from tests.brief.reading import text_of
from tests.test_trade import TABLE, answers_of

PAIR = r"[\d./ ]+(?: to [\d./ ]+)? ?(?:{0}) \([\d./ x]+(?: to [\d./ ]+)? ?(?:{1})\)"
METRIC_FIRST, IMPERIAL_FIRST = (
    PAIR.format("mL|L|cm|°C", "fl oz|qt|gal|in|°F"),
    PAIR.format("fl oz|qt|gal|in|°F", "mL|L|cm|°C"),
)


@given(st.floats(1, 1e5), st.sampled_from(["mL", "mm", "m2", "g", "degC"]))
def test_the_other_system_first_is_the_same_pair_turned(value: float, unit: str) -> None:
    metric, imperial = amount(value, value, unit), amount(value, value, unit, imperial=True)
    first, _, second = metric.rstrip(")").partition(" (")
    assert imperial == f"{second} ({first})"


@pytest.mark.parametrize("form", ["terminal", "markdown", "html", "screen"])
def test_every_form_speaks_the_makers_units_first(form: str) -> None:
    own, other = (text_of(tissue_collage(), form, imperial=imperial) for imperial in (True, False))
    assert re.search(IMPERIAL_FIRST, own)
    assert not re.search(METRIC_FIRST, own)
    assert re.search(METRIC_FIRST, other)
    assert not re.search(IMPERIAL_FIRST, other)


def test_so_do_the_sentences_inside_a_plan(knowledge: Knowledge) -> None:
    case = next(c for c in TABLE["case"] if "tissue collage" in c["says"])
    answers = answers_of(knowledge, case["answers"]).say(
        "size", {"shape": "rectangle", "width": 305.0, "height": 406.0}
    )
    plan = make_plan(knowledge, answers, "gull", imperial=True)
    text = text_of(plan, "markdown", full=True, imperial=True)
    # how far to hold a can is told as on any can, in both
    text = re.sub(r"25 to 30\s+cm\s+\(10\s+to\s+12\s+in\)", "", text)
    assert re.search(IMPERIAL_FIRST, text)
    assert not re.search(METRIC_FIRST, text)
