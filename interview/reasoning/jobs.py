"""Groups in lots, rounds and pots -> the scheduler's problem, with what each of its tasks stands for."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from interview.plan.parts import Step
from interview.reasoning.lots import (
    PLENTY,
    ROOM,
    Group,
    Kind,
    Means,
    Pace,
    Pieces,
    Some,
    all_of,
    by_room,
    closing,
    counted_wait,
    groups,
    likeness,
    longest_opening,
    lots,
    portions,
    pots_for_one,
    pots_of,
    rounds,
    stuff,
)  # fmt: skip
from interview.reasoning.scheduling.tasks import Demands, Lag, Late, Looks, Problem, Task, Workshop


@dataclass(frozen=True, slots=True)
class Part:
    """One step inside a task: minutes from the task's start. `looks`: when to look, likewise."""

    step: str
    kind: str
    name: str
    begins: int
    ends: int
    looks: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Job:
    """What a task stands for. `pot`: its number, from 1, where resin is mixed. `late_name`: of the more work that
    comes first where a window was missed."""

    pieces: Pieces
    parts: tuple[Part, ...]
    pot: int = 0
    late_name: str = ""


@dataclass(frozen=True, slots=True)
class Sizes:
    """The most pieces that are sealed together, and that are poured after making the room ready once. `apart`: what
    was not sealed together is not poured in one round either, so nothing waits for another.
    """

    lot: int = PLENTY
    round: int = PLENTY
    apart: bool = False


@dataclass(frozen=True, slots=True)
class Jobs:
    """The whole batch as a problem, and what its tasks mean by id."""

    problem: Problem
    jobs: Mapping[str, Job]


def jobs(kinds: Sequence[Kind], means: Means, sizes: Sizes, rooms: Mapping[str, str] | None = None) -> Jobs:
    """`rooms`: rounds, by the task that makes the room ready for them, that find it ready from another.

    Raises CannotSchedule where a limit is too small for a single piece.
    """
    builder = _Builder(Pace.of(kinds), means, rooms or {})
    for number, group in enumerate(groups(kinds)):
        if any(kinds[k].count for k in group.kinds):
            builder.add_work(number, group, sizes.lot)
    builder.add_pours(sizes)
    problem = Problem(
        tuple(builder.tasks.values()), tuple(builder.lags), Workshop(means.capacities()), means.calendar, means.begin
    )
    return Jobs(problem, builder.jobs)


@dataclass(frozen=True, slots=True)
class _Lot:
    """Pieces of one group that were sealed together, and the tasks of each of its steps: of a trial one for each stuff."""

    number: int
    group: Group
    pieces: Pieces
    tasks: Mapping[str, tuple[str, ...]]


@dataclass(slots=True)
class _Poured:
    """Pieces poured together, from one pot a layer. `made`: for each step done, its task and how long after the
    task's hands-on time it is over. `last`: the task of the layer before."""

    steps: Sequence[Step]
    slower: float
    pieces: Pieces
    made: dict[str, tuple[str, int]]
    last: str = ""


