"""A kept batch as it stands at a moment: its kinds planned, what is left of them, and the timetable of that."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from interview.conversation.adviser import Adviser
from interview.conversation.timing import TimingError, Wishes, means_of, poured, sentence
from interview.files.batches import KeptBatch, KeptKind
from interview.plan.answers import Answers
from interview.reasoning.leaving_out import without
from interview.reasoning.lots import Kind, Means
from interview.reasoning.scheduling.tasks import CannotSchedule
from interview.reasoning.timetable import Timeline, arrange
from interview.reasoning.under_way import Rest, rests


@dataclass(frozen=True, slots=True)
class Stall:
    """Where a batch stands now. `timeline` None: nothing is left to do."""

    kept: KeptBatch
    kinds: tuple[Kind, ...]
    rests: tuple[Rest, ...]
    means: Means
    timeline: Timeline | None
    held: tuple[Kind, ...] = ()  # kinds that may not be poured as they are: never ready, never brought

    @property
    def trays(self) -> dict[tuple[str, int], str]:
        """A letter for each kind, with a number where some of its pieces are further than others."""
        made: dict[tuple[str, int], str] = {}
        for place, kept in enumerate(self.kept.kinds):
            letter = chr(ord("A") + place % 26) + (str(place // 26) if place >= 26 else "")
            mine = [r for r in self.rests if r.kind.name == kept.name]
            for number, rest in enumerate(sorted(mine, key=lambda r: r.numbers), 1):
                name = f"tray {letter}" if len(mine) == 1 else f"tray {letter}-{number}"
                made |= {(kept.name, piece): name for piece in rest.numbers}
        return made

    def ends_of(self, name: str) -> list[datetime]:
        """When each thing that is left of a kind is over."""
        mine = {n for n, r in enumerate(self.rests) if r.kind.name == name}
        return [d.until for d in (self.timeline.doings if self.timeline else ()) if any(s.kind in mine for s in d.some)]


def stand(adviser: Adviser, kept: KeptBatch, now: datetime) -> Stall:
    """Planned again from the true state: what is done stays done. Raises TimingError with one line."""
    planned = planned_kinds(adviser, kept.kinds)
    kinds = tuple(k for k in planned if poured(k.plan))
    held = tuple(k for k in planned if not poured(k.plan))
    begun = max([now, *(d.at for d in kept.did)])
    means = means_of([k.plan for k in planned], Wishes(**dict(kept.wishes)), begun)
    left = rests(kinds, kept.did, means.begin)
    over = means.ready_by is not None and means.ready_by <= means.begin
    try:
        time = arrange([r.kind for r in left], replace(means, ready_by=None) if over else means) if left else None
    except CannotSchedule as error:
        raise TimingError(sentence(str(error))) from None
    if time is not None:
        time = replace(time, ready_by=means.ready_by)
    return Stall(kept, kinds, left, means, time, held)


def planned_kinds(adviser: Adviser, kinds: Sequence[KeptKind]) -> tuple[Kind, ...]:
    made = []
    for kept in (k for k in kinds if k.count):
        kind = Kind(kept.name, adviser.plan(counted(kept.answers, kept.count), kept.name), kept.count)
        for part in kept.left_out:
            kind = without(kind, part)
        made.append(kind)
    return tuple(made)


def counted(answers: Answers, count: int) -> Answers:
    """The count is an answer like any other, so the amounts are for all of them."""
    have = answers.value("have") or frozenset()
    return answers.say("have", (frozenset(have) | {"count"}) - {"none"}).say("count", count)
