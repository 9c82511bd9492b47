"""A batch that is kept, through its week: tonight's page, what was done, what slipped, what can be brought on the day."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Any

from interview.brief.timeline_text import long_day, moment
from interview.conversation.adviser import Adviser
from interview.conversation.telling import value_words
from interview.conversation.timing import TimingError, Wishes, means_of, poured, sentence
from interview.files.batches import KeptBatch, Listed, save, undone, with_before
from interview.plan.answers import Answers
from interview.plan.doings import DoneTo
from interview.plan.model import Plan
from interview.plan.parts import Trial
from interview.reading.stall_words import StallLine, read_stall
from interview.reading.turn import Focus, read_turn
from interview.reasoning.batch import PotLine, pots
from interview.reasoning.lots import Kind, Means
from interview.reasoning.offers import offers
from interview.reasoning.scheduling.tasks import CannotSchedule
from interview.reasoning.timetable import Doing, Timeline, arrange
from interview.reasoning.under_way import WAITING, Rest, rests
from interview.text.harmless import harmless

HINT = (
    'Say "tonight", "done 3-7", "done all", "missed thursday", "no time on friday", "now 60 coasters", "two hands", '
    '"what can I bring", "tiles: the drop stands", "undo" or "stop".'
)


@dataclass(frozen=True, slots=True)
class Stall:
    """Where a batch stands now. `timeline` None: nothing is left to do."""

    kept: KeptBatch
    kinds: tuple[Kind, ...]
    rests: tuple[Rest, ...]
    means: Means
    timeline: Timeline | None
    held: tuple[Kind, ...] = ()  # kinds that may not be poured as they are: never ready, never brought


def stand(adviser: Adviser, kept: KeptBatch, now: datetime) -> Stall:
    """Planned again from the true state: what is done stays done. Raises TimingError with one line."""
    kinds = tuple(
        Kind(k.name, adviser.plan(_counted(k.answers, k.count), k.name), k.count) for k in kept.kinds if k.count
    )
    held = tuple(k for k in kinds if not poured(k.plan))
    kinds = tuple(k for k in kinds if poured(k.plan))
    begun = max([now, *(d.at for d in kept.did)])
    means = means_of([k.plan for k in (*kinds, *held)], Wishes(**dict(kept.wishes)), begun)
    left = rests(kinds, kept.did, means.begin)
    try:
        time = arrange([r.kind for r in left], _unless_past(means)) if left else None
    except CannotSchedule as error:
        raise TimingError(sentence(str(error))) from None
    if time is not None:
        time = replace(time, ready_by=means.ready_by)
    return Stall(kept, kinds, left, means, time, held)


def _unless_past(means: Means) -> Means:
    return replace(means, ready_by=None) if means.ready_by and means.ready_by <= means.begin else means


def _counted(answers: Answers, count: int) -> Answers:
    have = answers.value("have") or frozenset()
    return answers.say("have", (frozenset(have) | {"count"}) - {"none"}).say("count", count)


# ------------------------------------------------------------------ pages


def page(stall: Stall, day: date | None = None) -> tuple[list[str], tuple[Listed, ...]]:
    """The page of the next day with work, or of `day`: numbered lines, and what each number stands for."""
    time = stall.timeline
    if time is None:
        return ["All of it is done.", *_held(stall)], ()
    hands = [d for d in time.doings if d.ends > d.begins]
    days = sorted({d.begins.date() for d in hands})
    wanted = next((d for d in days if day is None or d >= day), None)
    if wanted is None:
        return ["No more hand is needed; it only has to cure.", *_waiting(stall, time)], ()
    lines = [long_day(wanted), ""]
    listed: list[Listed] = []
    potted = {p.number: p for p in pots(time, [r.kind for r in stall.rests])}
    tray = _trays(stall)
    for doing in (d for d in hands if d.begins.date() == wanted):
        numbers = list(_numbers(stall, doing))
        for name, first, last in numbers:
            listed.append(Listed(name, first, last, doing.step))
            pot = _pot_words(potted.get(doing.pot), doing)
            lines.append(
                f"{len(listed):>3}  {doing.begins:%H:%M}-{doing.ends:%H:%M}  {_who(stall, name, first, last)}"
                f" [{tray[name, first]}]: {doing.name}{pot}; then wait until {_until(doing, wanted)}"
            )
    lines += ["", *_waiting(stall, time)]
    ready = f"Ready {moment(time.ready)}."
    if time.late:
        ready += ' That is too late: say "what can I bring".'
    return [*lines, ready, *_held(stall)], tuple(listed)


def _held(stall: Stall) -> list[str]:
    """Kinds that wait for a way: they are not poured, so they are ready on no day."""
    return [f"{k.count:>4} x {k.name}: not poured as it is. {k.plan.headline}" for k in stall.held]


def _until(doing: Doing, day: date) -> str:
    return f"{doing.until:%H:%M}" if doing.until.date() == day else moment(doing.until)


def _numbers(stall: Stall, doing: Doing) -> Iterator[tuple[str, int, int]]:
    """The pieces of a doing by the numbers of their kind, in runs."""
    for some in doing.some:
        rest = stall.rests[some.kind]
        run: list[int] = []
        for number in (*rest.numbers[some.first - 1 : some.last], None):
            if run and (number is None or number != run[-1] + 1):
                yield rest.kind.name, run[0], run[-1]
                run = []
            if number is not None:
                run.append(number)


def _who(stall: Stall, name: str, first: int, last: int) -> str:
    count = next(k.count for k in stall.kinds if k.name == name)
    if (first, last) == (1, count):
        return f"{name} (all {count})" if count > 1 else name
    return f"{name} {first}" if first == last else f"{name} {first} to {last}"


def _trays(stall: Stall) -> dict[tuple[str, int], str]:
    """A letter for each run of pieces that are at the same point, so that trays can be told apart."""
    made: dict[tuple[str, int], str] = {}
    for place, rest in enumerate(stall.rests):
        letter = chr(ord("A") + place % 26) + (str(place // 26) if place >= 26 else "")
        made |= {(rest.kind.name, number): f"tray {letter}" for number in rest.numbers}
    return made


def _pot_words(pot: PotLine | None, doing: Doing) -> str:
    if pot is None or doing.kind not in ("mix", "pour") or not pot.total:
        return f" (pot {doing.pot})" if doing.pot else ""
    parts = f": {pot.resin} resin and {pot.hardener} hardener" if pot.resin else ", parts by the label"
    return f" (pot {pot.number}, {pot.total} in all{parts})"


def _waiting(stall: Stall, time: Timeline) -> Iterator[str]:
    """What dries or cures from before: each thing once, for as long as its longest wait."""
    until: dict[tuple[str, str], dict[int, datetime]] = {}
    for doing in (d for d in time.doings if d.step.startswith(WAITING) and d.until > d.begins):
        for name, first, last in _numbers(stall, doing):
            mine = until.setdefault((name, doing.name.removeprefix("Under way: ")), {})
            mine |= {n: max(doing.until, mine.get(n, doing.until)) for n in range(first, last + 1)}
    for (name, step), waits in until.items():
        yield f"     {_who(stall, name, min(waits), max(waits))}: {step} waits until {moment(max(waits.values()))}."


def overview(stall: Stall) -> list[str]:
    """A ready day a kind, what is left, and whether it is in time."""
    time = stall.timeline
    lines = []
    for kind in stall.kinds:
        mine = [n for n, r in enumerate(stall.rests) if r.kind.name == kind.name]
        ends = [d.until for d in (time.doings if time else ()) if any(s.kind in mine for s in d.some)]
        state = f"ready {moment(max(ends))}" if ends else "done"
        late = " (too late)" if ends and stall.means.ready_by and max(ends) > stall.means.ready_by else ""
        lines.append(f"{kind.count:>4} x {harmless(kind.name, one_line=True)}: {state}{late}")
    lines += _held(stall)
    if stall.means.ready_by:
        lines.append(f"Wanted by {moment(stall.means.ready_by)}.")
    return lines


def what_to_bring(stall: Stall, brushed: Sequence[tuple[str, Sequence[Kind], Means]] = ()) -> list[str]:
    """The offers as a small table: what each brings, and what it takes."""
    if stall.means.ready_by is None:
        return ['Say first by when: "ready by saturday week".']
    kinds = [r.kind for r in stall.rests]
    whole = sum(k.count for k in kinds)
    finished = sum(k.count for k in stall.kinds) - whole
    held = sum(k.count for k in stall.held)
    means = replace(stall.means)
    if means.ready_by is not None and means.ready_by <= means.begin:
        return ["The day is over."]
    found = offers(kinds, means, brushed)
    if not found:
        return [
            f"Nothing that was tried makes more ready by {moment(stall.means.ready_by)}. {finished} are ready already."
        ]
    lines = [
        "Tried: fewer kinds, fewer pieces, other hands and hours, brush for spray, quickest drying, trials done, no extras."
    ]
    for offer in found:
        what = ", ".join(f"{n} {k.name}" for n, k in zip(offer.counts, kinds, strict=True) if n)
        left = ", ".join(f"{k.count - n} {k.name}" for n, k in zip(offer.counts, kinds, strict=True) if n < k.count)
        lines.append(
            f"{offer.pieces + finished:>4} of {whole + finished + held} pieces  {offer.says or 'as it is'}; ready {moment(offer.ready)}"
        )
        lines.append(f"      {what}{f'; not: {left}' if left else ''}")
    return [*lines, *_held(stall)]


def _brushed(adviser: Adviser, stall: Stall) -> list[tuple[str, Sequence[Kind], Means]]:
    """The same pieces brushed instead of sprayed, where a brush serves all of them and nothing is sprayed yet."""
    kinds = tuple(replace(k, answers=k.answers.say("ways", frozenset(("brush",)))) for k in stall.kept.kinds if k.count)
    plans = [Kind(k.name, adviser.plan(_counted(k.answers, k.count), k.name), k.count) for k in kinds]
    if any(not poured(k.plan) for k in plans) or [k.name for k in plans] != [k.name for k in stall.kinds]:
        return []
    if all(a.plan.treatments == b.plan.treatments for a, b in zip(plans, stall.kinds, strict=True)):
        return []
    left = rests(plans, stall.kept.did, stall.means.begin)
    if [r.numbers for r in left] != [r.numbers for r in stall.rests]:
        return []
    return [("a brush instead of spraying", [r.kind for r in left], stall.means)]


# ------------------------------------------------------------------ lines


def said(adviser: Adviser, kept: KeptBatch, text: str, now: datetime) -> tuple[KeptBatch, list[str]]:
    """Take one line: the batch as it then is, written down, and what to show. Raises NoBatch, TimingError."""
    line = read_stall(text, [k.name for k in kept.kinds], now)
    if line.does in ("page", "show", "offers", "unknown", "stop"):
        return _shown(adviser, kept, line, now)
    if line.does == "undo":
        back = undone(kept)
        return (save(back), ["Taken back: what was said last."]) if back else (kept, ["There is nothing to take back."])
    before = stand(adviser, kept, now)
    new, told = _changed(adviser, kept, line, text, now)
    if new is kept:
        return kept, told
    after = stand(adviser, new, now)
    new = save(replace(with_before(new, kept), said=(*kept.said, (f"{now:%Y-%m-%d %H:%M}", text))))
    return new, [*told, *_difference(before, after)]


def _shown(adviser: Adviser, kept: KeptBatch, line: StallLine, now: datetime) -> tuple[KeptBatch, list[str]]:
    if line.does in ("unknown", "stop"):
        return kept, [line.says or HINT] if line.does == "unknown" else []
    stall = stand(adviser, kept, now)
    if line.does == "show":
        return kept, overview(stall)
    if line.does == "offers":
        return kept, what_to_bring(stall, _brushed(adviser, stall))
    lines, listed = page(stall, now.date() + timedelta(days=1) if line.says == "tomorrow" else None)
    return save(replace(kept, shown=listed)), lines


def _changed(
    adviser: Adviser, kept: KeptBatch, line: StallLine, text: str, now: datetime
) -> tuple[KeptBatch, list[str]]:
    if line.does == "done":
        return _done(adviser, kept, line, now)
    if line.does == "late":
        begun = datetime.fromisoformat(kept.said[0][0]).date() if kept.said else now.date()
        lost = {d if d >= begun else d + timedelta(days=7) for d in line.days}
        off = {str(d) for d in lost if d >= now.date()}
        days = ", ".join(long_day(d) for d in sorted(lost))
        if not off:
            return replace(kept, wishes=dict(kept.wishes)), [f"{days} is gone; planned again from now."]
        told = str(kept.wishes.get("days_off", ""))
        wishes = {**kept.wishes, "days_off": ", ".join(filter(None, (told, *sorted(off))))}
        return replace(kept, wishes=wishes), [f"No work on {days}."]
    if line.does == "count":
        kinds = tuple(replace(k, count=line.count) if k.name == line.kind else k for k in kept.kinds)
        return replace(kept, kinds=kinds), [f"{line.count} x {line.kind}."]
    if line.does == "wish" and line.wish:
        return replace(kept, wishes={**kept.wishes, line.wish[0]: line.wish[1]}), [f"{line.wish[0]}: {line.wish[1]}."]
    return _result(adviser, kept, line, text)


def _done(adviser: Adviser, kept: KeptBatch, line: StallLine, now: datetime) -> tuple[KeptBatch, list[str]]:
    if not kept.shown:
        _, listed = page(stand(adviser, kept, now))
        kept = replace(kept, shown=listed)
    numbers = line.lines or tuple(range(1, len(kept.shown) + 1))
    wrong = [n for n in numbers if not 1 <= n <= len(kept.shown)]
    if wrong or not kept.shown:
        return kept, [
            f'The page has lines 1 to {len(kept.shown)}; there is no {wrong[0] if wrong else 1}. Say "tonight" to see it.'
        ]
    at = (line.at or now).replace(second=0, microsecond=0)
    already = set(kept.did)
    new = [DoneTo(s.kind, s.first, s.last, s.step, at) for n in numbers for s in (kept.shown[n - 1],)]
    new = [
        d
        for d in new
        if not any((d.kind, d.step) == (o.kind, o.step) and o.first <= d.first and d.last <= o.last for o in already)
    ]
    return replace(kept, did=(*kept.did, *new)), [f"Done: {len(new)} line{'' if len(new) == 1 else 's'}, {at:%H:%M}."]


def _result(adviser: Adviser, kept: KeptBatch, line: StallLine, text: str) -> tuple[KeptBatch, list[str]]:
    """ "tiles: the drop stands": a result, or any other fact, of one kind."""
    kind = next(k for k in kept.kinds if k.name == line.kind)
    words = text.split(":", 1)[1] if ":" in text else text
    plan = adviser.plan(kind.answers, kind.name)
    trial = _trial_named(adviser, plan, words)
    asked = adviser.wording(adviser.question(trial.settles), kind.answers) if trial else None
    turn = read_turn(words, Focus(trial.settles if trial else "stall", asked, kind.answers), adviser.knowledge)
    facts = [
        f
        for f in turn.facts
        if trial is None or adviser.question(f.question).part == "trials" or f.question == trial.settles
    ]
    if not facts:
        what = f" of {trial.name.lower()}" if trial else ""
        return kept, [f'Not understood as a result{what}: "{harmless(words.strip(), one_line=True)}". {HINT}']
    answers = kind.answers
    for fact in facts:
        origin: Any = "trial" if adviser.question(fact.question).part == "trials" else "said"
        answers = answers.say(fact.question, fact.value, origin, words)
        done = next((t for t in plan.trials if t.settles == fact.question), None)
        if done and any(c.id == done.id for c in adviser.question("tried").choices):
            tried = (answers.value("tried") or frozenset()) - {"none"} | {done.id}
            answers = answers.say("tried", tried, "trial", words)
    changes = adviser.changes(plan, adviser.plan(answers, kind.name))
    kinds = tuple(replace(k, answers=answers) if k is kind else k for k in kept.kinds)
    asked_of = {f.question: adviser.question(f.question) for f in facts}
    said_back = (
        f"{asked_of[f.question].short}: {value_words(asked_of[f.question], f.value, adviser, answers)}" for f in facts
    )
    told = "; ".join(said_back)
    return replace(kept, kinds=kinds), [f"{kind.name}: {told}.", *(f"- {c}" for c in changes)]


def _trial_named(adviser: Adviser, plan: Plan, words: str) -> Trial | None:
    """The trial whose result this is: the one that is named, else the only one that is open."""
    open_ = [t for t in plan.trials if t.settles]
    said = set(re.sub(r"[^\w ]", " ", words.casefold()).split())
    names = {c.id: {c.id, *" ".join(c.also).split()} for c in adviser.question("tried").choices}
    named = [t for t in open_ if said & names.get(t.id, {t.id})]
    return named[0] if named else None


def _difference(before: Stall, after: Stall) -> list[str]:
    one, two = before.timeline, after.timeline
    if two is None:
        return ["All of it is done."]
    if one is None or one.ready == two.ready:
        lines = [f"Ready {moment(two.ready)}, as before." if one else f"Ready {moment(two.ready)}."]
    else:
        lines = [f"Ready {moment(two.ready)}; it was {moment(one.ready)}."]
    if two.late and after.means.ready_by:
        lines.append(f'That is after {moment(after.means.ready_by)}. Say "what can I bring" for the best set.')
    return lines
