"""What went wrong, and the one way on: causes ranked by what was seen, the next look, the stage, the windows. Pure.

Causes are weighed as if their signs were independent of each other: each word of the data (always, often, seldom,
never) has one weight, a find's chance is its share among the finds of its look, and the product is made to sum to 1.
The next look is the one whose answer leaves the least doubt (entropy, Shannon 1948).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from interview.text.wording import capital
from knowledge.formulas.kinetics import HIGH, LOW, time_at
from knowledge.troubles import WEIGHTS, Cause, Find, Look, Stage, Troubles, Way, of_before

MOST_LOOKS = 6
ENOUGH = 3  # looks after which one way for all that remains is enough
MOST_UNSURE = 4  # who could not tell so often cannot tell the rest
MOST_WHILE_WET = 4  # every minute counts then
SURE = 0.93  # a cause this likely needs no further look; common practice
SHOWN = 0.01  # a cause less likely than that brings no find into a list
OPEN = 0.05  # a cause this far below the first is still open
LEAST_GAIN = 0.08  # bits; a look that tells less is not worth asking
UNDOES = ("scrape", "redo")  # ways that cannot be taken back
_SETTING: tuple[Stage, ...] = ("flowing", "gelled", "tacky", "firm")
EITHER = 0.4  # a second cause this near the first is named beside it
MISS = 0.002  # chance of a sign that a cause does not list
USUAL_WORKING = 40.0  # minutes at 21 °C, where no label is known; from memory
LABEL_TEMPERATURE = 21.0
# where a stage ends, in working times; common practice
ENDS: Mapping[Stage, float] = {"flowing": 1.0, "gelled": 4.0, "tacky": 8.0, "firm": 20.0}
Heed = Literal["for", "against"]


@dataclass(frozen=True, slots=True)
class Seen:
    """What is known: signs with the share of each, the chief one first; finds by look (None: not sure);
    hours since mixing. `only`: it is an image there is no other of.
    """

    signs: tuple[tuple[str, float], ...] = ()
    finds: Mapping[str, str | None] = field(default_factory=dict)
    hours: float | None = None
    asked: int = 0
    only: bool = False

    @property
    def sign(self) -> str:
        return self.signs[0][0] if self.signs else ""


@dataclass(frozen=True, slots=True)
class Pace:
    """How fast it sets: the label's working time (minutes, at its temperature) and the room (°C)."""

    working: float = USUAL_WORKING
    room: float = LABEL_TEMPERATURE
    assumed: bool = True

    def hours(self, working_times: float) -> float | None:
        """So many working times, in hours in this room; None outside 10 to 40 °C, where no number is given."""
        if not LOW <= self.room <= HIGH:
            return None
        return time_at(self.working, LABEL_TEMPERATURE, self.room) * working_times / 60


@dataclass(frozen=True, slots=True)
class Found:
    """Where it came to. `either`: a second cause that is about as likely; `apart`: what tells the two apart.

    `gentler`: the way on is that of the second, for the first one's cannot be undone; `other_way` is then the first's.
    """

    cause: Cause
    way: Way
    stage: Stage | Literal[""]
    share: float
    either: Cause | None = None
    other_way: Way | None = None
    apart: str = ""
    gentler: bool = False


# ------------------------------------------------------------------ weighing


def ranked(troubles: Troubles, seen: Seen) -> tuple[tuple[Cause, float], ...]:
    """Every cause that shows the chief sign, the likeliest first, with its share of 1."""
    before = seen.finds.get("begun") == "not yet"
    may_be = [c for c in troubles.causes.values() if not before or of_before(troubles, c)]
    raw = {c.id: _weight(troubles, c, seen) for c in may_be if _shows(c, seen)}
    total = sum(raw.values()) or 1.0
    return tuple(sorted(((troubles.causes[i], w / total) for i, w in raw.items()), key=lambda pair: -pair[1]))


def _shows(cause: Cause, seen: Seen) -> bool:
    return not seen.signs or any(sign in cause.signs for sign, _ in seen.signs)


def _weight(troubles: Troubles, cause: Cause, seen: Seen) -> float:
    """Signs that one line may mean are taken as one or the other, by the share of each."""
    weight = math.sqrt(WEIGHTS[cause.usual])  # how usual it is counts for half: what is seen counts more
    total = sum(share for _, share in seen.signs)
    if total:
        weight *= sum(share / total * _sign_chance(cause, sign) for sign, share in seen.signs)
    for look, find in seen.finds.items():
        if find is not None and look in troubles.looks:
            weight *= chance(troubles.looks[look], cause, find)
    return weight


