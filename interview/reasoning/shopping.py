"""What to get: sealers, resin, gear, each once, with what its label must say."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from interview.parts import Decision, Item
from interview.reasoning.pots import Bought
from knowledge.loading import Knowledge

TOOLS = {"brush": "a soft, wide brush that sheds no hairs", "spray": "drop cloths and a turntable or box to spray on"}


def items(
    knowledge: Knowledge, decision: Decision, facts: Mapping[str, Any], amounts: Sequence[Bought] = ()
) -> tuple[Item, ...]:
    """Sealers first, then the resin, then gear for trials, preparation and pour. No thing twice."""
    made = [
        Item(
            id=f"sealer.{s.id}",
            name=s.name,
            use=f"at hand; {s.plain}" if s.at_hand else s.plain,
            price=s.price,
            look_for=s.look_for,
        )
        for s in (knowledge.sealers[i] for i in dict.fromkeys(t.sealer for t in decision.treatments))
    ]
    made.append(
        Item(
            id="resin",
            name="two-part clear coating resin",
            use="the pour",
            look_for=("made for coating" if facts.get("piece") != "cast" else "made for casting at your depth",),
        )
    )
    made = [_with_amount(item, amounts) for item in made]
    gear: dict[str, str] = {}
    for method in dict.fromkeys(t.method for t in decision.treatments):
        gear.setdefault(TOOLS[method], "sealing")
    for trial in decision.trials:
        for need in knowledge.trials[trial.id].needs:
            gear.setdefault(need, f"trial: {trial.name.lower()}")
    for prep in decision.preps:
        for need in prep.needs:
            gear.setdefault(need, prep.name.lower())
    for rule in knowledge.steps.values():
        if rule.when.holds(facts):
            for need in rule.needs:
                gear.setdefault(need, rule.name.lower())
    made += [Item(id=f"gear.{n}", name=name, use=use) for n, (name, use) in enumerate(gear.items(), 1)]
    return tuple(made)


def _with_amount(item: Item, amounts: Sequence[Bought]) -> Item:
    for one in amounts:
        if one.item == item.id:
            return replace(
                item, amount=one.amount, packs=one.packs, pack=one.pack, price=one.price, figure=one.figure
            )
    return item


def look_for(knowledge: Knowledge, decision: Decision) -> tuple[str, ...]:
    """What every sealer used here must say on its label."""
    lines = [line for t in decision.treatments for line in knowledge.sealers[t.sealer].look_for]
    return tuple(dict.fromkeys(lines))
