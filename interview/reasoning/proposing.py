"""What the maker proposes to do, judged by name: yes, or no, because..., instead... Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from interview.plan.answers import Answers
from interview.plan.parts import Clash, Decision, Judged, Step
from interview.reasoning.circumstances import settled
from interview.reasoning.deciding import decide_from
from interview.reasoning.playing import FACE, Scene, clashes_of, scene, start
from interview.reasoning.rehearsal import rehearse
from knowledge.loading import Knowledge
from knowledge.rows import Action

PROPOSALS = "proposals"  # the question that takes them; never asked, only heard
NOT_BEFORE = {
    "fixed": "Not before a fixative holds it.", "glued": "Not before it is glued down.",
    "sealed": "Not before it is sealed.", "dry": "Not before it is dry.",
    "tried": "Only if a swab of it on a hidden spot stays clean.",
}  # fmt: skip

NOT_FOR_YOU = ("not_for_the_pregnant", "not_with_asthma", "not_in_a_bedroom", "no_place_to_spray")


@dataclass(frozen=True, slots=True)
class _Piece:
    scene: Scene
    work: tuple[Step, ...]


def judge_proposals(knowledge: Knowledge, answers: Answers, actions: Iterable[str]) -> tuple[Judged, ...]:
    """Each action on this piece as it lies there now. `actions`: ids of knowledge.actions; others are passed over."""
    decided, facts = decide_from(knowledge, settled(knowledge, answers))
    decision, work = rehearse(knowledge, decided, facts)
    return judged(knowledge, decision, facts, work, actions)


def judged(
    knowledge: Knowledge, decision: Decision, facts: Mapping[str, Any], work: tuple[Step, ...], actions: Iterable[str]
) -> tuple[Judged, ...]:
    """The same for a plan that is made."""
    piece = _Piece(scene(knowledge, decision, facts), work)
    return tuple(_judge(piece, knowledge.actions[id]) for id in sorted(set(actions) & knowledge.actions.keys()))


def _judge(piece: _Piece, action: Action) -> Judged:
    if action.never:
        return Judged(action.id, action.name, "no", f"No. {action.never} Instead: {_lower(action.instead)}")
    kept = _kept_from(piece, action)
    if kept:
        return Judged(action.id, action.name, "no", f"No. {kept}")
    clash, sealer = _gentlest(piece, action)
    mine = [s for s in piece.work if action.id in s.does]
    before = [s for s in piece.work if s.kind in ("prepare", "seal", "flatten") and not s.id.startswith("prepare.room")]
    if action.liquid == "resin" and before:
        return Judged(action.id, action.name, "instead", f"Not yet. First: {_lower(before[0].name)}.")
    if clash is None:
        which = f" with {sealer}" if sealer and not mine else ""
        planned = f" It is in the plan: {_lower(mine[0].name)}." if mine else " The plan does without it."
        return Judged(action.id, action.name, "yes", f"Yes{which}, it does no harm here.{planned}")
    return Judged(action.id, action.name, *_otherwise(piece, action, clash, mine))


def _otherwise(piece: _Piece, action: Action, clash: Clash, mine: list[Step]) -> tuple[Any, str]:
    """Where it cannot be done now: later or elsewhere as the plan has it, something gentler, or not."""
    bare = next((s for s in mine if s.spares), None)
    if bare is not None:
        return "instead", f"Not there: {_lower(clash.says)} Instead: {_lower(bare.how)}"
    if mine and all(s.kind != "seal" for s in mine):
        return (
            "instead",
            f"Not like that: {_lower(clash.says)} The plan has it where it does no harm: {_lower(mine[0].name)}.",
        )
    if mine and clash.until == "tried":
        return "yes", f"Yes, as the plan has it, once its trial is clean: {_lower(mine[0].name)}."
    actions = piece.scene.knowledge.actions
    gentler = (
        None
        if action.instead
        else next(
            (
                actions[g]
                for g in action.gentler
                if g != "nothing" and not _kept_from(piece, actions[g]) and _clash(piece, g) is None
            ),
            None,
        )
    )
    if action.instead:
        return "instead", f"No: {_lower(clash.says)} Instead: {_lower(action.instead)}"
    later = NOT_BEFORE.get(clash.until, "")
    if gentler is not None:
        return "instead", f"No: {_lower(clash.says)} Instead: {_lower(gentler.how or gentler.name)}"
    return "no", f"No: {_lower(clash.says)}{' ' + later if later else ''}"


def _kept_from(piece: _Piece, action: Action) -> str:
    """What keeps the maker from it whatever it does: a face that is not to be touched, or who and where they are."""
    decision = piece.scene.decision
    faces = {z.id for z in piece.scene.zones.values() if z.kind in ("front", "part", "inclusion")}
    stop = next((o for o in decision.outlets if o.sign == "stop" and faces & set(o.zones)), None)
    if stop and (action.rub or action.press or action.strip or action.wet or action.celsius):
        return f"Touch nothing there. {stop.name}: {_lower(stop.says)}"
    if action.id not in ("spray", "mist"):
        return ""
    mine = [f for b in decision.barred if b.method == action.id for f in b.findings]
    return next((f.says for f in mine if f.rule in NOT_FOR_YOU), "")


def _gentlest(piece: _Piece, action: Action) -> tuple[Clash | None, str]:
    """What it would spoil; of a spray whatever can is meant, so by the one that the plan has or that does least."""
    if action.id != "spray":
        return _clash(piece, action.id), ""
    sealers = piece.scene.knowledge.sealers
    planned = [s.sealer for s in piece.work if s.sealer and action.id in s.does]
    cans = planned[:1] or [s.id for s in sealers.values() if s.method == action.id]
    found = [(_clash(piece, action.id, can), sealers[can].name) for can in cans]
    return next((one for one in found if one[0] is None), found[0])


def _clash(piece: _Piece, action: str, sealer: str = "") -> Clash | None:
    """The first thing it would spoil as the piece lies there, a drawing before what it is drawn on."""
    zones = tuple(z.id for z in piece.scene.zones.values() if z.kind in FACE)
    step = Step("prepare.proposed", "prepare", "", zones, "", "", 0, (0, 0), does=(action,), sealer=sealer)
    found = list(clashes_of(piece.scene, start(piece.scene), step))
    order = ("medium", "inclusion", "material", "adhesive", "")
    return min(found, key=lambda c: (c.until != "never", order.index(c.table)), default=None)


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]
