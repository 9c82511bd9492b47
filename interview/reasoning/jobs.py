"""Groups in lots, rounds and pots -> the scheduler's problem, with what each of its tasks stands for."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from interview.parts import Step
from interview.reasoning.lots import (
    PLENTY,
    ROOM,
    Group,
    Kind,
    Means,
    Pieces,
    Some,
    all_of,
    counted_wait,
    cut,
    further,
    groups,
    how_many,
    largest_lot,
    pot_size,
    pots_for_one,
    rounds,
    setting_up,
)  # fmt: skip
from interview.reasoning.scheduling.tasks import Lag, Late, Looks, Problem, Task, Workshop


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
    """What a task stands for. `pot`: its number, from 1, where resin is mixed."""

    pieces: Pieces
    parts: tuple[Part, ...]
    pot: int = 0


@dataclass(frozen=True, slots=True)
class Sizes:
    """The most pieces that are sealed together, and that are poured after making the room ready once."""

    lot: int
    round: int = PLENTY


@dataclass(frozen=True, slots=True)
class Jobs:
    """The whole batch as a problem, and what its tasks mean by id."""

    problem: Problem
    jobs: Mapping[str, Job]


def jobs(kinds: Sequence[Kind], means: Means, sizes: Sizes) -> Jobs:
    """Raises CannotSchedule where a limit is too small for a single piece."""
    builder = _Builder(kinds, means)
    for number, group in enumerate(groups(kinds)):
        if any(kinds[k].count for k in group.kinds):
            builder.add_work(number, group, min(sizes.lot, largest_lot(group, kinds, means)))
    builder.add_pours(sizes.round)
    problem = Problem(
        tuple(builder.tasks), tuple(builder.lags), Workshop(means.capacities()), means.calendar, means.begin
    )
    return Jobs(problem, builder.jobs)


@dataclass(frozen=True, slots=True)
class _Lot:
    """Pieces of one group that were sealed together, and the task of each of its steps (trials too)."""

    group: Group
    pieces: Pieces
    tasks: Mapping[str, str]


@dataclass(slots=True)
class _Builder:
    kinds: Sequence[Kind]
    means: Means
    tasks: list[Task] = field(default_factory=list)
    lags: list[Lag] = field(default_factory=list)
    jobs: dict[str, Job] = field(default_factory=dict)
    lots: list[_Lot] = field(default_factory=list)
    pots: int = 0

    # ------------------------------------------------------------ trials and sealing

    def add_work(self, number: int, group: Group, lot_size: int) -> None:
        pieces = all_of(group, self.kinds)
        trials = {s.id: f"{number}/{s.id}" for s in group.trials}
        for step in group.trials:
            self._add(trials[step.id], step, pieces, hands=_whole(step.hands_on), rack=0, outdoors=False)
        self._order(group.trials, group.trials, trials, 1)
        for place, lot in enumerate(cut(pieces, lot_size), 1):
            tasks = {**trials, **{s.id: f"{number}/{place}/{s.id}" for s in group.work}}
            for step in group.work:
                self._add_sealing(tasks[step.id], step, group, lot)
            self._order(group.work, (*group.trials, *group.work), tasks, how_many(lot))
            self.lots.append(_Lot(group, lot, tasks))

    def _add_sealing(self, id: str, step: Step, group: Group, lot: Pieces) -> None:
        hands = _whole(step.hands(how_many(lot)))
        outdoors = (group.outdoors and step.place == "spray place") or step.place == "outdoors"
        self._add(
            id, step, lot, hands=hands, rack=self._drying(lot), outdoors=outdoors, wait=self._wet(step, group)
        )

    def _wet(self, step: Step, group: Group) -> int:
        """Minutes the piece keeps its place: until the soonest step that takes it up again."""
        steps = (*group.work, *group.pour)
        until = [
            self._soonest(steps, other, before, least, most)
            for other in steps
            for before, least, most in other.after
            if before == step.id
        ]
        return min(until, default=_whole(step.wait[0]))

    def _soonest(
        self, known: Sequence[Step], step: Step, before: str, least: float, most: float | None
    ) -> int:
        """Minutes from the end of the step before until setting up for this one may begin."""
        return max(0, _whole(counted_wait(known, before, least, most, self.means) - setting_up(step)))

    def _add(
        self,
        id: str,
        step: Step,
        pieces: Pieces,
        *,
        hands: int,
        rack: int,
        outdoors: bool,
        wait: int | None = None,
    ) -> None:
        demands = [("hands", 1)] if hands else []
        if step.place == "spray place":
            demands.append(("spray place", 1))
        if rack:
            demands.append(("rack", rack))
        wait = _whole(self._last_wait(step)) if wait is None else wait
        self.tasks.append(
            Task(
                id, hands, step.name, tuple(demands), wait, (("rack", rack),) if rack else (),
                session=step.sealer if step.place == "spray place" else "", outdoors=outdoors,
                looks=Looks(_moments(step)) if _moments(step) else None,
            )
        )  # fmt: skip
        looks = tuple(hands + m for m in _moments(step))
        self.jobs[id] = Job(pieces, (Part(step.id, step.kind, step.name, 0, hands, looks),))

    def _last_wait(self, step: Step) -> float:
        return counted_wait((step,), step.id, step.wait[0], None, self.means)

    def _order(
        self, mine: Sequence[Step], known: Sequence[Step], tasks: Mapping[str, str], count: int
    ) -> None:
        """Lags between whole lots, so that they hold for each piece when all go through in the same order."""
        each = {s.id: further(s) for s in known}
        for step in mine:
            for before, least, most in step.after:
                if before not in tasks:
                    continue
                once = before.split(".")[0] == "trial"
                longer = setting_up(step) + (0 if once else (count - 1) * max(each[before], further(step)))
                wait = self._soonest(known, step, before, least, most)
                greatest = None if most is None else max(wait, int(most - longer))
                late = None
                if step.alternative is not None and most is not None:
                    late = Late(max(0, _whole(step.alternative - setting_up(step))))
                self.lags.append(Lag(tasks[before], tasks[step.id], wait, greatest, late))

    # ------------------------------------------------------------ rounds and pots

    def add_pours(self, most: int) -> None:
        """Groups that are poured alike share rounds, whatever came before."""
        alike: dict[tuple[Step, ...], list[_Lot]] = {}
        for lot in self.lots:
            if lot.group.pour:
                first, *others = lot.group.pour
                alike.setdefault((replace(first, after=()), *others), []).append(lot)
        for number, (steps, lots) in enumerate(alike.items(), 1):
            pieces = [some for lot in lots for some in lot.pieces]
            for place, mine in enumerate(rounds(pieces, self.kinds, self.means, most), 1):
                self._add_round(
                    f"pour{number}/{place}", steps, mine, [lot for lot in lots if _share(lot.pieces, mine)]
                )

    def _add_round(self, id: str, steps: tuple[Step, ...], pieces: Pieces, lots: Sequence[_Lot]) -> None:
        kinds = [self.kinds[s.kind] for s in pieces]
        room = [s for s in steps if s.id == ROOM]
        done: dict[str, tuple[str, int]] = {}
        for step in room:
            self._add(f"{id}/{step.id}", step, pieces, hands=_whole(step.hands_on), rack=0, outdoors=False)
            self._follow_lots(f"{id}/{step.id}", lots)
            done[step.id] = (f"{id}/{step.id}", 0)
        for place, pot in enumerate(cut(pieces, pot_size(steps, kinds, self.means)), 1):
            made = dict(done)
            for unit in _units([s for s in steps if s.id != ROOM]):
                self._add_unit(f"{id}/{place}/{unit[0].id}", unit, steps, pot, made)
                if not room and unit[0] is steps[0]:
                    self._follow_lots(f"{id}/{place}/{unit[0].id}", lots)

    def _follow_lots(self, task: str, lots: Sequence[_Lot]) -> None:
        for lot in lots:
            known = (*lot.group.trials, *lot.group.work)
            for before, least, most in lot.group.pour[0].after:
                wait = _whole(counted_wait(known, before, least, most, self.means))
                self.lags.append(Lag(lot.tasks[before], task, wait))

    def _add_unit(
        self,
        id: str,
        unit: Sequence[Step],
        steps: Sequence[Step],
        pot: Pieces,
        made: dict[str, tuple[str, int]],
    ) -> None:
        """One task for a mix, its pour, the looks and the covering: the piece keeps its place all along."""
        parts, looks, firm = self._timed(unit, pot)
        hands = max(p.ends for p in parts if p.kind in ("mix", "pour") or p is parts[0])
        poured = any(p.kind == "pour" for p in parts)
        here = (("table", self._space(pot)),) if poured and self._space(pot) else ()
        self.tasks.append(
            Task(
                id, hands, unit[0].name, (("hands", 1), *here) if hands else (), firm, here,
                session="pour" if poured else "", looks=Looks(looks) if looks else None,
            )
        )  # fmt: skip
        self.pots += poured
        self.jobs[id] = Job(pot, parts, self.pots if poured else 0)
        inside = {s.id for s in unit}
        for before, least, most in unit[0].after:
            if before in made and before not in inside:
                task, over = made[before]
                wait = _whole(counted_wait(steps, before, least, most, self.means))
                late = Late(over + _whole(unit[0].alternative)) if unit[0].alternative is not None else None
                self.lags.append(Lag(task, id, over + wait, None if most is None else int(over + most), late))
        for part, step in zip(parts, unit, strict=True):
            made[step.id] = (id, max(0, max((part.ends, *part.looks)) - hands))

    def _timed(self, unit: Sequence[Step], pot: Pieces) -> tuple[tuple[Part, ...], tuple[int, ...], int]:
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
                end = now + self._length(step, pot)
                parts.append(Part(step.id, step.kind, step.name, now, end, tuple(end + m for m in mine)))
                hands = hands if step.kind == "cure" else end
                now = max((end, *(end + m for m in mine)))
            looks += mine
        if looks:  # covering it follows the last look
            looks.append(now - hands)
        firm = max([now - hands, *looks]) + _whole(self._last_wait(unit[-1]))
        return tuple(parts), tuple(sorted({*looks})), firm

    def _length(self, step: Step, pot: Pieces) -> int:
        """A mix is done once a pot; everything else once a piece."""
        if step.kind == "mix":
            return _whole(step.hands_on) * max(pots_for_one(self.kinds[s.kind], self.means) for s in pot)
        return _whole(step.hands_on if step.kind == "watch" else step.hands(how_many(pot)))

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
