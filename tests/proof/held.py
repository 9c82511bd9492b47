"""What must always hold of one decided piece, checked from the rows themselves, not from the rules that decided.

Each check gives a line for everything that is wrong. The numbers are those of the invariants: 1 no brush where it
would spoil, 2 no carrier that moves a medium, 3 dry through before resin, 4 a verdict for each zone and reason with
its basis, 5 a trial for every "not sure" that could change the plan, 6 cautions, 8 order and windows.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from interview.plan.answers import Answers
from interview.plan.parts import Basis, Decision, Finding, Step, Treatment, Zone
from interview.reasoning.agenda import can_change_plan
from interview.reasoning.circumstances import Circumstances, settled
from interview.reasoning.deciding import decide_from
from interview.reasoning.planner import _cautions
from interview.reasoning.rehearsal import rehearse
from interview.text.minutes import minutes
from knowledge.loading import Knowledge
from knowledge.shape import REASONS, Sealer
from tests.proof import replay

DELICATE = ("tears", "curls", "sheds", "crushes")
# zones that lie in the face: what is drawn on the face, or laid on it, is on them too
FACE = ("front", "gaps", "seams")
TRIALS = ("drop_result", "resin_drop_result", "rub_result", "swab_clean", "swab_colour", "coupon_result")
POURING = ("mix", "pour", "watch", "cure")


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece as it was answered, and all that was decided of it."""

    knowledge: Knowledge
    answers: Answers
    around: Circumstances
    decision: Decision
    facts: Mapping[str, Any]
    steps: tuple[Step, ...]
    cautions: str  # all their words, in one

    def rows_on(self, zone: Zone) -> list[Any]:
        """Materials of a zone, what is drawn on it, and what lies on it."""
        table: Mapping[str, Any] = self.knowledge.inclusions if zone.kind == "inclusion" else self.knowledge.materials
        found = [table[i] for i in sorted(zone.ids("materials"))]
        found += [self.knowledge.media[i] for i in self.media_on(zone)]
        return found + self.lying_on(zone)

    def wetted(self, zone: Zone) -> list[Any]:
        """The same, and for a thing that lies on the piece also the face round it."""
        if zone.kind != "inclusion" or zone.word("form") == "cast":
            return self.rows_on(zone)
        return self.rows_on(zone) + self.rows_on(self.decision.zones[0])

    def media_on(self, zone: Zone) -> list[str]:
        of_the_sheet = zone.kind == "edges" and zone.body == "sheet"
        if zone.kind in (*FACE, "features", "part") or of_the_sheet:
            return sorted(i for i in self.around.facts.get("media", ()) if i in self.knowledge.media)
        return []

    def lying_on(self, zone: Zone) -> list[Any]:
        if zone.kind not in FACE:
            return []
        return [
            self.knowledge.inclusions[i]
            for i in sorted(self.around.facts.get("laid_on", ()))
            if i in self.knowledge.inclusions
        ]


def look_at(knowledge: Knowledge, answers: Answers, around: Circumstances | None = None) -> Piece:
    """Decide, order the steps, gather the cautions."""
    around = around or settled(knowledge, answers)
    decided, facts = decide_from(knowledge, around)
    decision, work = rehearse(knowledge, decided, facts)
    said = " ".join(f"{c.says} {c.short}" for c in _cautions(knowledge, facts, work))
    return Piece(knowledge, answers, around, decision, facts, work, said)


def faults(piece: Piece) -> Iterator[str]:
    """Everything that does not hold."""
    for check in CHECKS:
        yield from check(piece)


# ------------------------------------------------------------------ 1 and 2: what touches a zone


def no_brush_where_it_spoils(piece: Piece) -> Iterator[str]:
    for treatment, zone in _touched(piece):
        if treatment.method == "brush":
            for row in piece.rows_on(zone):
                why = spoilt_by_brush(row, zone, piece.around.facts)
                if why:
                    yield f"1: {treatment.sealer} is brushed on {zone.id}, where {row.id} {why}"


