"""properties.toml: one row at a time through all that is made from it. No source: the table is the project's own."""

from __future__ import annotations

import ast
import dataclasses
from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest
import tomli

from interview.plan.parts import Finding
from interview.reasoning.circumstances import settled
from interview.reasoning.deciding import decide_from
from interview.reasoning.findings import answers_behind
from interview.reasoning.planner import make_plan
from knowledge import shape
from knowledge.checking import property_faults
from knowledge.deriving import BEARERS, derived
from knowledge.loading import HOME, Knowledge, load, read_row
from knowledge.vocabulary import vocabulary
from tests.test_trade import answers_of

KNOWLEDGE = load()
PROPERTIES = tuple(KNOWLEDGE.properties.values())
INTERVIEW = HOME.parent / "interview"


@cache
def _files(kind: str) -> tuple[str, ...]:
    """The files with rows of this kind."""
    texts = [path.read_text(encoding="utf-8") for path in sorted(HOME.rglob("*.toml")) if "words" not in path.parts]
    return tuple(text for text in texts if f"\n[[{kind}]]\n" in text and f"#   [[{kind}]]\n" in text)


@cache
def _sample(kind: str) -> dict[str, Any]:
    """A row as its file has it."""
    found: dict[str, Any] = tomli.loads(_files(kind)[0])[kind][0]
    return found


def _said_of(knowledge: Knowledge, kind: str, table: dict[str, Any]) -> str:
    """What loader and check say of a row."""
    try:
        row = read_row(shape.KINDS[kind], table)
    except ValueError as error:
        return str(error)
    return "\n".join(property_faults(knowledge, row))


@cache
def _names_in(module: str) -> frozenset[str]:
    """Every attribute and every text in a module."""
    home = HOME.parent if module.startswith("knowledge.") else INTERVIEW
    tree = ast.parse(home.joinpath(*module.split(".")).with_suffix(".py").read_text(encoding="utf-8"))
    return frozenset(_names(tree))


def _names(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute):
            yield node.attr
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


