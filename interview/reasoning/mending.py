"""How a clash is taken out of a plan: small rules, tried in this order. Each is asked for the first step that clashes.

A rule gives the decision without the clash, or None where it has nothing to offer. Whether it truly helps is found out
by playing the step again where it would then stand.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from interview.plan.parts import Clash, Decision, Finding, Mended, Outlet, Prep, Step
from interview.reasoning.findings import naming
from interview.reasoning.layers import layers_of
from interview.reasoning.phrasing import worded
from interview.reasoning.playing import Scene
from knowledge.acting import Phase

By = Literal["move", "narrow", "gentler", "protect", "leave out", "stop"]
STAGES: tuple[Phase, ...] = ("ahead", "first", "fixed", "backed", "sealed")
AFTER = {"fixed": "the fixative is on", "backed": "the back is sealed", "sealed": "the seal is dry"}
CLEAN = "What you worked with comes away clean."  # no film of water over or beside what is drawn
SOFT_ON_HARD = ("glass", "ceramic", "stone", "metal", "plastic", "wood", "cork", "cement", "board", "leather")


@dataclass(frozen=True, slots=True)
class Trouble:
    """A step that clashes. `left`: what it still clashes with in another decision, played where it then stands."""

    scene: Scene
    decision: Decision
    step: Step
    clashes: tuple[Clash, ...]
    left: Callable[[Decision], tuple[Clash, ...]]

    @property
    def prep(self) -> Prep | None:
        """The work on the piece that this step is, if it is that."""
        id = self.step.id.partition(".")[2]
        mine = self.step.kind in ("prepare", "flatten")
        return next((p for p in self.decision.preps if mine and p.id == id), None)


Rule = Callable[[Trouble], "tuple[Decision, str] | None"]


def mend(trouble: Trouble) -> Decision:
    """The decision without this trouble: by the first rule that has an answer; the last always has one."""
    for by, rule in RULES:
        found = rule(trouble)
        if found is not None:
            decision, says = found
            done = Mended(trouble.step.id, by, says, trouble.clashes[0])
            return replace(decision, mended=(*decision.mended, done))
    raise AssertionError("the last rule stops the plan")


# ------------------------------------------------------------------ the rules


def move(trouble: Trouble) -> tuple[Decision, str] | None:
    """Later: once it is fixed, once the back is sealed, once it is sealed. What covers a back waits for its seal."""
    prep = trouble.prep
    if prep is None and trouble.clashes[0].kind == "out of reach":
        covering = _covering(trouble)
        return _moved(trouble, covering, "backed") if covering else None
    if prep is None or not prep.does:
        return None
    latest = trouble.scene.knowledge.preparations[prep.id.partition(".")[0]].latest
    stages = STAGES[STAGES.index(prep.stage) + 1 : STAGES.index(latest) + 1]
    later = (_moved(trouble, prep, stage) for stage in stages)
    return next((found for found in later if not trouble.left(found[0])), None)


def narrow(trouble: Trouble) -> tuple[Decision, str] | None:
    """Only on the zones that bear it; and on the rest only where nothing is drawn and nothing lies."""
    prep = trouble.prep
    if trouble.step.kind == "trial":
        return _narrowed_trial(trouble)
    if prep is None or not prep.zones:
        return None
    hit = tuple(dict.fromkeys(c.zone for c in trouble.clashes))
    rest = tuple(z for z in prep.zones if z not in hit)
    if not set(hit) <= set(prep.zones):
        return None  # it reaches further than where it is done
    if rest:
        dry = any(trouble.scene.zones[z].flag("powdery") for z in hit)
        parts = (
            _on(trouble, replace(prep, done_when=CLEAN) if dry else prep, rest),
            _on(trouble, replace(prep, id=_next_id(trouble.decision, prep)), hit),
        )
        return _with_preps(trouble.decision, prep, parts), trouble.clashes[0].says
    wet = any(trouble.scene.knowledge.actions[a].wet for a in prep.does)
    if prep.spares or not wet or not _has_bare_parts(trouble) or not _may_stay(trouble, prep):
        return None  # dust comes off by something gentler, everywhere
    how = f"Only on what is bare, a finger's width from {_named(trouble, hit)}. {prep.how}"
    name = f"{prep.name}, only where it is bare"
    new = replace(prep, name=name, spares=True, how=how, says=_reasoned(prep.says, trouble), done_when=CLEAN)
    latest = trouble.scene.knowledge.preparations[prep.id.partition(".")[0]].latest
    powdery = any(trouble.scene.zones[z].flag("powdery") for z in hit)  # held first, even if one keeps off it
    fixed = any(t.first for t in trouble.decision.treatments)
    if powdery and not fixed and any(trouble.scene.knowledge.actions[a].liquid == "water" for a in prep.does):
        return None  # no water beside grains that nothing holds yet
    first = "fixed" if powdery and fixed else prep.stage
    stages = STAGES[STAGES.index(first) : STAGES.index(latest) + 1]
    tries = (_with_preps(trouble.decision, prep, (replace(new, stage=s),)) for s in stages)
    found = next((d for d in tries if not trouble.left(d)), None)
    return (found, f"{trouble.clashes[0].says} So only where it is bare.") if found else None


def _narrowed_trial(trouble: Trouble) -> tuple[Decision, str] | None:
    """A trial is made only on the zones that bear it, or only where they are bare."""
    id, hit = trouble.step.id.partition(".")[2], tuple(dict.fromkeys(c.zone for c in trouble.clashes))
    trial = next(t for t in trouble.decision.trials if t.id == id)
    rest = tuple(z for z in trial.zones if z not in hit)
    powdery = any(trouble.scene.zones[z].flag("powdery") for z in hit)
    if not rest and (powdery or trial.spares or not _has_bare_parts(trouble)):
        return None
    bare = f"Only on what is bare, a finger's width from {_named(trouble, hit)}. {trial.how}"
    new = replace(trial, zones=rest) if rest else replace(trial, spares=True, how=bare)
    decision = replace(trouble.decision, trials=tuple(new if t is trial else t for t in trouble.decision.trials))
    return (decision, trouble.clashes[0].says) if not trouble.left(decision) else None


def gentler(trouble: Trouble) -> tuple[Decision, str] | None:
    """For each action that clashes, the first gentler one that does not."""
    decision = trouble.decision
    own = all(c.until == "tried" and c.rule == c.layer for c in trouble.clashes)  # the row says that a swab decides
    turned = all(trouble.scene.knowledge.actions[c.action].tip for c in trouble.clashes)
    if (trouble.step.kind == "seal" and not turned) or trouble.step.kind == "trial" or own:
        return None
    for id in dict.fromkeys(c.action for c in trouble.clashes):
        softer = ((to, _swapped(trouble, decision, id, to)) for to in trouble.scene.knowledge.actions[id].gentler)
        found = next((d for to, d in softer if all(c.action != to for c in trouble.left(d))), None)
        decision = found or decision
    return (decision, trouble.clashes[0].says) if decision is not trouble.decision else None


def protect(trouble: Trouble) -> tuple[Decision, str] | None:
    """What lies loose is taken off for as long as it lasts; what may bear it is tried first on a hidden spot."""
    prep = trouble.prep
    if prep is None:
        return None
    if all(c.until == "tried" for c in trouble.clashes):
        tries = f"First touch one hidden spot with a swab of the same: go on only if it stays clean. {prep.how}"
        new = replace(prep, how=tries, says=_reasoned(prep.says, trouble), does=())
        return _with_preps(trouble.decision, prep, (new,)), trouble.clashes[0].says
    things = [c for c in trouble.clashes if c.table == "inclusion"]
    if len(things) < len(trouble.clashes) or not all(_can_be_lifted(trouble, c) for c in things):
        return None
    named = _listed([trouble.scene.knowledge.inclusions[c.layer].name for c in things])
    how = f"Take the {named} off first, and lay them back when this is done. {prep.how}"
    new = replace(prep, how=how, says=_reasoned(prep.says, trouble), spares=True)
    return _with_preps(trouble.decision, prep, (new,)), trouble.clashes[0].says


def leave_out(trouble: Trouble) -> tuple[Decision, str] | None:
    """Not done at all, with what that costs. Of a trial, only the part that touches the piece is lost."""
    says, decision, step = trouble.clashes[0].says, trouble.decision, trouble.step
    if step.kind == "trial":
        id = step.id.partition(".")[2]
        kept = tuple(t for t in decision.trials if t.id != id)
        return replace(decision, trials=kept), f"{says} So no {step.name.lower()} here."
    prep = trouble.prep
    rule = trouble.scene.knowledge.preparations[prep.id.partition(".")[0]] if prep else None
    if prep is None or rule is None or not rule.left_out:
        return None
    where = _listed([trouble.scene.zones[z].name for z in prep.zones] or ["the piece"])
    cost = f"{says} So this is left out on {where}: {rule.name.lower()}. {rule.left_out}"
    clash = trouble.clashes[0]
    note = Finding(clash.rule or rule.id, cost, clash.basis, _named_by(trouble, clash))
    return replace(_with_preps(decision, prep, ()), notes=(*decision.notes, note)), cost


def _named_by(trouble: Trouble, clash: Clash) -> tuple[str, ...]:
    """The question whose answer named the layer that would suffer."""
    of = {"medium": "media", "inclusion": "laid_on", "adhesive": "adhesive"}
    return (of[clash.table],) if clash.table in of else naming(trouble.scene.zones.get(clash.zone))


def stop(trouble: Trouble) -> tuple[Decision, str] | None:
    """Nothing helps: the piece is not poured over as it is, and this is not done to it."""
    clash, row = trouble.clashes[0], trouble.scene.knowledge.ways_out["cannot_be_worked"]
    says = f"{clash.says} {row.says}"
    found = Finding(clash.rule or row.id, clash.says, clash.basis, _named_by(trouble, clash))
    hit = tuple(dict.fromkeys(c.zone for c in trouble.clashes))
    outlet = Outlet(row.id, hit, row.name, says, (found,))
    rules = trouble.scene.knowledge.trials
    kept = tuple(t for t in trouble.decision.trials if not rules[t.id].does or not set(t.zones) <= set(hit))
    decision = replace(trouble.decision, outlets=(*trouble.decision.outlets, outlet), trials=kept)
    if trouble.prep is not None:
        decision = _with_preps(decision, trouble.prep, ())
    left = (replace(t, zones=tuple(z for z in t.zones if z not in hit)) for t in decision.treatments)
    return replace(decision, treatments=tuple(t for t in left if t.zones)), says


RULES: tuple[tuple[By, Rule], ...] = (
    ("move", move), ("narrow", narrow), ("gentler", gentler), ("protect", protect), ("leave out", leave_out),
    ("stop", stop),
)  # fmt: skip


# ------------------------------------------------------------------ small parts


def _moved(trouble: Trouble, prep: Prep, stage: Phase) -> tuple[Decision, str]:
    says = f"{trouble.clashes[0].says} So it comes when {AFTER[stage]}."
    new = replace(prep, stage=stage, says=f"{prep.says} {says}")
    return _with_preps(trouble.decision, prep, (new,)), says


def _covering(trouble: Trouble) -> Prep | None:
    """The work that has put the zone out of reach, as yet before its seal."""
    rules, zone = trouble.scene.knowledge.preparations, trouble.scene.zones[trouble.clashes[0].zone]
    early = [p for p in trouble.decision.preps if STAGES.index(p.stage) < STAGES.index("backed")]
    return next((p for p in early if zone.kind in rules[p.id.partition(".")[0]].covers), None)


def _with_preps(decision: Decision, old: Prep, new: Sequence[Prep]) -> Decision:
    made: list[Prep] = []
    for prep in decision.preps:
        made += new if prep is old else [prep]
    return replace(decision, preps=tuple(made))


def _next_id(decision: Decision, prep: Prep) -> str:
    rule = prep.id.partition(".")[0]
    return f"{rule}.{sum(p.id.partition('.')[0] == rule for p in decision.preps) + 1}"


def _on(trouble: Trouble, prep: Prep, zones: tuple[str, ...]) -> Prep:
    """The same work on some of its zones, which its name then says."""
    plain = trouble.scene.knowledge.preparations[prep.id.partition(".")[0]].name
    return replace(prep, zones=zones, name=f"{plain}: {_listed([trouble.scene.zones[z].name for z in zones])}")


def _has_bare_parts(trouble: Trouble) -> bool:
    """Whether one can keep off what is drawn or lies there: work with a cloth or brush, on something hard."""
    knowledge, zones = trouble.scene.knowledge, trouble.scene.zones
    local = all(knowledge.actions[a].wet <= 2 and knowledge.actions[a].blast < 2 for a in trouble.step.does)
    hit = [zones[c.zone] for c in trouble.clashes]
    covered = any(getattr(knowledge.media[m], "closes", False) for z in hit for m in z.ids("media"))
    hard = all(z.ids("family") <= set(SOFT_ON_HARD) and z.kind != "inclusion" for z in hit)
    return local and hard and not covered and all(c.table in ("medium", "inclusion") for c in trouble.clashes)


def _may_stay(trouble: Trouble, prep: Prep) -> bool:
    """Whether resin may lie there without it: an image on wax stands on what resin never holds on."""
    drawn = any(c.table == "medium" for c in trouble.clashes)
    return not drawn or bool(trouble.scene.knowledge.preparations[prep.id.partition(".")[0]].left_out)


def _swapped(trouble: Trouble, decision: Decision, action: str, to: str) -> Decision:
    """The decision with one action of the step replaced."""
    knowledge, id = trouble.scene.knowledge, trouble.step.id.partition(".")[2]
    prep = next((p for p in decision.preps if p.id == id), None) if trouble.prep else None
    if prep is None:
        return replace(decision, swaps=(*decision.swaps, (trouble.step.id, action, to)))
    does = tuple(to if a == action else a for a in prep.does)
    rule = knowledge.preparations[prep.id.partition(".")[0]]
    new = replace(prep, does=does, how=worded(knowledge, rule.how, rule.does, does), says=_reasoned(prep.says, trouble))
    return _with_preps(decision, prep, (new,))


def _reasoned(says: str, trouble: Trouble) -> str:
    """What a step is for, and what stands in the way of doing it otherwise."""
    why = trouble.clashes[0].says
    return says if why in says else f"{says} {why}"


def _named(trouble: Trouble, zones: Sequence[str]) -> str:
    """What is drawn or lies there, in words."""
    names: list[str] = []
    for id in zones:
        for layer in layers_of(trouble.scene.zones[id], trouble.scene.zones):
            table: dict[str, Any] = {
                "medium": trouble.scene.knowledge.media,
                "inclusion": trouble.scene.knowledge.inclusions,
            }
            if layer.table in table and layer.id != "no_medium":
                names.append(f"the {table[layer.table][layer.id].name}")
    return _listed(list(dict.fromkeys(names)) or ["what is there"])


def _can_be_lifted(trouble: Trouble, clash: Clash) -> bool:
    """Whether a thing lies loose and whole, so that it can be taken off and laid back."""
    row, zone = trouble.scene.knowledge.inclusions[clash.layer], trouble.scene.zones.get(f"laid_{clash.layer}")
    return not row.stirred and row.brush != "sheds" and zone is not None and zone.word("held") == "loose"


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
