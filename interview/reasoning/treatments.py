"""Verdicts -> treatments: what remains of the sealers when every bar is applied, and the ways out where none does."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from interview.plan.parts import Barred, Finding, NoWay, Outlet, Treatment, Verdict, Zone
from interview.reasoning.considered import Chosen, Option, cost
from interview.reasoning.findings import fill, finding, only, read_by, zone_facts
from interview.reasoning.reaching import one_can
from knowledge.loading import Knowledge
from knowledge.shape import NEEDS, REASONS, BarRule, CoatsRule, Need, Reason, Sealer

Facts = Mapping[str, Any]
Told = tuple[frozenset[str], frozenset[str]]  # the ways at hand, and the worries spoken
_AT_HAND = ("no_brush_at_hand", "no_place_to_spray", "not_for_the_pregnant", "not_with_asthma", "not_in_a_bedroom")


@dataclass(frozen=True, slots=True)
class Choice:
    """What was chosen and what was not."""

    treatments: tuple[Treatment, ...]
    barred: tuple[Barred, ...]
    outlets: tuple[Outlet, ...]
    no_ways: tuple[NoWay, ...]
    notes: tuple[Finding, ...]
    to_swab: frozenset[str]  # zones where a carrier must be tried first


def choose(knowledge: Knowledge, facts: Facts, zones: Sequence[Zone], verdicts: Sequence[Verdict]) -> Choice:
    """Pure. Zones with a required need end in a treatment or in an outlet, never in neither."""
    needs = _needs_by_zone(verdicts)
    ways = frozenset(facts.get("ways", ()))
    worries = frozenset(facts.get("worries", ("none",)))
    reads = _reads(knowledge)
    options = {z.id: options_for(knowledge, ways, only(z, reads, ""), worries) for z in zones if _wanted(needs[z.id])}
    tried: dict[str, tuple[Option, ...]] = {}  # the gentle ways, where they came into question
    chosen: list[Chosen] = []
    outlets = _stop_outlets(knowledge, zones, verdicts)
    for body in dict.fromkeys(z.body for z in zones):
        mine = [z for z in zones if z.body == body and z.id in options]
        shared = _shared(mine, options, needs) if body == "sheet" else None
        used: set[str] = set()
        for zone in mine:
            links, unmet = _links(zone, options[zone.id], needs[zone.id], shared)
            tried[zone.id] = gentle_for(knowledge, only(zone, reads, ""), worries) if unmet else ()
            more = _gentle(tried[zone.id], needs[zone.id], unmet, used)
            used |= {option.sealer.id for option, _ in more}
            if links or more:
                chosen.append(Chosen(zone, (*links, *more)))
            left = [r for r in unmet if not any(r in reasons for _, reasons in more)]
            outlets += _unmet_outlets(knowledge, facts, zone, options[zone.id], needs[zone.id], left)
    chosen = one_can(chosen, options)
    treatments = _gather(knowledge, chosen, needs)
    return Choice(
        treatments,
        tuple(
            b
            for z in zones
            if z.id in options
            for b in _barred(z.id, options[z.id] + tried[z.id], _wanted(needs[z.id]))
        ),
        tuple(
            _merge_outlets(
                outlets + _only_one(knowledge, facts, any(knowledge.ways_out[o.id].untouched for o in outlets))
            )
        ),
        tuple(n for z in zones if z.id in options for n in _no_ways(z.id, options[z.id], _wanted(needs[z.id]))),
        _notes(knowledge, chosen, needs),
        frozenset(c.zone.id for c in chosen if any(_swab_wanted(o, c.zone) for o, _ in c.links)),
    )


def _needs_by_zone(verdicts: Sequence[Verdict]) -> dict[str, dict[Reason, Need]]:
    needs: dict[str, dict[Reason, Need]] = {}
    for v in verdicts:
        needs.setdefault(v.zone, {})[v.reason] = v.need
    return needs


def _wanted(needs: Mapping[Reason, Need]) -> tuple[Reason, ...]:
    """The reasons to treat for. A zone that must not be coated gets nothing."""
    if "must not" in needs.values():
        return ()
    return tuple(r for r, n in needs.items() if n in ("required", "advised"))


# ------------------------------------------------------------------ options


@dataclass(frozen=True, slots=True)
class Barring:
    """The bars: those that are the same for every purpose, those that ask for one, and the zone's facts they read."""

    always: tuple[BarRule, ...]
    asking: tuple[BarRule, ...]
    reads: frozenset[str]


