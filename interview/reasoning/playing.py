"""Steps played in order on each layer in its state, before anyone does them. Pure.

A zone is loose or fixed, loose or glued, bare or sealed, damp, fresh (its image or its thing not dry yet) or dry.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from interview.plan.parts import Clash, Decision, Step, Zone
from interview.reasoning.layers import TABLES, Layer, Limit, layers_of, limits_of
from knowledge.loading import Knowledge
from knowledge.rows import Action

State = Mapping[str, frozenset[str]]  # zone -> fixed, glued, sealed, damp, fresh, covered
FACE = ("front", "part", "gaps", "seams", "edges", "features", "inclusion")
COATS = ("seal", "pour")
_WET = ("water", "alcohol", "hydrocarbon", "strong", "resin")
_STAYS_OUT = (*_WET, "wet rub", "soak", "wash", "coat")  # what a closed film keeps from what lies below


@dataclass(frozen=True, slots=True)
class Scene:
    """What is played on. `tried`: the liquids of which a swab stayed clean."""

    knowledge: Knowledge
    decision: Decision
    zones: Mapping[str, Zone]
    cast: bool
    adhesive: str
    tried: frozenset[str]
    lifts: bool  # a sheet that is not mounted, or lifts, or is hollow or only laid on somewhere


@dataclass(frozen=True, slots=True)
class Played:
    """The states after each step, and every clash of the first step that has one."""

    states: tuple[State, ...]
    clashes: tuple[Clash, ...]


def scene(knowledge: Knowledge, decision: Decision, facts: Mapping[str, Any]) -> Scene:
    """The stage set: the piece as it was answered."""
    held = facts.get("adhesive", "") if facts.get("mounted", "no") != "no" else ""
    return Scene(
        knowledge,
        decision,
        {z.id: z for z in decision.zones},
        facts.get("piece") == "cast",
        held if held in knowledge.adhesives else "",
        frozenset(facts.get("swab_clean", ())),
        facts.get("mounted", "no") == "no"
        or facts.get("layers") == "lifted"
        or facts.get("hollow") == "some"
        or facts.get("adhesive") == "laid",
    )


def play(on: Scene, steps: Sequence[Step], past: bool = False) -> Played:
    """Play them; stops at the first step with a clash, unless `past`, then it goes on and gives all clashes."""
    state: State = start(on)
    states: list[State] = []
    clashes: list[Clash] = []
    for place, step in enumerate(steps):
        clashes += clashes_of(on, state, step)
        if clashes and not past:
            break
        state = after(on, state, step, _last_coat(steps, place))
        states.append(state)
    return Played(tuple(states), tuple(clashes))


def start(on: Scene) -> State:
    """Each zone as it lies there."""
    return {z.id: frozenset(_at_first(on, z)) for z in on.zones.values()}


def _at_first(on: Scene, zone: Zone) -> Iterator[str]:
    yield from (s for s in ("damp", "fresh") if s in zone.ids("dry"))
    loose = zone.body == "sheet" and zone.kind != "inclusion" and on.lifts
    if zone.word("held") == "glued" and not loose:
        yield "glued"


# ------------------------------------------------------------------ what a step does to the layers


def clashes_of(on: Scene, state: State, step: Step) -> Iterator[Clash]:
    """Everything this step would spoil, in the state things are in."""
    for id in step.does:
        action = on.knowledge.actions[id]
        liquid = _liquid(on, step, action)
        for zone in reached(on, step, action):
            if "covered" in state[zone.id]:
                yield from [_covered(step, id, zone)] if step.kind == "seal" else ()
                continue
            for layer in _met(on, state, step, action, zone):
                found = min(_broken(on, state, step, action, liquid, layer), key=_telling, default=None)
                if found is not None:
                    yield _clash(step.id, id, layer, found)


def touched(on: Scene, step: Step) -> tuple[Zone, ...]:
    """The zones it is done to: its own, or for work on the whole piece the face and what lies on it."""
    if step.zones:
        return tuple(on.zones[id] for id in step.zones)
    kinds = _kinds(on.knowledge, step)
    if step.kind in ("prepare", "flatten", "trial") and not kinds:
        return tuple(z for z in on.zones.values() if z.kind in FACE)
    return tuple(z for z in on.zones.values() if (z.kind in kinds if kinds else z.word("reached") != "no"))


def reached(on: Scene, step: Step, action: Action) -> tuple[Zone, ...]:
    """Of work on one side: a soak reaches the whole body, and what is tipped or turned over stands on its face."""
    mine = touched(on, step)
    if action.tip:
        faces = [z for z in on.zones.values() if z.kind in FACE and z.word("form") != "cast"]
        return tuple(faces if action.press else dict.fromkeys((*mine, *faces)))
    if _gluing(on, step):
        return tuple(z for z in on.zones.values() if z.kind in ("front", "part"))
    if action.wet < 2 or step.kind not in ("prepare", "flatten") or step.spares:
        return mine
    stuck = {z.body for z in mine if z.kind == "inclusion" and z.word("form") != "cast" and z.word("held") == "glued"}
    soaked = {z.body for z in mine if z.kind != "inclusion" and action.wet > 2} | (stuck if action.wet > 2 else set())
    beside = [z for z in on.zones.values() if z.body in soaked or (z.body in stuck and z.kind in ("front", "part"))]
    return tuple(dict.fromkeys((*mine, *beside)))


def _gluing(on: Scene, step: Step) -> bool:
    """Whether things are set down in glue on the face."""
    things = bool(step.zones) and all(on.zones[z].kind == "inclusion" for z in step.zones)
    return things and _makes(on.knowledge, step) == "glued"


def _kinds(knowledge: Knowledge, step: Step) -> tuple[str, ...]:
    rule = knowledge.steps.get(step.id.partition(".")[2])
    return rule.on if rule is not None and not step.zones else ()


def _liquid(on: Scene, step: Step, action: Action) -> str:
    if action.liquid != "carrier":
        return action.liquid
    return on.knowledge.sealers[step.sealer].carrier if step.sealer else "water"


def _met(on: Scene, state: State, step: Step, action: Action, zone: Zone) -> Iterator[Layer]:
    fixing = step.kind == "seal" and not on.knowledge.sealers[step.sealer].barrier
    for layer in layers_of(zone, on.zones):
        if fixing and layer.id in zone.ids("liftable") and "glued" not in state[layer.home]:
            continue  # taken off meanwhile
        if _gluing(on, step) and layer.table == "inclusion":
            continue  # set into its glue
        if not (step.spares or action.keeps_off) or layer.table == "material":
            yield layer
    of_sheet = zone.kind == "front" and zone.body == "sheet"
    if on.adhesive and of_sheet and (action.depth == "through" or action.celsius) and step.kind != "pour":
        yield Layer("adhesive", on.adhesive, zone.id, zone.id)


def _broken(on: Scene, state: State, step: Step, action: Action, liquid: str, layer: Layer) -> Iterator[Limit]:
    strength = strengths(action, liquid)
    comes_off = _comes_off(on.knowledge, step, layer)
    for limit in limits_of(on.knowledge, layer.table, layer.id, on.cast, on.zones[layer.zone].word("rub")):
        if comes_off and limit.of == "hydrocarbon":
            continue
        if strength.get(limit.of, 0) >= limit.least and _in_force(on, state, step, liquid, layer, limit):
            yield limit


def _telling(limit: Limit) -> tuple[bool, bool, bool, bool]:
    """The reason that tells most comes first: what is not dry, then what no swab clears, then what the liquid does
    before what the touch does, and what is never borne before what is borne in time.
    """
    wet = limit.of in (*_WET, "soak", "wash")
    return limit.until != "dry", limit.until == "tried", not wet, limit.until != "never"


def _comes_off(knowledge: Knowledge, step: Step, layer: Layer) -> bool:
    """Whether the wax or oil of this layer is what the step is there to take off."""
    row = getattr(knowledge, TABLES[layer.table])[layer.id]
    return bool(getattr(row, "clean", "")) and step.id.split(".")[1] == row.clean


def strengths(action: Action, liquid: str) -> dict[str, int]:
    """How much of each it does."""
    wet = liquid in _WET
    return {
        "rub": action.rub,
        "press": action.press,
        "blast": action.blast,
        "strip": action.strip,
        "tip": action.tip,
        "heat": action.celsius,
        "wet rub": action.rub if wet else 0,
        "soak": int(action.wet >= 3 and wet and action.liquid not in ("resin", "carrier")),
        "wash": int(action.wet >= 2 and liquid == "water" and action.rub > 0 and action.liquid != "carrier"),
        "coat": int(action.liquid in ("carrier", "resin")),
        **({liquid: action.wet} if wet else {}),
    }


def _in_force(on: Scene, state: State, step: Step, liquid: str, layer: Layer, limit: Limit) -> bool:
    """Whether the layer still is in a state in which it cannot bear it."""
    reached = state[layer.home]
    if limit.of in _STAYS_OUT and "sealed" in reached and limit.until != "never":
        return False
    if limit.until == "tried":  # a sealer has its own swab; what lies under it is asked there
        return step.kind not in COATS and not (limit.of == liquid and liquid in on.tried)
    if limit.until == "dry":
        return bool(_wet(layer) & reached)
    if limit.of == "wet rub" and step.kind == "seal":
        return False  # whether a sealer may be brushed here was asked when it was chosen
    if limit.until == "glued" and _makes(on.knowledge, step) == "glued":
        return False  # it is pressed into its glue
    if limit.until == "glued" and (("fixed" in reached and _sheds(on.knowledge, layer)) or _in_hand(on, step, layer)):
        return False  # grains and tufts are held by what is sprayed on them
    return limit.until == "never" or limit.until not in reached


def _in_hand(on: Scene, step: Step, layer: Layer) -> bool:
    """Work on a thing itself is done in the hand, wherever it will lie."""
    return step.kind == "prepare" and layer.zone in step.zones and on.zones[layer.zone].kind == "inclusion"


def _sheds(knowledge: Knowledge, layer: Layer) -> bool:
    return getattr(getattr(knowledge, TABLES[layer.table])[layer.id], "brush", "") == "sheds"


def _makes(knowledge: Knowledge, step: Step) -> str:
    """The state that work on the piece leaves: dry, glued or none in particular."""
    mine = step.kind in ("prepare", "flatten")
    rule = knowledge.preparations.get(step.id.split(".")[1]) if mine else None
    return rule.makes if rule is not None else ""


def _wet(layer: Layer) -> frozenset[str]:
    """What keeps a layer from being dry: damp for the stuff itself, fresh for what is drawn on it."""
    return frozenset({"medium": ("fresh",), "inclusion": ("fresh", "damp")}.get(layer.table, ("damp",)))


def _clash(step: str, action: str, layer: Layer, limit: Limit) -> Clash:
    return Clash(
        step, "cannot bear", action, layer.zone, layer.table, layer.id, limit.rule, limit.until, limit.says, limit.basis
    )


def _covered(step: Step, action: str, zone: Zone) -> Clash:
    says = f"{zone.name[:1].upper()}{zone.name[1:]} cannot be reached any more once it is glued down."
    return Clash(step.id, "out of reach", action, zone.id, "", "", "", "never", says, step.basis)


# ------------------------------------------------------------------ the state a step leaves


def after(on: Scene, state: State, step: Step, last: bool) -> State:
    """The states once it is done and its wait is over. `last`: the last coat of its treatment on these zones."""
    if step.kind == "seal":
        return _changed(state, _coated(on, step), _gains(on, step) if last else ())
    if step.kind not in ("prepare", "flatten"):
        return state
    rule = on.knowledge.preparations.get(step.id.split(".")[1])
    if rule is None:
        return state
    if rule.makes == "dry":
        return _dried(on, state, step)
    if rule.makes == "glued":
        mine = [z.id for z in touched(on, step) if z.kind != "inclusion" or step.zones]
        state = _changed(state, mine, ("glued",))
    return _changed(
        state, [z.id for z in on.zones.values() if z.kind in rule.covers and z.body == "sheet"], ("covered",)
    )


def _coated(on: Scene, step: Step) -> Iterator[str]:
    """A spray on the front takes in what lies on it."""
    yield from step.zones
    bodies = {on.zones[z].body for z in step.zones if on.zones[z].kind == "front"}
    if on.knowledge.sealers[step.sealer].method == "spray":
        yield from (z.id for z in on.zones.values() if z.kind == "inclusion" and z.body in bodies)


def _gains(on: Scene, step: Step) -> Iterator[str]:
    sealer = on.knowledge.sealers[step.sealer]
    if sealer.tacks or sealer.barrier:
        yield "fixed"
    if sealer.barrier:
        yield "sealed"


def _dried(on: Scene, state: State, step: Step) -> State:
    """Drying the whole piece takes the damp out of it; drying an image or a thing, what was fresh there."""
    gone = "fresh" if step.zones else "damp"
    bodies = {on.zones[z].body for z in step.zones if on.zones[z].kind == "front"}
    dry = {z.id for z in on.zones.values() if not step.zones or z.id in step.zones or _same(z, bodies)}
    return {id: have - {gone} if id in dry else have for id, have in state.items()}


def _same(zone: Zone, bodies: Iterable[str]) -> bool:
    return zone.kind != "inclusion" and zone.body in bodies


def _changed(state: State, zones: Iterable[str], gains: Iterable[str]) -> State:
    gained = frozenset(gains)
    return state | {id: state[id] | gained for id in zones} if gained else state  # type: ignore[operator]


def _last_coat(steps: Sequence[Step], place: int) -> bool:
    """Whether no further coat of the same treatment follows on the same side."""
    mine = steps[place].id.rpartition(".")[0]
    return not any(s.id.rpartition(".")[0] == mine for s in steps[place + 1 :])
