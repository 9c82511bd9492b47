"""Answers -> decision: the pure core, without times and amounts. Same answers, same decision."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from interview.plan.answers import Answers
from interview.plan.parts import Decision
from interview.reasoning.circumstances import Circumstances, settled
from interview.reasoning.needs import verdicts
from interview.reasoning.piece import zones
from interview.reasoning.treatments import choose
from interview.reasoning.trials import piece_facts, preparations, trials, zone_views
from knowledge.loading import Knowledge


def decide(knowledge: Knowledge, answers: Answers) -> Decision:
    """What the answers come to; whatever is open is taken on the safe side."""
    return decide_from(knowledge, settled(knowledge, answers))[0]


def decide_from(knowledge: Knowledge, around: Circumstances) -> tuple[Decision, Mapping[str, Any]]:
    """The decision, and the facts about the whole piece that steps, cautions and remedies read."""
    parts = zones(knowledge, around.facts)
    judged = verdicts(knowledge, parts)
    choice = choose(knowledge, {**around.facts, "unsure": around.assumed}, parts, judged)
    facts = piece_facts(knowledge, around.facts, around.assumed, parts, judged, choice)
    views = zone_views(facts, parts, judged, choice)
    decision = Decision(
        zones=parts,
        verdicts=judged,
        treatments=choice.treatments,
        barred=choice.barred,
        preps=preparations(knowledge, facts, views),
        trials=trials(knowledge, facts, views),
        outlets=choice.outlets,
        no_ways=choice.no_ways,
        notes=choice.notes,
    )
    return decision, facts