@lru_cache(maxsize=8)
def _barring(knowledge: Knowledge) -> Barring:
    rules = tuple(knowledge.bars.values())
    asking = tuple(r for r in rules if "option.purpose" in r.when.names())
    return Barring(tuple(r for r in rules if r not in asking), asking, read_by(rules))


@lru_cache(maxsize=8)
def _reads(knowledge: Knowledge) -> frozenset[str]:
    """The facts of a zone that options hang on: what bars read, and what a carrier may move."""
    return _barring(knowledge).reads | {"wets", "liftable", "swab_clean", "swab_colour"}


@lru_cache(maxsize=8192)
def options_for(
    knowledge: Knowledge, ways: frozenset[str], zone: Zone, worries: frozenset[str] = frozenset()
) -> tuple[Option, ...]:
    """Every sealer with what bars it from this zone, for each purpose.

    Kept, for the same zones come up again and again; give it a zone with no more facts than these hang on.
    """
    sealers = (s for s in knowledge.sealers.values() if s.method != "none" and not is_gentle(knowledge, s))
    return tuple(_option(knowledge, (ways, worries), zone, _seen(knowledge, zone), s) for s in sealers)


@lru_cache(maxsize=8192)
def gentle_for(knowledge: Knowledge, zone: Zone, worries: frozenset[str] = frozenset()) -> tuple[Option, ...]:
    """The same for the ways that are kept for where neither brush nor spray will do. They need nothing but hands."""
    sealers = (s for s in knowledge.sealers.values() if is_gentle(knowledge, s))
    return tuple(_option(knowledge, (frozenset(), worries), zone, _seen(knowledge, zone), s) for s in sealers)


def is_gentle(knowledge: Knowledge, sealer: Sealer) -> bool:
    return sealer.method != "none" and knowledge.methods[sealer.method].gentle


def _seen(knowledge: Knowledge, zone: Zone) -> Zone:
    reads = _barring(knowledge).reads
    return Zone("", zone.kind, zone.body, "", "", tuple(pair for pair in zone.facts if pair[0] in reads))


def _option(knowledge: Knowledge, told: Told, zone: Zone, seen: Zone, sealer: Sealer) -> Option:
    moves, wets = _moves(knowledge, zone, sealer, sealer.made_for), _moves(knowledge, zone, sealer)
    colour = sealer.carrier in zone.ids("swab_colour")
    found = _barred_by(knowledge, told, seen, sealer.id, moves, colour)
    filled = {f: replace(f, says=fill(f.says, zone)) for f in dict.fromkeys(f for bars in found for f in bars)}
    return Option(
        sealer, moves, {p: tuple(filled[f] for f in bars) for p, bars in zip(REASONS, found, strict=True)}, wets
    )


@lru_cache(maxsize=65536)
def _barred_by(
    knowledge: Knowledge, told: Told, zone: Zone, sealer: str, moves: int, colour: bool
) -> tuple[tuple[Finding, ...], ...]:
    """What bars a sealer, for each purpose, in the rules' own words; the zone has no words of its own here."""
    bars = _barring(knowledge)
    option = _option_facts(knowledge, knowledge.sealers[sealer], zone.kind, moves, colour)
    facts = {**zone_facts(zone, {"ways": told[0], "worries": told[1]}), **option}
    common = tuple(_bar_finding(knowledge, rule, facts, zone) for rule in bars.always if rule.when.holds(facts))
    made: list[tuple[Finding, ...]] = []
    for purpose in REASONS:
        facts["option.purpose"] = purpose
        made.append(
            (*common, *(_bar_finding(knowledge, rule, facts, zone) for rule in bars.asking if rule.when.holds(facts)))
        )
    return tuple(made)


def _bar_finding(knowledge: Knowledge, rule: BarRule, facts: Facts, zone: Zone) -> Finding:
    return finding(knowledge, rule, rule.says, rule.when.outcome(facts).because, facts, zone)


