"""Answers -> plan: decision, steps, cautions, sources, gathered into the one model that the brief shows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from interview.plan import model
from interview.plan.answers import Answers
from interview.plan.parts import Basis, Decision, Finding, OpenPoint, Step, Warned
from interview.plan.plain_values import plain_value
from interview.reasoning.agenda import open_questions
from interview.reasoning.areas import piece_extent
from interview.reasoning.circumstances import Circumstances, numbers, settled, stuff
from interview.reasoning.deciding import decide_from
from interview.reasoning.describing import describe
from interview.reasoning.figuring import Figured, figured
from interview.reasoning.mishaps import lessons, mishaps
from interview.reasoning.numeric_answers import Told
from interview.reasoning.pacing import dried_through, in_this_room
from interview.reasoning.pouring import pour_facts
from interview.reasoning.proposing import PROPOSALS, judged
from interview.reasoning.rehearsal import rehearse
from interview.reasoning.shopping import advice, items, look_for
from interview.reasoning.sourcing import sources
from interview.reasoning.summing_up import do_first, headline, sign, zone_lines
from knowledge.classes import class_named
from knowledge.loading import Knowledge, cut
from knowledge.shape import Question


def make_plan(knowledge: Knowledge, answers: Answers, name: str = "", *, imperial: bool = False) -> model.Plan:
    """Pure. Whatever is open is taken on the safe side and listed; `complete` tells whether anything is. `imperial`:
    amounts inside sentences are told in inches and ounces first."""
    missing = tuple(q.id for q in open_questions(knowledge, answers, "quick"))
    around = settled(knowledge, answers)
    around = replace(around, assumed=around.assumed | frozenset(missing))
    decision, facts = decide_from(knowledge, around)
    told = Told(knowledge, answers, numbers(knowledge, answers, facts).facts, imperial=imperial)
    decision = dried_through(told, decision)
    shown = {**told.facts, **pour_facts(told, decision)}
    decision, work = rehearse(in_this_room(knowledge, shown), decision, shown, piece_extent(told).face)
    pours = any(step.kind == "pour" for step in work)
    figured_ = figured(told, decision) if pours else Figured()
    warned = (*lessons(knowledge, shown), *_cautions(knowledge, shown, work))
    numbered = sources(knowledge, decision, work, warned, figured_.figures)
    return model.Plan(
        name=name,
        summary=f"{describe(knowledge, answers) or 'A piece'}.",
        headline=headline(decision),
        sign=sign(decision),
        do_first=do_first(decision, work),
        worries=_worries(knowledge, facts),
        complete=not missing,
        missing=missing,
        answers={q: plain_value(a.value) for q, a in answers.items()},
        origins={q: a.origin for q, a in answers.items()},
        zone_lines=zone_lines(decision),
        zones=decision.zones,
        verdicts=decision.verdicts,
        treatments=decision.treatments,
        barred=decision.barred,
        no_ways=decision.no_ways,
        preps=decision.preps,
        trials=decision.trials,
        outlets=decision.outlets,
        notes=(*decision.notes, *_notes(knowledge, decision, facts)),
        mended=decision.mended,
        proposals=judged(knowledge, decision, facts, work, answers.value(PROPOSALS) or ()),
        items=items(knowledge, decision, facts, figured_.bought),
        look_for=look_for(knowledge, decision),
        figures=figured_.figures,
        room=figured_.room,
        steps=work,
        watch=tuple(s.how for s in work if s.kind == "watch"),
        cautions=warned,
        mishaps=mishaps(knowledge, told.facts),
        care=_care(knowledge, told.facts) if pours else (),
        open_points=_open_points(knowledge, around, answers, amounts=bool(figured_.figures)),
        sources=numbered,
    )


def _notes(knowledge: Knowledge, decision: Decision, facts: Mapping[str, Any]) -> tuple[Finding, ...]:
    """What is worth knowing of what is in the piece and of what goes on it, as their rows say it."""
    named: list[tuple[str, Any]] = [
        *stuff(knowledge, facts),
        *(("", knowledge.sealers[id]) for id in dict.fromkeys(t.sealer for t in decision.treatments)),
    ]
    return tuple(
        Finding(
            row.id,
            f"{row.name[:1].upper()}{row.name[1:]}: {row.note}",
            Basis(row.basis, row.source, row.locator),
            (q,) if q else (),
        )
        for q, row in named
        if row.note
    )


def _worries(knowledge: Knowledge, facts: Mapping[str, Any]) -> tuple[Finding, ...]:
    """What follows from each worry that was spoken."""
    return tuple(
        Finding(w.id, w.says, Basis(w.basis, w.source, w.locator), ("worries",))
        for w in knowledge.worries.values()
        if w.when.holds(facts)
    )


def _cautions(knowledge: Knowledge, facts: Mapping[str, Any], work: Sequence[Step]) -> tuple[Warned, ...]:
    """What holds of the piece, what its sealers bring, and what is done to it in the steps."""
    done = {knowledge.actions[id] for step in work for id in step.does if id}
    brought = facts["treated.cautions"] | {caution for action in done for caution in action.hurts}
    return tuple(
        Warned(c.id, c.name, c.says, c.short, Basis(c.basis, c.source, c.locator))
        for c in knowledge.cautions.values()
        if c.when.holds(facts) or c.id in brought
    )


def _care(knowledge: Knowledge, facts: Mapping[str, Any]) -> tuple[Finding, ...]:
    """The card that goes with the finished piece: nothing is promised that was not shown."""
    rows = advice(knowledge, "care card", facts)
    return tuple(Finding(row.id, row.says, Basis(row.basis, row.source, row.locator)) for row in rows)


def _open_points(
    knowledge: Knowledge, around: Circumstances, answers: Answers, *, amounts: bool
) -> tuple[OpenPoint, ...]:
    """What was assumed because the maker was not sure, or had not come to it yet, and the trial that settles it."""
    settles = {t.settles: t.name for t in knowledge.trials.values() if t.settles}
    points = (
        OpenPoint(q.id, q.short, _assumed(knowledge, q, around), settles.get(q.id, ""))
        for q in knowledge.questions.values()
        if q.id in around.assumed and q.part == "piece"
    )
    doubted = (
        OpenPoint(q.id, q.short, _in_doubt(answers[q.id].words), settles.get(q.id, ""))
        for q in knowledge.questions.values()
        if q.id not in around.assumed and q.id in answers and answers[q.id].doubt
    )
    return (*points, *doubted, *(_size_assumed(knowledge, answers) if amounts else ()))


def _in_doubt(words: str) -> str:
    return (
        f'you said "{cut(words, 60)}" and were not certain' if words else "nothing was told of it, so taken as nothing"
    )


def _size_assumed(knowledge: Knowledge, answers: Answers) -> tuple[OpenPoint, ...]:
    """No amount rests on a size nobody gave without saying so."""
    sized = (q for q in knowledge.questions.values() if "reasoning.areas" in q.read_by and q.kind == "size")
    sized = (q for q in sized if answers.value(q.id) is None)
    return tuple(OpenPoint(q.id, q.short, f"{q.unsure_says}; amounts rest on it", "measure it") for q in sized)


def _assumed(knowledge: Knowledge, question: Question, around: Circumstances) -> str:
    named = class_named(knowledge.classes, around.facts.get(question.id))
    return f"{named.name}, so taken as the most troublesome of its kinds" if named else question.unsure_says
