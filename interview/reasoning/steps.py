"""Decision -> steps in order, each with its hands-on time, its wait, and what must come before it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import sqrt
from typing import Any

from interview.plan.parts import Basis, Decision, Prep, Step, Treatment, Trial, Zone
from interview.reasoning.phrasing import worded
from interview.reasoning.reaching import to_cover
from interview.text.minutes import in_words, minutes
from knowledge.acting import Phase
from knowledge.loading import Knowledge
from knowledge.shape import Safety, Sealer, Span, StepRule

After = tuple[tuple[str, float, float | None], ...]
SETTING_UP = 5.0  # minutes to lay out and clear away, once a session; common practice
POUR = SCUFF = 60.0  # minutes of work on a square metre; common practice
LEAST_EACH = 1.0  # minutes to take up a piece, see to its edges and put it down
BY_LABEL = "minutes"  # the unit of windows that come from a label
USUAL_AREA = 0.12  # m2, where the size is not known


def steps(
    knowledge: Knowledge, decision: Decision, facts: Mapping[str, Any], area: float = USUAL_AREA
) -> tuple[Step, ...]:
    """Trials, then work on the piece, then sealing, then flattening and mounting, then the pour and the cure.

    Work that waits for a fixative comes between it and the sealers; what covers a back that is to be sealed comes
    between that and the front. What the steps would do to the piece is not asked here: see rehearsal.

    `area`: the face of one piece, m2, by which the hands-on times of coats and pours go.
    Every step waits for those before it that it leans on; a pour waits for everything.
    """
    ahead = _prep_steps([p for p in decision.preps if p.stage == "ahead"], [], area)
    made: list[Step] = [*ahead, *_trial_steps(knowledge, decision.trials, ahead)]
    if not decision.pours:
        return (*made, *_begun(knowledge, decision, made, area))
    things = frozenset(z.id for z in decision.zones if z.kind == "inclusion")
    first = [p for p in decision.preps if p.stage == "first"]
    apart = [p for p in first if p.zones and things.issuperset(p.zones) and _makes(knowledge, p) != "glued"]
    # shells dry while the board dries; nothing is glued on before that is clean
    trials = list(made)
    made += _prep_steps(apart, trials, area)
    made += _prep_steps([p for p in first if p not in apart], trials, area)
    sealing: list[Step] = []
    for stage, coats in _stages(decision):
        coated = _sealing_steps(knowledge, decision, coats, made, area)
        sealing += coated
        made += coated
        made += _prep_steps([p for p in decision.preps if p.stage == stage], made, area)
    made += _pour_steps(knowledge, decision, facts, made, _dry_through(knowledge, sealing), area)
    return tuple(made)


def _begun(knowledge: Knowledge, decision: Decision, before: Sequence[Step], area: float) -> list[Step]:
    """The drying of what is stopped until it is dry: it cannot wait."""
    things = {z.id for z in decision.zones if z.kind == "inclusion"}
    wet = {z for o in decision.outlets if o.first for z in o.zones if z in things}
    mine = [p for p in decision.preps if p.zones and wet.issuperset(p.zones)]
    return _prep_steps([p for p in mine if _makes(knowledge, p) == "dry"], before, area)


def _makes(knowledge: Knowledge, prep: Prep) -> str:
    return knowledge.preparations[prep.id.partition(".")[0]].makes


def _stages(decision: Decision) -> list[tuple[Phase, list[tuple[Treatment, str, tuple[Zone, ...]]]]]:
    """The coats that come before the work of each stage."""
    zones = {z.id: z for z in decision.zones}
    sides = [(t, side, part) for t in decision.treatments for side, part in _sides(t, zones)]
    covered = any(p.stage == "backed" for p in decision.preps)
    at: dict[Phase, list[tuple[Treatment, str, tuple[Zone, ...]]]] = {"fixed": [], "backed": [], "sealed": []}
    for coat in sides:
        first = coat[0].first or _edge_first(coat[2])
        at["fixed" if first else "backed" if covered and coat[1] == "back" else "sealed"].append(coat)
    at["fixed"].sort(key=lambda coat: not _edge_first(coat[2]))
    at["sealed"].sort(key=lambda coat: (coat[1] == "back", all(z.level("loose") < 2 for z in coat[2])))
    return list(at.items())


def _edge_first(zones: Sequence[Zone]) -> bool:
    """A mirror's edge is coated before anything is put on its face."""
    return all(z.kind == "edges" and "mirror" in z.ids("materials") for z in zones)


def _dry_through(knowledge: Knowledge, sealing: Sequence[Step]) -> After:
    """The pour waits for the last coat of every sealer on every side, however early it was put on."""
    last = {s.id.rsplit(".", 1)[0]: s for s in sealing}
    return tuple((s.id, minutes(knowledge.sealers[s.sealer].ready)[0], None) for s in last.values())