@dataclass(slots=True)
class _Builder:
    pace: Pace
    means: Means
    rooms: Mapping[str, str]
    tasks: dict[str, Task] = field(default_factory=dict)
    lags: list[Lag] = field(default_factory=list)
    jobs: dict[str, Job] = field(default_factory=dict)
    lots: list[_Lot] = field(default_factory=list)
    pots: int = 0
    trials: dict[tuple[object, ...], str] = field(default_factory=dict)

    @property
    def kinds(self) -> Sequence[Kind]:
        return self.pace.kinds

    # ------------------------------------------------------------ trials and sealing

    def add_work(self, number: int, group: Group, most: int) -> None:
        trials = {some.kind: self._add_trials(group, some) for some in all_of(group, self.kinds)}
        for place, lot in enumerate(lots(group, self.pace, self.means, most), 1):
            tasks = {s.id: tuple(dict.fromkeys(t for some in lot for t in trials[some.kind][s.id]))
                     for s in group.trials}  # fmt: skip
            tasks |= {s.id: (f"{number}/{place}/{s.id}",) for s in group.work}
            for step in group.work:
                self._add_sealing(tasks[step.id][0], step, group, lot)
            self._order(group.work, (*group.trials, *group.work), tasks, lot, group.slower)
            self.lots.append(_Lot(len(self.lots), group, lot, tasks))

    def _add_trials(self, group: Group, some: Some) -> dict[str, tuple[str, ...]]:
        """The tasks of the trials of one kind, in the order of the brief: those of another kind of the same stuff,
        where there are any. What comes before them, the copy, is done to each piece.
        """
        of = stuff(self.kinds[some.kind].plan)
        mine: dict[str, tuple[str, ...]] = {}
        for step in group.trials:
            key = (of, likeness(replace(step, after=())), group.slower)
            known = self.trials.get(key) if step.kind == "trial" else None
            if step.kind != "trial":
                mine[step.id] = tuple(self._add_copies(step, some, group.slower))
            elif known is not None:
                self.jobs[known] = replace(self.jobs[known], pieces=(*self.jobs[known].pieces, some))
                mine[step.id] = (known,)
            else:
                id = self.trials[key] = f"{some.kind}/{step.id}"
                self._add(id, step, (some,), group.slower, hands=_whole(step.hands_on))
                self.lags += [
                    Lag(task, id) for before in tuple(mine.values())[-1:] for task in before
                ]  # as the brief says
                mine[step.id] = (id,)
            befores = mine if known is None else {b: t for b, t in mine.items() if t[0] not in self.trials.values()}
            self._order((step,), group.trials, befores | {step.id: mine[step.id]}, (some,), group.slower)
        return mine

    def _add_copies(self, step: Step, some: Some, slower: float) -> Iterator[str]:
        longest = longest_opening(self.means)
        for place, pieces in enumerate(portions((some,), lambda p: self.pace.hands(step.id, p) <= longest), 1):
            id = f"{some.kind}/{place}/{step.id}"
            self._add(id, step, pieces, slower, hands=_whole(self.pace.hands(step.id, pieces)))
            yield id

    def _add_sealing(self, id: str, step: Step, group: Group, lot: Pieces) -> None:
        hands = _whole(self.pace.hands(step.id, lot))
        outdoors = (group.outdoors and step.place == "spray place") or step.place == "outdoors"
        rack, wait = self._drying(lot), self._wet(step, group, lot)
        self._add(id, step, lot, group.slower, hands=hands, rack=rack, outdoors=outdoors, wait=wait)

    def _wet(self, step: Step, group: Group, lot: Pieces) -> int:
        """Minutes the piece keeps its place: until the soonest step that takes it up again."""
        steps = (*group.work, *group.pour)
        until = [
            self._soonest(steps, other, (before, least, most), lot, group.slower)
            for other in steps
            for before, least, most in other.after
            if before == step.id
        ]
        return min(until, default=_whole(step.wait[0]))

    def _soonest(
        self, known: Sequence[Step], step: Step, after: tuple[str, float, float | None], lot: Pieces, slower: float
    ) -> int:
        """Minutes from the end of the step before until setting up for this one may begin."""
        wait = counted_wait(known, *after, self.means, slower)
        return max(0, _whole(wait - self.pace.setting_up(step.id, lot)))

    def _add(
        self,
        id: str,
        step: Step,
        pieces: Pieces,
        slower: float,
        *,
        hands: int,
        rack: int = 0,
        outdoors: bool = False,
        wait: int | None = None,
    ) -> None:
        demands = [("hands", 1)] if hands else []
        if step.place == "spray place":
            demands.append(("spray place", 1))
        if rack:
            demands.append(("rack", rack))
        wait = _whole(self._last_wait(step, slower)) if wait is None else wait
        self.tasks[id] = Task(
            id, hands, step.name, tuple(demands), wait, (("rack", rack),) if rack else (),
            session=step.sealer if step.place == "spray place" else "", outdoors=outdoors,
            looks=Looks(_moments(step)) if _moments(step) else None,
        )  # fmt: skip
        looks = tuple(hands + m for m in _moments(step))
        self.jobs[id] = Job(pieces, (Part(step.id, step.kind, step.name, 0, hands, looks),))

    def _last_wait(self, step: Step, slower: float) -> float:
        return counted_wait((step,), step.id, step.wait[0], None, self.means, slower)

    def _order(
        self, mine: Sequence[Step], known: Sequence[Step], tasks: Mapping[str, tuple[str, ...]], lot: Pieces,
        slower: float,
    ) -> None:  # fmt: skip
        """Lags between whole lots, so that they hold for each piece when all go through in the same order."""
        for step in mine:
            for before, least, most in step.after:
                once = before.split(".")[0] == "trial"
                longer = self.pace.setting_up(step.id, lot) + (0 if once else self._others(before, step.id, lot, tasks))
                wait = self._soonest(known, step, (before, least, most), lot, slower)
                greatest = None if most is None else max(wait, int(most - longer))
                late = None
                if step.alternative is not None and most is not None:
                    late = Late(max(0, _whole(step.alternative - self.pace.setting_up(step.id, lot))))
                self.lags += [
                    Lag(task, one, wait, greatest, late) for task in tasks.get(before, ()) for one in tasks[step.id]
                ]

    def _others(self, before: str, id: str, lot: Pieces, tasks: Mapping[str, object]) -> float:
        return self.pace.others(before, id, lot) if before in tasks else 0.0

    # ------------------------------------------------------------ rounds and pots

    def add_pours(self, sizes: Sizes) -> None:
        """What is poured alike, of one resin in one room, shares rounds, whatever came before."""
        alike: dict[tuple[object, ...], list[tuple[_Lot, Some]]] = {}
        for lot in self.lots:
            for some in lot.pieces if lot.group.pour else ():
                first, *others = lot.group.pour
                steps = tuple(likeness(s) for s in (replace(first, after=()), *others))
                key = (steps, lot.group.slower, self.kinds[some.kind].label, lot.number if sizes.apart else 0)
                alike.setdefault(key, []).append((lot, some))
        for number, poured in enumerate(alike.values(), 1):
            of = list({lot.number: lot for lot, _ in poured}.values())
            mine = [some for _, some in poured]
            for place, pieces in enumerate(rounds(mine, self.kinds, self.means, sizes.round), 1):
                theirs = [lot for lot in of if _share(lot.pieces, pieces)]
                self._add_round(f"pour{number}/{place}", pieces, theirs)

    def _add_round(self, id: str, pieces: Pieces, of: Sequence[_Lot]) -> None:
        steps, slower = of[0].group.pour, of[0].group.slower
        done: dict[str, tuple[str, int]] = {}
        room = next((s for s in steps if s.id == ROOM), None)
        if room is not None:
            task = self.rooms.get(f"{id}/{ROOM}", f"{id}/{ROOM}")
            if task in self.tasks:
                self.jobs[task] = replace(self.jobs[task], pieces=(*self.jobs[task].pieces, *pieces))
            else:
                self._add(task, room, pieces, slower, hands=_whole(self._once(ROOM, pieces)))
            self._follow_lots(task, of)
            done[ROOM] = (task, 0)
        for place, pot in enumerate(pots_of(pieces, steps, self.pace, self.means), 1):
            poured = _Poured(steps, slower, pot, dict(done))
            for unit in _units([s for s in steps if s.id != ROOM]):
                self._add_unit(f"{id}/{place}/{unit[0].id}", unit, poured)
                if room is None and unit[0] is steps[0]:
                    self._follow_lots(f"{id}/{place}/{unit[0].id}", of)

    def _once(self, id: str, pieces: Pieces) -> float:
        """Minutes of what is done once for all of them: the longest that any of them asks."""
        return max(self.pace.steps[some.kind, id].hands_on for some in pieces)

    def _follow_lots(self, task: str, of: Sequence[_Lot]) -> None:
        for lot in of:
            known = (*lot.group.trials, *lot.group.work)
            for before, least, most in lot.group.pour[0].after:
                wait = _whole(counted_wait(known, before, least, most, self.means, lot.group.slower))
                self.lags += [Lag(b, task, wait) for b in lot.tasks[before]]

    def _add_unit(self, id: str, unit: Sequence[Step], pot: _Poured) -> None:
        """One task for a mix, its pour, the looks and the covering: the piece keeps its place all along."""
        parts, looks, firm = self._timed(unit, pot)
        hands = max(p.ends for p in parts if p.kind in ("mix", "pour") or p is parts[0])
        poured = any(p.kind == "pour" for p in parts)
        here = (("table", self._space(pot.pieces)),) if poured and self._space(pot.pieces) else ()
        self.tasks[id] = Task(
            id, hands, unit[0].name, (("hands", 1), *here) if hands else (), firm, here,
            session="pour" if poured else "", looks=Looks(looks) if looks else None,
        )  # fmt: skip
        self.pots += poured
        late_name = next((s.alternative_name for s in unit if s.alternative_name), "")
        self.jobs[id] = Job(pot.pieces, parts, self.pots if poured else 0, late_name)
        lags = list(self._unit_lags(id, unit, parts, pot))
        if poured:
            self.lags += self._kept(lags, id, pot.last, here)
            pot.last = id
        else:
            self.lags += lags
        for part, step in zip(parts, unit, strict=True):
            pot.made[step.id] = (id, max(0, max((part.ends, *part.looks)) - hands))

    def _unit_lags(self, id: str, unit: Sequence[Step], parts: Sequence[Part], pot: _Poured) -> Iterator[Lag]:
        """From what was done before to each part, so that windows hold for each piece in its turn."""
        inside = {s.id for s in unit}
        known = {s.id: s for s in pot.steps}
        for part, step in zip(parts, unit, strict=True):
            for before, least, most in step.after:
                if before not in pot.made or before in inside:
                    continue
                task, over = pot.made[before]
                over -= part.begins
                wait = over + _whole(counted_wait(pot.steps, before, least, most, self.means, pot.slower))
                if most is None:
                    yield Lag(task, id, max(0, wait))
                    continue
                longer = self.pace.setting_up(step.id, pot.pieces) + self.pace.others(before, step.id, pot.pieces)
                closes = over + int(closing(known[before], most, pot.slower) - longer)
                late = None
                if step.alternative is not None:
                    again = over + _whole(step.alternative * by_room(known[before], pot.slower))
                    late = Late(max(0, again), _whole(self._scuffing(step.id, pot.pieces)))
                yield Lag(task, id, max(0, wait), max(0, wait, closes), late)

    def _kept(self, lags: list[Lag], id: str, last: str, here: Demands) -> list[Lag]:
        """The pieces lie on the table from one pour to the next, and are waiting until that may begin."""
        if not last:
            return lags
        place = next((n for n, lag in enumerate(lags) if lag.before == last), None)
        if place is None:
            return [*lags, Lag(last, id, kept=here)]
        lags[place] = replace(lags[place], kept=here)
        soonest = max(min(g.least, g.late.least) if g.late else g.least for g in lags if g.before == last)
        self.tasks[last] = replace(self.tasks[last], wait=max(self.tasks[last].wait, soonest))
        return lags

    def _scuffing(self, id: str, pieces: Pieces) -> float:
        return sum(self.pace.steps[s.kind, id].alternative_hands * s.count for s in pieces)

    def _timed(self, unit: Sequence[Step], pot: _Poured) -> tuple[tuple[Part, ...], tuple[int, ...], int]:
        """The parts on the task's clock; looks after its hands-on end; minutes then until it is firm."""
        now = hands = 0
        parts: list[Part] = []
        looks: list[int] = []
        for step in unit:
            if step.kind == "watch" and parts:
                mine = tuple(now - hands + m for m in _moments(step)) or (now - hands,)
                parts.append(Part(step.id, step.kind, step.name, now, now, tuple(hands + m for m in mine)))
                now = hands + mine[-1]
            else:
                mine = _moments(step)
                end = now + self._length(step, pot.pieces)
                parts.append(Part(step.id, step.kind, step.name, now, end, tuple(end + m for m in mine)))
                hands = hands if step.kind == "cure" else end
                now = max((end, *(end + m for m in mine)))
            looks += mine
        if looks:  # covering it follows the last look
            looks.append(now - hands)
        firm = max([now - hands, *looks]) + _whole(self._last_wait(unit[-1], pot.slower))
        return tuple(parts), tuple(sorted({*looks})), firm

    def _length(self, step: Step, pot: Pieces) -> int:
        """A mix is done once a pot; everything else once a piece."""
        if step.kind == "mix":
            return _whole(self._once(step.id, pot)) * max(pots_for_one(self.kinds[s.kind], self.means) for s in pot)
        return _whole(self._once(step.id, pot) if step.kind == "watch" else self.pace.hands(step.id, pot))

    def _drying(self, pieces: Pieces) -> int:
        """cm2 on the rack. What is to be cast in is small; its mould takes room only when it is poured."""
        cast = (self.kinds[s.kind].plan.answers.get("piece") == "cast" for s in pieces)
        return 0 if any(cast) else self._space(pieces)

    def _space(self, pieces: Pieces) -> int:
        return sum(self.kinds[s.kind].space * s.count for s in pieces)


