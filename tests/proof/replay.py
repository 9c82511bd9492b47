"""Every step of a finished plan replayed on the piece by someone who has not read how it was made.

Written from invariants 1 to 4 and 9 of the map and from what rows are, not from the rehearsal or its rules: its own
states, its own short list of what spoils what. 1 no brush, wipe or dip where something smudges, sheds, tears or breaks;
2 no liquid that dissolves what is there; 3 nothing done that a layer cannot bear as it is then; 4 dry before the next
thing comes over it; 9 in an order that can be kept.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from interview.plan.parts import Decision, Step, Zone
from interview.text.minutes import minutes
from knowledge.loading import Knowledge

LIQUIDS = ("water", "alcohol", "hydrocarbon", "strong")
TABLES = {"material": "materials", "medium": "media", "inclusion": "inclusions"}
BREAKS = ("crushes", "sheds", "tears", "curls", "varies")
ON_ALL = ("front", "part", "gaps", "seams", "edges", "features", "inclusion")
FLAMMABLE = (
    "paper",
    "wood",
    "cloth",
    "canvas",
    "board",
    "jigsaw",
    "photo",
    "plastic",
    "botanical",
    "animal",
    "food",
    "wax",
)


@dataclass
class Body:
    """One zone as it stands at some moment."""

    zone: Zone
    wet: set[str] = field(default_factory=set)  # damp, fresh
    held: bool = False  # something that tacks has dried on it
    film: bool = False  # a film that keeps liquids out has dried on it
    hidden: bool = False  # glued down, nobody comes to it


def faults(
    knowledge: Knowledge, decision: Decision, steps: tuple[Step, ...], facts: Mapping[str, Any]
) -> Iterator[str]:
    """Everything that would go wrong, step by step."""
    bodies = {z.id: Body(z, {w for w in ("damp", "fresh") if w in z.ids("dry")}) for z in decision.zones}
    given = {"cast": facts.get("piece") == "cast", "shown": set(facts.get("swab_clean", ()))}
    seen: set[str] = set()
    for place, step in enumerate(steps):
        if any(before not in seen for before, _, _ in step.after):
            yield f"9: {step.id} leans on a step that has not been"
        seen.add(step.id)
        for id in step.does:
            for body in _under(knowledge, step, bodies):
                yield from _one(knowledge, step, id, body, bodies, given)
        _leave(knowledge, step, steps[place + 1 :], bodies)


def _under(knowledge: Knowledge, step: Step, bodies: Mapping[str, Body]) -> list[Body]:
    if step.zones:
        return [bodies[z] for z in step.zones]
    name = step.id.partition(".")[2]
    on = knowledge.steps[name].on if name in knowledge.steps else ()
    if on:
        return [b for b in bodies.values() if b.zone.kind in on]
    if step.kind in ("prepare", "flatten", "trial"):
        return [b for b in bodies.values() if b.zone.kind in ON_ALL]
    return [b for b in bodies.values() if b.zone.word("reached") != "no"]


def _one(
    knowledge: Knowledge, step: Step, id: str, body: Body, bodies: Mapping[str, Body], given: Mapping[str, Any]
) -> Iterator[str]:
    """One action on one zone."""
    action = knowledge.actions[id]
    liquid = knowledge.sealers[step.sealer].carrier if action.liquid == "carrier" and step.sealer else action.liquid
    if body.hidden:
        if step.kind == "seal":
            yield f"3: {step.id} comes to {body.zone.id}, which is glued down already"
        return
    if step.kind in ("seal", "pour") and body.wet and action.liquid in ("carrier", "resin") and action.wet:
        yield f"4: {step.id} comes over {body.zone.id} while it is {' and '.join(sorted(body.wet))}"
    for table, row in _rows(knowledge, body.zone):
        if (step.spares or action.keeps_off) and table != "material":
            continue
        state = bodies.get(f"laid_{row.id}", body) if table == "inclusion" else body
        for why in _spoils(knowledge, step, action, liquid, table, row, state, given):
            yield f"{why} ({step.id}, {id}, {row.id} on {body.zone.id})"


def _rows(knowledge: Knowledge, zone: Zone) -> Iterator[tuple[str, Any]]:
    for table, id in sorted(zone.wets):
        if zone.kind != "inclusion" or (table == "inclusion" and zone.id == f"laid_{id}"):
            yield table, getattr(knowledge, TABLES[table])[id]


def _spoils(
    knowledge: Knowledge,
    step: Step,
    action: Any,
    liquid: str,
    table: str,
    row: Any,
    body: Body,
    given: Mapping[str, Any],
) -> Iterator[str]:
    coat = step.kind == "seal"
    shown = body.zone.word("rub") == "clean"
    drawn = table == "medium" and row.id not in ("no_medium", "unsure")
    powder = table == "medium" and row.loose >= 2
    wet = action.wet if liquid in (*LIQUIDS, "resin") else 0
    if not body.held and powder and (action.rub or action.press or action.blast >= 2):
        yield "1: loose powder is touched or blown at before it is fixed"
    if not body.film and table == "medium" and row.smudge >= 2 and action.rub >= 2:
        yield "1: what smudges is rubbed before it is sealed"
    if not body.film and not coat and not shown and drawn and row.smudge and wet and action.rub >= 2:
        yield "1: what may smudge is wiped wet"
    if (
        table == "inclusion"
        and not given["cast"]
        and row.brush == "crushes"
        and row.air >= 2
        and (action.rub or action.press)
        and action.id not in ("dot_glue", "dot_resin")  # set down with a fingertip: it presses on the face below
    ):
        yield "1: something that breaks is touched"
    if (
        table == "material"
        and not body.film
        and not coat
        and row.brush in ("tears", "crushes", "sheds")
        and wet
        and action.rub
    ):
        yield "1: what tears wet is wiped wet"
    if liquid in LIQUIDS and wet and not body.film:
        worst = 0 if coat and row.id in knowledge.sealers[step.sealer].made_for else getattr(row, liquid)
        its_purpose = liquid == "hydrocarbon" and getattr(row, "clean", "") == step.id.split(".")[1]
        if worst == 2 and not its_purpose:
            yield f"2: {liquid} dissolves it"
        if worst == 1 and not coat and liquid not in given["shown"] and not its_purpose and step.does:
            yield f"2: {liquid} may move it, and nobody tried"
    yield from _worn(action, table, row, body, drawn)


def _worn(action: Any, table: str, row: Any, body: Body, drawn: bool) -> Iterator[str]:
    family = getattr(row, "family", "")
    if action.wet >= 3 and action.liquid == "water" and family in ("paper", "photo", "jigsaw", "board", "leather"):
        yield "3: paper is soaked"
    if drawn and (action.strip >= 2 or action.rub >= 3):
        yield "3: an image is scrubbed or abraded"
    if not body.film and table == "medium" and row.loose >= 1 and action.strip:
        yield "3: tape or abrasive on what sheds"
    if getattr(row, "heat", 0) == 2 and action.celsius >= 50:
        yield "3: heat on what melts or turns early"
    if getattr(row, "heat", 0) >= 1 and action.celsius > 60:
        yield "3: heat on what softens below 70 degrees"
    if getattr(row, "waxy", 0) and action.celsius >= 45:
        yield "3: warmth on wax"
    if action.celsius > 150 and family in FLAMMABLE:
        yield "3: a flame on what burns"
    if body.wet & {"fresh"} and table == "medium" and row.dry.high > 0 and (action.rub or action.press or action.strip):
        yield "3: wet paint is touched"


def _leave(knowledge: Knowledge, step: Step, later: tuple[Step, ...], bodies: dict[str, Body]) -> None:
    """What a step leaves behind once its wait is over."""
    if step.kind == "seal":
        mine = step.id.rpartition(".")[0]
        if not any(s.id.rpartition(".")[0] == mine for s in later):
            sealer = knowledge.sealers[step.sealer]
            fronts = {bodies[z].zone.body for z in step.zones if bodies[z].zone.kind == "front"}
            over = [b for b in bodies.values() if b.zone.kind == "inclusion" and b.zone.body in fronts]
            for body in (*(bodies[z] for z in step.zones), *(over if sealer.method == "spray" else ())):
                body.held |= bool(sealer.tacks or sealer.barrier)
                body.film |= bool(sealer.barrier)
        return
    rule = knowledge.preparations.get(step.id.split(".")[1]) if step.kind in ("prepare", "flatten") else None
    if rule is None:
        return
    if rule.makes == "dry":
        _dry(step, bodies)
    for body in bodies.values():
        body.hidden |= body.zone.kind in rule.covers and body.zone.body == "sheet"


def _dry(step: Step, bodies: Mapping[str, Body]) -> None:
    whole = {bodies[z].zone.body for z in step.zones if bodies[z].zone.kind == "front"}
    for body in bodies.values():
        same = body.zone.kind != "inclusion" and body.zone.body in whole
        if not step.zones:
            body.wet.discard("damp")
        elif body.zone.id in step.zones or same:
            body.wet.discard("fresh")


def order_faults(knowledge: Knowledge, steps: tuple[Step, ...]) -> Iterator[str]:
    """4 and 9 by the clock: nothing is poured before every sealer is dry through."""
    ends: dict[str, float] = {}
    begins: dict[str, float] = {}
    for step in steps:
        begins[step.id] = max((ends.get(b, 0.0) + least for b, least, _ in step.after), default=0.0)
        ends[step.id] = begins[step.id] + step.hands_on
    first = min((begins[s.id] for s in steps if s.kind == "pour"), default=None)
    for step in steps:
        last = step.kind == "seal" and not any(
            s.id.rpartition(".")[0] == step.id.rpartition(".")[0] for s in steps[steps.index(step) + 1 :]
        )
        if (
            first is not None
            and last
            and first < ends[step.id] + minutes(knowledge.sealers[step.sealer].ready)[0] - 1e-6
        ):
            yield f"4: the pour comes before {step.id} is dry through"