def _after_all(steps: Sequence[Step], knowledge: Knowledge | None = None) -> After:
    """After every step that nothing else waits for yet, with its whole least wait.

    Where another coat follows on another zone (`knowledge` given), a sealed zone need only be dry to the touch.
    """
    waited = {before for s in steps for before, _, _ in s.after}
    return tuple((s.id, _least(s, knowledge), None) for s in steps if s.id not in waited)


def _least(step: Step, knowledge: Knowledge | None) -> float:
    if knowledge is None or not step.sealer:
        return step.wait[0]
    return minutes(knowledge.sealers[step.sealer].recoat)[1]


def _trial_steps(knowledge: Knowledge, trials: Sequence[Trial], ahead: Sequence[Step]) -> list[Step]:
    """`ahead`: what comes even before them, such as the copy."""
    after = tuple((s.id, s.wait[0], None) for s in ahead)
    return [
        Step(
            id=f"trial.{t.id}", kind="trial", name=t.name, zones=t.zones, how=t.how,
            done_when="; ".join(t.reads), hands_on=t.hands_on, wait=t.wait, after=after, basis=t.basis,
            safety=t.safety, does=knowledge.trials[t.id].does, spares=t.spares,
        )
        for t in trials
    ]  # fmt: skip


def _prep_steps(preps: Sequence[Prep], before: Sequence[Step], area: float) -> list[Step]:
    made: list[Step] = []
    for p in preps:
        hands, each = _work(p.hands_on, p.each, area)
        made.append(
            Step(
                id=f"{'flatten' if p.stage == 'sealed' else 'prepare'}.{p.id}",
                kind="flatten" if p.stage == "sealed" else "prepare",
                name=p.name,
                zones=p.zones,
                how=p.how,
                done_when=p.done_when,
                hands_on=hands,
                each=each,
                wait=p.wait,
                after=_after_all([*before, *made]),
                basis=p.basis,
                safety=p.safety,
                does=tuple(a for a in p.does if a),
                spares=p.spares,
            )
        )
    return made


# ------------------------------------------------------------------ sealing


def _work(hands: float, each: float | None, area: float) -> tuple[float, float | None]:
    """Minutes for the first piece and for each further one. What is done along the edge, or with a cloth or a
    roller, grows with the side of the piece.
    """
    if not each:
        return hands, each
    mine = max(LEAST_EACH, float(round(each * sqrt(area / USUAL_AREA))))
    return hands - each + mine, mine


def _each(pace: float, area: float) -> float:
    """Minutes for one piece, without setting up."""
    return max(LEAST_EACH, float(round(area * pace)))


def _sealing_steps(
    knowledge: Knowledge,
    decision: Decision,
    coats: Sequence[tuple[Treatment, str, tuple[Zone, ...]]],
    before: Sequence[Step],
    area: float,
) -> list[Step]:
    made: list[Step] = []
    for treatment, side, zones in coats:
        after = _after_all([*before, *made], knowledge)
        told = f"{_off_first(knowledge, treatment, zones)}{_covering(decision, treatment)}"
        turned = _turned(decision, treatment) if side == "back" else ""
        made += _coat_steps(knowledge, treatment, side, zones, after, area, told, turned)
    return made


def _sides(treatment: Treatment, zones: Mapping[str, Zone]) -> list[tuple[str, tuple[Zone, ...]]]:
    """Front and edges first, the back when they are dry: a sheet is not turned onto a wet face."""
    mine = [zones[i] for i in treatment.zones]
    backs = tuple(z for z in mine if z.kind == "back")
    rest = tuple(z for z in mine if z.kind != "back")
    return [(name, part) for name, part in (("front", rest), ("back", backs)) if part]


def _covering(decision: Decision, treatment: Treatment) -> str:
    """What the mist must not hit is covered first, in words."""
    zones = to_cover(treatment, {z.id: z for z in decision.zones}, decision.treatments)
    names = _listed([z.name for z in zones]) if zones else ""
    bare = " where it is bare" if any(z.kind != "inclusion" for z in zones) else ""
    return f"Cover {names} with paper first{bare}, touching nothing: the mist drifts. " if names else ""


def _off_first(knowledge: Knowledge, treatment: Treatment, zones: Sequence[Zone]) -> str:
    """What lies loose on a drawing is taken off while that is fixed."""
    names = [knowledge.inclusions[i].name for i in sorted({i for z in zones for i in z.ids("liftable")})]
    return f"Take the {_listed(names)} off first. " if treatment.first and names else ""


def _turned(decision: Decision, treatment: Treatment) -> str:
    """How the back is come to: turned over, or what is done instead."""
    things = any(z.kind == "inclusion" and z.word("form") == "laid on" for z in decision.zones)
    turned = "on_edge" if things else "turn_over"
    for id, action, now in decision.swaps:
        if (id, action) == (f"seal.{treatment.id}.back.1", turned):
            turned = now
    return turned


