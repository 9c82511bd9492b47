"""Steps on a calendar: when each is done, from now on or back from a ready time, for one piece or many."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from interview.plan.model import Plan
from interview.plan.parts import Step
from interview.reasoning.jobs import Job, Jobs, Sizes, jobs
from interview.reasoning.lots import ROOM, Kind, Means, Pieces, Some, groups, how_many, planned
from interview.reasoning.scheduling.planning import in_time, latest_begin, schedule
from interview.reasoning.scheduling.tasks import CannotSchedule, Placed, Schedule

Progress = Callable[[float], None]
_HALVES = 3  # so often lots are halved, to see whether smaller ones are ready sooner
_FEW_KINDS = 12  # with more, only the largest lots are tried for what is only offered
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
    spray: bool = False

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
    return arrange((kind,), means, backward=backward)


def arrange(
    kinds: Sequence[Kind],
    means: Means,
    *,
    backward: bool = False,
    progress: Progress | None = None,
) -> Timeline:
    """Many pieces: the day that is ready first, then the fewest things to do. Raises CannotSchedule with the reason."""
    if means.ready_by is not None and means.ready_by <= means.begin:
        raise CannotSchedule(f"{means.ready_by:%Y-%m-%d %H:%M}, when it should be ready, is over already")
    work, best = _best_work(kinds, means, progress=progress)
    latest = None
    if means.ready_by is not None and best.when(best.finish) <= means.ready_by:
        later = latest_begin(work.problem, means.ready_by)
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


# ------------------------------------------------------------ schedules


def _best_work(
    kinds: Sequence[Kind], means: Means, halves: int = _HALVES, progress: Progress | None = None
) -> tuple[Jobs, Schedule]:
    """Of the sizes of lots and rounds that are ready on the first day, those that make the fewest things to do."""
    if not any(k.count for k in kinds):
        raise CannotSchedule("there are no pieces to work on")
    sizes = _sizes(kinds, halves)
    found: list[tuple[Jobs, Schedule]] = []
    fault: CannotSchedule | None = None
    for number, size in enumerate(sizes):
        try:
            work = jobs(kinds, means, size)
            if len(work.problem.tasks) <= _MOST_TASKS or not found:
                found.append((work, schedule(work.problem)))
                found += _with_rooms_shared(kinds, means, size, found[-1][1])
        except CannotSchedule as error:  # too many together for the hours; fewer may do
            fault = fault or error
        if progress is not None:
            progress((number + 1) / len(sizes))
    if not found:
        assert fault is not None
        raise fault
    return min(found, key=lambda f: _worth(f, means))


def _worth(one: tuple[Jobs, Schedule], means: Means) -> tuple[object, ...]:
    """In time, then the day, then how much there is to do, then the minute."""
    work, made = one
    ready = made.when(made.finish)
    late = means.ready_by is not None and ready > means.ready_by
    return late, ready.date(), sum(bool(t.hands_on) for t in work.problem.tasks), made.sessions, made.finish


def _sizes(kinds: Sequence[Kind], halves: int) -> list[Sizes]:
    """Sizes worth trying: as large as the limits allow, and halves; what is poured alike together, or not."""
    most = max(sum(kinds[k].count for k in group.kinds) for group in groups(kinds))
    made = [Sizes(), Sizes(apart=True)] if len(kinds) > 1 or most > 1 else [Sizes()]
    for _ in range(halves):
        if most > 1:
            most = (most + 1) // 2
            made += [Sizes(most), Sizes(most, apart=True)]
    return made


def _with_rooms_shared(
    kinds: Sequence[Kind], means: Means, size: Sizes, made: Schedule
) -> Iterator[tuple[Jobs, Schedule]]:
    """The same with the room made ready once a day for all that is poured then; nothing where that does not hold."""
    rooms: dict[object, str] = {}
    shared: dict[str, str] = {}
    for placed in sorted(made.placed, key=lambda p: p.start):
        if placed.task.id.endswith(f"/{ROOM}"):
            first = rooms.setdefault(made.when(placed.start).date(), placed.task.id)
            if first != placed.task.id:
                shared[placed.task.id] = first
    if not shared:
        return
    again = jobs(kinds, means, size, shared)
    new = schedule(again.problem)
    room_of = {lag.after: lag.before for lag in again.problem.lags if lag.before.endswith(f"/{ROOM}")}
    day = {p.task.id: new.when(p.start).date() for p in new.placed}
    if all(day[task] == day[room] for task, room in room_of.items()):
        yield again, new


def _quickest(kinds: Sequence[Kind], means: Means, best: Schedule) -> datetime:
    """Of the same begin, if everything dried at its quickest."""
    ready = best.when(best.finish)
    if means.waits == "shortest":
        return ready
    dry = replace(means, waits="shortest", begin=best.when(best.start))
    _, quick = _best_work(kinds, dry, 0)
    return min(ready, quick.when(quick.finish))


def in_time_with(kinds: Sequence[Kind], means: Means) -> datetime | None:
    """When it would be ready with these means, if that is in time."""
    assert means.ready_by is not None
    if not any(k.count for k in kinds):
        return None
    for size in _sizes(kinds, _HALVES if len(kinds) <= _FEW_KINDS else 0):
        try:
            found = in_time(jobs(kinds, means, size).problem, means.ready_by)
        except CannotSchedule:
            continue
        if found is not None:
            return found.when(found.finish)
    return None


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
            any(resource == "spray place" for resource, _ in placed.task.demands),
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
