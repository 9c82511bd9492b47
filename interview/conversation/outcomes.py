"""What a plan comes to in days, hours, amounts and money, and how two plans differ in these."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from typing import TYPE_CHECKING

from interview.conversation.timing import TimingError, Wishes, timetable
from interview.reasoning.comparing import changes
from interview.reasoning.lots import planned
from interview.text.wording import capital, listed

if TYPE_CHECKING:
    from interview.plan.model import Plan
    from interview.reasoning.timetable import Timeline

MOST_PIECES = 150  # more are not put on a calendar just to answer a question
_DAY = timedelta(days=1)


_USUAL = Wishes()


@dataclass(frozen=True)
class Outcome:
    """One plan, measured when asked. `wishes`: other hours or days than were answered."""

    plan: Plan
    now: datetime
    wishes: Wishes = _USUAL

    @cached_property
    def time(self) -> Timeline | None:
        """None where nothing is to be done, or the calendar cannot hold it."""
        if self.pieces > MOST_PIECES:
            return None
        try:
            return timetable(self.plan, self.wishes, self.now)
        except TimingError:
            return None

    @property
    def pieces(self) -> int:
        return planned(self.plan)

    @property
    def days(self) -> tuple[int, int] | None:
        """Whole days from beginning to ready: at the quickest, and counting on the longest waits."""
        if self.time is None:
            return None
        low, high = (max(1, math.ceil((t - self.time.begins) / _DAY)) for t in (self.time.quickest, self.time.ready))
        return low, high

    @property
    def hands(self) -> float:
        """Minutes of work by hand, all pieces."""
        if self.time is not None:
            return sum((d.ends - d.begins) / timedelta(minutes=1) for d in self.time.doings)
        return sum(step.hands(self.pieces) for step in self.plan.steps)

    @property
    def pours(self) -> bool:
        return any(step.kind == "pour" for step in self.plan.steps)

    @property
    def money(self) -> float | None:
        """What has a price, packs counted; None where nothing has one."""
        priced = [item.price * item.packs for item in self.plan.items if item.price is not None]
        return sum(priced) if priced else None

    def shown(self, id: str) -> str:
        """A figure as a person reads it; "" where the plan has none."""
        return next((f.shown for f in self.plan.figures if f.id == id), "")

    @property
    def sealers(self) -> dict[str, str]:
        """Amount by name of each sealer."""
        return {f.label: f.shown for f in self.plan.figures if f.id.startswith("amount.sealer.")}


def span_of(days: tuple[int, int]) -> str:
    low, high = days
    return f"{low} day{'' if low == 1 else 's'}" if low == high else f"{low} to {high} days"


def hours_of(minutes: float) -> str:
    """ "40 minutes", "2 1/2 hours": rounded up to what one would plan for."""
    if minutes < 55:
        return f"{math.ceil(minutes / 5) * 5} minutes"
    halves = math.ceil(minutes / 30)
    whole = f"{halves // 2}" if halves % 2 == 0 else f"{halves // 2} 1/2"
    return f"{whole} hour{'' if whole == '1' else 's'}"


def day_of(when: datetime) -> str:
    return f"{when:%A} {when.day} {when:%B}"


def differences(before: Outcome, after: Outcome) -> list[str]:
    """One line a difference: verdict and parts, days, work, amounts, money. Empty where all comes to the same."""
    lines = []
    if before.plan.sign != after.plan.sign:
        lines.append(f"Verdict: {after.plan.headline} It was: {before.plan.headline}")
    lines += changes(before.plan, after.plan)
    if before.pours and not after.pours:
        return [*lines, "Then nothing is poured until that is settled, so there are no days and amounts to compare."]
    return [*lines, *_measured(before, after)]


def _measured(before: Outcome, after: Outcome) -> Iterator[str]:
    if before.days and after.days and before.days != after.days:
        yield f"Days: {span_of(after.days)}, not {span_of(before.days)}.{_ready(after)}"
    if hours_of(before.hands) != hours_of(after.hands):
        yield f"Work by hand: {hours_of(after.hands)}, not {hours_of(before.hands)}."
    old, new = before.shown("amount.resin"), after.shown("amount.resin")
    if _first(old) != _first(new):
        more = _more(before, after)
        yield f"Resin: {new or 'none'}, not {old or 'none'}{more}."
    for name in dict.fromkeys((*before.sealers, *after.sealers)):
        was, now = before.sealers.get(name, ""), after.sealers.get(name, "")
        if _first(was) != _first(now):
            yield f"{capital(name)}: {now or 'none'}, not {was or 'none'}."
    pots = before.shown("mixing.pots"), after.shown("mixing.pots")
    if _first(pots[0]) != _first(pots[1]) and all(pots):
        yield f"Pots: {pots[1]}, not {pots[0]}."
    if before.money != after.money:
        yield f"Money, of what has a price: {_sum(after.money)}, not {_sum(before.money)}."


def _first(shown: str) -> str:
    """An amount in the first of its two systems: the other may be rounded apart."""
    return shown.split(" (")[0]


def _more(before: Outcome, after: Outcome) -> str:
    highs = [next((f.high for f in o.plan.figures if f.id == "amount.resin"), 0.0) for o in (before, after)]
    if not all(highs):
        return ""
    factor = highs[1] / highs[0]
    return f", {'more' if factor > 1 else 'less'} by {abs(factor - 1) * 100:.0f} %"


def _sum(money: float | None) -> str:
    return "not known" if money is None else f"{money:.2f}"


def _ready(outcome: Outcome) -> str:
    return f" Ready {day_of(outcome.time.ready)} at the latest." if outcome.time else ""


def sealers_named(plan: Plan) -> str:
    return listed(dict.fromkeys(t.name for t in plan.treatments))
