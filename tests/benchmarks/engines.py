"""The same rules in our conditions and in two general rule engines, as each is best used.

A fair common part: the need rules for absorption over the zones of all pieces of the trade's table, every
fact known. All three must come to the same rules, zone by zone, or nothing is measured.
"""

from __future__ import annotations

import importlib.util
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from knowledge.conditions import Condition, Either, Leaf, Opposite
from knowledge.loading import Knowledge, load
from knowledge.vocabulary import vocabulary

Facts = Mapping[str, Any]
Held = list[list[str]]
_SETS = frozenset(name for name, known in vocabulary(load()).items() if known.many)


def common_part(knowledge: Knowledge) -> tuple[list[Any], list[Facts]]:
    """The rules, and the facts of each zone with the need of its front taken as required."""
    from interview.reasoning.circumstances import settled
    from interview.reasoning.findings import zone_facts
    from interview.reasoning.piece import zones
    from tests.test_trade import TABLE, answers_of

    rules = [r for r in knowledge.needs.values() if r.reason == "absorption"]
    read = frozenset().union(*(r.when.names() for r in rules))
    facts = [
        {n: v for n, v in {**zone_facts(zone), "front.absorption": "required"}.items() if n in read}
        for case in TABLE["case"]
        for zone in zones(knowledge, settled(knowledge, answers_of(knowledge, case["answers"])).facts)
    ]
    return rules, facts


def contenders(rules: Sequence[Any], facts: Sequence[Facts]) -> Iterator[tuple[str, Callable[[], Held]]]:
    """Ours first; then each engine that is installed."""
    yield "ours", lambda: [[r.id for r in rules if r.when.holds(f)] for f in facts]
    if importlib.util.find_spec("zen"):
        yield "zen-engine, one graph a zone", _zen_graph(rules, facts)
        yield "zen-engine, compiled expressions", _zen_expressions(rules, facts)
    if importlib.util.find_spec("clips"):
        yield "clipspy, one fact a zone", _clips(rules, facts)


# ------------------------------------------------------------------ zen-engine


def _zen_expressions(rules: Sequence[Any], facts: Sequence[Facts]) -> Callable[[], Held]:
    """Each rule an expression, compiled once, evaluated on its own."""
    import zen

    compiled = {r.id: zen.compile_expression(_expression(r.when)) for r in rules}
    told = [_flat(f) for f in facts]
    return lambda: [[id for id, rule in compiled.items() if rule.evaluate(f) is True] for f in told]


def _zen_graph(rules: Sequence[Any], facts: Sequence[Facts]) -> Callable[[], Held]:
    """All rules in one expression node of one graph, compiled once, evaluated once a zone."""
    import json

    import zen

    node = {"expressions": [{"id": r.id, "key": r.id, "value": _expression(r.when)} for r in rules]}
    kinds = [("in", "inputNode", {}), ("rules", "expressionNode", node), ("out", "outputNode", {})]
    graph = {
        "nodes": [{"id": i, "name": i, "type": t, "content": c, "position": {"x": 0, "y": 0}} for i, t, c in kinds],
        "edges": [
            {"id": "a", "sourceId": "in", "targetId": "rules", "type": "edge"},
            {"id": "b", "sourceId": "rules", "targetId": "out", "type": "edge"},
        ],
    }
    decision = zen.ZenEngine().create_decision(json.dumps(graph))
    told = [_flat(f) for f in facts]
    return lambda: [[id for id, held in decision.evaluate(f)["result"].items() if held is True] for f in told]


def _flat(facts: Facts) -> dict[str, Any]:
    return {_name(n): sorted(map(str, v)) if isinstance(v, (frozenset, set)) else v for n, v in facts.items()}


def _name(fact: str) -> str:
    return fact.replace(".", "_").replace(" ", "_")


def _expression(condition: Condition) -> str:
    """A condition in the expression language."""
    if isinstance(condition, Leaf):
        name, many = _name(condition.of), condition.of in _SETS
        if condition.test in ("at_least", "at_most"):
            return f"{name} {'>=' if condition.test == 'at_least' else '<='} {condition.value}"
        each = [f"contains({name}, {_word(w)})" if many else f"{name} == {_word(w)}" for w in _wanted(condition)]
        return f"({' or '.join(each)})"
    if isinstance(condition, Opposite):
        return f"not({_expression(condition.part)})"
    joint = " or " if isinstance(condition, Either) else " and "
    return f"({joint.join(map(_expression, condition.parts))})" if condition.parts else "true"


def _wanted(leaf: Leaf) -> tuple[Any, ...]:
    return leaf.value if leaf.test == "among" else (leaf.value,)


def _word(value: Any) -> str:
    return str(value).lower() if isinstance(value, bool) else f'"{value}"' if isinstance(value, str) else str(value)


# ------------------------------------------------------------------ CLIPS


def _clips(rules: Sequence[Any], facts: Sequence[Facts]) -> Callable[[], Held]:
    """One template, one rule of patterns for each of ours; a zone is one fact, and each rule that fires leaves one."""
    import clips

    env = clips.Environment()
    names = sorted(frozenset().union(*(r.when.names() for r in rules)))
    slots = " ".join(f"({'multislot' if n in _SETS else 'slot'} {_clips_name(n)})" for n in names)
    env.build(f"(deftemplate zone {slots})")
    for rule in rules:
        env.build(f"(defrule {rule.id} {_patterns(rule.when)} => (assert (held {rule.id})))")
    template = env.find_template("zone")
    told = [{_clips_name(n): _symbols(clips, v) for n, v in f.items()} for f in facts]

    def run() -> Held:
        made: Held = []
        for slots_ in told:
            env.reset()
            template.assert_fact(**slots_)
            env.run()
            made.append([str(f[0]) for f in env.facts() if f.template.name == "held"])
        return made

    return run


def _clips_name(fact: str) -> str:
    return _name(fact).replace("_", "-")


def _symbols(clips: Any, value: Any) -> Any:
    if isinstance(value, (frozenset, set)):
        return tuple(clips.Symbol(_symbol(v)) for v in sorted(value))
    return value if isinstance(value, int) and not isinstance(value, bool) else clips.Symbol(_symbol(value))


def _symbol(value: Any) -> str:
    return str(value).replace(" ", "-")


def _patterns(condition: Condition) -> str:
    """A condition as patterns of one zone. What must not be in a set is a `not` pattern; the rest are constraints."""
    parts = condition.parts if hasattr(condition, "parts") else (condition,)
    slots, nots = [], []
    for part in parts:
        if isinstance(part, Leaf):
            slots.append(_slot(part, "|".join(map(_symbol, _wanted(part)))))
            continue
        assert isinstance(part, Opposite) and len(part.part.parts) == 1, f"no pattern for {part}"  # type: ignore[union-attr]
        leaf = part.part.parts[0]  # type: ignore[union-attr]
        if leaf.of in _SETS:
            nots.append(f"(not (zone {_slot(leaf, '|'.join(map(_symbol, _wanted(leaf))))}))")
        else:
            slots.append(_slot(leaf, "&".join(f"~{_symbol(w)}" for w in _wanted(leaf))))
    return f"(zone {' '.join(slots)}) {' '.join(nots)}"


def _slot(leaf: Leaf, constraint: str) -> str:
    assert leaf.test in ("is", "among"), f"no pattern for {leaf}"
    name = _clips_name(leaf.of)
    return f"({name} $? {constraint} $?)" if leaf.of in _SETS else f"({name} {constraint})"