def _sign_chance(cause: Cause, sign: str) -> float:
    word = cause.signs.get(sign)
    return MISS if word is None else WEIGHTS[word] / WEIGHTS["always"]


def chance(look: Look, cause: Cause, find: str) -> float:
    """How likely the look shows this, if that is the cause: its weight among the weights of all its finds."""
    told = cause.tells.get(look.id, {})
    return WEIGHTS[told.get(find, "")] / sum(WEIGHTS[told.get(one.id, "")] for one in look.finds)


# ------------------------------------------------------------------ the next look


def next_look(troubles: Troubles, seen: Seen, pace: Pace | None = None) -> Look | None:
    """What to ask next, or None: settled, all that remain share a way, nothing tells more, or six were asked."""
    order = ranked(troubles, seen)
    stage = stage_of(troubles, seen, pace or Pace())
    if not order or seen.asked >= (MOST_WHILE_WET if stage == "flowing" else MOST_LOOKS):
        return None
    if sum(find is None for find in seen.finds.values()) >= MOST_UNSURE:
        return None
    must = troubles.signs[seen.sign].first if seen.signs else ""
    if must and must not in seen.finds:
        return troubles.looks[must]
    if _settled(troubles, order, stage, seen):
        return _last_look(troubles, order[0][0], stage, seen)
    if _wants_stage(order[0][0], stage, seen) and "flowing" in order[0][0].paths:
        return troubles.looks["touch"]  # is there still time? that first
    best = _best_look(troubles, order, seen)
    return _last_look(troubles, order[0][0], stage, seen) if best is None else best


def _last_look(troubles: Troubles, first: Cause, stage: str, seen: Seen) -> Look | None:
    """What the way on itself depends on: how far it is; how long ago, before anything is taken off."""
    if _wants_stage(first, stage, seen):
        return troubles.looks["touch"]
    undoes = way_of(troubles, first, stage, seen).does in UNDOES
    if undoes and stage in _SETTING and not first.paths.get("before") and "since" not in seen.finds:
        return troubles.looks["since"]
    return None


def _settled(troubles: Troubles, order: tuple[tuple[Cause, float], ...], stage: str, seen: Seen) -> bool:
    top = order[0][1]
    if top >= SURE:
        return True
    if seen.asked < ENOUGH:  # the cause is worth two or three looks, for the next time
        return False
    still = [cause for cause, share in order if share >= OPEN * top]
    return len({way_of(troubles, cause, stage, seen).id for cause in still}) == 1 and bool(
        stage or _one_way(order[0][0])
    )


def _one_way(cause: Cause) -> bool:
    return len(set(cause.paths.values())) == 1


def _wants_stage(cause: Cause, stage: str, seen: Seen) -> bool:
    return not stage and not _one_way(cause) and "touch" not in seen.finds


def _best_look(troubles: Troubles, order: tuple[tuple[Cause, float], ...], seen: Seen) -> Look | None:
    before = is_before(troubles, seen)
    likely = tuple(pair for pair in order if pair[1] >= 0.005)
    open_ = [q for q in troubles.looks.values() if q.id not in seen.finds and (q.before or not before)]
    gains = [(gain(look, likely), look) for look in open_]
    worth = [(bits, look) for bits, look in gains if bits >= LEAST_GAIN]
    if not worth:
        return None
    return max(worth, key=lambda pair: (round(pair[0] * 10), -pair[1].cost - pair[1].harm, pair[0]))[1]


def gain(look: Look, order: tuple[tuple[Cause, float], ...]) -> float:
    """Bits by which an answer lessens the doubt about the cause, on the whole."""
    total = sum(share for _, share in order)
    shares = [share / total for _, share in order]
    left = 0.0
    for find in look.finds:
        after = [s * chance(look, cause, find.id) for s, (cause, _) in zip(shares, order, strict=True)]
        left += sum(after) * entropy(after)
    return entropy(shares) - left


def entropy(weights: list[float]) -> float:
    """Bits of doubt among weights, which need not sum to 1: half and half 1, one alone 0."""
    total = sum(weights)
    return -sum(w / total * math.log2(w / total) for w in weights if w > 0) if total else 0.0


def worth_showing(troubles: Troubles, seen: Seen, look: Look) -> tuple[Find, ...]:
    """The finds that bear on what may still be the cause; the others can be said all the same."""
    likely = [cause for cause, share in ranked(troubles, seen) if share >= SHOWN]
    told = frozenset().union(*(cause.tells.get(look.id, {}) for cause in likely))
    finds = tuple(find for find in look.finds if find.id in told)
    return finds if len(finds) > 1 else look.finds


# ------------------------------------------------------------------ how far it is