@pytest.mark.parametrize("prop", PROPERTIES, ids=lambda p: p.id)
def test_each_property_through_all_that_is_made_from_it(knowledge: Knowledge, prop: shape.Property) -> None:
    for kind in prop.of:
        row = {**_sample(kind), prop.id: prop.example}
        if prop.id not in ("density", "thickness", "grammage"):  # held against each other
            assert _said_of(knowledge, kind, row) == ""
        assert f"'{prop.id}'" in _said_of(knowledge, kind, {**row, prop.id: prop.bad}), "the bad one is refused"
        del row[prop.id]
        left_out = (prop.optional and kind not in prop.needed_by) or prop.default is not None
        assert ("is missing" in _said_of(knowledge, kind, row)) is not left_out
        assert all(f"\n#   {prop.id} = " in text for text in _files(kind)), "every head tells it"
        assert f"    {prop.id}: " in HOME.joinpath("rows.py").read_text(encoding="utf-8")
    for module in prop.read_by:
        asked = "carrier" if prop.id in shape.CARRIERS else prop.id  # a carrier's level is asked for by its name
        assert asked in _names_in(module), f"{module} does not read it"
    for prefix, given in (("zone", prop.zone), ("option", prop.option), ("support", prop.support)):
        assert not given or f"{prefix}.{prop.id}" in vocabulary(knowledge)
    assert f"| `{prop.id}` |" in HOME.parent.joinpath("DEVELOPERS.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("row", [*KNOWLEDGE.facts.values(), *KNOWLEDGE.questions.values()], ids=lambda r: r.id)
def test_who_is_said_to_read_a_fact_or_an_answer_does(row: Any) -> None:
    for module in row.read_by:
        assert row.id.removeprefix("zone.") in _names_in(module), f"{module} does not read it"


PIECES = (
    {
        "piece": "wood",
        "support": ["softwood"],
        "wood_features": ["knots"],
        "laid_on": ["glitter"],
        "media": ["watercolour"],
    },
    {"piece": "collage", "support": ["tissue_paper"], "mounted": "plywood", "laid_on": ["pressed_flowers"]},
    {"piece": "cast", "laid_on": ["shell", "fresh_flowers"]},
    {"piece": "photo", "support": ["photo_glossy"], "media": ["photo_print"]},
)


def test_every_fact_is_made_by_someone(knowledge: Knowledge) -> None:
    """What zones, options, needs and the decided piece have, over a few pieces, is what the table says; no more."""
    made: set[str] = set()
    for told in PIECES:
        around = settled(knowledge, answers_of(knowledge, told))
        decision, facts = decide_from(knowledge, around)
        made |= {f"zone.{name}" for zone in decision.zones for name, _ in zone.facts} | set(facts)
    declared = {name: known for name, known in vocabulary(knowledge).items() if known.at in ("zone", "answer", "piece")}
    assert {name for name in made if name.startswith("zone.")} <= set(declared)
    unmade = {name for name in declared if name not in made and name not in knowledge.questions}
    assert unmade == set()


COMES_FROM = (  # whose facts, which one, the answers behind it
    ("laid_glitter", "zone.loose", ("laid_on",)),
    ("laid_glitter", "zone.surface", ("laid_on",)),
    ("laid_glitter", "zone.held", ("held",)),
    ("front", "zone.loose", ("support", "media")),
    ("front", "zone.brush", ("support", "sturdiness")),
    ("mount_sides", "zone.air", ("mounted",)),
    ("edges", "zone.opened", ("opened",)),
    ("front", "need.absorption", ("support",)),
)


@pytest.mark.parametrize(("zone", "fact", "answers"), COMES_FROM)
def test_a_fact_comes_from_the_answers_that_made_it(
    knowledge: Knowledge, zone: str, fact: str, answers: tuple[str, ...]
) -> None:
    told = {"piece": "collage", "support": ["tissue_paper"], "mounted": "plywood", "laid_on": ["glitter"]}
    made = decide_from(knowledge, settled(knowledge, answers_of(knowledge, told)))[0].zones
    assert answers_behind(vocabulary(knowledge), [fact], next(z for z in made if z.id == zone)) == answers


def test_no_finding_of_a_thing_rests_on_what_names_others(knowledge: Knowledge) -> None:
    told = {"piece": "collage", "support": ["tissue_paper"], "mounted": "plywood", "laid_on": ["glitter"]}
    decision = decide_from(knowledge, settled(knowledge, answers_of(knowledge, told)))[0]
    for verdict in (v for v in decision.verdicts if v.zone == "laid_glitter"):
        for found in verdict.findings:
            assert found.because and not set(found.because) & {"support", "media", "mounted"}, found


def test_every_kind_of_row_that_bears_properties_is_made_from_the_table() -> None:
    assert {kind for prop in PROPERTIES for kind in prop.of} == set(BEARERS)
    assert all(_files(kind) for kind in BEARERS)


def test_making_everything_anew_changes_nothing() -> None:
    for path, text in derived():
        assert path.read_text(encoding="utf-8") == text, f"{path.name}: run python -m knowledge.deriving"


def _findings(part: Any) -> Iterator[Finding]:
    if isinstance(part, Finding):
        yield part
    elif dataclasses.is_dataclass(part):
        for field in dataclasses.fields(part):
            yield from _findings(getattr(part, field.name))
    elif isinstance(part, tuple):
        for one in part:
            yield from _findings(one)


@pytest.mark.parametrize("told", PIECES, ids=lambda p: p["piece"])
def test_every_finding_names_answers_there_are(knowledge: Knowledge, told: dict[str, Any]) -> None:
    """Rules that read a property of the sealer alone rest on no answer; all others do."""
    plan = make_plan(knowledge, answers_of(knowledge, told))
    parts = (plan.verdicts, plan.treatments, plan.barred, plan.no_ways, plan.outlets, plan.notes)
    found = [f for part in parts for f in _findings(part)]
    assert found
    for finding in found:
        assert set(finding.because) <= knowledge.questions.keys(), finding
        rule = knowledge.needs.get(finding.rule) or knowledge.bars.get(finding.rule)
        reads = {known.at for name in rule.when.names() if (known := vocabulary(knowledge)[name])} if rule else set()
        assert finding.because or not reads - {"option"}, finding
