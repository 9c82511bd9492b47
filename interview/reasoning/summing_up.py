"""The decision in words: the headline, the short answer, and one line a zone."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from interview.plan.model import ZoneLine
from interview.plan.parts import Decision, Outlet, Sign, Step, Treatment, Verdict, Zone
from interview.reasoning.describing import joined
from interview.text.minutes import in_words
from knowledge.shape import NEEDS

LONG = 14 * 24 * 60.0  # minutes: what nobody waits without having been told


def headline(decision: Decision) -> str:
    """One sentence: seal or not, and how."""
    if not decision.pours:
        return _held_up(decision)
    kept_off = _zones_named(decision, {z for o in decision.outlets for z in o.zones})
    more = f" Keep resin off {kept_off}." if kept_off else ""
    return f"{_waiting(decision)}{_sealing(decision)}{more}"


def _waiting(decision: Decision) -> str:
    """A wait of weeks or more comes before all that is said of sealing."""
    least, most = max((p.wait for p in decision.preps if p.id.startswith("dry_")), default=(0.0, 0.0))
    return f"Not yet: first let it dry, {in_words(least, most)}. " if most >= LONG else ""


def _held_up(decision: Decision) -> str:
    """Nothing is poured yet: do not, or wanted and no way yet."""
    kind = sign(decision)
    first = next(o for o in decision.outlets if o.zones and o.sign == kind)
    front = any(z.kind == "front" and z.id in first.zones for z in decision.zones)
    rest = f" For the rest: {_ways(decision.treatments)}." if decision.treatments and not front else ""
    where = _zones_named(decision, first.zones)
    if kind == "stop":
        return f"Do not coat {where} as it is. {first.name}.{rest}"
    return f"It should be sealed, and nothing at hand seals {where}. {first.name}.{rest}"


def _zones_named(decision: Decision, ids: Iterable[str]) -> str:
    wanted = set(ids)
    return joined([z.name for z in decision.zones if z.id in wanted])


def _sealing(decision: Decision) -> str:
    required = [t for t in decision.treatments if t.strength == "required"]
    gentle = [t for t in required if t.gentle]
    if gentle:
        others = [t for t in required if not t.gentle]
        more = f" The rest: {_ways(others)}." if others else ""
        return f"It should be sealed, and neither brush nor spray will do with what you have. The gentlest way: {_ways(gentle)}.{more}"
    if required:
        return f"Seal it before you pour: {_ways(required)}."
    if decision.treatments:
        return f"It may be poured without a seal, but it is better sealed: {_ways(decision.treatments)}."
    return "No sealing needed: make it clean and dry, then pour."


def sign(decision: Decision) -> Sign:
    """The verdict in one word. Told apart: not needed; wanted, but there is no way yet; do not."""
    if not decision.pours:
        return "stop" if any(o.sign == "stop" for o in decision.outlets if o.zones) else "find_a_way"
    if any(t.gentle for t in decision.treatments):
        return "find_a_way"
    return "seal" if decision.treatments else "no_need"


def do_first(decision: Decision, steps: Sequence[Step]) -> str:
    """What comes before all else: what cannot wait, the copy of the only one, the way out where nothing is poured, or
    the first step.
    """
    urgent = next((o.first for o in decision.outlets if o.first), "")
    if urgent:
        return urgent
    if any(p.stage == "ahead" for p in decision.preps) or decision.pours:
        return steps[0].name if steps else ""
    return next(o.name for o in decision.outlets if o.sign == sign(decision))


def _ways(treatments: Sequence[Treatment]) -> str:
    return joined(list(dict.fromkeys(t.name for t in treatments)))


def zone_lines(decision: Decision) -> tuple[ZoneLine, ...]:
    """One line a zone, strongest needs first within the order of the piece."""
    return tuple(_zone_line(decision, zone) for zone in decision.zones)


def _zone_line(decision: Decision, zone: Zone) -> ZoneLine:
    mine = [v for v in decision.verdicts if v.zone == zone.id]
    need = min((v.need for v in mine), key=NEEDS.index)
    treatments = [t for t in decision.treatments if zone.id in t.zones]
    stopped = [o for o in decision.outlets if zone.id in o.zones]
    kind = _zone_sign(treatments, stopped)
    ways = ", then ".join(_coats(t) for t in treatments)
    line = {
        "stop": f"do not coat it: {_small(stopped)}",
        "find_a_way": f"wants a seal; the gentlest way: {ways}"
        if treatments
        else f"wants a seal, and there is no way yet: {_small(stopped)}",
        "seal": f"{'seal' if need == 'required' else 'better sealed'}: {ways}",
        "no_need": _UNSEALED.get(need, "no sealing needed"),
    }[kind]
    return ZoneLine(zone=zone.id, name=zone.name, line=line, need=need, why=_why(mine), sign=kind)


_UNSEALED = {
    "harmless": "need not be sealed; sealing does no harm",
    "advised": "better sealed, but nothing at hand does it here: it may stay bare",
}


def _small(outlets: Sequence[Outlet]) -> str:
    return outlets[0].name[:1].lower() + outlets[0].name[1:] if outlets else ""


def _zone_sign(treatments: Sequence[Treatment], outlets: Sequence[Outlet]) -> Sign:
    if outlets:
        return outlets[0].sign
    if any(t.gentle for t in treatments):
        return "find_a_way"
    return "seal" if treatments else "no_need"


def _coats(treatment: Treatment) -> str:
    low, high = treatment.coats_least, treatment.coats_most
    count = str(low) if low == high else f"{low} to {high}"
    return f"{treatment.name}, {count} {treatment.coat}{'' if count == '1' else 's'}"


def _why(verdicts: Sequence[Verdict]) -> tuple[str, ...]:
    """The reasons that count, the strongest first; where nothing counts, why nothing is needed."""
    ordered = sorted(verdicts, key=lambda v: NEEDS.index(v.need))
    counting = [v for v in ordered if v.need in ("must not", "required", "advised")] or ordered[:1]
    return tuple(dict.fromkeys(f.says for v in counting for f in v.findings))


def short_answer(decision: Decision) -> str:
    """Two sentences at most, to be said as soon as it is settled: what to do where, and why so."""
    if not decision.pours or not decision.treatments:
        return f"Short answer: {headline(decision)[:1].lower()}{headline(decision)[1:]}"
    names = {zone.id: zone.name for zone in decision.zones}
    ways = list(dict.fromkeys(_do(treatment, names) for treatment in decision.treatments))
    return " ".join(filter(None, (f"Short answer: {joined(ways)}.", _reason(decision))))


def _do(treatment: Treatment, names: Mapping[str, str]) -> str:
    if treatment.first:
        return f"fix {_the(treatment, names)} with {treatment.name}"
    low, high = treatment.coats_least, treatment.coats_most
    times = {(1, 1): "once", (2, 2): "twice"}.get(
        (low, high), f"{low} times" if low == high else f"{low} to {high} times"
    )
    return f"{treatment.method} {_the(treatment, names)} {times}"


def _the(treatment: Treatment, names: Mapping[str, str]) -> str:
    return joined(
        [name if name.startswith(("the ", "a ")) else f"the {name}" for name in (names[z] for z in treatment.zones)]
    )


def _reason(decision: Decision) -> str:
    """Why no brush, where something is sprayed; else the reason that counts most."""
    sprayed = {z for t in decision.treatments if t.method == "spray" for z in t.zones}
    for barred in decision.barred:
        if barred.method == "brush" and barred.zone in sprayed and barred.findings:
            return barred.findings[0].says
    strongest = min(decision.verdicts, key=lambda v: NEEDS.index(v.need), default=None)
    return strongest.findings[0].says if strongest and strongest.findings else ""
