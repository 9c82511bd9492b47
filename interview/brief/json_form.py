"""The plan as JSON, written and read back without loss, and its published schema."""

from __future__ import annotations

import dataclasses
import datetime
import json
from typing import Any, NoReturn

from pydantic import ValidationError

from interview.brief.seal import BrokenSeal, whole_in
from interview.plan.model import FORMAT, Plan
from interview.plan.parts import Zone
from interview.reasoning.timetable import Timeline
from interview.text.harmless import spelled_out

SCHEMA_ID = "urn:beforepour:plan:{version}"
_SET, _DAY = "all of", "day"  # what JSON has no form for is written as an object with one of these keys
_LITTLE: dict[str, Any] = {
    "anyOf": [
        {"type": ["string", "number", "boolean", "null"]},
        {"type": "array", "items": {"$ref": "#/$defs/Value"}},
        {"type": "object", "additionalProperties": {"$ref": "#/$defs/Value"}},
    ],
    "description": f'a value; {{"{_SET}": [...]}} is a set, {{"{_DAY}": "2026-05-01"}} a day',
}


LARGEST = 5_000_000  # bytes
FAR = 1e12


class UnreadablePlan(ValueError):
    """The text is no plan; the message says in one line where and what."""


def write(plan: Plan, time: Timeline | None = None, trouble: str = "", seal: str = "") -> str:
    """Sets sorted, keys in the model's order: the same plan gives the same text. It names its schema first; the
    timetable, or why there is none, and the whole seal come last. All are left out of the plan when it is read."""
    days = {"days": _days(time)} if time else {"days": {"trouble": trouble}} if trouble else {}
    told = {"schema": SCHEMA_ID.format(version=FORMAT), **_plain(plan.model_dump()), **days}
    told |= {"sealed": seal} if seal else {}
    text = json.dumps(told, ensure_ascii=False, indent=2, allow_nan=False)
    return f"{spelled_out(text)}\n"


def read(data: bytes) -> Plan:
    """The plan that `write` wrote. Raises UnreadablePlan."""
    told = _parsed(data)
    if not isinstance(told, dict) or "format" not in told:
        raise UnreadablePlan('this is no plan: a plan is an object with a number under "format"')
    if told["format"] != FORMAT or isinstance(told["format"], bool):
        raise UnreadablePlan(f"this plan has the format {str(told['format'])[:20]}; only {FORMAT} can be read here")
    for beside in ("schema", "days"):
        told.pop(beside, None)
    try:
        seal = whole_in(str(told.pop("sealed", "")))
    except BrokenSeal:
        seal = None
    try:
        plan = Plan.model_validate(told).model_copy(update={"made_from": dict(seal.made_from) if seal else {}})
        _refuse_unknown_zones(plan)
        _refuse_nowhere(plan)
        answers = {key: _restored(value) for key, value in plan.answers.items()}
        return plan.model_copy(update={"zones": tuple(_zone(z) for z in plan.zones), "answers": answers})
    except ValidationError as fault:
        raise UnreadablePlan(_first_fault(fault)) from None
    except (TypeError, ValueError):
        raise UnreadablePlan("a set or a day in this plan is not written as it should be") from None


def _parsed(data: bytes) -> Any:
    if len(data) > LARGEST:
        raise UnreadablePlan(f"this is larger than {LARGEST // 1_000_000} MB; a plan is far smaller")
    try:
        text = data.decode("utf-8-sig")
        return json.loads(text, parse_constant=_no_constant, parse_int=_number, parse_float=_number)
    except UnicodeDecodeError:
        raise UnreadablePlan("this is not UTF-8 text") from None
    except RecursionError:
        raise UnreadablePlan("this is no plan: it is nested too deeply") from None
    except json.JSONDecodeError as fault:
        raise UnreadablePlan(f"this is not JSON: {fault.msg} in line {fault.lineno}, column {fault.colno}") from None


def _refuse_unknown_zones(plan: Plan) -> None:
    known = {zone.id for zone in plan.zones}
    for part, rows in plan:
        for row in rows if isinstance(rows, tuple) and part != "zones" else ():
            for named in (getattr(row, "zone", None), *(getattr(row, "zones", ()))):
                if named is not None and named not in known:
                    raise UnreadablePlan(f"{part} names the zone {str(named)[:40]!r}, which is not in this plan")


