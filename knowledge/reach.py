"""What can never come to anything: a column or an answer that nobody reads, a condition that no row can meet."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from knowledge import shape
from knowledge.conditions import Condition, Leaf, Opposite
from knowledge.loading import SHELVES, Fault, Knowledge
from knowledge.vocabulary import STAGES, Known, vocabulary

_NAMED = re.compile(r"\{([\w.]+)\}")
_VIEWS = ("zone", "option", "support", "layer")  # how rules see a property of a row: zone.drink
_BEARERS = ("materials", "inclusions", "media", "sealers", "methods")


def conditions(row: Any) -> Iterator[Condition]:
    """Every condition of a row."""
    if hasattr(row, "when"):
        yield row.when
    for part in (*getattr(row, "choices", ()), *getattr(row, "wordings", ())):
        yield part.when


def leaves(condition: Condition) -> Iterator[Leaf]:
    """Every single comparison of a condition."""
    if isinstance(condition, Leaf):
        yield condition
        return
    for part in (condition.part,) if isinstance(condition, Opposite) else condition.parts:
        yield from leaves(part)


def stages_of(row: Any, kind: str) -> frozenset[shape.Stage]:
    """What is at hand where this rule is asked."""
    if isinstance(row, shape.Question) and row.part in ("piece", "trials"):
        return frozenset(("answer",))
    if isinstance(row, shape.TrialRule | shape.Preparation) and row.per == "piece":
        return frozenset(("answer", "piece"))
    if isinstance(row, shape.Remark):
        return frozenset(("answer",)) if row.after else frozenset(("zone", "need"))
    return STAGES.get(kind, frozenset())


def reach_faults(knowledge: Knowledge) -> Iterator[Fault]:
    """Everything that is written down in vain."""
    read = _read(knowledge)
    yield from _unread(knowledge, read)
    yield from _unmade(knowledge)
    yield from _unreachable(knowledge)
    yield from _twice(knowledge)


def _rules(knowledge: Knowledge) -> Iterator[Any]:
    for shelf in dict.fromkeys(SHELVES.values()):
        yield from getattr(knowledge, shelf).values()


def _read(knowledge: Knowledge) -> frozenset[str]:
    """Every name that some condition reads, or a question's text."""
    read = {name for row in _rules(knowledge) for when in conditions(row) for name in when.names()}
    texts = [text for row in knowledge.questions.values() for text in (row.text, *(w.text for w in row.wordings))]
    return frozenset(read | {name for text in texts for name in _NAMED.findall(text)})


def _unread(knowledge: Knowledge, read: frozenset[str]) -> Iterator[Fault]:
    by_rows = {rule.how_of for rule in knowledge.preparations.values()}
    for prop in knowledge.properties.values():
        seen = any(f"{view}.{prop.id}" in read for view in _VIEWS)
        if not (seen or prop.read_by or prop.id in by_rows):
            yield Fault(
                prop.origin, prop.id, "is a property that nobody reads; give it a rule or a reader, or take it away"
            )
    for fact in knowledge.facts.values():
        if fact.id not in read and not fact.read_by:
            yield Fault(fact.origin, fact.id, "is a fact that nobody reads; give it a rule, or take it away")
    known = vocabulary(knowledge)
    used = {question for name in read if name in known for question in _behind(known[name])}
    used |= {q for fact in knowledge.facts.values() if fact.read_by for q in fact.comes_from}
    for question in knowledge.questions.values():
        if question.id not in used and not question.read_by and not question.rows:
            yield Fault(
                question.origin, question.id, "is a question whose answer no rule reads; say who does: read_by = [...]"
            )


def _behind(known: Known) -> Iterable[str]:
    return (*known.comes_from, *known.of_things)


def _unmade(knowledge: Knowledge) -> Iterator[Fault]:
    """Facts said to come from questions that there are not."""
    for fact in knowledge.facts.values():
        for question in (*fact.comes_from, *fact.of_things):
            if question != "stuff" and question not in knowledge.questions:
                yield Fault(
                    fact.origin, fact.id, f"is said to come from the question '{question}', which is in no file"
                )


def _unreachable(knowledge: Knowledge) -> Iterator[Fault]:
    """Conditions that ask of a property what no row has."""
    borne = {prop.id: _borne(knowledge, prop) for prop in knowledge.properties.values()}
    for row in _rules(knowledge):
        for when in conditions(row):
            for leaf in leaves(when):
                view, _, name = leaf.of.partition(".")
                if view in _VIEWS and name in borne and borne[name] and not _met(leaf, borne[name]):
                    says = f"'when' asks for {leaf.of} {leaf.test.replace('_', ' ')} {leaf.value!r}, which no row has"
                    yield Fault(row.origin, row.id, says)


def _borne(knowledge: Knowledge, prop: shape.Property) -> frozenset[Any]:
    """The values that rows have. Nothing for words."""
    if prop.type not in ("level", "one", "id"):
        return frozenset()
    rows = (row for shelf in _BEARERS for row in getattr(knowledge, shelf).values())
    return frozenset(value for row in rows if (value := getattr(row, prop.id, None)) is not None)


def _met(leaf: Leaf, borne: frozenset[Any]) -> bool:
    if leaf.test == "among":
        return all(value in borne for value in leaf.value)
    if leaf.test == "is":
        return leaf.value in borne
    levels = [value for value in borne if isinstance(value, int)]
    return not levels or (max(levels) >= leaf.value if leaf.test == "at_least" else min(levels) <= leaf.value)


def _twice(knowledge: Knowledge) -> Iterator[Fault]:
    """One id on two shelves: a zone names all its rows in one set."""
    seen: dict[str, str] = {}
    for shelf in _BEARERS:
        for id, row in getattr(knowledge, shelf).items():
            if id in seen and not row.members:
                yield Fault(row.origin, id, f"is the id of a row in {seen[id]}, too; give it one of its own")
            seen[id] = row.origin
        yield from _same_words(getattr(knowledge, shelf))


def _same_words(rows: Mapping[str, Any]) -> Iterator[Fault]:
    """Words are read in free sentences: on one shelf no word may stand for two rows."""
    seen: dict[str, str] = {}
    for row in rows.values():
        for word in dict.fromkeys((row.name.lower(), *getattr(row, "also", ()))):
            if word in seen:
                yield Fault(row.origin, row.id, f"has the word '{word}', which already names {seen[word]}")
            seen[word] = row.id