def _option_facts(knowledge: Knowledge, sealer: Sealer, kind: str, moves: int, colour: bool) -> dict[str, Any]:
    return {
        **{f"option.{p.id}": getattr(sealer, p.id) for p in knowledge.properties.values() if p.option},
        "option.moves": moves,
        "option.swab": "colour" if colour else "none",
        "option.reaches": kind in knowledge.methods[sealer.method].reaches,
        "option.kept_elsewhere": bool(sealer.only_for) and kind not in sealer.only_for,
    }


def _moves(knowledge: Knowledge, zone: Zone, sealer: Sealer, made_for: tuple[str, ...] = ()) -> int:
    """What the carrier does to the most sensitive thing on the zone. Made-for media count as 0; a clean swab
    takes away a doubt (1), never a known harm (2): a flood of spray is harder on an ink than a swab."""
    carrier = sealer.carrier
    if carrier == "none":
        return 0
    tables: dict[str, Mapping[str, Any]] = {
        "material": knowledge.materials, "inclusion": knowledge.inclusions, "medium": knowledge.media,
    }  # fmt: skip
    off = zone.ids("liftable") if not sealer.barrier else ()  # taken off while what is drawn is fixed
    safe = {*(("medium", id) for id in made_for), *(("inclusion", id) for id in off)}
    worst = max((getattr(tables[table][id], carrier) for table, id in zone.wets if (table, id) not in safe), default=0)
    return 0 if worst == 1 and carrier in zone.ids("swab_clean") else worst


def _swab_wanted(option: Option, zone: Zone) -> bool:
    return option.moves == 1 and option.sealer.carrier not in zone.ids("swab_clean")


# ------------------------------------------------------------------ choosing


def _best(options: Iterable[Option], reasons: Sequence[Reason]) -> Option | None:
    fitting = [o for o in options if all(o.fits(r) for r in reasons)]
    return min(fitting, key=lambda o: (*cost(o, reasons), o.sealer.id), default=None)


def _shared(
    zones: Sequence[Zone], options: Mapping[str, tuple[Option, ...]], needs: Mapping[str, Mapping[Reason, Need]]
) -> str | None:
    """The one sealer that suits all zones of a sheet, so that it is worked in one way; None if there is none."""
    costs: dict[str, tuple[int, ...]] = {}
    for place, zone in enumerate(zones):
        reasons = _barrier_reasons(zone, options[zone.id], _wanted(needs[zone.id]))
        if not reasons:
            continue
        fitting = {o.sealer.id: cost(o, reasons) for o in options[zone.id] if all(o.fits(r) for r in reasons)}
        costs = (
            {id: max(cost, fitting[id]) for id, cost in costs.items() if id in fitting} if place and costs else fitting
        )
        if not costs:
            return None
    return min(costs, key=lambda id: (*costs[id], id), default=None)


def _fixer(zone: Zone, options: Sequence[Option], wanted: Sequence[Reason]) -> Option | None:
    """The fixative for a powdery medium, if it may be used."""
    if not zone.flag("powdery") or "loose matter" not in wanted:
        return None
    return _best([o for o in options if o.sealer.barrier == 0], ("loose matter",))


def _barrier_reasons(zone: Zone, options: Sequence[Option], wanted: Sequence[Reason]) -> tuple[Reason, ...]:
    fixed = _fixer(zone, options, wanted) is not None
    return tuple(r for r in wanted if not (fixed and r == "loose matter"))


def _links(
    zone: Zone, options: Sequence[Option], needs: Mapping[Reason, Need], shared: str | None
) -> tuple[tuple[tuple[Option, tuple[Reason, ...]], ...], tuple[Reason, ...]]:
    """The chain of sealers for one zone, and the reasons nothing fits."""
    wanted = _wanted(needs)
    links: list[tuple[Option, tuple[Reason, ...]]] = []
    fixer = _fixer(zone, options, wanted)
    if fixer is not None:
        links.append((fixer, ("loose matter",)))
    rest = _barrier_reasons(zone, options, wanted)
    if not rest:
        return tuple(links), ()
    fitting = [o for o in options if o.sealer.id == shared and all(o.fits(r) for r in rest)]
    common = fitting[0] if fitting else _best(options, rest)
    if common is not None:
        return (*links, (common, rest)), ()
    unmet: list[Reason] = []
    singles: dict[str, tuple[Option, list[Reason]]] = {}
    for reason in rest:
        best = _best(options, (reason,))
        if best is None:
            unmet.append(reason)
        else:
            singles.setdefault(best.sealer.id, (best, []))[1].append(reason)
    by_barrier = sorted(singles.values(), key=lambda pair: pair[0].sealer.barrier)
    return (*links, *((o, tuple(r)) for o, r in by_barrier)), tuple(unmet)