def _coat_steps(
    knowledge: Knowledge,
    treatment: Treatment,
    side: str,
    zones: Sequence[Zone],
    start: After,
    area: float,
    covering: str = "",
    turned: str = "",
) -> list[Step]:
    sealer, way, coats = knowledge.sealers[treatment.sealer], knowledge.methods[treatment.method], treatment.coats_least
    recoat, ready = minutes(sealer.recoat), minutes(sealer.ready)
    window = minutes(sealer.recoat_window)[1] if sealer.recoat_window else None
    told = f"{knowledge.actions[turned].how} {covering}{sealer.how}" if turned else f"{covering}{sealer.how}"
    made: list[Step] = []
    for coat in range(1, coats + 1):
        last = coat == coats
        after: After = ((made[-1].id, recoat[0], window),) if made else start
        made.append(
            Step(
                id=f"seal.{treatment.id}.{side}.{coat}",
                kind="seal",
                name=_coat_name(way.verb, treatment, zones, coat, coats),
                zones=tuple(z.id for z in zones),
                how=told if coat == 1 else f"As before, {_again(recoat, window, ready)}",
                done_when=_UNTOUCHED if _delicate(zones) else _coat_done(sealer, treatment, last),
                hands_on=SETTING_UP + _each(way.pace, area),
                each=_each(way.pace, area),
                wait=_wait(sealer, treatment, last),
                after=after,
                alternative=ready[0] if window is not None and made else None,
                place=way.place,
                sealer=sealer.id,
                basis=Basis(sealer.basis, sealer.source, sealer.locator),
                safety=_safety(sealer),
                does=(turned, sealer.method) if turned and coat == 1 else (sealer.method,),
            )
        )
    return made


def _safety(sealer: Sealer) -> tuple[Safety, ...]:
    """Gloves and goggles for every sealer; a mask where it is sprayed; no flame near mist or solvent."""
    burns: tuple[Safety, ...] = ("no_flame", "flammable")
    if sealer.method == "mist":
        return ("eyes", "hands", "breath")
    if sealer.method == "spray":
        return ("eyes", "hands", "breath", *burns)
    return ("eyes", "hands", *(burns if sealer.carrier in ("alcohol", "hydrocarbon", "strong") else ()))


def _wait(sealer: Sealer, treatment: Treatment, last: bool) -> tuple[float, float]:
    """After the last coat until resin may come; a fixative only until the barrier may go over it."""
    if not last:
        return minutes(sealer.recoat)
    return minutes(sealer.recoat) if treatment.first else minutes(sealer.ready)


def _coat_name(verb: str, treatment: Treatment, zones: Sequence[Zone], coat: int, coats: int) -> str:
    where = _listed([z.name for z in zones])
    count = f", coat {coat} of {coats}" if coats > 1 else ""
    return f"{verb} {where} with {treatment.name}{count}"


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _again(recoat: tuple[float, float], window: float | None, ready: tuple[float, float]) -> str:
    soon = f"{in_words(*recoat)} after the last coat."
    if window is None:
        return soon
    return f"{soon} If you miss that, wait {in_words(*ready)} and go on then."


_UNTOUCHED = (
    "No wet or milky spot is left to see, and a scrap sprayed beside it is dry to the finger. Touch only the scrap."
)


def _delicate(zones: Sequence[Zone]) -> bool:
    """Whether a finger would take something off, sealed or not."""
    return any(z.kind == "inclusion" and z.word("brush") == "crushes" and z.level("loose") >= 2 for z in zones)


def _coat_done(sealer: Sealer, treatment: Treatment, last: bool) -> str:
    if not last:
        soon = in_words(*minutes(sealer.touch))
        return f"After {soon} it no longer looks wet, and the back of a finger does not stick."
    more = ""
    if treatment.coats_most > treatment.coats_least and "absorption" in treatment.reasons:
        most = treatment.coats_most
        more = f" Put a drop of mixed resin on a scrap sealed the same way: a dark mark asks for another coat (up to {most})."
    return sealer.done_when + more


# ------------------------------------------------------------------ the pour


def _pour_steps(
    knowledge: Knowledge,
    decision: Decision,
    facts: Mapping[str, Any],
    before: Sequence[Step],
    dry: After,
    area: float,
) -> list[Step]:
    made: list[Step] = []
    count = facts.get("pours.count", 2 if facts["two_pours"] else 1)
    for rule in knowledge.steps.values():
        if not rule.when.holds(facts):
            continue
        does = _done_instead(decision, rule)
        said = replace(rule, how=worded(knowledge, rule.how, rule.does, does), does=tuple(a for a in does if a))
        said = _by_label(said, facts)
        for layer in range(2, count + 1) if rule.window else (1,):
            new = _pour_step(said, _pour_after(said, before, made, dry), made, area)
            made.append(_as_layer(new, layer, count, facts) if rule.kind == "pour" else new)
    return made


