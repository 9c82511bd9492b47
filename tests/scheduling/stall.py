"""Random stalls: kinds with made-up plans and what there is to work with; a checker of every piece."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

from interview.plan.model import Plan
from interview.plan.parts import Basis, Figure, Step
from interview.reasoning.lots import Kind, Means, footprint, largest_pot
from interview.reasoning.scheduling.hours import Calendar, Week
from interview.reasoning.timetable import Doing, Timeline
from tests.scheduling.batches import hours, week

SEASIDE: Week = week(hours((18, 22)), hours((9, 18)), hours((10, 17)))
WAKING: Week = (hours((7, 23.5)),) * 7
AT_HOME = Calendar(SEASIDE, watch=WAKING, daylight=hours((8, 20)))
WEDNESDAY = datetime(2026, 5, 6, 12)


def plan(steps: Sequence[Step], name: str = "", **answers: Any) -> Plan:
    """A plan with nothing but steps and answers."""
    resin = answers.pop("resin", None)
    figures = (Figure("amount.resin", "resin", resin, resin, "mL", "", "", (), (), Basis("computed")),) if resin else ()
    return Plan(
        name=name, summary=name, headline="", complete=True, answers=answers, zone_lines=(), zones=(), verdicts=(),
        treatments=(), steps=tuple(steps), figures=figures,
    )  # fmt: skip


def step(id: str, hands_on: float, wait: tuple[float, float] = (0, 0), **more: Any) -> Step:
    kind = id.split(".")[0]
    return Step(
        id=id, kind=kind, name=more.pop("name", id), zones=(), how="", done_when="", hands_on=hands_on, wait=wait,  # type: ignore[arg-type]
        **more,
    )  # fmt: skip


def pour_steps(before: Sequence[tuple[str, float]], watch: float = 120.0) -> list[Step]:
    """From the room to the full cure, as a coating plan has them."""
    return [
        step("prepare.room", 30, (60, 120), after=tuple((b, least, None) for b, least in before)),
        step("mix.mix", 8, after=(("prepare.room", 60, None),)),
        step("pour.coat", 15, after=(("mix.mix", 0, 10),)),
        step("watch.watch", 5, after=(("pour.coat", 0, 15),), look_every=15.0, look_for=watch),
        step("cure.cover", 5, (1440, 2880), after=(("watch.watch", 0, None),)),
        step("cure.full_cure", 0, (4320, 10080), after=(("cure.cover", 1440, None),)),
    ]


def two_pours(before: Sequence[tuple[str, float]], watch: float = 120.0) -> list[Step]:
    """As `pour_steps`, with a second layer 4 to 8 hours after the first, or 24 hours after it and a scuff."""
    room, mix, pour, look, cover, cure = pour_steps(before, watch)
    again = step(
        "pour.again", 28, after=(("watch.watch", 0, None), ("pour.coat", 240, 480)), each=15.0, look_every=15.0,
        look_for=watch, alternative=1440.0, alternative_hands=5.0, alternative_name="Scuff it", name="Pour again",
    )  # fmt: skip
    return [room, mix, pour, look, again, replace(cover, after=(("pour.again", 0, None),)), cure]


def random_kind(chance: random.Random, number: int) -> Kind:
    """Perhaps a trial, some coats with or without windows, and one pour or two."""
    steps: list[Step] = []
    after: tuple[tuple[str, float, float | None], ...] = ()
    if chance.random() < 0.5:
        steps.append(step("trial.drop", 10, (5, 5)))
        after = (("trial.drop", 5, None),)
    spray = chance.random() < 0.5
    dry = chance.choice(((10.0, 30.0), (60.0, 120.0)))
    window = chance.choice((None, 90.0, 240.0))
    coats = chance.randint(1, 3)
    for coat in range(1, coats + 1):
        last = coat == coats
        wait = (1440.0, 2880.0) if last else dry
        steps.append(
            step(
                f"seal.a.{coat}",
                10.0 if coat == 1 else steps[-1].hands_on,
                wait,
                each=chance.choice((None, 5.0)) if coat == 1 else steps[-1].each,
                after=after,
                place="spray place" if spray else "table",
                sealer="spray" if spray else "brush",
                alternative=1440.0 if window and coat > 1 else None,
            )
        )
        after = ((f"seal.a.{coat}", dry[0], window),)
    layers = two_pours if random.Random(f"{number} {steps}").random() < 0.4 else pour_steps
    steps += layers([(f"seal.a.{coats}", 1440.0)])
    size = {"shape": "rectangle", "width": chance.choice((80.0, 200.0)), "height": 150.0}
    count = chance.randint(1, 9)
    ways = ["spray_outdoors"] if spray and chance.random() < 0.5 else ["spray_booth"]
    resin = chance.choice((30.0, 120.0)) * count
    return Kind(f"kind {number}", plan(steps, size=size, ways=ways, count=count, resin=resin), count)


def random_stall(seed: int) -> tuple[list[Kind], Means]:
    chance = random.Random(seed)
    kinds = [random_kind(chance, n) for n in range(chance.randint(1, 4))]
    if chance.random() < 0.4:  # the same plan under another name
        kinds.append(Kind("twin", kinds[0].plan, chance.randint(1, 6)))
    means = Means(
        chance.choice((AT_HOME, Calendar(SEASIDE, watch=WAKING, off=frozenset((WEDNESDAY.date(),))))),
        WEDNESDAY,
        hands=chance.choice((1, 1, 2)),
        table=chance.choice((None, 0.3, 1.0)),
        rack=chance.choice((None, 0.4, 1.0)),
        pot=chance.choice((None, 150.0, 400.0)),
        working_time=chance.choice((30, 45)),
        waits=chance.choice(("longest", "shortest")),
    )
    return kinds, means


# ------------------------------------------------------------ every piece looked at

Piece = tuple[int, int]
Span = tuple[datetime, datetime]


def piece_faults(kinds: Sequence[Kind], means: Means, time: Timeline) -> list[str]:
    """Everything in which the timeline breaks the plans of the pieces, or the limits."""
    times = _piece_times(kinds, time)
    found: list[str] = []
    for number, kind in enumerate(kinds):
        for piece in range(1, kind.count + 1):
            found += _order_faults(kind, times.get((number, piece), {}), means)
    found += _more_faults(kinds, time)
    found += _hours_faults(means, time)
    found += _limit_faults(kinds, means, time)
    found += _pot_faults(kinds, means, time)
    return found


def _piece_times(kinds: Sequence[Kind], time: Timeline) -> dict[Piece, dict[str, Span]]:
    """When each piece is worked on: within a doing one after the other, unless it is done once for all of them."""
    times: dict[Piece, dict[str, Span]] = {}
    for doing in time.doings:
        if _is_more(kinds, doing):
            continue
        once = doing.kind in ("trial", "mix", "watch") or doing.step in ("prepare.room", "cure.full_cure")
        step = _step(kinds, doing)
        each = timedelta(minutes=step.hands_on if step.each is None else step.each)
        begins = doing.ends - each * doing.pieces  # setting up comes first
        for some in doing.some:
            for piece in range(some.first, some.last + 1):
                ends = doing.ends if once else begins + each
                span = (doing.begins if once else begins, max((ends, *doing.looks)))
                mine = times.setdefault((some.kind, piece), {})
                assert doing.step not in mine, f"{doing.step} is done twice to {kinds[some.kind].name} {piece}"
                mine[doing.step] = span
                begins += each
    return times


def _is_more(kinds: Sequence[Kind], doing: Doing) -> bool:
    """Whether it is the work that comes first where a window was missed, not the step itself."""
    return doing.kind != _step(kinds, doing).kind


def _more_faults(kinds: Sequence[Kind], time: Timeline) -> Iterator[str]:
    """A pour after its window has the scuff before it, as long as all its pieces take; one in time has none."""
    for doing in time.doings:
        step = _step(kinds, doing)
        if doing.kind != "pour" or not step.alternative_hands:
            continue
        more = [d for d in time.doings if d.job == doing.job and d.step == doing.step and _is_more(kinds, d)]
        took = sum((d.ends - d.begins for d in more), timedelta()) / timedelta(minutes=1)
        if took != (step.alternative_hands * doing.pieces if doing.late else 0.0):
            yield f"{doing.step} is {'late' if doing.late else 'in time'}, with {took} minutes of work before it"
        if any(d.ends != doing.begins for d in more):
            yield f"the work before {doing.step} does not lead to it"


def _order_faults(kind: Kind, times: Mapping[str, Span], means: Means) -> Iterator[str]:
    steps = {s.id: s for s in kind.plan.steps}
    for id, after in steps.items():
        if id not in times:
            yield f"{id} is never done to a piece of {kind.name}"
            continue
        for before, least, most in after.after:
            if before not in times:
                continue
            pause = (times[id][0] - times[before][1]) / timedelta(minutes=1)
            wait = steps[before].wait[1] if means.waits == "longest" and least == steps[before].wait[0] else least
            wait = wait if most is None else min(wait, most)
            inside = pause >= wait - 0.01 and (most is None or pause <= most + 0.01 or after.kind in ("pour", "watch"))
            late = after.alternative is not None and most is not None and pause >= after.alternative - 0.01
            if not inside and not late:
                yield f"{kind.name}: {id} comes {pause} minutes after {before}, not {wait} to {most}"


def _hours_faults(means: Means, time: Timeline) -> Iterator[str]:
    calendar = means.calendar
    for doing in time.doings:
        if doing.ends == doing.begins or doing.kind == "cure":
            continue
        if not _inside(doing, calendar.week):
            yield f"{doing.name} is outside the hours at {doing.begins}"
        if doing.ends.date() in calendar.off:
            yield f"{doing.name} is done on a day off"
    for doing in time.doings:
        for look in doing.looks:
            if not 7 * 60 <= look.hour * 60 + look.minute <= 23.5 * 60:
                yield f"nobody is up to look at {look}"


def _inside(doing: Doing, week: Week) -> bool:
    first, last = (t.hour * 60 + t.minute for t in (doing.begins, doing.ends))
    return any(h.opens <= first and last <= h.closes for h in week[doing.begins.weekday()])


def _limit_faults(kinds: Sequence[Kind], means: Means, time: Timeline) -> Iterator[str]:
    by_hand = [d for d in time.doings if d.ends > d.begins and d.kind != "cure"]
    yield from _too_much("hands", means.hands, [(d.begins, d.ends, 1) for d in by_hand])
    sprayed = [d for d in by_hand if d.step.startswith("seal") and _step(kinds, d).place == "spray place"]
    yield from _too_much("spray place", means.spray_places, [(d.begins, d.ends, 1) for d in sprayed])
    if means.rack is not None:
        wet = [d for d in time.doings if d.kind == "seal"]
        spans = [(d.begins, min(d.until, _again(time, d)), _space(kinds, d)) for d in wet]
        yield from _too_much("rack", int(means.rack * 10_000), spans)
    if means.table is not None:
        firm = {d.some: d.until for d in time.doings if d.step == "cure.cover"}
        first = {d.some: d for d in reversed(time.doings) if d.kind == "pour"}  # from then on it lies there
        poured = [(d.begins, firm[some], _space(kinds, d)) for some, d in first.items()]
        yield from _too_much("table", int(means.table * 10_000), poured)


def _again(time: Timeline, doing: Doing) -> datetime:
    """When the pieces are taken up for the next coat."""
    later = [d.begins for d in time.doings if d.kind == "seal" and d.some == doing.some and d.begins >= doing.ends]
    return min(later, default=datetime.max)


def _step(kinds: Sequence[Kind], doing: Doing) -> Step:
    return next(s for s in kinds[doing.some[0].kind].plan.steps if s.id == doing.step)


def _space(kinds: Sequence[Kind], doing: Doing) -> int:
    return sum(footprint(kinds[s.kind].plan.answers["size"]) * s.count for s in doing.some)


def _too_much(what: str, capacity: int, spans: Sequence[tuple[datetime, datetime, int]]) -> Iterator[str]:
    changes = [(b, a) for b, _, a in spans] + [(e, -a) for _, e, a in spans]
    taken = 0
    for when, amount in sorted(changes):
        taken += amount
        if taken > capacity:
            yield f"{taken} of {capacity} {what} at {when}"
            return


def _pot_faults(kinds: Sequence[Kind], means: Means, time: Timeline) -> Iterator[str]:
    for doing in time.doings:
        if doing.kind != "pour" or doing.pieces == 1:
            continue
        mixed = next((d for d in time.doings if d.job == doing.job and d.kind == "mix"), doing)
        told = [kinds[s.kind].plan.answers.get("working_time", means.working_time) for s in doing.some]
        if (doing.ends - mixed.begins) / timedelta(minutes=1) > min(told):
            yield f"pot {doing.pot} is spread until {doing.ends}, mixed at {mixed.begins}"
        if len({str(kinds[s.kind].plan.answers.get("ratio")) for s in doing.some}) > 1:
            yield f"pot {doing.pot} is of two resins"
        total = sum((kinds[s.kind].resin or 0) * s.count for s in doing.some)
        if total > largest_pot(means) + 0.01:
            yield f"pot {doing.pot} holds {total} mL"
