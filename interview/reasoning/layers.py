"""The layers of a piece: each body of one stuff on each zone, and what it cannot bear until when."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from interview.plan.parts import Basis, Zone
from knowledge.acting import Hazard, Until
from knowledge.loading import Knowledge

TABLES = {"material": "materials", "medium": "media", "inclusion": "inclusions", "adhesive": "adhesives"}
NOT_DRAWN = ("no_medium", "unsure")


@dataclass(frozen=True, slots=True)
class Layer:
    """One body of one stuff. `zone`: the zone it is met on; `home`: the zone whose state it has."""

    table: str
    id: str
    zone: str
    home: str


@dataclass(frozen=True, slots=True)
class Limit:
    """What a layer cannot bear: so much of `of`, until then. `rule`: the rule or row that says so."""

    rule: str
    of: Hazard
    least: int
    until: Until
    says: str
    basis: Basis


def layers_of(zone: Zone, zones: Mapping[str, Zone]) -> Iterator[Layer]:
    """What lies in a zone, then what lies on it. A thing laid on has the state of its own zone."""
    for table, id in sorted(zone.wets):
        laid = f"laid_{id}" if table == "inclusion" else ""
        if zone.kind == "inclusion" and laid != zone.id:
            continue  # the face round it, and what else lies there: they have zones of their own
        yield Layer(table, id, zone.id, laid if laid in zones else zone.id)


@lru_cache(maxsize=4096)
def limits_of(knowledge: Knowledge, table: str, id: str, cast: bool, rub: str = "none") -> tuple[Limit, ...]:
    """Everything a row cannot bear, by rules on its properties and by its own column. `rub`: what a dry rub showed."""
    row = getattr(knowledge, TABLES[table])[id]
    facts = layer_facts(knowledge, table, row, cast, rub)
    found = [
        Limit(r.id, r.of, r.least, r.until, _says(r.says, row), Basis(r.basis, r.source, r.locator))
        for r in knowledge.limits.values()
        if r.when.holds(facts)
    ]
    own = (Limit(row.id, c.of, c.least, c.until, _says(c.says, row), Basis(c.basis)) for c in row.cannot)
    return (*found, *own)


def layer_facts(knowledge: Knowledge, table: str, row: Any, cast: bool, rub: str) -> dict[str, Any]:
    """What rules on limits read of a row: its properties, a level it does not bear as 0, and what it is."""
    facts: dict[str, Any] = {
        f"layer.{p.id}": getattr(row, p.id, 0 if p.type == "level" else False if p.type == "flag" else "")
        for p in knowledge.properties.values()
        if p.type in ("level", "flag", "one")
    }
    dry = getattr(row, "dry", None)
    return facts | {
        "layer.table": table,
        "layer.family": getattr(row, "family", "unknown"),
        "layer.flat": getattr(row, "air", 0) <= 1,
        "layer.drawn": table == "medium" and row.id not in NOT_DRAWN,
        "layer.dries": dry is not None and dry.high > 0,
        "layer.cast": cast,
        "layer.rub": rub,
    }


def _says(says: str, row: Any) -> str:
    return says.replace("{what}", row.name).replace("{What}", row.name[:1].upper() + row.name[1:])
