"""What people ask about their own plan, computed from it: one small function a topic of knowledge/topics/plan.toml."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from interview.conversation.outcomes import Outcome, day_of, hours_of, sealers_named, span_of
from interview.conversation.timing import poured
from interview.reading.topic_matching import named_in
from interview.reasoning.agenda import number_circumstances, open_questions
from interview.reasoning.progress import skipping
from interview.text.wording import capital, listed, lowered, span

if TYPE_CHECKING:
    from interview.conversation.situation import Situation
    from interview.plan.model import Plan
    from interview.plan.parts import Step, Treatment


@dataclass(frozen=True, slots=True)
class Asking:
    """One question about a plan that is there."""

    text: str
    situation: Situation
    outcome: Outcome

    @property
    def plan(self) -> Plan:
        return self.outcome.plan


MOST_REASONS = 4  # said of a verdict


def about_plan(topic: str, asking: Asking) -> str:
    """The answer, "" where the plan has none to give."""
    return "\n".join(line for line in _ANSWERS[topic](asking) if line) if topic in _ANSWERS else ""


# ------------------------------------------------------------ time


def _total(a: Asking) -> Iterable[str]:
    yield from _stopped(a)
    if not poured(a.plan):
        yield "Until that is settled nothing is poured, so it is ready on no day yet."
        return
    days, time = a.outcome.days, a.outcome.time
    if days is None or time is None:
        yield f"Your hands are busy for {hours_of(a.outcome.hands)}. With so many, the days want a timetable: beforepour batch."
        return
    yield f"{capital(span_of(days))} in all, until it has cured through; most of it is waiting."
    yield f"Your hands are busy for {hours_of(a.outcome.hands)}{_for_all(a)}."
    yield f"Begun now, ready {day_of(time.ready)} at the latest, {day_of(time.quickest)} if all dries at its quickest.{_hours(a)}"


def _hours(a: Asking) -> str:
    told = a.situation.answers.value("hours")
    return "" if told else " Counted with evenings and weekends, as you told no hours."


def _finish(a: Asking) -> Iterable[str]:
    time = a.outcome.time
    if time is None:
        yield from _total(a)
        return
    yield from _stopped(a)
    yield f"Begun now: {day_of(time.ready)} at the latest, {day_of(time.quickest)} if all dries at its quickest.{_hours(a)}"
    poured = [d for d in time.doings if d.kind == "pour"]
    if poured:
        yield f"The pour is on {day_of(poured[-1].begins)}; after that it cures, and until the last day it takes prints."
    if time.ready_by and time.late:
        yield f"That is too late for {day_of(time.ready_by)}."


def _hands(a: Asking) -> Iterable[str]:
    yield f"{capital(hours_of(a.outcome.hands))} of work with your hands{_for_all(a)}; the rest is waiting."
    kinds = {"trial": "trials", "prepare": "preparing", "seal": "sealing", "mix": "mixing", "pour": "pouring"}
    parts = [
        (word, sum(s.hands(a.outcome.pieces) for s in a.plan.steps if s.kind == kind)) for kind, word in kinds.items()
    ]
    yield capital(listed(f"{word} {hours_of(m)}" for word, m in parts if m)) + "."


def _for_all(a: Asking) -> str:
    return f" for all {a.outcome.pieces}" if a.outcome.pieces > 1 else ""


def _wait(a: Asking) -> Iterable[str]:
    yield from _stopped(a)
    seals = [s for s in a.plan.steps if s.kind == "seal" and s.wait[1]]
    for treatment in a.plan.treatments:
        mine = [s for s in seals if s.sealer == treatment.sealer]
        if not mine:
            continue
        waits = sorted({s.wait for s in mine})
        between = f"between coats {span(*waits[0])}, " if len(waits) > 1 else ""
        yield f"{capital(treatment.name)}: {between}before resin {span(*waits[-1])}. The label's own times go first."
    if not seals:
        yield "Nothing is sealed, so nothing has to dry first but the piece itself."
    cures = [s for s in a.plan.steps if s.kind == "cure" and s.wait[1]]
    if cures:
        yield f"After the pour: {listed(f'{lowered(s.name)}, {span(*s.wait)}' for s in cures)}."


# ------------------------------------------------------------ where we are


def _left(a: Asking) -> Iterable[str]:
    s = a.situation
    open_ = open_questions(s.knowledge, s.answers, s.pace)
    if not open_:
        yield "No question is left."
        return
    about = listed([q.short for q in open_[:4]])
    more = f", and {len(open_) - 4} more" if len(open_) > 4 else ""
    least = f"{len(open_)} question{'' if len(open_) == 1 else 's'}"
    numbers = ""
    if open_[0].part == "piece" and s.pace == "full":
        numbers = f" Then {len(number_circumstances(s.knowledge, s.answers).open)} or so about size and numbers, which you may leave out."
    yield f"{capital(least)} as it stands: {about}{more}. An answer may open or close some.{numbers}"


def _so_far(a: Asking) -> Iterable[str]:
    yield a.plan.summary
    yield a.plan.headline
    yield from (f"{capital(z.name)}: {z.line}." for z in a.plan.zone_lines)
    yield "Not right? Type change."


def _assumed(a: Asking) -> Iterable[str]:
    points = a.plan.open_points
    yield from (
        f"{capital(p.about)}: {p.assumed}.{f' Settled by: {lowered(p.settle)}'.rstrip('?') + '.' if p.settle else ''}"
        for p in points
    )
    guessed = [i.name for f in a.plan.figures for i in f.inputs if i.basis.kind == "assumed"]
    if guessed:
        yield f"Of the numbers, assumed: {listed(guessed)}."
    if not points and not guessed:
        yield "Nothing: all of it rests on what you told me."
    kinds = dict.fromkeys(f.basis.kind for v in a.plan.verdicts for f in v.findings)
    yield f"The advice rests on {listed(kinds)}; the brief says which where."


def _first(a: Asking) -> Iterable[str]:
    yield f"First: {lowered(a.plan.do_first)}." if a.plan.do_first else "First: make it clean and dry."
    if a.plan.steps and not a.plan.outlets:
        yield a.plan.steps[0].how
    elif a.plan.outlets:
        yield a.plan.outlets[0].says


def _next(a: Asking) -> Iterable[str]:
    yield from _stopped(a)
    names = list(dict.fromkeys(_short(step) for step in a.plan.steps))
    if names:
        yield f"In this order: {', then '.join(lowered(n) for n in names)}."
    if a.situation.asked is not None:
        yield "Right now only the question below, and there is time for it."


def _short(step: Step) -> str:
    return {"seal": "seal it, coat by coat", "trial": "do the trials"}.get(step.kind, step.name)


# ------------------------------------------------------------ amounts


def _resin(a: Asking) -> Iterable[str]:
    yield from _stopped(a)
    shown = a.outcome.shown("amount.resin")
    if not shown:
        yield "No resin as it stands."
        return
    yield f"{shown} of resin and hardener together{_for_all(a)}, some for the cup and the drips counted in.{_size(a)}"
    pots = a.outcome.shown("mixing.pots")
    if pots:
        yield f"Mixed as {pots}."


def _size(a: Asking) -> str:
    has = a.situation.answers.value("size")
    return "" if has else " Your size is not known yet: it is for 30 x 40 cm (12 x 16 in)."


def _sealer(a: Asking) -> Iterable[str]:
    if not a.outcome.sealers:
        yield "No sealer is needed." if a.plan.sign == "no_need" else "No sealer is planned as it stands."
        return
    for item in a.plan.items:
        if item.id.startswith("sealer."):
            packs = f": {item.packs} {'of ' if item.packs > 1 else ''}{item.pack}" if item.pack else ""
            yield f"{capital(item.name)}, all coats together{_for_all(a)}: {item.amount or 'as the label says'}{packs}.{_size(a)}"


def _money(a: Asking) -> Iterable[str]:
    goods = [i for i in a.plan.items if i.id == "resin" or i.id.startswith("sealer.")]
    priced = [i for i in goods if i.price is not None and i.packs]
    for item in priced:
        yield f"{capital(item.name)}: {item.packs} x {item.price:.2f}."
    if a.outcome.money is not None:
        yield f"Together {a.outcome.money:.2f}, of what has a price."
    bare = [f"{i.name}, {_pack(i.amount, i.packs, i.pack)}" for i in goods if i.price is None and i.packs]
    if bare:
        yield f"I know no price for {listed(bare)}. Say what a can or a kit costs when I ask for prices, and I add it up."
    yield "Besides: gloves, cups and what stands under gear, if you have none."


def _pack(amount: str, packs: int, pack: str) -> str:
    return f"{packs} x {pack}" if pack else (amount or "one")


def _buy(a: Asking) -> Iterable[str]:
    for item in a.plan.items:
        if not item.id.startswith("gear."):
            amount = f", {_pack(item.amount, item.packs, item.pack)}" if item.amount or item.pack else ""
            yield f"{capital(item.name)}{amount}{'; its label must say: ' + listed(item.look_for) if item.look_for else ''}."
    gear = [i.name for i in a.plan.items if i.id.startswith("gear.")]
    if gear:
        yield f"And {listed(gear)}."


def _pots(a: Asking) -> Iterable[str]:
    shown = a.outcome.shown("mixing.pots")
    yield (
        f"{capital(shown)}: no more at once than you can spread before it thickens."
        if shown
        else "Nothing is mixed as it stands."
    )


# ------------------------------------------------------------ why


def _why_coats(a: Asking) -> Iterable[str]:
    for t in a.plan.treatments:
        yield f"{capital(t.name)}, {_coats(t)}: {' '.join(dict.fromkeys(f.says for f in t.findings))}"
        if not t.findings:
            yield "One coat leaves pinholes that drink; the next closes them."
    if not a.plan.treatments:
        yield "No coat of sealer is planned here."


def _coats(t: Treatment) -> str:
    low, high = t.coats_least, t.coats_most
    return f"{low} coat{'' if low == 1 else 's'}" if low == high else f"{low} to {high} coats"


def _why_seal(a: Asking) -> Iterable[str]:
    lines = [
        (a.plan.zone(z.zone).name, why)
        for z in a.plan.zone_lines
        if z.need in ("must not", "required", "advised")
        for why in z.why
    ]
    named = [pair for pair in lines if _mentions(a.text, pair[0])] or lines
    by_reason: dict[str, list[str]] = {}
    for zone, why in named:
        by_reason.setdefault(why, []).append(zone)
    yield from (f"{why} ({listed(zones)})" for why, zones in by_reason.items())
    if not lines:
        yield "It need not be sealed: resin does not soak in, nothing is loose, and no air is shut in."


_LITTLE = frozenset(
    [
        "a",
        "an",
        "and",
        "at",
        "be",
        "can",
        "do",
        "find",
        "for",
        "from",
        "have",
        "how",
        "i",
        "if",
        "in",
        "is",
        "it",
        "leave",
        "make",
        "my",
        "no",
        "not",
        "of",
        "off",
        "on",
        "or",
        "out",
        "so",
        "that",
        "the",
        "thi",
        "to",
        "up",
        "what",
        "when",
        "where",
        "which",
        "with",
        "you",
        "your",
    ]
)


def _mentions(text: str, name: str) -> bool:
    words = {w.strip("?.,!").rstrip("s") for w in text.casefold().split() if len(w) > 3} - _LITTLE
    return bool(words & {w.strip(",").rstrip("s") for w in name.casefold().split()})


def _why_trial(a: Asking) -> Iterable[str]:
    trials = [t for t in a.plan.trials if _mentions(a.text, t.name)] or list(a.plan.trials[:4])
    yield from (f"{t.name}: {t.says}" for t in trials)


def _why_question(a: Asking) -> Iterable[str]:
    if a.situation.asked is not None:
        yield f"Because of this: {lowered(a.situation.asked.why)}"
        yield "The answer decides what the plan says of it; not sure takes the safe side."
    else:
        yield "What you told me decides whether each part needs a seal, and which."


def _why_spray(a: Asking) -> Iterable[str]:
    used = [t for t in a.plan.treatments]
    barred: dict[str, list[str]] = {}
    for n in a.plan.no_ways:
        for f in n.findings:
            barred.setdefault(f.says, []).append(a.plan.zone(n.zone).name)
    yield from (f"{says} ({listed(zones)})" for says, zones in barred.items())
    if used:
        yield f"Planned: {listed(f'{t.name} for {listed(a.plan.zone(z).name for z in t.zones)}' for t in used)}."
    if not barred and used:
        yield "Nothing on yours stands against another way."
    if not used:
        yield "Neither is needed here."


def _why_not(a: Asking) -> Iterable[str]:
    """Each thing said against a sealer that is named, with the parts it is about."""
    named = {id.partition(".")[2] for _, id in named_in(a.text, a.situation.knowledge) if id.startswith("sealers.")}
    used = [t for t in a.plan.treatments if t.sealer in named]
    yield from (f"It is used: {t.name} for {listed(a.plan.zone(z).name for z in t.zones)}." for t in used)
    against: dict[str, list[str]] = {}
    for barred in a.plan.barred:
        for f in barred.findings if barred.sealer in named else ():
            against.setdefault(f.says, []).append(a.plan.zone(barred.zone).name)
    yield from (f"{says} ({listed(zones)})" for says, zones in against.items())
    if not used and not against:
        yield "Nothing stands against it on yours; the planned one simply does it in fewer coats, or serves more parts."


# ------------------------------------------------------------ what and how


def _verdict(a: Asking) -> Iterable[str]:
    yield a.plan.headline
    reasons = list(_why_seal(a))
    yield from reasons[:MOST_REASONS]
    if len(reasons) > MOST_REASONS:
        yield f"And {len(reasons) - MOST_REASONS} reasons more: ask why it is sealed."
    if not a.plan.complete:
        yield f"That is as it stands, with {len(a.plan.missing)} questions open and taken on the safe side."


def _where(a: Asking) -> Iterable[str]:
    lines = [z for z in a.plan.zone_lines if _mentions(a.text, z.name)] or a.plan.zone_lines
    yield from (f"{capital(z.name)}: {z.line}." for z in lines)


def _which(a: Asking) -> Iterable[str]:
    for t in a.plan.treatments:
        sealer = a.situation.knowledge.sealers.get(t.sealer)
        zones = listed(a.plan.zone(z).name for z in t.zones)
        yield f"{capital(t.name)}, {_coats(t)}, for {zones}{f': {sealer.plain}' if sealer else ''}. Try it on a scrap first."
    if not a.plan.treatments:
        yield a.plan.headline


def _how_seal(a: Asking) -> Iterable[str]:
    done = set()
    for step in a.plan.steps:
        if step.kind == "seal" and step.sealer not in done:
            done.add(step.sealer)
            yield f"{step.how} Done when: {lowered(step.done_when)}" if step.done_when else step.how
    if not done:
        yield a.plan.headline


def _how_mix(a: Asking) -> Iterable[str]:
    yield from _stopped(a)
    yield from (f"{step.name}: {step.how}" for step in a.plan.steps if step.kind in ("mix", "pour"))


def _skip_step(a: Asking) -> Iterable[str]:
    step = _step_named(a)
    if step is None and "wait" in a.text.casefold():
        yield "Sooner than this, what is left in the coat clouds the resin or comes up as bubbles, and it cannot be undone."
        yield from _wait(a)
        return
    if step is None:
        yield from _unsealed(a)
        return
    yield f'Without "{lowered(step.name)}": {" ".join(skipping(a.plan, step))}'
    if step.wait[1]:
        yield f"It would save {span(*step.wait)} of waiting."


def _step_named(a: Asking) -> Step | None:
    text = a.text.casefold()
    if "coat" in text:
        seals = [s for s in a.plan.steps if s.kind == "seal"]
        return seals[min(1, len(seals) - 1)] if seals else None
    if "seal" in text:
        return None
    return next((s for s in a.plan.steps if _mentions(a.text, s.name)), None)


def _unsealed(a: Asking) -> Iterable[str]:
    lines = list(
        dict.fromkeys(why for z in a.plan.zone_lines if z.need in ("required", "advised", "must not") for why in z.why)
    )
    if not lines:
        yield "Nothing would be lost: it need not be sealed. What must not be left out is to make it clean and dry."
        return
    yield "Poured unsealed, you risk this:"
    yield from lines
    seals = [s for s in a.plan.steps if s.kind == "seal"]
    if seals:
        saved = sum(s.hands(a.outcome.pieces) for s in seals)
        yield f"You would save {hours_of(saved)} of work and the drying of {sealers_named(a.plan)}. A spoiled pour cannot be undone."


def _skip_question(a: Asking) -> Iterable[str]:
    if a.situation.asked is None:
        yield "Yes: not sure is always an answer."
        return
    question = a.situation.asked.question
    yield f"Yes: type not sure. Then it is {question.unsure_says}."


def _sooner(a: Asking) -> Iterable[str]:
    yield from _stopped(a)
    yield from _wait(a)
    time = a.outcome.time
    if time:
        yield f"At its quickest all of it is ready {day_of(time.quickest)}."


def _one_tin(a: Asking) -> Iterable[str]:
    kinds = list(dict.fromkeys(t.name for t in a.plan.treatments))
    if len(kinds) < 2:
        yield f"Yes: {kinds[0]} does all of it." if kinds else "No tin at all: nothing needs sealing."
        return
    yield f"No, {len(kinds)}: {listed(kinds)}."
    for t in a.plan.treatments:
        yield f"{capital(t.name)} is for {listed(a.plan.zone(z).name for z in t.zones)}."
    others = [f for b in a.plan.barred if b.sealer in {t.sealer for t in a.plan.treatments} for f in b.findings]
    yield from list(dict.fromkeys(f.says for f in others))[:3]


def _gear(a: Asking) -> Iterable[str]:
    worn = ("glove", "mask", "eye", "goggle", "sleeve", "apron", "respirator")
    gear = [i.name for i in a.plan.items if any(w in i.name for w in worn)]
    yield f"Wear {listed(gear or ['nitrile gloves', 'eye protection'])}, and long sleeves."
    yield from (c.short or c.says for c in a.plan.cautions[:4])
    yield "The label and the data sheet come first."


def _warmth(a: Asking) -> Iterable[str]:
    yield from a.plan.room[:3]


def _advice(a: Asking) -> Iterable[str]:
    yield f"I would do this. {a.plan.headline}"
    yield f"First: {lowered(a.plan.do_first)}." if a.plan.do_first else ""
    yield "And the whole of it, seal and resin, on a scrap before the piece: that is the safer way."


def _stopped(a: Asking) -> Iterable[str]:
    if a.plan.sign in ("stop", "find_a_way"):
        yield a.plan.headline


_ANSWERS: dict[str, Callable[[Asking], Iterable[str]]] = {
    "total_time": _total, "finish_date": _finish, "hands_on_hours": _hands, "wait_time": _wait,
    "questions_left": _left, "first_step": _first, "next_step": _next, "amount_resin": _resin,
    "amount_sealer": _sealer, "money": _money, "what_to_buy": _buy, "why_coats": _why_coats, "why_seal": _why_seal,
    "why_trial": _why_trial, "why_question": _why_question, "why_spray": _why_spray, "why_not": _why_not, "verdict": _verdict,
    "where_seal": _where, "which_sealer": _which, "how_seal": _how_seal, "how_mix": _how_mix,
    "skip_step": _skip_step, "skip_question": _skip_question, "sooner": _sooner, "one_tin": _one_tin,
    "so_far": _so_far, "assumed": _assumed, "gear": _gear, "warmth_needed": _warmth, "pots": _pots,
    "best_advice": _advice,
}  # fmt: skip
