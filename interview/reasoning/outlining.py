"""What a plan comes to, without its words: where two answers give the same outline, it does not matter which is given."""

from __future__ import annotations

from typing import Any

from interview.parts import Decision
from interview.reasoning.circumstances import Circumstances
from interview.reasoning.deciding import decide_from
from knowledge.loading import Knowledge


def outline(knowledge: Knowledge, around: Circumstances) -> tuple[Any, ...]:
    """Needs, treatments, work, trials, ways out, and which steps, cautions and remedies are shown. Comparable."""
    decision, facts = decide_from(knowledge, around)
    shown = (*knowledge.steps.values(), *knowledge.cautions.values(), *knowledge.remedies.values())
    return (_decided(decision), tuple(rule.id for rule in shown if rule.when.holds(facts)), facts["treated.cautions"])


def _decided(decision: Decision) -> tuple[Any, ...]:
    return (
        tuple((v.zone, v.reason, v.need) for v in decision.verdicts),
        tuple((t.zones, t.sealer, t.coats_least, t.coats_most, t.reasons, t.first, t.needs_trial) for t in decision.treatments),
        tuple((p.id, p.zones, p.wait) for p in decision.preps),
        tuple((t.id, t.zones) for t in decision.trials),
        tuple((o.id, o.zones) for o in decision.outlets),
        tuple(n.rule for n in decision.notes),
    )