def spoilt_by_brush(row: Any, zone: Zone, facts: Mapping[str, Any]) -> str:
    """What a brush does to one row, or nothing."""
    brush = getattr(row, "brush", "holds")
    if brush in DELICATE or (
        brush == "varies" and not (zone.kind != "inclusion" and facts.get("sturdiness") == "sturdy")
    ):
        return brush
    if row.loose >= 2:
        return "is loose"
    shown = facts.get("rub_result", "none")
    if zone.kind == "front" and shown == "marked":
        return "left a mark on the cloth"
    smudge = getattr(row, "smudge", 0)
    if smudge == 2 or (smudge == 1 and shown != "clean"):
        return "smudges"
    return ""


def gentle_ways_spoil_nothing(piece: Piece) -> Iterator[str]:
    """What presses lifts nothing off, what soaks floats nothing off, big drops fall on no powder."""
    facts = piece.around.facts
    for treatment, zone in _touched(piece):
        rows = piece.rows_on(zone)
        loose = [r.id for r in rows if r.loose >= 2 or getattr(r, "brush", "") in ("sheds", "crushes")]
        smears = [r.id for r in rows if getattr(r, "smudge", 0) == 2]
        if treatment.method in ("dab", "bead") and (
            smears or (facts.get("rub_result") == "marked" and zone.kind == "front")
        ):
            yield f"1: {treatment.sealer} presses on {zone.id}, where {smears or 'something'} prints off"
        if treatment.method in ("dab", "dip") and loose:
            yield f"1: {treatment.sealer} on {zone.id} takes {loose} off"
        if treatment.method == "mist" and any(getattr(r, "fix", "no") == "first" for r in rows):
            yield f"1: drops from a pump bottle fall on powder on {zone.id}"
        if zone.kind not in piece.knowledge.methods[treatment.method].reaches:
            yield f"1: {treatment.method} does not get to {zone.id}"


def no_carrier_that_moves(piece: Piece) -> Iterator[str]:
    facts = piece.around.facts
    for treatment, zone in _touched(piece):
        sealer = piece.knowledge.sealers[treatment.sealer]
        if sealer.carrier == "none":
            continue
        off = () if sealer.barrier else zone.ids("liftable")  # taken off first, and the step says so
        worst = max((moved_by(sealer, row) for row in piece.wetted(zone) if row.id not in off), default=0)
        clean = sealer.carrier in facts.get("swab_clean", ())
        if worst == 2:
            yield f"2: {sealer.id} is put on {zone.id}, where its {sealer.carrier} dissolves something"
        if sealer.carrier in facts.get("swab_colour", ()):
            yield f"2: {sealer.id} is put on {zone.id}, though the swab took colour"
        if worst == 1 and not clean and not _swabbed(piece, treatment, zone):
            yield f"2: {sealer.id} may move something on {zone.id}, and no swab is asked for there"


def moved_by(sealer: Sealer, row: Any) -> int:
    return 0 if row.id in sealer.made_for else int(getattr(row, sealer.carrier))


def _swabbed(piece: Piece, treatment: Treatment, zone: Zone) -> bool:
    return treatment.needs_trial and any(
        t.id in ("swab", "carrier_drop") and zone.id in t.zones for t in piece.decision.trials
    )


def _touched(piece: Piece) -> Iterator[tuple[Treatment, Zone]]:
    zones = {z.id: z for z in piece.decision.zones}
    for treatment in piece.decision.treatments:
        for id in treatment.zones:
            yield treatment, zones[id]


def right_sealer(piece: Piece) -> Iterator[str]:
    """Clear, non-yellowing, at hand, and good for what it is used for."""
    ways = piece.around.facts["ways"]
    at_hand = {"brush": "brush" in ways, "spray": bool({"spray_outdoors", "spray_booth"} & set(ways))}
    for treatment, zone in _touched(piece):
        sealer = piece.knowledge.sealers[treatment.sealer]
        if treatment.gentle != piece.knowledge.methods[treatment.method].gentle:
            yield f"1: {sealer.id} on {zone.id} is not told for the gentle way that it is"
        if not at_hand.get(treatment.method, treatment.gentle):
            yield f"1: {sealer.id} on {zone.id} cannot be put on by {treatment.method} here"
        if not sealer.clear or (sealer.yellows and zone.kind != "features"):
            yield f"1: {sealer.id} on {zone.id} does not stay clear"
        if sealer.only_for and zone.kind not in sealer.only_for:
            yield f"1: {sealer.id} is not for {zone.id}"


# ------------------------------------------------------------------ 4: verdicts