def is_before(troubles: Troubles, seen: Seen) -> bool:
    """Whether the chief sign is one of before the pour."""
    return seen.finds.get("begun") == "not yet" or (bool(seen.signs) and troubles.signs[seen.sign].stage == "before")


def stage_of(troubles: Troubles, seen: Seen, pace: Pace) -> Stage | Literal[""]:
    """The sign, where it tells by itself; else the touch; else the clock. "": not known."""
    if seen.finds.get("begun") == "not yet":
        return "before"
    told = troubles.signs[seen.sign].stage if seen.signs else ""
    if told:
        return told
    touched = seen.finds.get("touch")
    felt = [f.stage for f in troubles.looks["touch"].finds if f.id == touched and f.stage]
    return felt[0] if felt else _by_the_clock(seen, pace)


def _by_the_clock(seen: Seen, pace: Pace) -> Stage | Literal[""]:
    if seen.hours is not None and pace.hours(1) is not None:
        return stage_at(seen.hours, pace)
    return {"minutes": "flowing", "days": "cured", "weeks": "cured"}.get(seen.finds.get("since") or "", "")  # type: ignore[return-value]


def stage_at(hours: float, pace: Pace) -> Stage:
    """By the clock alone."""
    for stage, end in ENDS.items():
        limit = pace.hours(end)
        if limit is not None and hours <= limit:
            return stage
    return "cured"


def way_of(troubles: Troubles, cause: Cause, stage: str, seen: Seen) -> Way:
    """The path of this cause: for the stage, or else for the sign, or else for any; the one that spares an only image."""
    keys = (stage, seen.sign, "any")
    way = troubles.paths[next(cause.paths[key] for key in keys if key in cause.paths)]
    return troubles.paths[way.only] if seen.only and way.only else way


# ------------------------------------------------------------------ where it comes to


def found(troubles: Troubles, seen: Seen, pace: Pace) -> Found:
    """The likeliest cause, its way on, and the cause beside it where that cannot be told yet."""
    order = ranked(troubles, seen)
    stage = stage_of(troubles, seen, pace)
    first, share = order[0]
    way = way_of(troubles, first, stage, seen)
    second = next(((c, s) for c, s in order[1:] if s >= EITHER * share), None)
    if second is None:
        return Found(first, way, stage, share)
    other = second[0]
    theirs = way_of(troubles, other, stage, seen)
    gentler = way.does in UNDOES and theirs.does not in UNDOES  # nothing is taken off while it may only need time
    apart = first.apart.get(other.id) or other.apart.get(first.id) or _tells(troubles, first, other, seen)
    return Found(first, theirs if gentler else way, stage, share, other, way if gentler else theirs, apart, gentler)


def _tells(troubles: Troubles, one: Cause, other: Cause, seen: Seen) -> str:
    """The look, not yet answered, that shows different things for the two; "" where none does."""
    pair = ((one, 0.5), (other, 0.5))
    open_ = [look for look in troubles.looks.values() if not seen.finds.get(look.id)]
    best = max(open_, key=lambda look: gain(look, pair), default=None)
    if best is None or gain(best, pair) <= LEAST_GAIN:
        return ""
    shown = [max(best.finds, key=lambda find: chance(best, cause, find.id)).text for cause in (one, other)]
    if shown[0] == shown[1]:
        return ""
    says = " ".join(f"{capital(text)}: {cause.name}." for text, cause in zip(shown, (one, other), strict=True))
    return f"{best.text} {says}"


def heeded(troubles: Troubles, cause: Cause, seen: Seen) -> tuple[tuple[Heed, str], ...]:
    """What was told that speaks for this cause, and what against it, in words."""
    told: list[tuple[Heed, str]] = []
    for look, find in seen.finds.items():
        word = cause.tells.get(look, {}).get(find or "")
        if word is None or find is None:
            continue
        text = next(f.text for f in troubles.looks[look].finds if f.id == find)
        told.append(("for" if word in ("always", "often") else "against", text))
    return tuple(told)


@dataclass(frozen=True, slots=True)
class Window:
    """Hours from now: until it is over (`left`), until it may begin (`wait`). None: not bounded, or not known."""

    left: float | None = None
    wait: float | None = None
    over: bool = False


def window(way: Way, pace: Pace, hours: float | None) -> Window:
    """The time window of a way on. `hours`: since mixing; None: from mixing on."""
    begins = pace.hours(way.wait[0]) if way.wait else None
    ends = pace.hours(way.within) if way.within else None
    gone = hours or 0.0
    left = None if ends is None else max(0.0, ends - gone)
    wait = None if begins is None else max(0.0, begins - gone)
    return Window(left, wait, over=hours is not None and ends is not None and gone >= ends)
