"""Zones, needs and treatments -> the trials to do first and the work on the piece before sealing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from interview.plan.parts import Basis, Prep, Treatment, Trial, Verdict, Zone
from interview.reasoning.circumstances import rows_of, stuff
from interview.reasoning.findings import fill, zone_facts
from interview.reasoning.phrasing import worded
from interview.reasoning.treatments import Choice
from interview.text.minutes import minutes
from knowledge.loading import Knowledge
from knowledge.shape import Preparation, TrialRule

Facts = Mapping[str, Any]


def piece_facts(
    knowledge: Knowledge,
    facts: Facts,
    assumed: Iterable[str],
    zones: Sequence[Zone],
    verdicts: Sequence[Verdict],
    choice: Choice,
) -> dict[str, Any]:
    """What the rules for the whole piece read: the answers, and what was decided."""
    treatments = choice.treatments
    of_sheet = {z.id for z in zones if z.body == "sheet" and z.kind != "inclusion"}
    sheets = [t for t in treatments if t.method == "brush" and of_sheet & set(t.zones)]
    loose = facts.get("mounted") == "no" and any(
        z.body == "sheet" and z.word("form") in ("sheet", "collage") for z in zones
    )
    cast = facts.get("piece") == "cast"
    airy = any(z.kind == "inclusion" and z.flag("natural") for z in zones)
    airy = airy or any(v.reason == "trapped air" and v.need in ("required", "advised") for v in verdicts)
    return {
        **facts,
        "unsure": frozenset(assumed),
        "treated.methods": frozenset(t.method for t in treatments),
        "brushed.carriers": frozenset(knowledge.sealers[t.sealer].carrier for t in treatments if t.method == "brush"),
        "treated.sealers": frozenset(t.sealer for t in treatments),
        "treated.carriers": frozenset(knowledge.sealers[t.sealer].carrier for t in treatments),
        "stuff.cautions": frozenset(caution for _, row in stuff(knowledge, facts) for caution in row.cautions),
        "treated.cautions": frozenset(c for t in treatments for c in knowledge.sealers[t.sealer].cautions),
        "curled": loose and bool(sheets),
        "stopped": any(z.ids("stop") and z.kind in ("front", "part", "inclusion") for z in zones),
        "untouched": any(knowledge.ways_out[s].untouched for z in zones for s in z.ids("stop")),
        "loose_sheet": loose and facts.get("resin_on") != "all",
        "worth_a_coupon": _worth_a_coupon(facts, zones, treatments),
        "late_air": airy,
        "two_pours": (cast and any(floats(z) for z in zones)) or _breathes(facts),
    }


def _breathes(facts: Facts) -> bool:
    """A trial showed bubbles: a thin layer first, which gels, and then the rest."""
    return "bubbles" in (facts.get("coupon_result"), facts.get("resin_drop_result"))


def floats(zone: Zone) -> bool:
    """Whether a thing cast in has to be held by a first layer."""
    return zone.kind == "inclusion" and zone.word("floats") != "sinks"


def _worth_a_coupon(facts: Facts, zones: Sequence[Zone], treatments: Sequence[Treatment]) -> bool:
    """A scrap of the whole stack, unless it has been done well, or there is nothing that could go wrong."""
    if facts.get("coupon_result") == "clear":
        return False
    return bool(treatments) or any(z.word("surface") != "closed" for z in zones)


def zone_views(
    facts: Facts, zones: Sequence[Zone], verdicts: Sequence[Verdict], choice: Choice
) -> tuple[tuple[Zone, Facts], ...]:
    """Each zone with what the rules for zones read: its own facts, its needs, and the facts of the piece."""
    needs: dict[str, dict[str, Any]] = {}
    for v in verdicts:
        needs.setdefault(v.zone, {})[f"need.{v.reason}"] = v.need
    return tuple((z, zone_facts(z, {**facts, **needs[z.id], "zone.needs_swab": z.id in choice.to_swab})) for z in zones)


def trials(knowledge: Knowledge, facts: Facts, views: Sequence[tuple[Zone, Facts]]) -> tuple[Trial, ...]:
    """In the order to do them; one a rule, naming all the zones it is for."""
    made: list[Trial] = []
    for rule in knowledge.trials.values():
        if rule.per == "piece":
            if rule.when.holds(facts) and (rule.looks or not facts["stopped"]):
                made.append(_trial(knowledge, rule, ()))
            continue
        hit = [z for z, view in views if rule.when.holds(view) and not z.ids("stop")]
        if hit:
            made.append(_trial(knowledge, rule, hit))
    return tuple(made)


def _trial(knowledge: Knowledge, rule: TrialRule, zones: Sequence[Zone]) -> Trial:
    says = _fill_all(rule.says, zones)
    how = _fill_all(worded(knowledge, rule.how, rule.does), zones)
    return Trial(
        rule.id, rule.name, tuple(z.id for z in zones), says, how, rule.reads, rule.settles,
        Basis(rule.basis, rule.source, rule.locator), minutes(rule.hands_on)[0], minutes(rule.wait),
        rule.safety,
    )  # fmt: skip


def preparations(knowledge: Knowledge, facts: Facts, views: Sequence[tuple[Zone, Facts]]) -> tuple[Prep, ...]:
    """Work on the piece, each at its stage. Drying times of media come from their rows."""
    made: list[Prep] = []
    for rule in knowledge.preparations.values():
        if rule.per == "piece":
            if rule.when.holds(facts):
                made.append(_prep(knowledge, rule, ()))
            continue
        hit = [z for z, view in views if rule.when.holds(view)]
        if hit:
            prep = _told_by_rows(knowledge, rule, _longest_dry(knowledge, rule, _prep(knowledge, rule, hit), hit), hit)
            made.append(_bound(knowledge, prep, hit, [z for z, _ in views]))
    return tuple(made)


def _bound(knowledge: Knowledge, prep: Prep, hit: Sequence[Zone], zones: Sequence[Zone]) -> Prep:
    """Where other stuff lies beside it in the same face, the work is bound to the part it is for, by name."""
    beside = [z.name for z in zones if z.kind in ("front", "part") and z not in hit]
    mine = [z.name for z in hit if z.kind in ("front", "part")]
    touches = any(knowledge.actions[a].rub or knowledge.actions[a].wet for a in prep.does)
    if touches and not mine and beside and "front" in {z.kind for z in zones}:
        return replace(prep, name=f"{prep.name}: {' and '.join(z.name for z in hit)}")
    if not touches or not mine or not beside or not any(z.kind == "part" for z in zones):
        return prep
    named, kept = " and ".join(mine), " and ".join(beside)
    how = f"Only on {named}: cover {kept}, and bring no cloth, scraper or liquid there. {prep.how}"
    return replace(prep, name=f"{prep.name}: {named}", how=how)


def _prep(knowledge: Knowledge, rule: Preparation, zones: Sequence[Zone]) -> Prep:
    return Prep(
        rule.id, rule.name, tuple(z.id for z in zones), _fill_all(rule.says, zones),
        worded(knowledge, rule.how, rule.does), rule.done_when,
        Basis(rule.basis, rule.source, rule.locator), minutes(rule.hands_on)[0], minutes(rule.wait), rule.needs,
        "ahead" if rule.first else "sealed" if rule.after_sealing else "first",
        minutes(rule.each)[0] if rule.each else None, rule.safety, rule.does,
    )  # fmt: skip


def _longest_dry(knowledge: Knowledge, rule: Preparation, prep: Prep, zones: Sequence[Zone]) -> Prep:
    """The wait for an image is that of its slowest medium; the wait for a natural thing may be named in its row."""
    media = [knowledge.media[i] for z in zones for i in z.ids("media") if i in knowledge.media]
    spans = [minutes(m.dry) for m in media if m.dry.high > 0]
    if rule.id != "dry_medium" or not spans:
        return prep
    return replace(prep, wait=(max(low for low, _ in spans), max(high for _, high in spans)))


def _told_by_rows(knowledge: Knowledge, rule: Preparation, prep: Prep, zones: Sequence[Zone]) -> Prep:
    """How it is done to each of these things, where their rows say so."""
    rows = rows_of(knowledge.inclusions, {i for z in zones for i in z.ids("materials")})
    told = {row.name: getattr(row, rule.how_of, "") for row in rows} if rule.how_of else {}
    ways = dict.fromkeys(told.values())
    if not all(ways) or not ways:
        return prep
    if len(ways) == 1:
        return replace(prep, how=next(iter(ways)), does=())
    return replace(prep, does=(), how=" ".join(f"{name[:1].upper()}{name[1:]}: {how}" for name, how in told.items()))


def _fill_all(says: str, zones: Sequence[Zone]) -> str:
    """Name all zones and materials in one sentence."""
    if not zones:
        return says
    names = " and ".join(dict.fromkeys(z.name for z in zones))
    whats = " and ".join(dict.fromkeys(z.what for z in zones))
    return fill(says, replace(zones[0], name=names, what=whats))
