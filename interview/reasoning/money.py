"""What each kind takes in hours and stuff, what it brings at one's own price, and what leaving out an extra saves."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta

from interview.plan.parts import Item
from interview.reasoning.leaving_out import EXTRA, without
from interview.reasoning.lots import Kind, Pace, further, planned
from interview.reasoning.timetable import Timeline


@dataclass(frozen=True, slots=True)
class Worth:
    """Of all pieces of a kind. `cost`: of what is used up and has a price, None where nothing has; `sells`: a piece, None
    where it is not told; `saves`: hours and money that leaving out its extras would save.
    """

    name: str
    count: int
    hours: float
    cost: float | None
    sells: float | None
    saves: tuple[float, float] = (0.0, 0.0)

    @property
    def margin(self) -> float | None:
        """Of all pieces."""
        return None if self.sells is None else self.sells * self.count - (self.cost or 0.0)


def worths(kinds: Sequence[Kind], time: Timeline | None, sells: Mapping[str, float]) -> tuple[Worth, ...]:
    """One for each name, in their order; kinds of one name are pieces of one kind that are further or less far."""
    hours = hours_of(kinds, time)
    made: dict[str, Worth] = {}
    for number, kind in enumerate(kinds):
        before = made.get(kind.name, Worth(kind.name, 0, 0.0, None, sells.get(kind.name)))
        cost = cost_of(kind)
        saved, saves = _saved(kind, cost), before.saves
        made[kind.name] = Worth(
            kind.name,
            before.count + kind.count,
            before.hours + hours[number],
            cost if before.cost is None else before.cost + (cost or 0.0),
            before.sells,
            (saves[0] + saved[0], saves[1] + saved[1]),
        )
    return tuple(made.values())


def hours_of(kinds: Sequence[Kind], time: Timeline | None) -> list[float]:
    """Hands-on hours of each kind. What is done to several at once is shared by what each would take."""
    pace = Pace.of(kinds)
    hours = [0.0] * len(kinds)
    for doing in (d for d in (time.doings if time else ()) if d.ends > d.begins):
        shares = [s.count * max(further(pace.steps[s.kind, doing.step]), 1e-6) for s in doing.some]
        for some, share in zip(doing.some, shares, strict=True):
            hours[some.kind] += (doing.ends - doing.begins) / timedelta(hours=1) * share / sum(shares)
    return hours


def cost_of(kind: Kind) -> float | None:
    """What its pieces use up of what has a price: of a pack the part that is used, at most as told."""
    costs = [_cost(item, kind) for item in kind.plan.items if item.price is not None]
    return sum(costs) if costs else None


def _cost(item: Item, kind: Kind) -> float:
    assert item.price is not None
    share = kind.count / planned(kind.plan)
    return item.price * (item.high / item.size if item.high is not None and item.size else item.packs) * share


def _saved(kind: Kind, cost: float | None) -> tuple[float, float]:
    plain = without(kind, EXTRA)
    if plain is kind:
        return 0.0, 0.0
    left = {s.id for s in plain.plan.steps}
    minutes = sum(s.hands(kind.count) for s in kind.plan.steps if s.id not in left)
    return minutes / 60, (cost or 0.0) - (cost_of(plain) or 0.0)