def _units(steps: Sequence[Step]) -> Iterator[tuple[Step, ...]]:
    """A mix, the pour after it, the looks after that and the covering: together. Others by themselves."""
    unit: list[Step] = []
    for step in steps:
        poured = any(s.kind == "pour" for s in unit)
        covered = any(s.kind == "cure" for s in unit)
        goes_on = (
            unit
            and not covered
            and ((step.kind == "pour" and not poured) or (poured and (step.kind == "watch" or _covers(step))))
        )
        if not goes_on:
            if unit:
                yield tuple(unit)
            unit = []
        unit.append(step)
        if step.kind not in ("mix", "pour", "watch"):
            yield tuple(unit)
            unit = []
    if unit:
        yield tuple(unit)


def _covers(step: Step) -> bool:
    return step.kind == "cure" and step.hands_on > 0


def _moments(step: Step) -> tuple[int, ...]:
    """When to look, in minutes after the step; after the last look of the step before, where that was a watch."""
    if not step.look_every or not step.look_for:
        return ()
    every = max(1, int(step.look_every))
    return tuple(range(every, int(step.look_for) + 1, every))


def _share(one: Sequence[Some], other: Sequence[Some]) -> bool:
    return any(a.kind == b.kind and a.first <= b.last and b.first <= a.last for a in one for b in other)


def _whole(minutes: float) -> int:
    return math.ceil(minutes - 1e-9)
