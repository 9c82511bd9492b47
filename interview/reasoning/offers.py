"""What can be ready on the day: the best set of kinds and pieces, alone and with other means, tried one by one.

Every offer is a schedule that was found, so it holds. The best set alone is searched whole for up to six kinds; for more,
kinds are added in the order of what they bring for the hands they take.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import combinations

from interview.reasoning.leaving_out import EXTRA, without
from interview.reasoning.lots import Kind, Means
from interview.reasoning.scheduling.hours import DAY, Hours
from interview.reasoning.timetable import Way, in_time_with

_WHOLE = 6  # with more kinds than these the sets are not all tried


@dataclass(frozen=True, slots=True)
class Offer:
    """`counts`: pieces of each kind that are ready. `says`: what it takes, "" for nothing. `worth`: pieces, or money."""

    says: str
    counts: tuple[int, ...]
    ready: datetime
    worth: float

    @property
    def pieces(self) -> int:
        return sum(self.counts)


def offers(
    kinds: Sequence[Kind],
    means: Means,
    others: Sequence[tuple[str, Sequence[Kind], Means]] = (),
    prices: Mapping[str, float] | None = None,
) -> tuple[Offer, ...]:
    """The best set with the means there are, then with each of the `others` (what it takes, kinds, means), where that
    brings more. Best first within what is told. Empty where no day is wanted.
    """
    if means.ready_by is None:
        return ()
    counts, ready = best_set(kinds, means, prices)
    found = [Offer("", counts, ready, _worth(kinds, counts, prices))] if ready else []
    alone = found[0].worth if found else 0.0
    if alone >= sum(_value(k, prices) * k.count for k in kinds):
        return tuple(found)
    others_too: list[Offer] = []
    for says, some, how in (*others, *_means(kinds, means)):
        counts, ready = best_set(some, how, prices)
        if ready is not None and (worth := _worth(some, counts, prices)) > alone:
            others_too.append(Offer(says, counts, ready, worth))
    return (*found, *sorted(others_too, key=lambda o: -o.worth))


def best_set(
    kinds: Sequence[Kind], means: Means, prices: Mapping[str, float] | None = None
) -> tuple[tuple[int, ...], datetime | None]:
    """How many of each kind to make, the most by worth that is ready in time, and when it is ready."""

    def ready(counts: Sequence[int]) -> datetime | None:
        some = [replace(k, count=n) for k, n in zip(kinds, counts, strict=True) if n]
        return in_time_with(some, means) if some else None

    whole = tuple(k.count for k in kinds)
    if (at := ready(whole)) is not None:
        return whole, at
    best: tuple[float, tuple[int, ...], datetime | None] = (0.0, (0,) * len(kinds), None)
    for chosen in _sets(kinds, prices, ready):
        counts = tuple(k.count if n in chosen else 0 for n, k in enumerate(kinds))
        if best[2] is not None and _worth(kinds, whole, prices) <= best[0]:
            break
        at = ready(counts)
        if at is None:
            continue
        counts, at = _filled(kinds, counts, prices, ready, at)
        worth = _worth(kinds, counts, prices)
        if worth > best[0]:
            best = (worth, counts, at)
    if best[2] is None:  # no whole kind is ready in time: some pieces of one may be
        counts, at = _filled(kinds, (0,) * len(kinds), prices, ready, None)
        return counts, at
    return best[1], best[2]


def _sets(
    kinds: Sequence[Kind], prices: Mapping[str, float] | None, ready: Callable[[Sequence[int]], datetime | None]
) -> Iterator[frozenset[int]]:
    """Sets of kinds to try whole, those that bring most first."""
    numbers = [n for n, k in enumerate(kinds) if k.count]
    if len(numbers) <= _WHOLE:
        every = [frozenset(c) for size in range(len(numbers), 0, -1) for c in combinations(numbers, size)]
        yield from sorted(every, key=lambda c: -sum(_value(kinds[n], prices) * kinds[n].count for n in c))
        return
    chosen: frozenset[int] = frozenset()
    for n in sorted(numbers, key=lambda n: -_value(kinds[n], prices) / max(1.0, _hands(kinds[n]))):
        counts = [k.count if m in chosen | {n} else 0 for m, k in enumerate(kinds)]
        if ready(counts) is not None:
            chosen |= {n}
    yield chosen


def _filled(
    kinds: Sequence[Kind],
    counts: tuple[int, ...],
    prices: Mapping[str, float] | None,
    ready: Callable[[Sequence[int]], datetime | None],
    at: datetime | None,
) -> tuple[tuple[int, ...], datetime | None]:
    """As many pieces of the kinds left out as still fit, the worthiest first; by halving."""
    order = sorted((n for n, k in enumerate(kinds) if counts[n] < k.count), key=lambda n: -_value(kinds[n], prices))
    for n in order:
        low, high = counts[n], kinds[n].count
        while low < high:
            middle = (low + high + 1) // 2
            tried = (*counts[:n], middle, *counts[n + 1 :])
            got = ready(tried)
            if got is None:
                high = middle - 1
            else:
                low, at = middle, got
        counts = (*counts[:n], low, *counts[n + 1 :])
    return counts, at


def ways_out(
    kinds: Sequence[Kind], means: Means, others: Callable[[], Sequence[tuple[str, Sequence[Kind]]]] = tuple
) -> tuple[Way, ...]:
    """What would make all of it ready in time: each change tried by itself, those kept that serve; and the most that is
    ready without any.

    `others`: gives the same pieces planned otherwise, such as ("brush instead of spraying", kinds).
    """
    if means.ready_by is None:
        return ()
    tries = [*_means(kinds, means), *((says, other, means) for says, other in others())]
    found = [Way(says, ready) for says, some, how in tries if (ready := in_time_with(some, how)) is not None]
    whole = sum(k.count for k in kinds)
    counts, ready = best_set(kinds, means) if whole > 1 else ((), None)
    if ready is not None:
        what = ", ".join(f"{n} {k.name}" for n, k in zip(counts, kinds, strict=True) if n)
        pieces = f"{sum(counts)} piece{'' if sum(counts) == 1 else 's'} instead of {whole}"
        found.append(Way(f"{pieces}: {what}" if len(kinds) > 1 else pieces, ready))
    return tuple(found) or _all_together(kinds, means)


def _all_together(kinds: Sequence[Kind], means: Means) -> tuple[Way, ...]:
    """Where no change is enough by itself: the quickest drying, the longest hours and one more person at once."""
    most = replace(
        means, waits="shortest", calendar=means.calendar.longer(180).every_day(), hands=means.hands + 1,
        rack=means.rack and 2 * means.rack, table=means.table and 2 * means.table,
    )  # fmt: skip
    ready = in_time_with(kinds, most)
    room = ", twice the table and rack" if means.table or means.rack else ""
    says = f"all at once: everything dries as fast as it can, 3 hours more every day, one more person{room}"
    return (Way(says, ready),) if ready is not None else ()


def _means(kinds: Sequence[Kind], means: Means) -> Iterator[tuple[str, Sequence[Kind], Means]]:
    if means.waits == "longest":
        yield (
            "if everything dries as fast as it can; check each step before you go on",
            kinds,
            replace(means, waits="shortest"),
        )
    for hours in (1, 3):
        word = "an hour" if hours == 1 else f"{hours} hours"
        yield f"{word} more each evening you work", kinds, replace(means, calendar=means.calendar.longer(60 * hours))
    yield "working on every day of the week", kinds, replace(means, calendar=means.calendar.every_day())
    yield "one more person to help", kinds, replace(means, hands=means.hands + 1)
    if means.rack is not None:
        yield "a rack twice as large", kinds, replace(means, rack=2 * means.rack)
    if means.table is not None:
        yield "a table twice as large", kinds, replace(means, table=2 * means.table)
    if any(s.place in ("spray place", "outdoors") for k in kinds for s in k.plan.steps):
        light = means.calendar.daylight
        longer = tuple(replace(h, opens=max(0, h.opens - 60), closes=min(DAY, h.closes + 60)) for h in light)
        yield "an hour more of daylight to spray in, morning and evening", kinds, _daylight(means, longer)
    tried = [_without_trials(k) for k in kinds]
    if any(t.plan.steps != k.plan.steps for t, k in zip(tried, kinds, strict=True)):
        yield "the trials done tonight already, and they hold", tried, means
    plain = [without(k, EXTRA) for k in kinds]
    if any(t.plan.steps != k.plan.steps for t, k in zip(plain, kinds, strict=True)):
        yield "without the extras: only what must be sealed", plain, means


def _daylight(means: Means, hours: tuple[Hours, ...]) -> Means:
    return replace(means, calendar=replace(means.calendar, daylight=hours))


def _without_trials(kind: Kind) -> Kind:
    steps = tuple(s for s in kind.plan.steps if s.kind != "trial")
    return replace(kind, plan=kind.plan.model_copy(update={"steps": steps}))


def _hands(kind: Kind) -> float:
    return sum(s.hands_on if s.each is None else s.each for s in kind.plan.steps)


def _value(kind: Kind, prices: Mapping[str, float] | None) -> float:
    return (prices or {}).get(kind.name, 1.0)


def _worth(kinds: Sequence[Kind], counts: Sequence[int], prices: Mapping[str, float] | None) -> float:
    return sum(_value(k, prices) * n for k, n in zip(kinds, counts, strict=True))