def _gentle(
    options: Sequence[Option], needs: Mapping[Reason, Need], unmet: Sequence[Reason], used: Iterable[str]
) -> tuple[tuple[Option, tuple[Reason, ...]], ...]:
    """The gentlest open way for what must be sealed and neither brush nor spray may seal: one way for all of it,
    and the way that another part of the body gets, where that does."""
    wanted = tuple(r for r in unmet if needs[r] == "required")
    fitting = [o for o in options if wanted and all(o.fits(r) for r in wanted)]
    best = min(fitting, key=lambda o: (o.sealer.id not in used, o.moves, o.sealer.rank, o.sealer.id), default=None)
    return ((best, wanted),) if best else ()


# ------------------------------------------------------------------ gathering


def _gather(
    knowledge: Knowledge, chosen: Sequence[Chosen], needs: Mapping[str, Mapping[Reason, Need]]
) -> tuple[Treatment, ...]:
    """One treatment a sealer and body, with the coats of its thirstiest zone; a fixative before the barrier."""
    made: dict[tuple[str, str], Treatment] = {}
    for one in chosen:
        for place, (option, reasons) in enumerate(one.links):
            rule = _coats(knowledge, one.zone, option)
            first = place < len(one.links) - 1
            key = (one.zone.body, option.sealer.id)
            new = _treatment(knowledge, one.zone, option, reasons, rule, needs[one.zone.id], first)
            way = knowledge.methods[option.sealer.method]
            new = replace(new, coat=way.coat, gentle=way.gentle)
            made[key] = _join(made[key], new) if key in made else new
    ordered = sorted(made.values(), key=lambda t: not t.first)
    return tuple(replace(t, id=f"t{n}") for n, t in enumerate(ordered, 1))


def _treatment(
    knowledge: Knowledge,
    zone: Zone,
    option: Option,
    reasons: tuple[Reason, ...],
    rule: CoatsRule,
    needs: Mapping[Reason, Need],
    first: bool,
) -> Treatment:
    sealer = option.sealer
    more = int(zone.word("coupon") == "dark" and sealer.barrier > 0)  # your scrap asked for it
    return Treatment(
        id="",
        zones=(zone.id,),
        body=zone.body,
        sealer=sealer.id,
        name=sealer.name,
        method=sealer.method,
        coats_least=rule.least + more,
        coats_most=rule.most + more,
        reasons=reasons,
        strength=min((needs[r] for r in reasons), key=NEEDS.index),
        findings=(finding(knowledge, rule, fill(rule.says, zone), sorted(rule.when.names()), zone_facts(zone), zone),),
        first=first,
        needs_trial=_swab_wanted(option, zone),
    )


def _join(one: Treatment, other: Treatment) -> Treatment:
    return replace(
        one,
        zones=(*one.zones, *other.zones),
        coats_least=max(one.coats_least, other.coats_least),
        coats_most=max(one.coats_most, other.coats_most),
        reasons=tuple(dict.fromkeys((*one.reasons, *other.reasons))),
        strength=min(one.strength, other.strength, key=NEEDS.index),
        findings=tuple(dict.fromkeys((*one.findings, *other.findings))),
        first=one.first or other.first,
        needs_trial=one.needs_trial or other.needs_trial,
    )


@lru_cache(maxsize=8192)
def _coats(knowledge: Knowledge, zone: Zone, option: Option) -> CoatsRule:
    colour = option.sealer.carrier in zone.ids("swab_colour")
    facts = zone_facts(zone, _option_facts(knowledge, option.sealer, zone.kind, option.moves, colour))
    return next(r for r in knowledge.coats.values() if r.when.holds(facts))


def _unfit(option: Option, wanted: Sequence[Reason]) -> tuple[Finding, ...]:
    """What bars it from every reason wanted here; empty if it would serve one of them."""
    bars = [option.bars[reason] for reason in wanted]
    return tuple(dict.fromkeys(f for found in bars for f in found)) if bars and all(bars) else ()


