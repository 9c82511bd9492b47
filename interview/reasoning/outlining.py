"""What a plan comes to, without its words: where two answers give the same outline, it does not matter which is given."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from interview.plan.parts import Decision
from interview.reasoning.circumstances import Circumstances
from interview.reasoning.deciding import decide_from
from interview.reasoning.piece import READS
from knowledge.loading import Knowledge


def outline(knowledge: Knowledge, around: Circumstances) -> tuple[Any, ...]:
    """Needs, treatments, work, trials, ways out, and which steps, cautions and remedies are shown.
    Comparable.
    """
    facts = around.facts
    return _outline(knowledge, tuple((n, facts[n]) for n in _reads(knowledge) if n in facts), around.assumed)


@lru_cache(maxsize=8)
def _reads(knowledge: Knowledge) -> tuple[str, ...]:
    """The facts that anything in an outline hangs on: what zones are made from, and what rules read beside zones."""
    shelves = (
        "needs", "bars", "coats", "trials", "preparations", "ways_out", "remarks", "steps", "cautions",
        "remedies", "worries",
    )  # fmt: skip
    rules = [rule for shelf in shelves for rule in getattr(knowledge, shelf).values()]
    names = frozenset().union(*(rule.when.names() for rule in rules))
    return tuple(sorted(names | frozenset(READS)))


@lru_cache(maxsize=4096)
def _outline(knowledge: Knowledge, read: tuple[tuple[str, Any], ...], assumed: frozenset[str]) -> tuple[Any, ...]:
    decision, facts = decide_from(knowledge, Circumstances(dict(read), assumed, ()))
    work = knowledge.steps.values() if decision.pours else ()
    shown = (*work, *knowledge.cautions.values(), *knowledge.remedies.values(), *knowledge.worries.values())
    return (
        _decided(decision),
        tuple(rule.id for rule in shown if rule.when.holds(facts)),
        facts["treated.cautions"],
    )


def _decided(decision: Decision) -> tuple[Any, ...]:
    return (
        tuple((v.zone, v.reason, v.need) for v in decision.verdicts),
        tuple(
            (t.zones, t.sealer, t.coats_least, t.coats_most, t.reasons, t.first, t.needs_trial)
            for t in decision.treatments
        ),
        tuple((p.id, p.zones, p.wait) for p in decision.preps),
        tuple((t.id, t.zones) for t in decision.trials),
        tuple((o.id, o.zones) for o in decision.outlets),
        tuple(n.rule for n in decision.notes),
    )
