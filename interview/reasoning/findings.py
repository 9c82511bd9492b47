"""From a rule that held to a finding: its words, its basis, and the answers it rests on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import lru_cache
from typing import Any

from interview.plan.parts import Basis, Finding, Zone
from knowledge.loading import Knowledge
from knowledge.shape import Row
from knowledge.vocabulary import Known, vocabulary

_TRIALS = ("drop_result", "resin_drop_result", "rub_result", "coupon_result", "swab_clean", "swab_colour")
_NOT_TRIED: tuple[Any, ...] = (None, "none", frozenset(), frozenset(("none",)))
_NAMED_BY = ("support", "media", "laid_on")


def finding(
    knowledge: Knowledge, rule: Row, says: str, because: Iterable[str], facts: Mapping[str, Any], zone: Zone | None
) -> Finding:
    """`because`: names of the facts that held, as they stand in `facts`. What a trial has shown rests on the trial."""
    known = vocabulary(knowledge)
    names = tuple(n for n in dict.fromkeys(because) if n in known)
    shown = any(facts.get(n) not in _NOT_TRIED for n in names if known[n].comes_from[:1] in _SHOWN)
    basis = Basis("your trial") if shown else Basis(rule.basis, rule.source, rule.locator)
    return Finding(rule.id, says, basis, answers_behind(known, names, zone))


_SHOWN = tuple((question,) for question in _TRIALS)


def answers_behind(known: Mapping[str, Known], names: Iterable[str], zone: Zone | None) -> tuple[str, ...]:
    """The questions that these facts come from, in order, each once. `zone`: whose facts they are, if a zone's."""
    found: list[str] = []
    for name in names:
        thing = zone is not None and zone.kind == "inclusion"
        for question in known[name].of_things if thing and known[name].of_things else known[name].comes_from:
            found += naming(zone) if question == "stuff" else (question,)
    return tuple(dict.fromkeys(found))


def naming(zone: Zone | None) -> tuple[str, ...]:
    """The question whose answer names what the zone is made of."""
    if zone is None:
        return _NAMED_BY
    return ("laid_on",) if zone.kind == "inclusion" else ("mounted",) if zone.body == "mount" else ("support",)


def zone_facts(zone: Zone, others: Mapping[str, Any] | None = None) -> dict[str, Any]:
    """What the rules read: `zone.<fact>` and whatever else is given."""
    return {**(others or {}), **_own_facts(zone)}


@lru_cache(maxsize=8192)
def _own_facts(zone: Zone) -> Mapping[str, Any]:
    return {f"zone.{name}": value for name, value in zone.facts}


def only(zone: Zone, reads: frozenset[str], id: str) -> Zone:
    """The zone with no other facts than those that some rules read, by which what they say of it can be kept."""
    return replace(zone, id=id, facts=tuple(pair for pair in zone.facts if pair[0] in reads))


def read_by(rules: Iterable[Any]) -> frozenset[str]:
    """The facts of a zone that these rules read, without "zone."."""
    names = frozenset().union(*(rule.when.names() for rule in rules))
    return frozenset(name.removeprefix("zone.") for name in names if name.startswith("zone."))


def fill(says: str, zone: Zone) -> str:
    """Put the zone's own words into a rule's sentence. {Zone} and {What} begin a sentence.

    A hand-made fill: what a person typed is never run as a template. The names here are the knowledge's own.
    """
    why = next((str(value) for name, value in zone.facts if name == "stop_why"), "")
    words = {"{zone}": zone.name, "{what}": zone.what, "{stop}": why}
    for mark, word in words.items():
        says = says.replace(mark, word).replace(mark.title(), word[:1].upper() + word[1:])
    return says
