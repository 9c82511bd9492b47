"""A batch that is kept, through its week: tonight's page, what was done, what slipped, what can be brought on the day."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

from interview.brief.timeline_text import long_day
from interview.conversation.adviser import Adviser
from interview.conversation.stall_page import changed_words, money_words, overview, page, what_to_bring
from interview.conversation.stall_state import Stall, planned_kinds, stand
from interview.conversation.telling import value_words
from interview.conversation.timing import poured
from interview.files.batches import KeptBatch, save, undone, with_before
from interview.plan.doings import DoneTo
from interview.plan.model import Plan
from interview.plan.parts import Trial
from interview.reading.stall_words import StallLine, read_stall
from interview.reading.turn import Focus, read_turn
from interview.reasoning.leaving_out import needed
from interview.reasoning.lots import Kind, Means
from interview.reasoning.under_way import rests
from interview.text.harmless import harmless

HINT = (
    'Say "tonight", "done 3-7", "missed thursday", "I can work on sunday 18-22", "it rained saturday", "now 60 coasters", '
    '"no backs", "two hands", "coasters sell at 12", "money", "what can I bring", "tiles: the drop stands", "undo", "stop".'
)


def _brushed(adviser: Adviser, stall: Stall) -> list[tuple[str, Sequence[Kind], Means]]:
    """The same pieces brushed instead of sprayed, where a brush serves all of them and nothing is sprayed yet."""
    kinds = tuple(replace(k, answers=k.answers.say("ways", frozenset(("brush",)))) for k in stall.kept.kinds if k.count)
    plans = planned_kinds(adviser, kinds)
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
    line = read_stall(text, [k.name for k in kept.kinds], now, [k.count for k in kept.kinds])
    if line.does in ("page", "show", "offers", "money", "unknown", "stop"):
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
    return new, [*told, *changed_words(before, after)]


def _shown(adviser: Adviser, kept: KeptBatch, line: StallLine, now: datetime) -> tuple[KeptBatch, list[str]]:
    if line.does in ("unknown", "stop"):
        return kept, [line.says or HINT] if line.does == "unknown" else []
    stall = stand(adviser, kept, now)
    if line.does == "show":
        return kept, overview(stall)
    if line.does == "offers":
        return kept, what_to_bring(stall, _brushed(adviser, stall))
    if line.does == "money":
        return kept, money_words(stall)
    made = page(stall, now.date() + timedelta(days=1) if line.says == "tomorrow" else None)
    return save(replace(kept, shown=made.listed, shown_day=made.day)), made.lines


def _changed(
    adviser: Adviser, kept: KeptBatch, line: StallLine, text: str, now: datetime
) -> tuple[KeptBatch, list[str]]:
    if line.does == "done":
        return _done(adviser, kept, line, now)
    if line.does in ("late", "rain"):
        return _lost(kept, line, now)
    if line.does == "extra":
        return _won(kept, line)
    if line.does == "leave_out":
        return _left_out(adviser, kept, line)
    if line.does in ("count", "sells"):
        new = {"count": line.count} if line.does == "count" else {"sells": line.sells}
        kinds = tuple(replace(k, **new) if k.name == line.kind else k for k in kept.kinds)  # type: ignore[arg-type]
        says = (
            f"{line.count} x {line.kind}." if line.does == "count" else f"{line.kind}: sold at {line.sells:.2f} each."
        )
        return replace(kept, kinds=kinds), [says]
    if line.does == "wish" and line.wish:
        return replace(kept, wishes={**kept.wishes, line.wish[0]: line.wish[1]}), [f"{line.wish[0]}: {line.wish[1]}."]
    return _result(adviser, kept, line, text)


def _lost(kept: KeptBatch, line: StallLine, now: datetime) -> tuple[KeptBatch, list[str]]:
    """A day without work, or, where it rained, without spraying outdoors; of one that is over the state tells."""
    days = ", ".join(long_day(d) for d in sorted(line.days))
    ahead = {str(d) for d in line.days if d >= now.date()}
    if not ahead:
        return replace(kept, wishes=dict(kept.wishes)), [f"{days} is gone; planned again from now."]
    says = f"Nothing is sprayed outdoors on {days}." if line.does == "rain" else f"No work on {days}."
    return _more_days(kept, "wet" if line.does == "rain" else "days_off", ahead), [says]


def _won(kept: KeptBatch, line: StallLine) -> tuple[KeptBatch, list[str]]:
    days = ", ".join(long_day(d) for d in sorted(line.days))
    return _more_days(kept, "extra", {f"{d} {line.says}" for d in line.days}), [f"{days}, {line.says}, as well."]


def _more_days(kept: KeptBatch, wish: str, days: set[str]) -> KeptBatch:
    told = str(kept.wishes.get(wish, "")).split(", ")
    return replace(kept, wishes={**kept.wishes, wish: ", ".join(dict.fromkeys(d for d in (*told, *sorted(days)) if d))})


def _left_out(adviser: Adviser, kept: KeptBatch, line: StallLine) -> tuple[KeptBatch, list[str]]:
    """ "No backs": of the kinds where they are an extra; where they are needed, that is said."""
    told, kinds = [], []
    plans = {k.name: k.plan for k in planned_kinds(adviser, kept.kinds)}
    for kind in kept.kinds:
        why = needed(plans[kind.name], line.says) if kind.name in plans else ""
        if why and line.kind in ("", kind.name):
            told.append(f"{kind.name}: the {line.says} stays. {why}")
        elif line.kind in ("", kind.name):
            kind = replace(kind, left_out=tuple(dict.fromkeys((*kind.left_out, line.says))))
        kinds.append(kind)
    if tuple(kinds) == kept.kinds:
        return kept, told
    return replace(kept, kinds=tuple(kinds)), [f"Left out where it is only an extra: {line.says}.", *told]


def _done(adviser: Adviser, kept: KeptBatch, line: StallLine, now: datetime) -> tuple[KeptBatch, list[str]]:
    if not kept.shown:
        made = page(stand(adviser, kept, now))
        kept = replace(kept, shown=made.listed, shown_day=made.day)
    by_number = {s.number: s for s in kept.shown}
    numbers = line.lines or tuple(by_number)
    wrong = [n for n in numbers if n not in by_number]
    if wrong or not by_number:
        return kept, [f'The page has no line {wrong[0] if wrong else 1}. Say "tonight" to see it.']
    at = (line.at or now).replace(second=0, microsecond=0)
    did = set(kept.did)
    told = []
    for listed_ in (by_number[n] for n in numbers):
        new = [DoneTo(*of, at) for of in listed_.of]
        new = [
            d
            for d in new
            if not any((d.kind, d.step) == (o.kind, o.step) and o.first <= d.first and d.last <= o.last for o in did)
        ]
        did |= set(new)
        kept = replace(kept, did=(*kept.did, *new))
        if new or line.lines:
            told.append(f"{f'Done {at:%H:%M}' if new else 'Done before'}: {listed_.number}, {listed_.says}.")
    return kept, told or ["All of the page was done before."]


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
