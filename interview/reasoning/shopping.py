"""What to get: sealers, resin, gear, each once, with what its label must say."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from interview.plan.parts import Decision, Item
from interview.reasoning.pots import Bought, with_amounts
from knowledge.loading import Knowledge
from knowledge.shape import Advice

WORN = ("nitrile gloves", "eye protection")


def items(
    knowledge: Knowledge, decision: Decision, facts: Mapping[str, Any], amounts: Sequence[Bought] = ()
) -> tuple[Item, ...]:
    """Sealers first, then the resin, then gear for trials, preparation and pour. No thing twice.

    Beside a way out there is no pour yet: then only what the trials need.
    """
    pours = decision.pours
    goods = (*_sealers(knowledge, decision), _resin(knowledge, facts)) if pours else ()
    kept: dict[str, str] = {}
    for name, use in (*_trial_gear(knowledge, decision), *(_work_gear(knowledge, decision, facts) if pours else ())):
        kept.setdefault(name, use)
    return (
        *with_amounts(goods, amounts),
        *(Item(id=f"gear.{n}", name=name, use=use) for n, (name, use) in enumerate(kept.items(), 1)),
    )


def _sealers(knowledge: Knowledge, decision: Decision) -> Iterator[Item]:
    for id in dict.fromkeys(t.sealer for t in decision.treatments):
        s = knowledge.sealers[id]
        use = f"at hand; {s.plain}" if s.at_hand else s.plain
        yield Item(id=f"sealer.{s.id}", name=s.name, use=use, price=s.price, look_for=s.look_for)


def _resin(knowledge: Knowledge, facts: Mapping[str, Any]) -> Item:
    """Which kind the depth and the use ask for stands on its label."""
    lines = advice(knowledge, "resin label", facts)
    return Item(
        id="resin", name="two-part clear coating resin", use="the pour", look_for=tuple(row.says for row in lines)
    )


def advice(knowledge: Knowledge, place: str, facts: Mapping[str, Any]) -> tuple[Advice, ...]:
    """The lines for one place that apply to this piece."""
    return tuple(row for row in knowledge.advice.values() if row.place == place and row.when.holds(facts))


def _trial_gear(knowledge: Knowledge, decision: Decision) -> Iterator[tuple[str, str]]:
    """(thing, what for)"""
    for trial in decision.trials:
        for need in knowledge.trials[trial.id].needs:
            yield need, f"trial: {trial.name.lower()}"


def _work_gear(knowledge: Knowledge, decision: Decision, facts: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """(thing, what for)"""
    for method in dict.fromkeys(t.method for t in decision.treatments):
        for tool in (*knowledge.methods[method].tools, *WORN):
            yield tool, "sealing"
    for prep in decision.preps:
        for need in prep.needs:
            yield need, prep.name.lower()
    for rule in knowledge.steps.values():
        if rule.when.holds(facts):
            for need in rule.needs:
                yield need, rule.name.lower()


def look_for(knowledge: Knowledge, decision: Decision) -> tuple[str, ...]:
    """What every sealer used here must say on its label."""
    lines = [line for t in decision.treatments for line in knowledge.sealers[t.sealer].look_for]
    return tuple(dict.fromkeys(lines))
