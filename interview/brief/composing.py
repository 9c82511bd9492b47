"""Plan -> the sections of the brief. Everything that is worked out for a page is worked out here."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from interview.brief.cleaning import cleaned
from interview.brief.composing_steps import phases
from interview.brief.marks import Marks
from interview.brief.own_units import Units, arranged
from interview.brief.views import Brief, FigureView, Group, ItemView, Told, TrialView, ZoneRow
from interview.plan.model import Plan, ZoneLine
from interview.plan.parts import Figure, Item, Trial
from interview.text.wording import capital, letter, listed, lowered, sentence, span

_GROUPS = {
    "amounts": "How much", "mixing": "Mixing", "room": "The room", "air": "The air", "wood": "The wood",
    "time": "How long", "cost": "Cost", "other": "Other figures",
}  # fmt: skip
_TOLD = ("room", "wood", "other", "cost")
_DEFERS = (
    "Where the product's label or safety data sheet, or a local rule, says otherwise, that counts, not this "
    "brief. Work that the law leaves to licensed people is theirs."
)


def compose(plan: Plan, units: Units = "metric") -> Brief:
    """Everything a person typed is made harmless here, before it reaches any page."""
    plan = cleaned(plan)
    marks = Marks(plan.sources)
    told = phases(plan.steps, plan.preps, marks)
    common = _on_every_label(plan)
    hows = {step.how for phase in told for step in phase.steps}
    return Brief(
        title=plan.name or "Prep brief",
        summary=sentence(arranged(plan.summary, units)),
        headline=sentence(plan.headline),
        unfinished=_unfinished(plan),
        zones=_zone_rows(plan, marks),
        ways_out=tuple(Told(o.name, _about(plan, o.zones, o.says)) for o in plan.outlets),
        why=_why(plan.zone_lines),
        never=_never(plan),
        notes=tuple(Told("", says) for says in dict.fromkeys(sentence(n.says) for n in plan.notes)),
        trials=tuple(_trial(plan, n, t, marks) for n, t in enumerate(plan.trials)),
        goods=tuple(_item(i, common, units, marks) for i in plan.items if not _is_gear(i)),
        gear=tuple(i.name for i in plan.items if _is_gear(i)),
        label=lowered(sentence(listed(common))) if common else "",
        figures=_figures(plan, units, marks),
        room=tuple(sentence(arranged(line, units)) for line in plan.room),
        phases=told,
        watch=tuple(w for w in (sentence(line) for line in plan.watch) if w not in hows),
        cautions=_cautions(plan, marks),
        shorts=_cautions(plan, marks, short=True),
        defers="" if any(_defers(c.says) for c in plan.cautions) else _DEFERS,
        care=tuple(f.says for f in plan.care),
        mishaps=tuple(Told(capital(m.sign), f"{sentence(m.cause)} {sentence(m.mend)}") for m in plan.mishaps),
        assumed=tuple(
            Told(
                capital(p.about),
                sentence(p.assumed) + (f" To be sure: {p.settle.lower()}." if p.settle else ""),
            )
            for p in plan.open_points
        ),
        rest=marks.rest,
        sources=marks.views(),
        cited=tuple(f"[{s.number}] {s.short}" for s in marks.views() if s.shown),
        total=_total(plan.items),
    )


def _unfinished(plan: Plan) -> str:
    if plan.complete:
        return ""
    count = len(plan.missing)
    few = f"{count} answer{'' if count == 1 else 's'}" if count else "some answers"
    return f"Not finished: {few} still missing. What is open is taken on the safe side."


# ------------------------------------------------------------------ zones and reasons


def _zone_rows(plan: Plan, marks: Marks) -> tuple[ZoneRow, ...]:
    """Zones with the same line are one row, in the order of the piece; numbers count all zones from 1."""
    rows: dict[tuple[str, str], list[tuple[int, ZoneLine]]] = {}
    for number, zone in enumerate(plan.zone_lines, 1):
        rows.setdefault((zone.line, zone.need), []).append((number, zone))
    return tuple(
        ZoneRow(
            ids=tuple(z.zone for _, z in found),
            numbers=tuple(str(n) for n, _ in found),
            zones=capital(listed(z.name for _, z in found)),
            line=line,
            need=need,
            mark=_zone_mark([z for _, z in found], plan, marks),
        )
        for (line, need), found in rows.items()
    )


def _zone_mark(zones: Sequence[ZoneLine], plan: Plan, marks: Marks) -> str:
    names = {z.zone: z.name for z in zones}
    uses = [f"{v.reason}, {names[v.zone]}" for v in plan.verdicts if v.zone in names]
    return marks.of(*uses, also=[n for z in zones for n in z.marks])


def _why(zones: Sequence[ZoneLine]) -> tuple[Told, ...]:
    """Each sentence once; the sentences that hold for the same zones together."""
    holds: dict[str, list[str]] = {}
    for zone in zones:
        for says in zone.why:
            holds.setdefault(sentence(says), []).append(zone.name)
    together: dict[tuple[str, ...], list[str]] = {}
    for says, names in holds.items():
        together.setdefault(tuple(dict.fromkeys(names)), []).append(says)
    return tuple(Told(capital(listed(names)), " ".join(says)) for names, says in together.items())


def _never(plan: Plan) -> tuple[Told, ...]:
    """ "No brush on the front and the torn edges", and all that speaks against it, each once."""
    names: dict[str, list[str]] = {}
    says: dict[str, list[str]] = {}
    for bar in plan.no_ways:
        names.setdefault(bar.method, []).append(plan.zone(bar.zone).name)
        says.setdefault(bar.method, []).extend(sentence(f.says) for f in bar.findings)
    return tuple(
        Told(f"No {method} on {listed(zones)}", " ".join(dict.fromkeys(says[method])))
        for method, zones in names.items()
    )


def _about(plan: Plan, zones: Iterable[str], says: str) -> str:
    names = listed(plan.zone(z).name for z in zones)
    return f"{capital(names)}: {says}" if names else says


def _cautions(plan: Plan, marks: Marks, short: bool = False) -> tuple[Told, ...]:
    return tuple(
        Told(capital(c.name), sentence(c.short if short else c.says), marks.of(f"caution: {c.name}"))
        for c in plan.cautions
    )


def _defers(says: str) -> bool:
    """Whether a caution itself puts label, data sheet, local rules and licensed people before the brief."""
    return all(word in says for word in ("label", "data sheet", "local", "licensed"))


# ------------------------------------------------------------------ trials, things, figures


def _trial(plan: Plan, place: int, trial: Trial, marks: Marks) -> TrialView:
    wait = span(*trial.wait)
    hands = span(trial.hands_on, trial.hands_on)
    times = ", ".join(t for t in (hands, f"then wait {wait}" if wait else "") if t)
    return TrialView(
        letter=letter(place),
        name=capital(trial.name),
        where=listed(plan.zone(z).name for z in trial.zones),
        how=f"{sentence(trial.says)} {sentence(trial.how)}",
        reads=tuple(sentence(r) for r in trial.reads),
        times=times,
        mark=marks.of(f"trial: {trial.name}"),
    )


def _is_gear(item: Item) -> bool:
    """Sealers, resin and whatever else has a label, an amount or a price are goods; the rest is gear."""
    return not (item.amount or item.look_for or item.price is not None or item.id.startswith("sealer."))


def _on_every_label(plan: Plan) -> tuple[str, ...]:
    """What the labels of all sealers must say, where there are several; one alone has it beside its name."""
    sealers = [i for i in plan.items if i.id.startswith("sealer.")]
    if len(sealers) < 2:
        return ()
    return tuple(line for line in sealers[0].look_for if all(line in s.look_for for s in sealers))


def _item(item: Item, common: Sequence[str], units: Units, marks: Marks) -> ItemView:
    packs = f"{item.packs} x {arranged(item.pack, units)}" if item.pack else ""
    own = [line for line in item.look_for if line not in common]
    price = f"price {item.price * item.packs:.2f}" if item.price is not None else ""
    parts = (item.use, f"label: {listed(own)}" if own else "", price)
    return ItemView(
        name=capital(item.name),
        amount=", ".join(t for t in (arranged(item.amount, units), packs) if t),
        says="; ".join(t for t in parts if t),
        mark=marks.about(item.name),
    )


def _total(items: Sequence[Item]) -> str:
    priced = [i.price * i.packs for i in items if i.price is not None]
    return f"{sum(priced):.2f}" if priced else ""


def _figures(plan: Plan, units: Units, marks: Marks) -> tuple[Group, ...]:
    """By subject. What the things to get, the cost or the lines on the room tell as well is told there
    first.
    """
    told = {item.figure for item in plan.items if item.amount}
    return tuple(
        Group(name, tuple(_figure(f, f.id in told, units, marks) for f in plan.figures if f.group == key))
        for key, name in _GROUPS.items()
        if any(f.group == key for f in plan.figures)
    )


def _figure(figure: Figure, told: bool, units: Units, marks: Marks) -> FigureView:
    """What is worked out here needs no mark: the working is its own."""
    return FigureView(
        label=capital(figure.label),
        shown=arranged(figure.shown, units),
        working=tuple(arranged(line, units) for line in figure.working),
        mark="" if figure.basis.kind == "computed" else marks.of(f"figure: {figure.label}"),
        told=told or figure.group in _TOLD,
    )