def a_verdict_for_each(piece: Piece) -> Iterator[str]:
    given = [(v.zone, v.reason) for v in piece.decision.verdicts]
    wanted = [(z.id, r) for z in piece.decision.zones for r in REASONS]
    if sorted(given) != sorted(wanted):
        yield f"4: verdicts for {sorted(set(given) ^ set(wanted))} are missing, too many or twice"
    for verdict in piece.decision.verdicts:
        if not verdict.findings:
            where = _state(piece, verdict.zone)
            yield f"4: {where}: {verdict.reason} is '{verdict.need}' with nothing to rest on"
        for finding in (*verdict.findings, *verdict.lifted):
            yield from _rests(piece, finding, verdict.zone)


def _state(piece: Piece, zone: str) -> str:
    found = next(z for z in piece.decision.zones if z.id == zone)
    shown = ", ".join(found.word(name) for name in ("form", "surface", "reached"))
    return f"{found.kind} of {found.body} ({shown})"


def _rests(piece: Piece, finding: Finding, where: str) -> Iterator[str]:
    if not finding.says or "{" in finding.says:
        yield f"4: {where}: {finding.rule} says {finding.says!r}"
    yield from _basis_faults(piece, finding.basis, f"{where}: {finding.rule}")
    if finding.basis.kind == "your trial" and not any(piece.answers.value(q) for q in TRIALS):
        yield f"4: {where}: {finding.rule} rests on a trial that was not made"


def _basis_faults(piece: Piece, basis: Basis, where: str) -> Iterator[str]:
    if basis.kind == "published" and (basis.source not in piece.knowledge.sources or not basis.locator):
        yield f"4: {where} is published without source and locator"


def every_need_is_met(piece: Piece) -> Iterator[str]:
    """A required need ends in a treatment for that reason or in a way out; what must not be coated is left alone."""
    decision, sealers = piece.decision, piece.knowledge.sealers
    good = {"absorption": "barrier", "loose matter": "tacks", "trapped air": "blocks_air"}
    barred = {v.zone for v in decision.verdicts if v.need == "must not"}
    for zone in barred:
        if any(zone in t.zones for t in decision.treatments):
            yield f"4: {zone} must not be coated and is"
        if not any(zone in o.zones for o in decision.outlets):
            yield f"4: {zone} must not be coated and no way out is named"
    for verdict in decision.verdicts:
        mine = [t for t in decision.treatments if verdict.zone in t.zones and verdict.reason in t.reasons]
        for t in mine:
            if not getattr(sealers[t.sealer], good[verdict.reason]):
                yield f"4: {t.sealer} does nothing for {verdict.reason} on {verdict.zone}"
        served = bool(mine) or any(verdict.zone in o.zones for o in decision.outlets)
        if verdict.need == "required" and not served and verdict.zone not in barred:
            yield f"4: {verdict.zone} needs sealing for {verdict.reason} and gets neither seal nor way out"
    for outlet in decision.outlets:
        if not outlet.says or not outlet.findings:
            yield f"4: the way out {outlet.id} has nothing to rest on"


def two_in_a_row_are_explained(piece: Piece) -> Iterator[str]:
    """Where one zone gets two sealers, one after the other, a note says why."""
    for zone in piece.decision.zones:
        mine = [t.sealer for t in piece.decision.treatments if zone.id in t.zones]
        if len(mine) > 1 and not any(zone.name.casefold() in n.says.casefold() for n in piece.decision.notes):
            yield f"4: {zone.kind} of {zone.body} gets {' and '.join(mine)}, and nothing says why"


def paper_on_both_faces(piece: Piece) -> Iterator[str]:
    """A sheet sealed on its open face is sealed on its back, edges included, unless the back is closed or hidden."""
    needs = {(v.zone, v.reason): v.need for v in piece.decision.verdicts}
    zones = {z.id: z for z in piece.decision.zones}
    front = zones.get("front")
    if front is None or front.body != "sheet" or needs["front", "absorption"] != "required":
        return
    for id in ("back", "edges"):
        zone = zones.get(id)
        if zone is None or zone.word("surface") != "open" or zone.word("form") == "cloth":
            continue
        if needs[id, "absorption"] not in ("required", "must not"):
            yield f"4: the front drinks and {_state(piece, id)} is '{needs[id, 'absorption']}'"


