"""From a rule that held to a finding: its words, its basis, and the answers it rests on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import lru_cache
from typing import Any

from interview.plan.parts import Basis, Finding, Zone
from knowledge.shape import Row

# facts of a zone -> the questions they come from
_COMES_FROM = {
    "surface": ("support", "wood_finish"), "opened": ("opened",), "brush": ("support", "sturdiness"),
    "layers": ("layers",), "hollow": ("hollow",), "held": ("held",), "natural": ("laid_on",),
    "dry": ("dryness", "media_age", "natural_dry"), "features": ("wood_features",), "reached": ("resin_on",),
    "darken": ("darken",), "swab_clean": ("swab_clean",), "swab_colour": ("swab_colour",),
    "drop": ("drop_result",), "rub": ("rub_result",), "coupon": ("coupon_result",), "mounted": ("mounted",),
    "smudge": ("media",), "powdery": ("media",), "ink_lifts": ("media",), "waxy": ("media",), "media": ("media",),
    "form": ("piece",), "carries": ("laid_on",), "moves": ("support", "media", "laid_on"), "swab": ("swab_colour",),
}  # fmt: skip
_TRIAL_FACTS = {"zone.drop", "zone.rub", "zone.coupon", "zone.swab_clean", "zone.swab_colour", "option.swab"}
_NOT_TRIED: tuple[Any, ...] = (None, "none", frozenset(), frozenset(("none",)))


def finding(rule: Row, says: str, because: Iterable[str], facts: Mapping[str, Any]) -> Finding:
    """`because`: names of the facts that held, as they stand in `facts`. What a trial has shown rests on the trial."""
    names = tuple(dict.fromkeys(because))
    shown = any(n in _TRIAL_FACTS and facts.get(n) not in _NOT_TRIED for n in names)
    basis = Basis("your trial") if shown else Basis(rule.basis, rule.source, rule.locator)
    return Finding(rule.id, says, basis, answers_behind(names))


def answers_behind(names: Iterable[str]) -> tuple[str, ...]:
    """The questions that these facts come from, in order, each once."""
    found: list[str] = []
    for name in names:
        if name.startswith(("zone.", "option.", "need.", "front.")):
            plain = name.split(".", 1)[1]
            found += _COMES_FROM.get(plain, ("support",) if name.startswith("zone.") else ())
        else:
            found.append(name.split(".", 1)[0])
    return tuple(dict.fromkeys(found))


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
    words = {"{zone}": zone.name, "{what}": zone.what}
    for mark, word in words.items():
        says = says.replace(mark, word).replace(mark.title(), word[:1].upper() + word[1:])
    return says