def _refuse_nowhere(plan: Plan) -> None:
    for step in plan.steps:
        if step.kind == "seal" and not step.zones:
            raise UnreadablePlan(f"the step {step.id[:40]!r} seals no zone")


def _number(text: str) -> int | float:
    """No number of a plan is beyond a million million."""
    number = float(text)
    if not abs(number) < FAR:
        raise UnreadablePlan(f"{text[:20]}{'...' if len(text) > 20 else ''} is no number of a plan")
    return int(text) if text.lstrip("-").isdigit() else number


def _days(time: Timeline) -> dict[str, Any]:
    """Local times, ISO 8601. `late`: minutes after `ready_by`."""
    doings = [
        {
            "step": d.step, "who": d.who, "pot": d.pot, "begins": d.begins.isoformat(), "ends": d.ends.isoformat(),
            "until": d.until.isoformat(), "looks": [look.isoformat() for look in d.looks],
        }
        for d in time.doings
    ]  # fmt: skip
    return {
        "begins": time.begins.isoformat(),
        "ready": time.ready.isoformat(),
        "quickest": time.quickest.isoformat(),
        "ready_by": time.ready_by.isoformat() if time.ready_by else None,
        "late": round(time.late.total_seconds() / 60),
        "ways": [{"says": way.says, "ready": way.ready.isoformat()} for way in time.ways],
        "doings": doings,
    }


def schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of what `write` gives."""
    made = Plan.model_json_schema(mode="serialization")
    made["properties"]["format"] = {"const": FORMAT, "description": "goes up when the shape changes"}
    made["properties"]["answers"]["additionalProperties"] = {"$ref": "#/$defs/Value"}
    made["$defs"]["Zone"]["properties"]["facts"]["items"]["prefixItems"][1] = {"$ref": "#/$defs/Value"}
    made["$defs"]["Value"] = _LITTLE
    made["properties"]["schema"] = {"const": SCHEMA_ID.format(version=FORMAT)}
    made["properties"].pop("made_from", None)
    made["properties"]["sealed"] = {"type": "string", "description": "the whole seal: beforepour verify reads it"}
    made["properties"]["days"] = {"type": "object", "description": "its timetable, where hours were told: local times"}
    head = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": SCHEMA_ID.format(version=FORMAT),
    }
    required = sorted({*made["required"], "format"}, key=list(made["properties"]).index)
    return {**head, **made, "required": required}


def _plain(value: Any) -> Any:
    """As JSON can hold it. Whole numbers lose their ".0", so that a plan read back is written alike."""
    match value:
        case dict():
            return {key: _plain(part) for key, part in value.items()}
        case list() | tuple():
            return [_plain(part) for part in value]
        case set() | frozenset():
            return {_SET: sorted((_plain(part) for part in value), key=lambda p: (str(type(p)), p))}
        case float() if value.is_integer():
            return int(value)
        case datetime.date():
            return {_DAY: value.isoformat()}
    return value


def _restored(value: Any, row: type[list[Any]] | type[tuple[Any, ...]] = list) -> Any:
    """The inverse of `_plain`, for values whose type the model leaves open. `row`: what a JSON array was."""
    if isinstance(value, dict):
        if value.keys() == {_SET}:
            return frozenset(_restored(part, tuple) for part in value[_SET])
        if value.keys() == {_DAY}:
            return datetime.date.fromisoformat(value[_DAY])
        return {key: _restored(part, row) for key, part in value.items()}
    return row(_restored(part, row) for part in value) if isinstance(value, list) else value


def _zone(zone: Zone) -> Zone:
    """Facts are fixed: their rows are tuples."""
    return dataclasses.replace(zone, facts=tuple((name, _restored(value, tuple)) for name, value in zone.facts))


def _no_constant(name: str) -> NoReturn:
    raise UnreadablePlan(f"{name} is no number of a plan")


def _first_fault(fault: ValidationError) -> str:
    first, *rest = fault.errors(include_url=False, include_input=False)
    where = ".".join(str(part) for part in first["loc"]) or "the plan"
    more = f" ({len(rest)} more faults)" if len(rest) > 1 else " (1 more fault)" if rest else ""
    return f"this is no whole plan: {where}: {first['msg'].lower()}{more}"