def opened_edges_are_sealed(piece: Piece) -> Iterator[str]:
    opened = set(piece.around.facts.get("opened", ())) & {"cut", "torn"}
    for verdict in piece.decision.verdicts:
        if verdict.zone == "edges" and verdict.reason == "absorption" and opened:
            zone = next(z for z in piece.decision.zones if z.id == "edges")
            if (
                zone.body == "sheet"
                and zone.word("surface") != "closed"
                and verdict.need not in ("required", "must not")
            ):
                yield f"4: the opened edge of {_state(piece, 'edges')} is '{verdict.need}'"


# ------------------------------------------------------------------ 5: not sure

SETTLED_OTHERWISE = {"only_one": "copy_the_only_one"}  # by a way out that keeps the original


def settled_first(piece: Piece) -> Iterator[str]:
    """Every question answered "not sure" is named by a trial of this plan; nothing is tried on what must not be coated.

    Not so "tried": not sure whether a trial was made is the same as not made, and then it is among the trials.
    """
    if piece.facts["stopped"]:
        looks = {t.id for t in piece.knowledge.trials.values() if t.looks}
        yield from (
            f"5: {t.id} touches what must not be coated"
            for t in piece.decision.trials
            if not t.zones and t.id not in looks
        )
        return
    if "cannot_be_worked" in {o.id for o in piece.decision.outlets}:
        return  # stopped once its steps were played: what would touch it is not tried
    named = {q for t in piece.decision.trials for q in settles(piece.knowledge, t.id)}
    named |= {q for q, o in SETTLED_OTHERWISE.items() if o in {x.id for x in piece.decision.outlets}}
    for question, answer in piece.answers.items():
        applies = question in piece.around.facts and piece.knowledge.questions[question].part in (
            "piece",
            "trials",
        )
        if (
            not answer.unsure
            or not applies
            or question in named
            or question == "tried"
            or piece.knowledge.questions[question].heard
        ):
            continue
        if can_change_plan(piece.knowledge, piece.answers.withdraw(question), piece.knowledge.questions[question]):
            yield f"5: '{question}' is not sure, and no trial settles it"


def settles(knowledge: Knowledge, trial: str) -> frozenset[str]:
    """The questions a trial is there for: what it settles, and what it asks to be unsure."""
    rule = knowledge.trials[trial]
    found = {rule.settles} if rule.settles else set()
    stack: list[Any] = [rule.when]
    while stack:
        part = stack.pop()
        if getattr(part, "of", "") == "unsure":
            found |= {part.value} if part.test == "is" else set(part.value)
        stack += getattr(part, "parts", ())
        stack += [part.part] if hasattr(part, "part") else []
    return frozenset(found)


# ------------------------------------------------------------------ 6: cautions

SPRAY = {
    "outdoors or forced air": r"outdoors|booth|fan", "no ignition source": r"no flame|ignition|spark",
    "the kind of mask": r"organic.vapour", "drop cloths": r"drop cloth",
}  # fmt: skip
RESIN = {
    "gloves": r"nitrile gloves", "eyes": r"goggles|eye protection", "air": r"window|ventilat", "skin":
    r"skin", "label": r"label", "data sheet": r"safety data sheet", "local rules": r"local rules|local code",
    "licensed practice": r"licensed",
}  # fmt: skip


def cautions_are_there(piece: Piece) -> Iterator[str]:
    sprayed = any(t.method == "spray" for t in piece.decision.treatments)
    for what, pattern in {**RESIN, **(SPRAY if sprayed else {})}.items():
        if not re.search(pattern, piece.cautions, re.IGNORECASE):
            yield f"6: no caution speaks of {what}"
    for t in piece.decision.treatments:
        for id in piece.knowledge.sealers[t.sealer].cautions:
            if piece.knowledge.cautions[id].says not in piece.cautions:
                yield f"6: {t.sealer} brings the caution {id}, and it is not shown"


# ------------------------------------------------------------------ 3 and 8: order and time


