"""The decision in words: what the piece is, the headline, and one line a zone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from interview.plan.answers import Answers
from interview.plan.model import Sign, ZoneLine
from interview.plan.parts import Decision, Step, Treatment, Verdict, Zone
from interview.reasoning.circumstances import laid_on, media, rows_of, supports
from knowledge.loading import Knowledge
from knowledge.shape import NEEDS

KINDS = {
    "collage": "A collage of", "sheet": "A work on", "photo": "A photograph on", "jigsaw": "A jigsaw of",
    "canvas": "A canvas:", "wood": "A piece of", "cloth": "A piece of", "hard": "A piece of",
}  # fmt: skip


def summary(knowledge: Knowledge, facts: Mapping[str, Any], answers: Answers) -> str:
    """ "A collage of torn tissue paper on a plywood panel, with glitter." In words, from the answers."""
    things = [r.name for r in laid_on(knowledge, facts) if answers.has("laid_on") or facts.get("piece") == "cast"]
    if facts.get("piece") == "cast":
        return f"{_and(things).capitalize()} cast in resin." if things else "Things cast in resin."
    told = answers.value("opened") or ()
    state = " and ".join(s for s in ("torn", "cut") if s in told)
    stuff = _and(["an unknown material" if r.id == "unsure" else r.name for r in supports(knowledge, facts)])
    if "unsure" in facts.get("support", ()):
        state = ""
    text = f"{KINDS[facts.get('piece', 'sheet')]} {state + ' ' if state else ''}{stuff}"
    if facts.get("piece") == "canvas":
        text = f"A piece on {stuff}"
    if facts.get("piece") == "jigsaw" and "jigsaw" in facts.get("support", ()):
        text = "A jigsaw"
    mount = rows_of(knowledge.materials, [facts.get("mounted", "no")])
    if mount:
        text += f" on {mount[0].name}"
    on_top = [m.name for m in media(knowledge, facts) if m.id not in ("no_medium", "unsure")]
    if on_top:
        text += f", in {_and(on_top)}"
    if things:
        text += f", with {_and(things)}"
    return text + "."


def _and(words: Sequence[str]) -> str:
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def headline(decision: Decision) -> str:
    """One sentence: seal or not, and how."""
    if decision.outlets and not decision.treatments:
        return f"Do not pour over this as it is. {decision.outlets[0].name}: see the way out below."
    if any(o.zones for o in decision.outlets):
        return f"Do not pour yet: one part cannot be coated as it is, see the way out below. For the rest: {_ways(decision.treatments)}."
    required = [t for t in decision.treatments if t.strength == "required"]
    if required:
        return f"Seal it before you pour: {_ways(required)}."
    if decision.treatments:
        return f"It may be poured without a seal, but it is better sealed: {_ways(decision.treatments)}."
    return "No sealing needed: make it clean and dry, then pour."


def sign(decision: Decision) -> Sign:
    """The verdict in one word. Told apart: not needed; wanted, but there is no way yet; do not."""
    stuck = {zone for outlet in decision.outlets for zone in outlet.zones}
    if any(v.need == "must not" for v in decision.verdicts if v.zone in stuck):
        return "stop"
    if stuck:
        return "find_a_way"
    return "seal" if decision.treatments else "no_need"


def do_first(decision: Decision, steps: Sequence[Step]) -> str:
    """What comes before all else: the way out, the copy of the only one, or the first step."""
    if decision.outlets:
        return decision.outlets[0].name
    return steps[0].name if steps else ""


def _ways(treatments: Sequence[Treatment]) -> str:
    return _and(list(dict.fromkeys(t.name for t in treatments)))


def zone_lines(decision: Decision) -> tuple[ZoneLine, ...]:
    """One line a zone, strongest needs first within the order of the piece."""
    return tuple(_zone_line(decision, zone) for zone in decision.zones)


def _zone_line(decision: Decision, zone: Zone) -> ZoneLine:
    mine = [v for v in decision.verdicts if v.zone == zone.id]
    need = min((v.need for v in mine), key=NEEDS.index)
    treatments = [t for t in decision.treatments if zone.id in t.zones]
    stopped = [o for o in decision.outlets if zone.id in o.zones]
    if stopped:
        line = f"do not coat: {stopped[0].name.lower()}"
    elif treatments:
        line = f"{'seal' if need == 'required' else 'better sealed'}: {', then '.join(_coats(t) for t in treatments)}"
    else:
        line = {"harmless": "need not be sealed; sealing does no harm"}.get(need, "no sealing needed")
    return ZoneLine(zone=zone.id, name=zone.name, line=line, need=need, why=_why(mine))


def _coats(treatment: Treatment) -> str:
    low, high = treatment.coats_least, treatment.coats_most
    count = str(low) if low == high else f"{low} to {high}"
    what = "light coat" if treatment.method == "spray" else "coat"
    return f"{treatment.name}, {count} {what}{'' if count == '1' else 's'}"


def _why(verdicts: Sequence[Verdict]) -> tuple[str, ...]:
    """The reasons that count, the strongest first; where nothing counts, why nothing is needed."""
    ordered = sorted(verdicts, key=lambda v: NEEDS.index(v.need))
    counting = [v for v in ordered if v.need in ("must not", "required", "advised")] or ordered[:1]
    return tuple(dict.fromkeys(f.says for v in counting for f in v.findings))
