"""Zones -> verdicts: for each zone and each of the three reasons, how strong the need is and why."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from interview.plan.parts import Finding, Verdict, Zone
from interview.reasoning.findings import fill, finding, only, read_by, zone_facts
from knowledge.loading import Knowledge
from knowledge.shape import NEEDS, REASONS, Need, NeedRule, Reason


def verdicts(knowledge: Knowledge, zones: tuple[Zone, ...]) -> tuple[Verdict, ...]:
    """Three a zone, in the order of the zones. The front of a body is judged first: the rest may lean on it."""
    made: list[Verdict] = []
    fronts: dict[str, tuple[Need, ...]] = {}
    reads = _reads(knowledge)
    for zone in zones:
        mine = verdicts_for(knowledge, only(zone, reads, zone.id), fronts.get(zone.body, ()))
        if zone.kind == "front":
            fronts[zone.body] = tuple(v.need for v in mine)
        made += mine
    return tuple(made)


@lru_cache(maxsize=8)
def _reads(knowledge: Knowledge) -> frozenset[str]:
    return read_by(knowledge.needs.values()) | {"stop_why"}


@lru_cache(maxsize=8192)
def verdicts_for(knowledge: Knowledge, zone: Zone, front: tuple[Need, ...]) -> tuple[Verdict, ...]:
    """One verdict a reason. `front`: the needs of the front of the same body, where there is one.

    Kept, for the same zones come up again and again; give it a zone with no more facts than need rules read.
    """
    facts = zone_facts(zone, {f"front.{reason}": need for reason, need in zip(REASONS, front, strict=False)})
    return tuple(_verdict(knowledge, zone, reason, facts) for reason in REASONS)


def _verdict(knowledge: Knowledge, zone: Zone, reason: Reason, facts: Mapping[str, Any]) -> Verdict:
    """The strongest of the rules that hold and that no other rule lifts."""
    held = [
        (r, _found(knowledge, r, zone, facts))
        for r in knowledge.needs.values()
        if r.reason == reason and r.when.holds(facts)
    ]
    lifted = {id for rule, _ in held for id in rule.lifts}
    standing = [(r, f) for r, f in held if r.id not in lifted]
    need: Need = min((r.need for r, _ in standing), key=NEEDS.index, default="not needed")
    return Verdict(
        zone.id,
        reason,
        need,
        tuple(f for r, f in standing if r.need == need),
        tuple(f for r, f in held if r.id in lifted),
    )


def _found(knowledge: Knowledge, rule: NeedRule, zone: Zone, facts: Mapping[str, Any]) -> Finding:
    return finding(knowledge, rule, fill(rule.says, zone), rule.when.outcome(facts).because, facts, zone)