@lru_cache(maxsize=8192)
def _barred(zone: str, options: tuple[Option, ...], wanted: tuple[Reason, ...]) -> tuple[Barred, ...]:
    """What was considered and is out, for "why not shellac?"."""
    found = ((o.sealer, _unfit(o, wanted)) for o in options)
    return tuple(Barred(zone, sealer.id, sealer.method, why) for sealer, why in found if why)


@lru_cache(maxsize=8192)
def _no_ways(zone: str, options: tuple[Option, ...], wanted: tuple[Reason, ...]) -> tuple[NoWay, ...]:
    """The methods of which every sealer is out, with what all of them have against it."""
    made: list[NoWay] = []
    for method in ("brush", "spray"):
        found = [_unfit(o, wanted) for o in options if o.sealer.method == method]
        if found and all(found):
            shared = tuple(f for f in found[0] if all(f in other for other in found))
            made.append(NoWay(zone, method, shared or found[0]))
    return tuple(made)


# ------------------------------------------------------------------ ways out and notes


def _stop_outlets(knowledge: Knowledge, zones: Sequence[Zone], verdicts: Sequence[Verdict]) -> list[Outlet]:
    made = []
    for zone in zones:
        mine = [v for v in verdicts if v.zone == zone.id and v.need == "must not"]
        if mine:
            for id in sorted(zone.ids("stop")):
                row = knowledge.ways_out[id]
                made.append(Outlet(id, (zone.id,), row.name, row.says, mine[0].findings, "stop", row.first))
    return made


def _unmet_outlets(
    knowledge: Knowledge,
    facts: Facts,
    zone: Zone,
    options: Sequence[Option],
    needs: Mapping[Reason, Need],
    unmet: Sequence[Reason],
) -> list[Outlet]:
    """A way out for each required reason that no sealer serves."""
    made = []
    for reason in unmet:
        if needs[reason] != "required":
            continue
        nearest = min(options, key=lambda o: len([f for f in o.bars[reason] if f.rule not in _AT_HAND]), default=None)
        bars = nearest.bars[reason] if nearest else ()
        blocked = frozenset(f.rule for f in bars) if all(f.rule in _AT_HAND for f in bars) else frozenset()
        read = zone_facts(zone, {**facts, "blocked": blocked})
        row = next(w for w in knowledge.ways_out.values() if "blocked" in w.when.names() and w.when.holds(read))
        made.append(Outlet(row.id, (zone.id,), row.name, row.says, bars, "find_a_way"))
    return made


def _only_one(knowledge: Knowledge, facts: Facts, untouched: bool) -> list[Outlet]:
    row = knowledge.ways_out["copy_the_only_one"]
    if untouched:
        return []
    outcome = row.when.outcome(facts)
    if not outcome.holds:
        return []
    return [
        Outlet(
            row.id, (), row.name, row.says, (finding(knowledge, row, row.says, outcome.because, facts, None),), "seal"
        )
    ]


def _merge_outlets(outlets: Iterable[Outlet]) -> list[Outlet]:
    made: dict[str, Outlet] = {}
    for one in outlets:
        before = made.get(one.id)
        made[one.id] = (
            one
            if before is None
            else replace(
                before,
                zones=tuple(dict.fromkeys((*before.zones, *one.zones))),
                findings=tuple(dict.fromkeys((*before.findings, *one.findings))),
            )
        )
    return list(made.values())


def _notes(
    knowledge: Knowledge, chosen: Sequence[Chosen], needs: Mapping[str, Mapping[Reason, Need]]
) -> tuple[Finding, ...]:
    """How conflicts between two reasons were resolved: remarks with no question of their own."""
    made: list[Finding] = []
    for one in chosen:
        methods = frozenset(o.sealer.method for o, _ in one.links)
        more = {
            "chain": len(one.links),
            "chain.methods": methods,
            "chain.carriers": frozenset(o.sealer.carrier for o, _ in one.links),
            **{f"need.{r}": n for r, n in needs[one.zone.id].items()},
        }
        read = zone_facts(one.zone, more)
        for row in knowledge.remarks.values():
            if row.after:
                continue
            if row.when.holds(read):
                made.append(
                    finding(knowledge, row, fill(row.says, one.zone), row.when.outcome(read).because, read, one.zone)
                )
    return tuple(dict.fromkeys(made))
