"""Zones -> verdicts: for each zone and each of the three reasons, how strong the need is and why."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from interview.parts import Finding, Verdict, Zone
from interview.reasoning.findings import fill, finding, zone_facts
from knowledge.loading import Knowledge
from knowledge.shape import NEEDS, REASONS, Need, NeedRule, Reason


def verdicts(knowledge: Knowledge, zones: tuple[Zone, ...]) -> tuple[Verdict, ...]:
    """Three a zone, in the order of the zones. The front of a body is judged first: the rest may lean on it."""
    made: list[Verdict] = []
    fronts: dict[str, dict[str, Need]] = {}
    for zone in zones:
        shared = {f"front.{reason}": need for reason, need in fronts.get(zone.body, {}).items()}
        facts = zone_facts(zone, shared)
        mine = [verdict(knowledge, zone, reason, facts) for reason in REASONS]
        if zone.kind == "front":
            fronts[zone.body] = {v.reason: v.need for v in mine}
        made += mine
    return tuple(made)


def verdict(knowledge: Knowledge, zone: Zone, reason: Reason, facts: Mapping[str, Any]) -> Verdict:
    """The strongest of the rules that hold and that no other rule lifts."""
    held: list[tuple[NeedRule, Finding]] = []
    for rule in knowledge.needs.values():
        if rule.reason == reason:
            outcome = rule.when.outcome(facts)
            if outcome.holds:
                held.append((rule, finding(rule, fill(rule.says, zone), outcome.because)))
    lifted = {id for rule, _ in held for id in rule.lifts}
    standing = [(r, f) for r, f in held if r.id not in lifted]
    need = min((r.need for r, _ in standing), key=NEEDS.index, default="not needed")
    return Verdict(
        zone.id,
        reason,
        need,
        tuple(f for r, f in standing if r.need == need),
        tuple(f for r, f in held if r.id in lifted),
    )
