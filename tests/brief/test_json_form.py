"""The plan as JSON: read back without loss; the schema against JSON Schema 2020-12 (package jsonschema)."""

from __future__ import annotations

import dataclasses
import datetime
import json
from importlib.resources import files
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from interview.brief import json_form
from interview.plan.model import Plan
from tests.brief.plans import ALL, tissue_collage
from tests.brief.real import CASES, real_plan

VALIDATOR = Draft202012Validator(json_form.schema())


def same_after_reading(plan: Plan) -> None:
    text = json_form.write(plan)
    again = json_form.read(text.encode())
    assert again == plan
    assert json_form.write(again) == text


@pytest.mark.parametrize("name", ALL)
def test_a_plan_comes_back_as_it_was(name: str) -> None:
    same_after_reading(ALL[name]())


def test_every_case_of_the_trade_comes_back_as_it_was() -> None:
    for says in CASES:
        same_after_reading(real_plan(says))


def test_sets_days_and_lists_in_answers_come_back() -> None:
    answers: dict[str, Any] = {
        "ready_by": datetime.date(2026, 5, 1), "opened": ["torn"], "size": [300.0, 400], "why": "not sure",
        "damp": True,
    }  # fmt: skip
    same_after_reading(tissue_collage().model_copy(update={"answers": answers}))


def test_the_same_plan_gives_the_same_text_whatever_the_order_of_sets() -> None:
    plan = tissue_collage()
    zone = plan.zones[0]
    turned = tuple((k, frozenset(reversed(sorted(v))) if isinstance(v, frozenset) else v) for k, v in zone.facts)
    other = plan.model_copy(update={"zones": (dataclasses.replace(zone, facts=turned), *plan.zones[1:])})
    assert json_form.write(other) == json_form.write(plan)


def test_the_schema_is_one_and_every_plan_fits_it() -> None:
    Draft202012Validator.check_schema(json_form.schema())
    assert json_form.schema()["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    for plan in [*(make() for make in ALL.values()), *(real_plan(says) for says in CASES[::7])]:
        faults = list(VALIDATOR.iter_errors(json.loads(json_form.write(plan))))
        assert not faults, faults[0].message


def test_the_published_schema_is_the_current_one() -> None:
    published = files("interview.brief").joinpath("plan.schema.json").read_text(encoding="utf-8")
    assert json.loads(published) == json_form.schema(), "write json_form.schema() to interview/brief/plan.schema.json"


def test_the_schema_refuses_what_is_no_plan() -> None:
    data = json.loads(json_form.write(tissue_collage()))
    for break_it in (
        lambda d: d.pop("summary"),
        lambda d: d.update(format=2),
        lambda d: d.update(extra=1),
        lambda d: d["zone_lines"][0].pop("need"),
        lambda d: d["steps"][0].update(kind="dance"),
        lambda d: d["zones"][0].update(facts="none"),
    ):
        broken = json.loads(json.dumps(data))
        break_it(broken)
        assert not VALIDATOR.is_valid(broken)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "not JSON"),
        ("{", "line 1"),
        ("[]", "no plan"),
        ("3", "no plan"),
        ('{"a": 1}', "format"),
        ('{"format": 99}', "99"),
        ('{"format": true}', "True"),
        ('{"format": 1}', "summary"),
        ('{"format": NaN}', "NaN"),
        ("[" * 100_000, "nested too deeply"),
    ],
)
def test_what_is_no_plan_is_refused_in_one_line(text: str, says: str) -> None:
    with pytest.raises(json_form.UnreadablePlan) as told:
        json_form.read(text.encode())
    assert says in str(told.value)
    assert "\n" not in str(told.value)


@pytest.mark.parametrize("value", [{"all of": 3}, {"all of": [{}]}, {"day": "yesterday"}, {"day": 4}])
def test_a_set_or_day_written_wrongly_is_refused(value: object) -> None:
    data = json.loads(json_form.write(tissue_collage()))
    data["answers"]["x"] = value
    with pytest.raises(json_form.UnreadablePlan, match="set or a day"):
        json_form.read(json.dumps(data).encode())