def _by_label(rule: StepRule, facts: Mapping[str, Any]) -> StepRule:
    """The window of a further layer by the working time on the label, where that is known."""
    window = facts.get("pours.window")
    if window is None or rule.window is None:
        return rule
    opens, closes, hard = window
    return replace(rule, window=Span(opens, closes, BY_LABEL), missed_wait=Span(hard, hard, BY_LABEL))


def _as_layer(step: Step, layer: int, count: int, facts: Mapping[str, Any]) -> Step:
    """Which layer it is and how deep, where there are several."""
    if count < 2:
        return step
    depths = facts.get("pours.depths")
    deep = f", about {depths[min(layer, 2) - 1]} deep" if depths else ""
    told = f"Layer {layer} of {count}{deep}. "
    name = step.name if layer < 3 else f"Pour layer {layer} of {count}"
    number = "" if layer < 3 else f".{layer}"
    return replace(
        step, id=f"{step.id}{number}", name=name, how=told + step.how,
        in_time=step.in_time and told + step.in_time, missed=step.missed and told + step.missed,
    )  # fmt: skip


def _done_instead(decision: Decision, rule: StepRule) -> tuple[str, ...]:
    """The actions of a step of the pour, "" for one that is left out."""
    swapped = {action: now for id, action, now in decision.swaps if id == f"{rule.kind}.{rule.id}"}
    return tuple(swapped.get(action, action) for action in rule.does)


def _pour_after(rule: StepRule, before: Sequence[Step], made: Sequence[Step], dry: After) -> After:
    """In a chain: each after the one before. The mix goes into the pour at once, the first look follows at once."""
    if not made:
        named = {id for id, _, _ in dry}
        return (*dry, *(a for a in _after_all(before) if a[0] not in named))
    last = made[-1]
    at_once = {"pour": 10.0 if last.kind == "mix" else None, "watch": 15.0 if last.kind == "pour" else None}
    chain: After = ((last.id, last.wait[0], at_once.get(rule.kind)),)
    return (*chain, (_poured(made).id, *minutes(rule.window))) if rule.window else chain


def _poured(made: Sequence[Step]) -> Step:
    """The pour before, from which a window counts."""
    return next((s for s in reversed(made) if s.kind == "pour"), made[-1])


def _pour_hands(rule: StepRule, made: Sequence[Step], area: float) -> tuple[float, float | None]:
    """Hands-on minutes, and those for each further piece. A pour with no mix right before it is mixed within it."""
    if rule.kind != "pour":
        return _work(minutes(rule.hands_on)[0], minutes(rule.each)[0] if rule.each else None, area)
    each = _each(POUR, area)
    mixing = 0.0 if made[-1].kind == "mix" else sum(s.hands_on for s in made if s.kind == "mix")
    return SETTING_UP + each + mixing, each


def _pour_step(rule: StepRule, after: After, made: Sequence[Step], area: float) -> Step:
    hands, each = _pour_hands(rule, made, area)
    step = Step(
        id=f"{rule.kind}.{rule.id}",
        kind=rule.kind,
        name=rule.name,
        zones=(),
        how=f"{rule.how} {rule.says}".rstrip(),
        done_when=rule.done_when,
        hands_on=hands,
        each=each,
        wait=minutes(rule.wait),
        after=after,
        look_every=minutes(rule.looks)[1] if rule.looks else None,
        look_for=minutes(rule.looks_for)[1] if rule.looks_for else None,
        safety=rule.safety,
        basis=Basis(rule.basis, rule.source, rule.locator),
        does=rule.does,
    )
    return _with_window(step, rule, area)


def _with_window(step: Step, rule: StepRule, area: float) -> Step:
    """The two ways to pour again: while the layer before is tacky, or once it is hard and scuffed."""
    if rule.window is None or rule.missed_wait is None or rule.missed_hands is None:
        return step
    window, missed = minutes(rule.window), minutes(rule.missed_wait)[0]
    basis = "by the working time on your label" if rule.window.unit == BY_LABEL else "at 21 °C"
    soon = f"Do it {in_words(*window)} after the pour before, {basis}: {rule.window_how}"
    later = f"If you miss that, wait {in_words(missed, missed)} from that pour on: {rule.missed_how}"
    return replace(
        step,
        how=f"{soon} {later} {rule.how} {rule.says}",
        in_time=f"On your timetable {rule.window_how} {rule.how} {rule.says}",
        missed=f"On your timetable {rule.missed_how} {rule.how} {rule.says}",
        alternative=missed,
        alternative_hands=max(minutes(rule.missed_hands)[0], float(round(area * SCUFF))),
        alternative_name=rule.missed_name,
    )
