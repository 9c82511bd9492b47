"""What a way of sealing reaches besides what it is meant for: mist drifts over its neighbours."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from interview.plan.parts import Treatment, Zone
from interview.reasoning.considered import Chosen, Option, cost

FACE = ("front", "part", "gaps", "seams", "features", "inclusion")


def to_cover(treatment: Treatment, zones: Mapping[str, Zone], treatments: Sequence[Treatment]) -> tuple[Zone, ...]:
    """The neighbours that its mist must not hit: bare, closed or not to be coated, and sealed by nothing."""
    if treatment.method not in ("spray", "mist"):
        return ()
    sealed = {z for t in treatments for z in t.zones}
    beside = (z for z in zones.values() if z.body == treatment.body and z.kind in FACE and z.word("form") != "cast")
    return tuple(z for z in beside if z.id not in sealed and (z.word("surface") == "closed" or z.ids("stop")))


def one_can(chosen: Sequence[Chosen], options: Mapping[str, tuple[Option, ...]]) -> list[Chosen]:
    """What lies on a body is hit by the mist that is put on it: one can for all that is sprayed there, if one suits."""
    made = list(chosen)
    for body in dict.fromkeys(c.zone.body for c in chosen if c.zone.word("form") != "cast"):
        sprayed = [c for c in made if c.zone.body == body and _is_mist(c.links[-1][0])]
        suits = [
            {o.sealer.id: o for o in options[c.zone.id] if all(o.fits(r) for r in c.links[-1][1])} for c in sprayed
        ]
        if len({c.links[-1][0].sealer.id for c in sprayed}) < 2:
            continue
        shared = [id for id in suits[0] if all(id in s for s in suits) and _is_mist(suits[0][id])]
        best = min(shared, key=lambda id: (*max(cost(s[id], ()) for s in suits), id), default=None)
        for one, s in zip(sprayed, suits, strict=True):
            if best is not None:
                made[made.index(one)] = Chosen(one.zone, (*one.links[:-1], (s[best], one.links[-1][1])))
    return made


def _is_mist(option: Option) -> bool:
    return option.sealer.method == "spray" and option.sealer.barrier > 0
