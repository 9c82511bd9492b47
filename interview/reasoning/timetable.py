"""Steps on a calendar: when each is done, from now on or back from a ready time, for one piece or many."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import islice

from interview.plan.model import Plan
from interview.plan.parts import Step
from interview.reasoning.jobs import Job, Jobs, Sizes, jobs
from interview.reasoning.lots import Kind, Means, Pieces, Some, groups, how_many, largest_lot, planned
from interview.reasoning.scheduling.improving import EFFORT, Progress
from interview.reasoning.scheduling.planning import in_time, latest_begin, outline, schedule
from interview.reasoning.scheduling.tasks import CannotSchedule, Placed, Schedule

QUICK = 400  # the effort for one piece, whose steps hardly leave a choice, and for what is only tried
_FEW_SIZES = 3  # of lots and rounds, for what is only tried
_MOST_LEFT_OUT = 8  # with more kinds than these, leaving out one of them is not tried
_MOST_TASKS = 4000  # smaller lots than make so many tasks are not tried


@dataclass(frozen=True, slots=True)
class Doing:
    """One thing done by hand, or a wait of its own (then it begins when it ends). Local times.

    `until`: when its wait is over. `late`: a window before it was missed, the longer wait taken. `who`: the
    pieces in words, "" for a single piece. `pot`: the number of the pot that is mixed or poured, 0 for none.
    `job`: doings of one job follow each other at once.
    """

    step: str
    kind: str
    name: str
    begins: datetime
    ends: datetime
    until: datetime
    looks: tuple[datetime, ...] = ()
    late: bool = False
    who: str = ""
    some: Pieces = ()
    pot: int = 0
    job: str = ""

    @property
    def pieces(self) -> int:
        return how_many(self.some)


@dataclass(frozen=True, slots=True)
class Way:
    """Something that would make it possible, and when it would then be ready."""

    says: str
    ready: datetime


@dataclass(frozen=True, slots=True)
class Timeline:
    """`doings` by time. `bound`: it cannot be ready sooner with these means, whatever the order (proven).

    `quickest`: when it may be ready if everything dries at its quickest; `ready` counts on the longest waits.
    `latest`: when to begin at the latest to be ready by then, where that is later than `begins`, or was asked for.
    `ways`: what would make it possible, where `ready_by` is missed.
    """

    doings: tuple[Doing, ...]
    begins: datetime
    ready: datetime
    bound: datetime
    quickest: datetime
    ready_by: datetime | None
    sessions: int
    pieces: int
    latest: datetime | None = None
    ways: tuple[Way, ...] = ()

    @property
    def late(self) -> timedelta:
        """By how much `ready_by` is missed; zero where it is kept or nothing was asked."""
        over = self.ready - self.ready_by if self.ready_by else timedelta()
        return max(over, timedelta())

    @property
    def impossible(self) -> bool:
        """Whether no order of the work at all could be ready in time."""
        return self.ready_by is not None and self.bound > self.ready_by


def timeline(plan: Plan, means: Means, *, backward: bool = False) -> Timeline:
    """One plan, for as many pieces as it says. `backward`: begin as late as `means.ready_by` allows.

    Raises CannotSchedule.
    """
    kind = Kind(plan.name or plan.summary, plan, planned(plan))
    return arrange((kind,), means, backward=backward, effort=QUICK)


def arrange(
    kinds: Sequence[Kind],
    means: Means,
    *,
    backward: bool = False,
    effort: int = EFFORT,
    progress: Progress | None = None,
) -> Timeline:
    """Many pieces: the earliest finish, then the fewest sessions. Raises CannotSchedule with the reason."""
    if means.ready_by is not None and means.ready_by <= means.begin:
        raise CannotSchedule(f"{means.ready_by:%Y-%m-%d %H:%M}, when it should be ready, is over already")
    work = _best_work(kinds, means)
    best = schedule(work.problem, effort=effort, progress=progress)
    latest = None
    if means.ready_by is not None and best.when(best.finish) <= means.ready_by:
        later = latest_begin(work.problem, means.ready_by, effort=effort if backward else QUICK)
        latest = later.when(later.start) if later is not None else None
        best = later if backward and later is not None else best
    made = _timeline(kinds, means, best, work, _quickest(kinds, means, best))
    shown = latest is not None and (backward or latest > made.begins)
    return replace(made, latest=latest if shown else None)


def as_timed(plan: Plan, time: Timeline, kind: int = 0) -> Plan:
    """The plan with its steps in the order of the timetable, told in the way it took where there are two.

    `kind`: its number among the kinds of the timetable. Where some of its pieces go one way and some the other,
    the step tells of both, as without a timetable.
    """

    def told(step: Step) -> Step:
        mine = [d for d in time.doings if d.step == step.id and d.kind == step.kind]
        late = {d.late for d in mine if any(s.kind == kind for s in d.some)}
        if not step.in_time or len(late) != 1:
            return step
        return replace(step, how=step.missed if late == {True} else step.in_time)

    begins: dict[str, datetime] = {}
    for doing in time.doings:
        if any(s.kind == kind for s in doing.some):
            begins.setdefault(doing.step, doing.begins)
    ordered = sorted(plan.steps, key=lambda s: begins.get(s.id, time.ready))
    return plan.model_copy(update={"steps": tuple(told(s) for s in ordered)})


def of_kind(time: Timeline, kind: int) -> Timeline:
    """What is done to the pieces of one kind (by its number), with its own beginning and end."""
    mine = tuple(d for d in time.doings if any(s.kind == kind for s in d.some))
    if not mine:
        return time
    ready = max(max(d.until, d.ends) for d in mine)
    pieces = sum({s.first: s.count for d in mine for s in d.some if s.kind == kind}.values())
    return replace(
        time, doings=mine, begins=mine[0].begins, ready=ready, bound=min(time.bound, ready), latest=None,
        quickest=min(time.quickest, ready), pieces=pieces,
    )  # fmt: skip


def ways_out(kinds: Sequence[Kind], means: Means, others: Sequence[tuple[str, Sequence[Kind]]] = ()) -> tuple[Way, ...]:
    """What would make it ready in time: each change tried by itself, those kept that serve.

    `others`: the same pieces planned otherwise, such as ("brush instead of spraying", kinds). A coat less is
    never among them: a plan has no more coats than it needs.
    """
    if means.ready_by is None:
        return ()
    tries: list[tuple[str, Sequence[Kind], Means]]
    tries = [(says, kinds, changed) for says, changed in _other_means(means)]
    tries += [(says, other, means) for says, other in others]
    if 1 < len(kinds) <= _MOST_LEFT_OUT:
        tries += [(f"leaving out {k.name}", [o for o in kinds if o is not k], means) for k in kinds]
    found = [Way(says, ready) for says, some, how in tries if (ready := in_time_with(some, how)) is not None]
    fewer = _fewer(kinds, means)
    ways = (*found, *((fewer,) if fewer else ()))
    return ways or _all_together(kinds, means)


# ------------------------------------------------------------ schedules


def _best_work(kinds: Sequence[Kind], means: Means, tries: int = 20) -> Jobs:
    """With the sizes of lots and rounds that are ready first in a quick attempt; so many are tried."""
    if not any(k.count for k in kinds):
        raise CannotSchedule("there are no pieces to work on")
    tried = [jobs(kinds, means, sizes) for sizes in islice(_sizes(kinds, means), tries)]
    if len(tried) == 1:
        return tried[0]
    found: list[tuple[int, int, int]] = []
    fault: CannotSchedule | None = None
    for number, work in enumerate(tried):
        try:
            found.append((*outline(work.problem), number))
        except CannotSchedule as error:  # too many together for the hours; fewer may do
            fault = error
    if fault is not None and not found:
        raise fault
    return tried[min(found)[2]]


def _sizes(kinds: Sequence[Kind], means: Means) -> Iterator[Sizes]:
    """Sizes worth trying: the largest lots that the limits allow, and halves; rounds like them, or larger."""
    lot = max(largest_lot(g, kinds, means) for g in groups(kinds))
    steps = max(len(k.plan.steps) for k in kinds)
    pieces = sum(k.count for k in kinds)
    yield Sizes(lot)
    while lot > 1:
        if lot < pieces:
            yield Sizes(lot, lot)
        lot = (lot + 1) // 2
        if pieces / lot * steps > _MOST_TASKS:
            return
        yield Sizes(lot)


def _quickest(kinds: Sequence[Kind], means: Means, best: Schedule) -> datetime:
    """Of the same begin, if everything dried at its quickest."""
    ready = best.when(best.finish)
    if means.waits == "shortest":
        return ready
    dry = replace(means, waits="shortest", begin=best.when(best.start))
    quick = schedule(_best_work(kinds, dry, _FEW_SIZES).problem, effort=QUICK)
    return min(ready, quick.when(quick.finish))


def in_time_with(kinds: Sequence[Kind], means: Means) -> datetime | None:
    """When it would be ready with these means, if that is in time."""
    assert means.ready_by is not None
    try:
        found = in_time(_best_work(kinds, means, _FEW_SIZES).problem, means.ready_by, QUICK)
    except CannotSchedule:
        return None
    return found.when(found.finish) if found is not None else None


# ------------------------------------------------------------ what would make it possible


def _other_means(means: Means) -> Iterator[tuple[str, Means]]:
    calendar = means.calendar
    if means.waits == "longest":
        yield (
            "if everything dries as fast as it can; check each step before you go on",
            replace(means, waits="shortest"),
        )
    for hours in (1, 2, 3):
        longer = calendar.longer(60 * hours)
        word = "an hour" if hours == 1 else f"{hours} hours"
        yield f"{word} more each evening you work", replace(means, calendar=longer)
    yield "working on every day of the week", replace(means, calendar=calendar.every_day())
    yield "one more person to help", replace(means, hands=means.hands + 1)
    if means.rack is not None:
        yield "a rack twice as large", replace(means, rack=2 * means.rack)
    if means.table is not None:
        yield "a table twice as large", replace(means, table=2 * means.table)


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


def _fewer(kinds: Sequence[Kind], means: Means) -> Way | None:
    """The most pieces, of every kind in proportion, that are ready in time."""
    whole = sum(k.count for k in kinds)
    best: Way | None = None
    low, high = 0, whole
    while high - low > max(1, whole // 40):
        middle = (low + high) // 2
        some = [replace(k, count=round(k.count * middle / whole)) for k in kinds]
        ready = in_time_with([k for k in some if k.count], means)
        if ready is not None:
            fewer = sum(k.count for k in some)
            low, best = middle, Way(f"{fewer} piece{'' if fewer == 1 else 's'} instead of {whole}", ready)
        else:
            high = middle
    return best


# ------------------------------------------------------------ back to dates


def _timeline(kinds: Sequence[Kind], means: Means, best: Schedule, work: Jobs, quickest: datetime) -> Timeline:
    doings = [d for p in best.placed for d in _doings(kinds, best, p, work.jobs[p.task.id])]
    doings.sort(key=lambda d: (d.begins, d.ends, d.job))
    return Timeline(
        _numbered(doings),
        best.when(best.start),
        best.when(best.finish),
        best.when(best.bound),
        quickest,
        means.ready_by,
        best.sessions,
        sum(k.count for k in kinds),
    )


def _numbered(doings: Sequence[Doing]) -> tuple[Doing, ...]:
    """Pots numbered in the order in which they are mixed."""
    new: dict[int, int] = {}
    for doing in doings:
        if doing.pot:
            new.setdefault(doing.pot, len(new) + 1)
    return tuple(replace(d, pot=new[d.pot]) if d.pot else d for d in doings)


def _doings(kinds: Sequence[Kind], best: Schedule, placed: Placed, job: Job) -> Iterator[Doing]:
    who = in_words(job.pieces, kinds)
    more = placed.end - placed.start - placed.task.hands_on  # work that comes first, where a window was missed
    if more:
        first = job.parts[0]
        name, over = job.late_name or first.name, best.when(placed.start + more)
        yield Doing(
            first.step, "prepare", name, best.when(placed.start), over, over, late=True, who=who, some=job.pieces,
            job=placed.task.id,
        )  # fmt: skip
    for part in job.parts:
        last = part is job.parts[-1]
        start = placed.start + more
        begins, ends = start + part.begins, start + part.ends
        yield Doing(
            part.step,
            part.kind,
            part.name,
            best.when(begins),
            best.when(ends),
            best.when(placed.ready if last else ends),
            tuple(best.when(start + look) for look in part.looks),
            placed.late and part is job.parts[0],
            who,
            job.pieces,
            job.pot,
            placed.task.id,
        )


def in_words(pieces: Pieces, kinds: Sequence[Kind]) -> str:
    """ "coaster 1 to 6, tray"; "" where there is only one piece in all."""
    if len(kinds) == 1 and kinds[0].count == 1:
        return ""
    runs: list[Some] = []
    for some in sorted(pieces, key=lambda s: (s.kind, s.first)):
        if runs and runs[-1].kind == some.kind and runs[-1].last + 1 == some.first:
            runs[-1] = replace(runs[-1], last=some.last)
        else:
            runs.append(some)
    return ", ".join(_some(kinds[s.kind], s.first, s.last) for s in runs)


def _some(kind: Kind, first: int, last: int) -> str:
    if kind.count == 1:
        return kind.name
    if last - first + 1 == kind.count:
        return f"{kind.name} (all {kind.count})"
    return f"{kind.name} {first}" if first == last else f"{kind.name} {first} to {last}"
