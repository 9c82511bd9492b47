"""Plan -> the sections of the brief. Everything that is worked out for a page is worked out here."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from interview.brief.cleaning import cleaned
from interview.brief.composing_steps import phases
from interview.brief.marks import Marks
from interview.brief.pace import Pace, When, pace
from interview.brief.views import Brief, FigureView, Fork, ItemView, Part, Told, TrialView
from interview.plan.model import Plan, ZoneLine
from interview.plan.parts import Figure, Item, Trial
from interview.quantities.written import amount, size_words
from interview.reasoning.timetable import Timeline
from interview.text.wording import capital, letter, listed, lowered, sentence, sentences, span

KEPT = ("weight.piece",)  # and single figures
SHOWN = ("mixing", "time", "cost")  # groups of figures that stand in the brief; explain tells the others
DEFERS = "label_first"  # the caution that puts label, data sheet, local rules and licensed people before the brief
RESCUE = 'Type "beforepour rescue": it asks what you see, and says what to do while it can still be put right.'
_DEFERS = (
    "Where the product's label or safety data sheet, or a local rule, says otherwise, that counts, not this "
    "brief. Work that the law leaves to licensed people is theirs."
)


def compose(plan: Plan, *, imperial: bool = False, time: Timeline | None = None, trouble: str = "") -> Brief:
    """Everything a person typed is made harmless here, before it reaches any page. `time`: its timetable, where
    hours were told; `trouble`: why there is none though they were."""
    plan = cleaned(plan)
    marks, paced = Marks(plan.sources), pace(plan.steps, time, trouble)
    told = phases(plan, paced, marks)
    trials = tuple(_trial(plan, n, t, paced, marks) for n, t in enumerate(plan.trials))
    common, pours = _on_every_label(plan), time is not None or any(s.kind == "pour" for s in plan.steps)
    made = Brief(
        damage=plan.damage,
        seal=plan.seal,
        title=plan.name or "Prep brief",
        summary=_summary(plan, imperial),
        sign=plan.sign,
        headline=sentence(plan.headline),
        do_first=_do_first(plan, trials),
        then=_then(plan, [*(t.name for t in trials), *(s.name for phase in told for s in phase.steps)]),
        whole=paced.whole if pours else "",
        days=paced.lines if pours else (trouble,) if trouble else (),
        heed=_heed(plan),
        assumed=tuple(Told(capital(p.about), sentence(p.assumed) + _settle(p.settle)) for p in plan.open_points),
        not_covered=plan.not_covered,
        unfinished=_unfinished(plan),
        parts=_parts(plan, marks),
        ways_out=tuple(Told(o.name, _about(plan, o.zones, o.says)) for o in plan.outlets),
        never=_never(plan),
        notes=_notes(plan),
        trials=trials,
        goods=tuple(_item(i, common, imperial, marks) for i in plan.items if not is_gear(i)),
        gear=tuple(i.name for i in plan.items if is_gear(i)),
        label=lowered(sentence(listed(common))) if common else "",
        total=_total(plan.items),
        figures=tuple(_figure(f, imperial, marks) for f in plan.figures if f.group in SHOWN or f.id in KEPT),
        room=tuple(sentence(line) for line in plan.room),
        phases=told,
        cautions=tuple(Told(capital(c.name), sentence(c.says), marks.of(f"caution:{c.id}")) for c in plan.cautions),
        shorts=tuple(Told(capital(c.name), sentence(c.short)) for c in plan.cautions),
        defers="" if any(c.id == DEFERS for c in plan.cautions) else _DEFERS,
        care=tuple(sentence(f.says) for f in plan.care),
        mishaps=RESCUE if plan.mishaps else "",
        sources=(),
        rest="",
    )
    return _with_sources(made, marks)


def _with_sources(made: Brief, marks: Marks) -> Brief:
    return replace(made, sources=marks.views(), rest=marks.rest)


def _summary(plan: Plan, imperial: bool) -> str:
    """The piece in words, and its size where it was told."""
    size = plan.answers.get("size")
    if not isinstance(size, dict) or "shape" not in size:
        return sentence(plan.summary)
    return f"{plan.summary.rstrip('.')}, {size_words(size, imperial=imperial)}."


def _do_first(plan: Plan, trials: Sequence[TrialView]) -> str:
    """With its letter and its place, where it is a trial."""
    if trials and plan.trials[0].name == plan.do_first:
        where = f" on {trials[0].where}" if trials[0].where else ""
        return sentence(f"{plan.do_first}{where} (trial {trials[0].letter})")
    return sentence(plan.do_first)


def _then(plan: Plan, names: Sequence[str]) -> str:
    """What follows what is done first."""
    after = [n for n in names if n != plan.do_first and plan.sign != "stop"]
    return sentence(after[0]) if after else ""


def _settle(settle: str) -> str:
    return f" {sentence(f'To be sure: {lowered(settle)}')}" if settle else ""


def _heed(plan: Plan) -> tuple[Told, ...]:
    """Proposals of the maker judged, and what worries that were spoken change."""
    judged = [Told(f"You would {lowered(p.name)}", sentence(p.says)) for p in plan.proposals]
    worries = [Told("Heed", sentence(w.says)) for w in plan.worries]
    return (*judged, *worries)


def _unfinished(plan: Plan) -> str:
    if plan.complete:
        return ""
    count = len(plan.missing)
    few = f"{count} answer{'' if count == 1 else 's'}" if count else "some answers"
    return f"Not finished: {few} still missing. What is open is taken on the safe side."


# ------------------------------------------------------------------ zones and reasons


def _parts(plan: Plan, marks: Marks) -> tuple[Part, ...]:
    """Zones with the same line are one part, in the order of the piece; no reason is told twice."""
    rows: dict[tuple[str, str], list[ZoneLine]] = {}
    for zone in plan.zone_lines:
        rows.setdefault((zone.line, zone.need), []).append(zone)
    told: set[str] = set()
    return tuple(
        Part(
            ids=tuple(z.zone for z in found),
            zones=capital(listed(z.name for z in found)),
            line=line,
            why=_why(found, told),
            need=need,
            mark=marks.of(*(f"verdict:{z.zone}" for z in found), also=[n for z in found for n in z.marks]),
        )
        for (line, need), found in rows.items()
    )


def _why(zones: Sequence[ZoneLine], told: set[str]) -> str:
    """Every sentence that has not been told yet."""
    whole = [sentence(says) for z in zones for says in z.why]
    says = [one for one in dict.fromkeys(s for text in whole for s in sentences(text)) if one not in told]
    told.update(says)
    return " ".join(says)


def _notes(plan: Plan) -> tuple[Told, ...]:
    """What else was found; nothing that a part gives as its reason."""
    reasons = {sentence(says) for zone in plan.zone_lines for says in zone.why}
    return tuple(Told("", s) for s in dict.fromkeys(sentence(n.says) for n in plan.notes) if s not in reasons)


def _never(plan: Plan) -> tuple[Told, ...]:
    """ "No brush on the front and the torn edges", and all that speaks against it, each once."""
    names: dict[str, list[str]] = {}
    says: dict[str, list[str]] = {}
    for bar in plan.no_ways:
        names.setdefault(bar.method, []).append(plan.zone(bar.zone).name)
        says.setdefault(bar.method, []).extend(sentence(f.says) for f in bar.findings)
    whole = len({z.id for z in plan.zones})
    return tuple(
        Told(
            f"No {method}" + (f" on {listed(zones)}" if len(set(zones)) < whole else ""),
            " ".join(dict.fromkeys(says[method])),
        )
        for method, zones in names.items()
    )


def _about(plan: Plan, zones: Iterable[str], says: str) -> str:
    names = listed(plan.zone(z).name for z in zones)
    return f"{capital(names)}: {says}" if names else says


# ------------------------------------------------------------------ trials, things, figures


def _trial(plan: Plan, place: int, trial: Trial, paced: Pace, marks: Marks) -> TrialView:
    wait, hands = span(*trial.wait), span(trial.hands_on, trial.hands_on)
    when = paced.at.get(f"trial.{trial.id}", When("", "", ""))
    return TrialView(
        id=trial.id,
        letter=letter(place),
        name=capital(trial.name),
        where=listed(plan.zone(z).name for z in trial.zones),
        how=sentence(trial.how),
        forks=tuple(_fork(r) for r in trial.reads),
        times=", ".join(t for t in (hands, f"then wait {wait}" if wait else "") if t),
        when=" ".join(t for t in (when.day, when.clock) if t),
        mark=marks.of(f"trial:{trial.id}"),
        behind=any(d.step == f"trial.{trial.id}" for d in plan.done),
    )


def _fork(read: str) -> Fork:
    """A reading stands in the data as "what is seen: what it means"."""
    sees, _, then = read.partition(": ")
    return Fork(capital(sees), sentence(then))


def is_gear(item: Item) -> bool:
    """Sealers, resin and whatever else has a label, an amount or a price are goods; the rest is gear."""
    return not (item.amount or item.look_for or item.price is not None or item.id.startswith("sealer."))


def _on_every_label(plan: Plan) -> tuple[str, ...]:
    """What the labels of all sealers must say, where there are several; one alone has it beside its name."""
    sealers = [i for i in plan.items if i.id.startswith("sealer.")]
    if len(sealers) < 2:
        return ()
    return tuple(line for line in sealers[0].look_for if all(line in s.look_for for s in sealers))


def _item(item: Item, common: Sequence[str], imperial: bool, marks: Marks) -> ItemView:
    own = [line for line in item.look_for if line not in common]
    price = f"price {item.price * item.packs:.2f}" if item.price is not None and item.packs else ""
    return ItemView(
        name=capital(item.name),
        amount=", ".join(t for t in (amount_words(item, imperial), pack_words(item, imperial)) if t),
        says="; ".join(t for t in (f"label: {listed(own)}" if own else "", price) if t),
        mark=marks.of(f"row:{item.id.partition('.')[2]}"),
    )


def amount_words(item: Item, imperial: bool) -> str:
    if item.low is None or item.high is None:
        return item.amount
    told = amount(item.low, item.high, "mL", up=True, imperial=imperial)
    if item.have is None:
        return told
    return f"{told}; have {amount(item.have, item.have, 'mL', imperial=imperial)}{'' if item.packs else ', enough'}"


def pack_words(item: Item, imperial: bool) -> str:
    if item.size is None or not item.packs:
        return f"{item.packs} x {item.pack}" if item.pack and item.packs else ""
    return f"{item.packs} x {amount(item.size, item.size, 'mL', imperial=imperial)} {item.container}"


def _total(items: Sequence[Item]) -> str:
    priced = [i.price * i.packs for i in items if i.price is not None and i.packs]
    return f"{sum(priced):.2f}" if priced else ""


def _figure(figure: Figure, imperial: bool, marks: Marks) -> FigureView:
    """What is worked out here needs no mark: the working is its own."""
    plain = figure.shown == amount(figure.low, figure.high, figure.unit)
    return FigureView(
        label=capital(figure.label),
        shown=amount(figure.low, figure.high, figure.unit, imperial=imperial) if plain else figure.shown,
        working=figure.working,
        mark="" if figure.basis.kind == "computed" else marks.of(f"figure:{figure.id}"),
    )
