"""Random small batches, shaped like work on a few pieces: waits, windows, looks, racks and evenings."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date, datetime, timedelta
from itertools import pairwise

from interview.reasoning.scheduling.hours import ALL_DAY, Calendar, ClockChange, Day, Hours, Week
from interview.reasoning.scheduling.tasks import Lag, Late, Looks, Problem, Task, Workshop

MONDAY = date(2026, 3, 23)  # in the week whose Sunday the clocks go forward in this table
FORWARD = ClockChange(datetime(2026, 3, 29, 2), 60)
BACK = ClockChange(datetime(2026, 10, 25, 3), -60)


def hours(*spans: tuple[float, float]) -> Day:
    return tuple(Hours(int(opens * 60), int(closes * 60)) for opens, closes in spans)


def week(workday: Day, saturday: Day, sunday: Day = ()) -> Week:
    return (workday, workday, workday, workday, workday, saturday, sunday)


WEEKS = (
    (ALL_DAY,) * 7,
    week(hours((18, 22)), hours((9, 18)), hours((10, 16))),
    week(hours((9, 12), (13, 17)), ()),
    week(hours((19, 21.5)), hours((8, 20))),
    (hours((18, 22)), (), hours((17.5, 23)), (), (), hours((9, 13)), ()),
    week(hours((20, 26)), hours((6, 9), (20, 28))),
)


def random_batch(seed: int, *, most_tasks: int = 14) -> Problem:
    """A problem that may or may not have a schedule."""
    chance = random.Random(seed)
    tasks: list[Task] = []
    lags: list[Lag] = []
    trial = chance.random() < 0.3
    if trial:
        tasks.append(
            Task("trial", chance.choice((10, 20)), demands=(("hands", 1),), wait=chance.choice((0, 120, 1440)))
        )
    for kind in range(chance.randint(1, 3)):
        chain = _chain(chance, kind)
        for piece in range(chance.randint(1, 3)):
            if len(tasks) + len(chain[0]) > most_tasks:
                break
            names = {t.id: f"{t.id}.{piece}" for t in chain[0]}
            tasks += [_renamed(t, names[t.id]) for t in chain[0]]
            lags += [replace(g, before=names[g.before], after=names[g.after]) for g in chain[1]]
            if trial:
                lags.append(Lag("trial", names[chain[0][0].id], tasks[0].wait))
    _cross(chance, tasks, lags)
    space = chance.randint(3, 8)
    capacities = (
        ("hands", chance.choice((1, 1, 1, 2))),
        ("table", space),
        ("rack", chance.randint(3, 8)),
        ("spray", 1),
    )
    begin = datetime.combine(MONDAY, datetime.min.time()) + timedelta(minutes=chance.randrange(7 * 1440))
    return Problem(tuple(tasks), tuple(lags), Workshop(capacities), random_calendar(chance), begin)


def random_calendar(chance: random.Random) -> Calendar:
    usual = chance.choice(WEEKS)
    days = [MONDAY + timedelta(days=n) for n in range(21)]
    watch = chance.choice((None, None, (hours((7, 23)),) * 7))
    return Calendar(
        usual,
        watch,
        off=frozenset(chance.sample(days, chance.choice((0, 0, 2, 4)))),
        extra=tuple((day, hours((14, 20))) for day in chance.sample(days, chance.choice((0, 0, 1)))),
        daylight=chance.choice((hours((7.5, 19)), hours((8, 16)))),
        changes=chance.choice(((), (FORWARD,))),
    )


def _chain(chance: random.Random, kind: int) -> tuple[list[Task], list[Lag]]:
    tasks = [_task(chance, f"k{kind}t{n}") for n in range(chance.randint(2, 5))]
    lags = [_lag(chance, one, other) for one, other in pairwise(tasks)]
    # a generator of its own, so that everything else of a batch stays as it was without it
    keeps = random.Random(f"{kind} {tasks} {lags}")
    return tasks, [_kept(keeps, tasks[n], lag) for n, lag in enumerate(lags)]


def _kept(chance: random.Random, before: Task, lag: Lag) -> Lag:
    """Now and then the piece keeps its place from one task to the next, however long that is."""
    if chance.random() < 0.75:
        return lag
    size = dict((*before.demands, *before.held)).get("table", chance.randint(1, 3))
    return replace(lag, kept=(("table", size),))


def _task(chance: random.Random, id: str) -> Task:
    place = chance.choice(("table", "spray", "spray", "none"))
    size = chance.randint(1, 3)
    demands = (("hands", 1), *(((place, 1 if place == "spray" else size),) if place != "none" else ()))
    stays = chance.choice(("rack", "table", "none"))
    hands_on = chance.choice((5, 10, 15, 20, 30, 45, 60, 90))
    if chance.random() < 0.1:
        hands_on, demands = 0, ()
    return Task(
        id,
        hands_on,
        demands=demands,
        wait=chance.choice((0, 15, 60, 240, 1440, 2000)),
        held=((stays, size),) if stays != "none" else (),
        session=place if place == "spray" else "",
        outdoors=chance.random() < 0.15,
        looks=Looks.every(15, chance.choice((60, 120))) if chance.random() < 0.15 else None,
    )


def _lag(chance: random.Random, before: Task, after: Task) -> Lag:
    least = chance.choice((before.wait, before.wait, 0, 30))
    if chance.random() < 0.6:
        return Lag(before.id, after.id, least)
    greatest = least + chance.choice((0, 10, 30, 60, 240, 900))
    late = Late(greatest + chance.choice((0, 60, 1440)), chance.choice((0, 10, 20))) if chance.random() < 0.5 else None
    return Lag(before.id, after.id, least, greatest, late)


def _cross(chance: random.Random, tasks: list[Task], lags: list[Lag]) -> None:
    """Now and then a lag between two pieces, always from an earlier task to a later one."""
    for _ in range(chance.choice((0, 0, 0, 1, 2))):
        one, other = sorted(chance.sample(range(len(tasks)), 2))
        greatest = chance.choice((None, None, 300, 2000))
        lags.append(Lag(tasks[one].id, tasks[other].id, chance.choice((0, 60)), greatest))


def _renamed(task: Task, id: str) -> Task:
    return Task(id, task.hands_on, "", task.demands, task.wait, task.held, task.session, task.outdoors, task.looks)
