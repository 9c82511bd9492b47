"""Everything that conditions may read: properties of zones, options and supports, facts, and answers.

Made from properties.toml and the questions. The check holds every rule to it, and findings tell by it which answers
they rest on.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from knowledge import shape
from knowledge.loading import SHELVES, Knowledge

# the kind of rule -> what it has at hand
STAGES: Mapping[str, frozenset[shape.Stage]] = {
    "need": frozenset(("zone", "front")),
    "bar": frozenset(("zone", "option")),
    "coats": frozenset(("zone", "option")),
    "preparation": frozenset(("zone", "need", "answer", "piece")),
    "trial": frozenset(("zone", "need", "answer", "piece")),
    "way_out": frozenset(("zone", "answer", "piece", "way_out")),
    "remark": frozenset(("zone", "need", "answer")),
    "limit": frozenset(("layer",)),
    "contradiction": frozenset(("answer",)),
    "worry": frozenset(("answer",)),
    "question": frozenset(("answer", "piece", "number")),
    "step": frozenset(("answer", "piece", "number")),
    "caution": frozenset(("answer", "piece", "number")),
    "remedy": frozenset(("answer", "piece", "number")),
    "advice": frozenset(("answer", "piece", "number")),
}
ALSO: Mapping[str, frozenset[str]] = {"bar": frozenset(("ways", "worries"))}  # and these answers
_LEVEL, _FLAG = "level", "flag"


@dataclass(frozen=True, slots=True)
class Known:
    """One thing that conditions may name. `values`: None where any is possible. `many`: a set of them."""

    at: shape.Stage
    values: tuple[Any, ...] | None
    many: bool
    comes_from: tuple[str, ...]  # question ids; "stuff" for whatever question named the material or thing
    of_things: tuple[str, ...] = ()  # the same of a thing laid on or cast in; left out: no different
    says: str = ""  # what it tells


@lru_cache(maxsize=2)  # asked for each row that is checked, and for each finding
def vocabulary(knowledge: Knowledge) -> Mapping[str, Known]:
    """Every name a condition may have."""
    known = dict(_of_properties(knowledge))
    for fact in knowledge.facts.values():
        many = fact.type in ("several", "ids", "pairs")
        known[fact.id] = Known(
            fact.at, _values(knowledge, fact, known), many, fact.comes_from, fact.of_things, fact.says
        )
    for question in knowledge.questions.values():
        at: shape.Stage = "answer" if question.part in ("piece", "trials") else "number"
        known[question.id] = Known(
            at, _answers(knowledge, question), question.kind == "several", (question.id,), (), question.short
        )
    return known


def values(knowledge: Knowledge) -> Mapping[str, tuple[Any, ...] | None]:
    """Every name a condition may have -> the values it can take; None where any is possible."""
    return {name: known.values for name, known in vocabulary(knowledge).items()}


def _of_properties(knowledge: Knowledge) -> Iterator[tuple[str, Known]]:
    for prop in knowledge.properties.values():
        if prop.type in ("level", "flag", "one") and {"material", "inclusion", "medium"} & set(prop.of):
            yield f"layer.{prop.id}", Known("layer", _values(knowledge, prop, {}), False, ())
        if not (prop.zone or prop.option or prop.support):
            continue
        found = _values(knowledge, prop, {})
        if prop.zone:
            media = "media" if "medium" in prop.of else ""
            source = tuple(s for s in ("stuff" if "inclusion" in prop.of else "", media) if s)
            yield f"zone.{prop.id}", Known("zone", found, prop.zone == "union", source, ("stuff",), prop.says)
        if prop.option:
            yield f"option.{prop.id}", Known("option", found, False, (), (), prop.says)
        if prop.support:
            yield f"support.{prop.id}", Known("answer", found, prop.support == "union", ("support",), (), prop.says)


def _values(
    knowledge: Knowledge, one: shape.Property | shape.Fact, known: Mapping[str, Known]
) -> tuple[Any, ...] | None:
    if one.type == _FLAG:
        return (True, False)
    if one.type == _LEVEL:
        return tuple(range(one.range[0], one.range[1] + 1))
    if one.names:
        return tuple(id for name in one.names for id in named(knowledge, name, known))
    return one.values or None


def named(knowledge: Knowledge, name: str, known: Mapping[str, Known]) -> tuple[Any, ...]:
    """The ids that `names` stands for: those of a shelf, or the values of a fact."""
    return tuple(getattr(knowledge, SHELVES[name])) if name in SHELVES else known[name].values or ()


def _answers(knowledge: Knowledge, question: shape.Question) -> tuple[Any, ...] | None:
    not_tried = ("none",) if question.part == "trials" else ()  # what "not sure" of a trial comes to
    choices = (*(c.id for c in question.choices if c.id not in not_tried), *not_tried)
    rows: tuple[str, ...] = ()
    if question.rows == "mount":
        rows = tuple(m.id for m in knowledge.materials.values() if m.mount)
    elif question.rows:
        rows = tuple(getattr(knowledge, SHELVES[question.rows]))
    return (*rows, *choices) or None


def at_hand(knowledge: Knowledge, kind: str) -> Iterator[str]:
    """One line for each thing that the conditions of such a rule may read: its name, its values, what it tells."""
    for name, known in sorted(vocabulary(knowledge).items()):
        if known.at in STAGES[kind] or name in ALSO.get(kind, ()):
            shown = known.values if known.values and len(known.values) <= _FEW else ()
            yield f"{name}: {known.says}{f' ({_listed(shown)})' if shown else ''}"


_FEW = 12


def _listed(values: tuple[Any, ...]) -> str:
    words = (str(value).lower() if isinstance(value, bool) else str(value) for value in values)
    return " ".join(f"'{word}'" if " " in word else word for word in words)
