"""A plan while it is done: what comes next, from when, until when, and what a result is still owed.

Pure: what was done is a list of facts with their times, "now" is an argument. A step that is done is never asked for
again, whatever the plan has become since.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from interview.plan.doings import Done
from interview.plan.model import Plan
from interview.plan.parts import Step, Trial
from interview.reasoning.lots import Kind, by_room, closing

SOON = timedelta(minutes=15)  # a window that closes within this is warned of


@dataclass(frozen=True, slots=True)
class Due:
    """A step and when it may be done. `sure`: when the longest wait before it is over; `closes`: the last moment of
    its window; `late`: the window is over, and the longer way is taken.
    """

    step: Step
    free: datetime
    sure: datetime
    closes: datetime | None = None
    late: bool = False

    @property
    def how(self) -> str:
        if self.late:
            return self.step.missed or self.step.how
        return self.step.in_time or self.step.how


@dataclass(frozen=True, slots=True)
class Standing:
    """Where the work stands. `due`: the next step, None where all wait for a result or none is left. `owed`: trials
    done whose result is not told yet, each with the time from which it can be read. `left`: how many steps are not done.
    """

    due: Due | None
    owed: tuple[tuple[Trial, datetime], ...]
    left: int


def standing(plan: Plan, done: Sequence[Done], now: datetime) -> Standing:
    """The next step: of those that may be done, the first in the plan's order; else the one that is free soonest."""
    at = {d.step: d for d in done}
    undone = [s for s in plan.steps if s.id not in at]
    owed = tuple(
        (t, at[id].at + timedelta(minutes=t.wait[0]))
        for t in plan.trials
        if (id := f"trial.{t.id}") in at and not at[id].skipped and _open(plan, t)
    )
    waiting = {f"trial.{t.id}" for t, _ in owed}
    held = {s.id for s in undone}
    slower = Kind(plan.name, plan).slower
    due = [_due(s, plan, at, now, slower) for s in undone if not any(b in held or b in waiting for b, _, _ in s.after)]
    free = [d for d in due if d.free <= now]
    best = free[0] if free else min(due, key=lambda d: d.free, default=None)
    urgent = [d for d in free if d.closes is not None and not d.late]
    if urgent:  # what has a window goes before what can wait
        best = min(urgent, key=lambda d: d.closes or now)
    return Standing(best, owed, len(undone))


def _open(plan: Plan, trial: Trial) -> bool:
    """Whether the plan still waits for what this trial shows: it says how to tell, and nobody told yet."""
    return bool(trial.settles) and plan.origins.get(trial.settles) not in ("said", "trial")


def _due(step: Step, plan: Plan, at: dict[str, Done], now: datetime, slower: float) -> Due:
    free = sure = datetime.min
    closes: datetime | None = None
    late = False
    for before, least, most in step.after:
        told = at.get(before)
        if told is None or told.skipped:  # no longer in the plan, or left out: nothing to wait for
            continue
        earlier = next((s for s in plan.steps if s.id == before), None)
        factor = by_room(earlier, slower) if earlier else 1.0
        shortest = least * factor
        longest = (earlier.wait[1] if earlier and least == earlier.wait[0] else least) * factor
        if most is not None and earlier is not None:
            last = told.at + timedelta(minutes=closing(earlier, most, slower))
            if now > last and step.alternative is not None:
                late, shortest, longest = True, step.alternative, step.alternative
            else:
                longest = min(longest, closing(earlier, most, slower))
                closes = min(closes, last) if closes else last
        free = max(free, told.at + timedelta(minutes=shortest))
        sure = max(sure, told.at + timedelta(minutes=longest))
    return Due(step, free, max(free, sure), None if late else closes, late)


def skipping(plan: Plan, step: Step) -> tuple[str, ...]:
    """What it costs to leave a step out: what it settles, whether coats on it are lost, what may then happen."""
    if step.kind == "trial":
        trial = next((t for t in plan.trials if f"trial.{t.id}" == step.id), None)
        says = [trial.says] if trial else []
        return (*says, "Without it you find out on the piece itself.")
    after = [s for s in plan.steps if any(b == step.id for b, _, _ in s.after)]
    costs = {
        "seal": "A coat less: resin may soak in and go dark, or air may rise hours later.",
        "prepare": "The next steps count on it.",
        "flatten": "What is not flat makes a low spot or lets air under.",
        "mix": "Resin that is not mixed to its ratio and scraped down stays sticky.",
        "watch": "Bubbles and hairs can only be taken out while it flows.",
        "cure": "Soft resin takes every print.",
        "finish": "The piece is safe without it; it is less finished.",
        "pour": "Without it nothing is coated.",
    }
    says = [costs[step.kind]]
    if step.kind == "seal":
        treatment = next((t for t in plan.treatments if t.sealer == step.sealer), None)
        if treatment and treatment.findings:
            says.insert(0, treatment.findings[0].says)
    if after:
        says.append(f"Next would be: {after[0].name}.")
    return tuple(says)
