"""The bench sheet: what one page to work along holds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from interview.brief.composing import is_gear
from interview.brief.composing_steps import VERBS, closes, treatment_of
from interview.brief.pace import Pace, When, pace
from interview.brief.views import Brief, Fork, StepView, TrialView
from interview.drawing.lifted import Drawn, lifted
from interview.drawing.pictures import picture_of
from interview.drawing.signs import SAFETY, Sign
from interview.drawing.svg import Svg
from interview.plan.model import Plan
from interview.plan.parts import Item, Step
from interview.reasoning.timetable import Timeline
from interview.text.wording import capital, listed, span

_POURED = ("mix", "pour", "watch")
# how many letters a sheet may hold in each size of type; the first that is not overfull is taken
_SIZES = ((2260, "large"), (2940, "middle"), (3545, "small"), (4330, "fine"))


@dataclass(frozen=True, slots=True)
class Wait:
    """An empty stretch: how long at least, when it is over at the earliest, and when the way on closes."""

    long: str
    earliest: str
    closes: str


@dataclass(frozen=True, slots=True)
class Stop:
    """One stop of the ribbon. `boxes`: what is ticked, each by its label; `opens`: whether a day begins with it."""

    id: str
    ids: tuple[str, ...]  # of the steps it stands for
    sign: str  # its letter or number in the full brief
    picture: Svg
    verb: str
    number: str
    done: str
    day: str
    opens: bool
    clock: str
    boxes: tuple[str, ...]
    forks: tuple[Fork, ...]
    safety: tuple[Sign, ...]
    wait: Wait | None
    behind: int = 0  # how many of its boxes are behind the maker


@dataclass(frozen=True, slots=True)
class Minute:
    """One mark of the pour day: minutes from the first stir, or the clock."""

    at: str
    what: str


@dataclass(frozen=True, slots=True)
class Worn:
    """A safety sign and the stops where it applies."""

    sign: Sign
    where: str


@dataclass(frozen=True, slots=True)
class Bench:
    stops: tuple[Stop, ...]
    minutes: tuple[Minute, ...]
    worn: tuple[Worn, ...]
    drawn: Drawn | None
    copy_first: bool
    size: str


def bench(plan: Plan, brief: Brief, time: Timeline | None) -> Bench:
    """All of it, from a plan whose texts are harmless and its brief."""
    paced = pace(plan.steps, time)
    behind = {d.step for d in plan.done}
    ahead = [*_trials(plan, brief, paced), *_steps(plan, brief, paced)]
    order = {s.id: n for n, s in enumerate(plan.steps)}
    ahead.sort(key=lambda stop: min(order[id] for id in stop.ids))
    stops = tuple(_days_opened([replace(s, behind=len(behind.intersection(s.ids))) for s in ahead]))
    minutes = tuple(_minutes(plan.steps, paced))
    drawn = lifted(plan)
    return Bench(
        stops=stops,
        minutes=minutes,
        worn=_worn(stops),
        drawn=drawn,
        copy_first=any(o.id == "copy_the_only_one" for o in plan.outlets),
        size=_size(brief, stops, minutes),
    )


# ------------------------------------------------------------------ stops


def _trials(plan: Plan, brief: Brief, paced: Pace) -> Iterator[Stop]:
    steps = {s.id: s for s in plan.steps}
    for view in brief.trials:
        step = steps.get(f"trial.{view.id}")
        if step is not None:
            yield _trial(view, step, paced)


def _trial(view: TrialView, step: Step, paced: Pace) -> Stop:
    when = paced.at.get(step.id, When("", "", ""))
    return Stop(
        step.id, (step.id,), view.letter, picture_of(step.id, "trial").drawn(), view.name, span(step.hands_on, step.hands_on), "",
        when.day, False, when.clock, ("",), view.forks, _safety(step), _wait(step, when, None),
    )  # fmt: skip


def _steps(plan: Plan, brief: Brief, paced: Pace) -> Iterator[Stop]:
    steps = {s.id: s for s in plan.steps}
    resin = next((g.amount for g, i in zip(brief.goods, _bought(plan), strict=True) if i.id == "resin"), "")
    for phase in brief.phases:
        for view in phase.steps:
            mine = [steps[id] for id in view.ids]
            yield _seal(plan, view, mine, paced) if mine[0].kind == "seal" else _step(view, mine[0], resin, paced)


def _bought(plan: Plan) -> list[Item]:
    return [i for i in plan.items if not is_gear(i)]


def _step(view: StepView, step: Step, resin: str, paced: Pace) -> Stop:
    when = paced.at.get(step.id, When("", "", ""))
    number = span(step.hands_on, step.hands_on)
    if step.kind == "mix":
        number = resin or number
    if step.look_every and step.look_for:
        number = f"every {span(step.look_every, step.look_every)} for {span(step.look_for, step.look_for)}"
    return Stop(
        step.id, view.ids, str(view.number), picture_of(step.id, step.kind).drawn(), view.name, number, view.done, when.day,
        False, when.clock, ("",), (), _safety(step), _wait(step, when, None),
    )  # fmt: skip


def _seal(plan: Plan, view: StepView, coats: Sequence[Step], paced: Pace) -> Stop:
    first, last = coats[0], coats[-1]
    treatment = treatment_of(plan, first)
    method = treatment.method if treatment else "seal"
    verb = VERBS.get(method, capital(method)) if treatment else view.name
    names = [plan.zone(z).name for z in first.zones]
    where = listed(names) if len(names) < 3 else f"{names[0]} and {len(names) - 1} parts with it"
    sides = len({c.zones for c in coats})
    count = len(coats) // sides
    number = (
        f"{treatment.name if treatment else ''}, {count} coat{'s' if count > 1 else ''}{' a side' if sides > 1 else ''}"
    )
    when = paced.at.get(first.id, When("", "", ""))
    over = paced.at.get(last.id, When("", "", ""))
    return Stop(
        first.id, view.ids, str(view.number), picture_of(f"seal.{method}", "seal").drawn(), f"{verb} {where}",
        number + (f", {span(*first.wait)} apart" if count > 1 else ""), view.done, when.day, False, when.clock,
        _boxes(plan, coats), (), _safety(first), _wait(last, over, coats[1] if count > 1 else None),
    )  # fmt: skip


def _boxes(plan: Plan, coats: Sequence[Step]) -> tuple[str, ...]:
    """A box a coat: "1", "2"; where a second side follows, each by its part: "sides 1", "2", "back 1", "2"."""
    if len(coats) == 1:
        return ("",)
    sides = [tuple(run) for _, run in groupby(coats, key=lambda s: s.zones)]
    if len(sides) == 1:
        return tuple(str(n) for n in range(1, len(coats) + 1))
    made = []
    for side in sides:
        zone = plan.zone(side[0].zones[0])
        name = zone.what if zone.kind == "inclusion" else zone.kind
        made += [f"{name} 1", *(str(n) for n in range(2, len(side) + 1))]
    return tuple(made)


def _safety(step: Step) -> tuple[Sign, ...]:
    return tuple(SAFETY[id] for id in step.safety)


def _wait(step: Step, when: When, second: Step | None) -> Wait | None:
    """After the stop; with the last moment for the next coat, where its window closes."""
    long = span(*step.wait)
    latest = closes(second) if second is not None else None
    shuts = f"next coat within {span(latest, latest)}" if latest is not None else ""
    return Wait(long, when.until, shuts) if long else None


def _days_opened(stops: Sequence[Stop]) -> Iterator[Stop]:
    before = None
    for stop in stops:
        yield replace(stop, opens=stop.day != before)
        before = stop.day


# ------------------------------------------------------------------ the pour day in minutes, and what is worn


def _minutes(steps: Sequence[Step], paced: Pace) -> Iterator[Minute]:
    """From the first stir to the last look: a mark for each thing to do."""
    at = 0.0
    for step in steps:
        if step.kind not in _POURED or (step.kind != "mix" and at == 0.0):
            continue
        when = paced.at.get(step.id)
        if step.kind != "watch":
            yield Minute(when.clock if when and when.clock else f"{at:.0f}", step.name)
            at += step.hands_on
        if not step.look_every or not step.look_for:
            continue
        looks = [at + n * step.look_every for n in range(1, int(step.look_for // step.look_every) + 1)]
        told = when.looks if when and when.looks else tuple(f"{look:.0f}" for look in looks)
        yield from (Minute(look, "look") for look in told[:16])
        at = looks[-1] if looks else at


def _worn(stops: Sequence[Stop]) -> tuple[Worn, ...]:
    where: dict[str, list[str]] = {}
    for stop in stops:
        for sign in stop.safety:
            where.setdefault(sign.id, []).append(stop.sign)
    return tuple(Worn(SAFETY[id], ", ".join(where[id])) for id in SAFETY if id in where)


# ------------------------------------------------------------------ how full the sheet is


def _size(brief: Brief, stops: Sequence[Stop], minutes: Sequence[Minute]) -> str:
    """The size of type in which the sheet is one page."""
    full = fullness(brief, stops, minutes)
    return next((name for most, name in _SIZES if full <= most), "least")


def fullness(brief: Brief, stops: Sequence[Stop], minutes: Sequence[Minute]) -> int:
    """By the letters of everything on it; a stop takes room by itself."""
    texts = [f"{s.verb} {s.number} {s.done}" + "".join(f"{f.sees} {f.then}" for f in s.forks) for s in stops]
    head = max(0, 2 * len(brief.title) + len(brief.summary) + len(brief.headline) - 300)
    head += sum(len(h.says) for h in brief.heed) + sum(len(n) for n in brief.not_covered)
    letters = 2 * head + sum(len(t) + 60 for t in texts) + 12 * len(minutes) + sum(len(o.says) for o in brief.ways_out)
    letters += 600 * any(s.clock for s in stops)  # the clock, and when each wait is over
    letters += sum(len(g.name) + len(g.amount) + 6 for g in brief.goods) + sum(len(g) + 6 for g in brief.gear)
    return letters + sum(len(a.name) + 40 for a in brief.assumed)