def steps_in_order(piece: Piece) -> Iterator[str]:
    begins, ends = _times(piece.steps)
    if not begins and piece.steps:
        yield "8: the steps lean on each other in a circle, or on one that is not there"
        return
    by_kind = {
        k: [s for s in piece.steps if s.kind == k] for k in ("trial", "prepare", "seal", "flatten", "mix", "pour")
    }
    ahead = {
        f"prepare.{p.id}" for p in piece.decision.preps if p.stage == "ahead"
    }  # the copy, before anything touches it
    work = [s for s in piece.steps if s.kind not in ("trial",) and s.id not in ahead]
    for trial in by_kind["trial"]:
        for step in work:
            if begins[step.id] < ends[trial.id] + trial.wait[0] - 1e-9:
                yield f"5: {step.id} comes before {trial.id} is read"
    for step in piece.steps:
        if not step.done_when or not step.how:
            yield f"3: {step.id} does not say how or when it is done"
        for before, least, most in step.after:
            if most is not None and most < least:
                yield f"8: {step.id} must come {least} and at most {most} minutes after {before}"
            if most is not None and step.kind == "seal" and step.alternative is None:
                yield f"8: {step.id} has a window and nothing to do if it is missed"
    yield from _windows(piece, begins, ends)
    yield from _dry_before_resin(piece, begins, ends)


def _times(steps: tuple[Step, ...]) -> tuple[dict[str, float], dict[str, float]]:
    """When each step begins and ends at the earliest, in minutes; empty if they cannot be ordered."""
    begins: dict[str, float] = {}
    ends: dict[str, float] = {}
    for step in steps:  # steps stand in an order in which each leans on earlier ones
        if any(before not in ends for before, _, _ in step.after):
            return {}, {}
        begins[step.id] = max((ends[b] + least for b, least, _ in step.after), default=0.0)
        ends[step.id] = begins[step.id] + step.hands_on
    return begins, ends


def _windows(piece: Piece, begins: Mapping[str, float], ends: Mapping[str, float]) -> Iterator[str]:
    """Taken at the earliest, no window is missed."""
    for step in piece.steps:
        for before, _, most in step.after:
            if most is not None and begins[step.id] > ends[before] + most + 1e-9 and step.alternative is None:
                yield f"8: {step.id} cannot come within {most} minutes of {before}"


def _dry_before_resin(piece: Piece, begins: Mapping[str, float], ends: Mapping[str, float]) -> Iterator[str]:
    pours = [s for s in piece.steps if s.kind in ("mix", "pour")]
    fronts = {z.id for z in piece.decision.zones if z.kind not in ("back", "sides")}
    stopped = [o for o in piece.decision.outlets if fronts & set(o.zones)]
    if stopped and pours:
        where = stopped[0].zones[0]
        yield f"8: something is poured though {where} has no more than the way out {stopped[0].id}"
    if not pours:
        return
    first = min(begins[s.id] for s in pours)
    for treatment in piece.decision.treatments:
        sealer = piece.knowledge.sealers[treatment.sealer]
        for zone in treatment.zones:
            mine = [s for s in piece.steps if s.kind == "seal" and s.sealer == sealer.id and zone in s.zones]
            if len(mine) < treatment.coats_least or treatment.coats_least < 1:
                yield f"3: {zone} gets {len(mine)} coats of {sealer.id}, not {treatment.coats_least}"
            elif first < ends[mine[-1].id] + minutes(sealer.ready)[0] - 1e-9:
                yield f"3: the resin comes before {sealer.id} on {zone} is dry through"
    for step in piece.steps:
        if step.kind in ("prepare", "flatten", "seal") and first < ends[step.id] + _must_wait(piece, step) - 1e-9:
            yield f"8: the resin comes before {step.id} is done"


def _must_wait(piece: Piece, step: Step) -> float:
    return minutes(piece.knowledge.sealers[step.sealer].recoat)[0] if step.sealer else step.wait[0]


def nothing_is_spoilt(piece: Piece) -> Iterator[str]:
    """Every step, replayed on every layer."""
    yield from replay.faults(piece.knowledge, piece.decision, piece.steps, piece.around.facts)
    yield from replay.order_faults(piece.knowledge, piece.steps)


CHECKS = (
    no_brush_where_it_spoils, gentle_ways_spoil_nothing, no_carrier_that_moves, right_sealer, a_verdict_for_each, every_need_is_met,
    two_in_a_row_are_explained, paper_on_both_faces, opened_edges_are_sealed, settled_first,
    cautions_are_there, steps_in_order, nothing_is_spoilt,
)  # fmt: skip
