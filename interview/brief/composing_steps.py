"""The steps of a plan as the brief shows them: coats drawn together, numbered, in phases."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import groupby

from interview.brief.marks import Marks
from interview.brief.views import Phase, StepView
from interview.plan.parts import Prep, Step
from interview.text.wording import capital, lowered, sentence, span

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
_PLACES = {"table": "", "spray place": "", "outdoors": "outdoors", "rack": "on the rack"}


def phases(steps: Sequence[Step], preps: Sequence[Prep], marks: Marks) -> tuple[Phase, ...]:
    """Every step but the trials (they have a section of their own), numbered from 1."""
    why = {p.id: p.says for p in preps}
    entries = [list(run) for _, run in groupby((s for s in steps if s.kind != "trial"), key=_entry)]
    views = _as_before([_view(n, entry, why, marks) for n, entry in enumerate(entries, 1)])
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


def _as_before(views: Sequence[StepView]) -> list[StepView]:
    """A second side worked like the first says so, and does not tell it all again."""
    first: dict[tuple[str, str], int] = {}
    made = []
    for view in views:
        told = first.setdefault((view.how, view.done), view.number)
        if told != view.number:
            view = replace(view, how=f"As in step {told}.", done="", beside="")
        made.append(view)
    return made


def _why(step: Step, why: Mapping[str, str]) -> str:
    """Why a preparation of the piece is done; nothing for the work on room, resin and mould."""
    return sentence(why.get(step.id.partition(".")[2], "")) if step.kind in ("prepare", "flatten") else ""


def _entry(step: Step) -> str:
    """Coats of one sealer on one side share everything of their id but the last number."""
    return step.id.rpartition(".")[0] if step.kind == "seal" else step.id


def _view(number: int, entry: Sequence[Step], why: Mapping[str, str], marks: Marks) -> StepView:
    first, last = entry[0], entry[-1]
    coats, times = len(entry), ", ".join(_times(entry))
    name = first.name.removesuffix(f", coat 1 of {coats}")
    return StepView(
        number=number,
        kind=first.kind,
        name=capital(name),
        how=" ".join(t for t in (_why(first, why), sentence(first.how)) if t),
        coats=tuple(f"coat {n}" for n in range(1, coats + 1)) if coats > 1 else (),
        times=times,
        beside=times,
        shortly=_shortly(entry) or times,
        looks=bool(first.look_every and first.look_for),
        done=lowered(sentence(last.done_when)),
        mark=marks.of(*(f"step: {s.name}" for s in entry)),
        ids=tuple(s.id for s in entry),
        wait=last.wait,
        hands_on=sum(s.hands_on for s in entry),
    )


def _times(entry: Sequence[Step]) -> tuple[str, ...]:
    """("10 minutes a coat", "the next after 30 to 60 minutes", "then wait 24 hours"), what there is of it."""
    first, last = entry[0], entry[-1]
    if first.look_every and first.look_for:
        every, long = span(first.look_every, first.look_every), span(first.look_for, first.look_for)
        if first.look_for <= first.look_every:
            return (f"one look, {every} later",)
        return (f"look every {every.removeprefix('1 ')} for {long}",)
    several = len(entry) > 1
    hands = span(first.hands_on, first.hands_on)
    made = [f"{hands} a coat" if several else hands] if hands else []
    if several:
        between = span(*first.wait)
        made += [f"the next after {between}{_or_else(entry[1])}"] if between else []
    wait = span(*last.wait)
    if wait:
        made.append(f"then wait {wait}" if made else f"wait {wait}")
    place = _PLACES[first.place]
    return (*made, place) if place else tuple(made)


def _shortly(entry: Sequence[Step]) -> str:
    """ "3 coats, 10 to 30 minutes apart, then wait 1 to 2 days", for a sheet of one page."""
    first, last = entry[0], entry[-1]
    if len(entry) == 1:
        return ""
    between, wait = span(*first.wait), span(*last.wait)
    parts = (f"{len(entry)} coats", f"{between} apart" if between else "", f"then wait {wait}" if wait else "")
    return ", ".join(p for p in parts if p)


def _or_else(second: Step) -> str:
    """Where the window for the next coat closes, and what to do then."""
    latest = next((most for _, _, most in second.after if most is not None), None)
    if latest is None or second.alternative is None:
        return ""
    return f" and within {span(latest, latest)}, or else after {span(second.alternative, second.alternative)}"
