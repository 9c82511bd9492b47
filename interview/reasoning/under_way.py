"""Kinds of which some steps are done already -> kinds that hold only what is left, each with the wait it is still in.

A step that is done stays where it is. Pieces of one kind that have come to the same point go on together. Of a wait
under way what is left becomes a wait of its own at the begin, with the window that is left of it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from interview.plan.doings import DoneTo
from interview.plan.parts import Step
from interview.reasoning.lots import Kind, by_room, closing

WAITING = "waiting."  # begins the id of a wait that is under way


@dataclass(frozen=True, slots=True)
class Rest:
    """What is left of some pieces of a kind. `kind.plan.steps` holds it; `numbers`: which pieces of the whole kind."""

    kind: Kind
    numbers: tuple[int, ...]


def rests(kinds: Sequence[Kind], done: Sequence[DoneTo], begin: datetime) -> tuple[Rest, ...]:
    """In the order of the kinds; pieces with nothing left to do are left out."""
    made: list[Rest] = []
    for kind in kinds:
        alike: dict[tuple[tuple[str, datetime], ...], list[int]] = {}
        mine = [d for d in done if d.kind == kind.name]
        for number in range(1, kind.count + 1):
            at = _with_waits(kind, {d.step: d.at for d in mine if d.first <= number <= d.last})
            alike.setdefault(tuple(sorted(at.items())), []).append(number)
        for state, numbers in alike.items():
            steps = _left(kind, dict(state), begin)
            if steps:
                plan = kind.plan.model_copy(update={"steps": steps})
                made.append(Rest(replace(kind, plan=plan, count=len(numbers)), tuple(numbers)))
    return tuple(made)


def _with_waits(kind: Kind, at: dict[str, datetime]) -> dict[str, datetime]:
    """A step that takes no hand and no look is done once what it follows is, and what it follows has waited."""
    for step in kind.plan.steps:
        if step.id not in at and step.after and not step.hands_on and all(b in at for b, _, _ in step.after):
            at[step.id] = max(at[b] + timedelta(minutes=_longest(kind, b, least)) for b, least, _ in step.after)
    return at


def _longest(kind: Kind, before: str, least: float) -> float:
    """Minutes counted on after a step, where its wait is told from `least` on."""
    step = next(s for s in kind.plan.steps if s.id == before)
    return (step.wait[1] if least == step.wait[0] else least) * by_room(step, kind.slower)


def _left(kind: Kind, at: Mapping[str, datetime], begin: datetime) -> tuple[Step, ...]:
    steps = [s for s in kind.plan.steps if s.id not in at]
    if not at:
        return tuple(steps)
    if not steps:
        return _curing(kind, at, begin)
    waits: dict[str, Step] = {}
    left: list[Step] = []
    for step in steps:
        after: list[tuple[str, float, float | None]] = []
        for before, least, most in step.after:
            if before not in at:
                after.append((before, least, most))
                continue
            earlier = next((s for s in kind.plan.steps if s.id == before), None)
            link = _link(earlier, step, least, most, (begin - at[before]).total_seconds() / 60, kind.slower)
            if link is None:
                continue
            wait, rest = link
            id = f"{WAITING}{before}.{step.id}"
            waits[id] = _wait(id, earlier, wait)
            after.append((id, wait[0], rest))
        left.append(replace(step, after=tuple(after)))
    return (*waits.values(), *left)


def _curing(kind: Kind, at: Mapping[str, datetime], begin: datetime) -> tuple[Step, ...]:
    """All is done to it; what is left of the longest wait after that."""
    over = {s.id: at[s.id] + timedelta(minutes=_longest(kind, s.id, s.wait[0])) for s in kind.plan.steps}
    last = max(kind.plan.steps, key=lambda s: over[s.id])
    left = (over[last.id] - begin).total_seconds() / 60
    return (_wait(f"{WAITING}{last.id}", last, (left, left)),) if left > 0 else ()


def _link(
    earlier: Step | None, step: Step, least: float, most: float | None, gone: float, slower: float
) -> tuple[tuple[float, float], float | None] | None:
    """The least and longest minutes still to wait, and until when at the latest; None where nothing binds any more."""
    if earlier is None:
        return None
    longest = earlier.wait[1] if least == earlier.wait[0] else least
    window = None if most is None else closing(earlier, most, slower) - gone
    if window is not None and window <= 0:
        window, least, longest = None, step.alternative or least, step.alternative or longest
    rest = (max(0.0, least - gone), max(0.0, longest - gone))
    if rest[1] <= 0 and window is None:
        return None
    return rest, window


def _wait(id: str, earlier: Step | None, wait: tuple[float, float]) -> Step:
    name = f"Under way: {earlier.name}" if earlier else "Under way"
    return Step(
        id, "prepare", name, (), "", "", 0.0, wait, place="rack" if earlier and earlier.kind == "seal" else "table"
    )
