"""The steps of a plan as the brief shows them: coats drawn together, numbered, in phases."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby

from interview.brief.marks import Marks
from interview.brief.pace import Pace, When
from interview.brief.views import Phase, StepView
from interview.plan.model import Plan
from interview.plan.parts import Step, Treatment
from interview.text.wording import capital, listed, lowered, sentence, span

_PHASES: dict[str, tuple[str, str]] = {
    "prepare": ("prepare", "Prepare the piece"),
    "seal": ("seal", "Seal"),
    "flatten": ("seal", "Seal"),
    "mix": ("pour", "Pour"),
    "pour": ("pour", "Pour"),
    "watch": ("watch", "Watch after pouring"),
    "cure": ("cure", "Cure"),
    "finish": ("cure", "Cure"),
}
_PLACES = {"outdoors": "outdoors", "rack": "on the rack"}
VERBS = {"spray": "Spray", "brush": "Brush"}


def phases(plan: Plan, pace: Pace, marks: Marks) -> tuple[Phase, ...]:
    """Every step but the trials (they have a section of their own), numbered from 1."""
    why = {p.id: p.says for p in plan.preps}
    steps = [s for s in plan.steps if s.kind != "trial"]
    entries = [tuple(run) for _, run in groupby(steps, key=_entry)]
    views = [_view(plan, n, entry, why, pace, marks) for n, entry in enumerate(entries, 1)]
    made: list[Phase] = []
    sealed = False
    for view in views:
        key, name = _PHASES[view.kind]
        sealed = sealed or key == "seal"
        if view.kind == "prepare" and (sealed or view.ids[0].partition(".")[2] not in why):
            key, name = "ready", "Make ready for the pour"
        if made and made[-1].key == key:
            made[-1] = Phase(key, made[-1].name, (*made[-1].steps, view))
        else:
            made.append(Phase(key, name, (view,)))
    return tuple(made)


def _entry(step: Step) -> str:
    """All coats of one sealer are one entry, its sides one after the other."""
    return f"seal {step.sealer or step.id.rpartition('.')[0]}" if step.kind == "seal" else step.id


def treatment_of(plan: Plan, step: Step) -> Treatment | None:
    """What a coat belongs to."""
    return next((t for t in plan.treatments if t.sealer == step.sealer and set(step.zones) <= set(t.zones)), None)


def _why(step: Step, why: Mapping[str, str]) -> str:
    """Why a preparation of the piece is done; nothing for the work on room, resin and mould."""
    return sentence(why.get(step.id.partition(".")[2], "")) if step.kind in ("prepare", "flatten") else ""


def _view(plan: Plan, number: int, entry: Sequence[Step], why: Mapping[str, str], pace: Pace, marks: Marks) -> StepView:
    first, last = entry[0], entry[-1]
    sides = [tuple(run) for _, run in groupby(entry, key=lambda s: s.zones)]
    when = pace.at.get(first.id, When("", "", ""))
    return StepView(
        number=number,
        kind=first.kind,
        name=capital(first.name) if len(entry) == 1 else _seal_name(plan, sides),
        how=sentence(first.how) + (_second_side(plan, sides) if len(sides) > 1 else ""),
        why=_why(first, why),
        coats=tuple(label for side in sides for label in _boxes(plan, side, len(sides))) if len(entry) > 1 else (),
        times=", ".join(times(sides[0])),
        when=" ".join(t for t in (when.day, when.clock) if t),
        done=lowered(sentence(last.done_when)),
        mark=marks.of(*(f"step:{s.id}" for s in entry)),
        ids=tuple(s.id for s in entry),
        behind={s.id for s in entry} <= {d.step for d in plan.done},
    )


def _seal_name(plan: Plan, sides: Sequence[Sequence[Step]]) -> str:
    """ "Brush the sides, then the back with white glue": all of its coats."""
    treatment = treatment_of(plan, sides[0][0])
    if treatment is None:
        return capital(sides[0][0].name)
    where = ", then ".join(_zones(plan, side) for side in sides)
    return f"{VERBS.get(treatment.method, capital(treatment.method))} {where} with {treatment.name}"


def _zones(plan: Plan, side: Sequence[Step]) -> str:
    return listed(plan.zone(id).name for id in side[0].zones)


def _second_side(plan: Plan, sides: Sequence[Sequence[Step]]) -> str:
    return f" Then {listed(_zones(plan, side) for side in sides[1:])} in the same way, when the first side bears being turned over."


def _boxes(plan: Plan, side: Sequence[Step], sides: int) -> list[str]:
    where = f"{_zones(plan, side)}, " if sides > 1 else ""
    return [f"{where if n == 1 else ''}coat {n}" for n in range(1, len(side) + 1)]


def times(coats: Sequence[Step]) -> tuple[str, ...]:
    """("10 minutes a coat", "the next after 30 to 60 minutes", "then wait 24 hours"), what there is of it."""
    first, last = coats[0], coats[-1]
    if first.look_every and first.look_for:
        every, long = span(first.look_every, first.look_every), span(first.look_for, first.look_for)
        if first.look_for <= first.look_every:
            return (f"one look, {every} later",)
        return (f"look every {every.removeprefix('1 ')} for {long}",)
    several = len(coats) > 1
    hands = span(first.hands_on, first.hands_on)
    made = [f"{hands} a coat" if several else hands] if hands else []
    if several:
        between = span(*first.wait)
        made += [f"the next after {between}{_or_else(coats[1])}"] if between else []
    wait = span(*last.wait)
    if wait:
        made.append(f"then wait {wait}" if made else f"wait {wait}")
    place = _PLACES.get(first.place, "")
    return (*made, place) if place else tuple(made)


def _or_else(second: Step) -> str:
    """Where the window for the next coat closes, and what to do then."""
    latest = closes(second)
    if latest is None or second.alternative is None:
        return ""
    return f" and within {span(latest, latest)}, or else after {span(second.alternative, second.alternative)}"


def closes(step: Step) -> float | None:
    """Minutes after the step before when its window closes."""
    return next((most for _, _, most in step.after if most is not None), None)
