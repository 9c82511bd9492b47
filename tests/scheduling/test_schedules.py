"""Whole schedules: checked minute by minute, against CP-SAT's best, and against textbook facts."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import datetime, timedelta
from statistics import mean

import networkx
import pytest

from interview.reasoning.scheduling.hours import ROUND_THE_CLOCK, Calendar
from interview.reasoning.scheduling.planning import latest_begin, schedule
from interview.reasoning.scheduling.tasks import (
    CannotSchedule,
    Lag,
    Late,
    Looks,
    Placed,
    Problem,
    Schedule,
    Task,
    Workshop,
)
from tests.scheduling.batches import hours, random_batch, week
from tests.scheduling.best import best
from tests.scheduling.checking import faults
from tests.scheduling.proof import attempt, compare, table

HANDS = (("hands", 1),)
ALONE = Workshop((("hands", 1), ("table", 10)))
EVENINGS = Calendar(week(hours((18, 22)), hours((9, 18))))
MONDAY = datetime(2026, 6, 1, 12)


@pytest.mark.parametrize("hundred", range(4))
def test_random_batches_keep_every_rule(hundred: int) -> None:
    found = 0
    for seed in range(hundred * 100, hundred * 100 + 30):
        made = attempt(random_batch(seed))
        if made is not None:
            assert faults(made) == [], seed
            found += 1
    assert found > 20  # most of the batches can be scheduled, so something was checked


def test_finish_is_near_the_best_of_cp_sat(capsys: pytest.CaptureFixture[str]) -> None:
    """OR-tools CP-SAT as reference. The full comparison is a command: python -m tests.scheduling.proof."""
    results = [compare(seed, seconds=5) for seed in range(100_000, 100_025)]
    with capsys.disabled():
        print(f"\n{table(results)}")
    assert [r.fault for r in results if r.fault] == []
    assert mean(r.over for r in results if r.over is not None) <= 0.05
    assert sum(r.proven for r in results) >= 20


@pytest.mark.parametrize("seed", range(30))
def test_with_enough_of_everything_the_finish_is_the_longest_path(seed: int) -> None:
    """The critical path of a project network, with networkx as reference."""
    chance = random.Random(seed)
    tasks = [Task(f"t{n}", chance.randrange(1, 200), demands=HANDS) for n in range(12)]
    lags = [Lag(f"t{a}", f"t{b}", chance.randrange(500)) for b in range(12) for a in range(b) if chance.random() < 0.3]
    graph = networkx.DiGraph()
    for task in tasks:
        graph.add_edge("begin", f"{task.id} starts", weight=0)
        graph.add_edge(f"{task.id} starts", f"{task.id} ends", weight=task.hands_on)
    for lag in lags:
        graph.add_edge(f"{lag.before} ends", f"{lag.after} starts", weight=lag.least)
    made = schedule(Problem(tuple(tasks), tuple(lags), Workshop((("hands", 12),)), Calendar(ROUND_THE_CLOCK), MONDAY))
    assert made.finish == made.bound == networkx.dag_longest_path_length(graph)


@pytest.mark.parametrize("seed", range(12))
def test_the_same_problem_gives_the_same_schedule(seed: int) -> None:
    problem = random_batch(seed)
    one, other = attempt(problem), attempt(problem)
    assert one == other


def coats(late: Late | None) -> Problem:
    """Two coats, the second within an hour, and a wait in between."""
    tasks = (Task("first", 30, demands=HANDS), Task("second", 200, demands=HANDS))
    return Problem(tasks, (Lag("first", "second", 20, 60, late),), ALONE, EVENINGS, MONDAY)


def test_a_window_moves_the_first_coat_to_where_the_second_fits() -> None:
    """230 minutes and a wait of 20 do not fit into one evening of four hours: only Saturday holds both."""
    made = schedule(coats(None))
    assert made.when(made["first"].start) == datetime(2026, 6, 6, 9)
    assert made["second"].start - made["first"].end == 20
    assert not made["second"].late


def test_an_alternative_is_taken_where_it_is_sooner() -> None:
    made = schedule(coats(Late(600)))
    assert made.when(made["first"].start) == datetime(2026, 6, 1, 18)
    assert made.when(made["second"].start) == datetime(2026, 6, 2, 18)
    assert made["second"].late


def test_an_alternative_can_cost_more_work() -> None:
    """After the window comes a sanding of 45 minutes: 245 do not fit into an evening, so Saturday it is."""
    made = schedule(coats(Late(600, extra=45)))
    assert made.when(made["second"].start) == datetime(2026, 6, 6, 9)
    assert made["second"].end - made["second"].start == 245


def test_a_pour_is_not_begun_when_nobody_can_look() -> None:
    """Looks for two hours after it, evenings until ten: it must be done by eight, or it waits a day."""
    pour = Task("pour", 30, demands=HANDS, looks=Looks.every(15, 120))
    begin = datetime(2026, 6, 1, 19, 31)
    made = schedule(Problem((pour,), (), ALONE, EVENINGS, begin))
    assert made.when(made["pour"].start) == datetime(2026, 6, 2, 18)
    late_up = replace(EVENINGS, watch=week(hours((7, 23.5)), hours((7, 23.5))))
    made = schedule(Problem((pour,), (), ALONE, late_up, begin))
    assert made.when(made["pour"].start) == datetime(2026, 6, 1, 19, 31)


def test_outdoors_ends_with_daylight() -> None:
    spray = Task("spray", 45, demands=HANDS, outdoors=True)
    calendar = replace(EVENINGS, daylight=hours((7, 18.5)))
    made = schedule(Problem((spray,), (), ALONE, calendar, MONDAY))
    assert made.when(made["spray"].start) == datetime(2026, 6, 6, 9)


def test_waits_run_through_the_night_and_hold_their_place() -> None:
    """The rack takes one at a time, each for twelve hours: the second is hung up the next evening."""
    pieces = tuple(Task(f"p{n}", 10, demands=HANDS, wait=720, held=(("table", 6),)) for n in range(2))
    made = schedule(Problem(pieces, (), ALONE, EVENINGS, MONDAY))
    assert sorted(made.when(p.start) for p in made.placed) == [
        MONDAY.replace(hour=18),
        MONDAY.replace(day=2, hour=18),
    ]


def two_layers(kept: bool, number: int = 2) -> Problem:
    """Each piece poured, and poured again 4 to 8 hours later or the next day; the table holds one at a time."""
    place = (("table", 6),)
    tasks: list[Task] = []
    lags = []
    for n in range(number):
        pour = Task(f"first {n}", 30, demands=(*HANDS, *place), wait=120, held=place)
        again = Task(f"again {n}", 30, demands=(*HANDS, *place), wait=240, held=place)
        tasks += [pour, again]
        lags.append(Lag(pour.id, again.id, 240, 480, Late(1440, extra=10), place if kept else ()))
    return Problem(tuple(tasks), tuple(lags), ALONE, EVENINGS, MONDAY)


def test_a_piece_keeps_its_place_until_its_next_layer() -> None:
    """First layer on Monday, second on Tuesday evening: the other piece cannot lie there in between."""
    made = schedule(two_layers(kept=True))
    assert faults(made) == []
    order = sorted(made.placed, key=lambda p: p.start)
    assert [p.task.id.split()[1] for p in order] in (["0", "0", "1", "1"], ["1", "1", "0", "0"])
    assert made.when(order[1].start) == datetime(2026, 6, 2, 18, 30)  # a day after, and the sanding of it first
    assert order[1].late and order[1].end - order[1].start == 40
    between = schedule(two_layers(kept=False))
    assert between.finish < made.finish
    assert any("table" in f for f in faults(replace(between, problem=made.problem)))


@pytest.mark.parametrize("number", [1, 2, 3])
def test_kept_places_reach_the_best_of_cp_sat(number: int) -> None:
    """OR-tools CP-SAT as reference: neither earlier than it says is possible, nor later here."""
    made = schedule(two_layers(kept=True, number=number))
    found = best(made.problem, made.finish)
    assert found.proven and found.finish == made.finish


def test_sprays_are_gathered_into_few_sessions() -> None:
    """Six to spray and six to brush, in any order: the sprays stand together, at no cost in time."""
    tasks = []
    for n in range(6):
        tasks += [Task(f"s{n}", 10, demands=HANDS, session="spray"), Task(f"b{n}", 90, demands=HANDS)]
    made = schedule(Problem(tuple(tasks), (), ALONE, Calendar(ROUND_THE_CLOCK), MONDAY))
    assert (made.finish, made.sessions) == (600, 1)


@pytest.mark.parametrize(
    ("tasks", "lags", "says"),
    [
        ((Task("a", 600, "Sand"),), (), "there is never time for “Sand”, 600 minutes in one go"),
        (
            (Task("a", 30, "Pour", looks=Looks.every(60, 600)),),
            (),
            "never time for “Pour”, 30 minutes in one go, within your hours, with somebody there to look",
        ),
        (
            (Task("a", 200, "Brush"), Task("b", 200, "Tip off")),
            (Lag("a", "b", 0, 10),),
            "your hours never let “Tip off” follow “Brush” as soon as it must",
        ),
        ((Task("a", 5, "Lay", demands=(("table", 11),)),), (), "“Lay” needs 11 of the table, and there is 10"),
        (
            (Task("a", 5, "Lay", wait=60, held=(("table", 6),)), Task("b", 5, "Turn", demands=(("table", 6),))),
            (Lag("a", "b", 0, 10),),
            "“Turn” must follow “Lay” so closely that the workshop has no room for both",
        ),
        (
            (Task("a", 5, "One"), Task("b", 5, "Two")),
            (Lag("a", "b"), Lag("b", "a")),
            "“One” would have to wait for itself",
        ),
        ((Task("a", 5), Task("a", 6)), (), "two tasks with the id 'a'"),
        ((Task("a", 5),), (Lag("a", "b"),), "names 'b', which is no task"),
        ((Task("a", 5, "One"), Task("b", 5, "Two")), (Lag("a", "b", 60, 20),), "“Two” must wait longer than"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_said(tasks: tuple[Task, ...], lags: tuple[Lag, ...], says: str) -> None:
    with pytest.raises(CannotSchedule) as caught:
        schedule(Problem(tasks, lags, ALONE, Calendar(week(hours((18, 22)), hours((9, 15)))), MONDAY))
    assert says in str(caught.value)


@pytest.mark.parametrize("seed", range(24))
def test_the_latest_begin_is_in_time_and_no_minute_later_would_be(seed: int) -> None:
    """Exact for a single chain, where the schedule from any beginning is the best there is."""
    batch = random_batch(seed)
    chain = [t for t in batch.tasks if t.id.startswith("k0") and t.id.endswith(".0")]
    ids = {t.id for t in chain}
    lags = [g for g in batch.lags if {g.before, g.after} <= ids and g.least >= 0]
    problem = replace(batch, tasks=tuple(chain), lags=tuple(lags))
    if attempt(problem) is None:
        pytest.skip("this chain has no schedule")
    ready_by = problem.begin + timedelta(days=25)
    made = latest_begin(problem, ready_by)
    if made is None:
        late = schedule(problem)
        assert late.when(late.finish) > ready_by
        return
    assert faults(made) == []
    assert made.when(made.finish) <= ready_by
    later = attempt(replace(problem, begin=made.when(made.start + 1)))
    assert later is None or later.when(later.finish) > ready_by


def test_the_latest_begin_is_none_where_it_is_too_late() -> None:
    problem = replace(coats(None), begin=datetime(2026, 6, 6, 15))
    assert latest_begin(problem, datetime(2026, 6, 7)) is None


def test_the_checker_sees_what_is_wrong() -> None:
    """Each rule broken once, so that a silent checker is noticed."""
    tasks = (
        Task("a", 30, demands=(("hands", 1), ("table", 6)), wait=60, held=(("table", 6),)),
        Task("b", 30, demands=(("hands", 1), ("table", 6)), looks=Looks.every(30, 60)),
    )
    problem = Problem(tasks, (Lag("a", "b", 60, 90),), ALONE, EVENINGS, MONDAY)
    good = schedule(problem)
    assert faults(good) == []

    def moved(*starts: int) -> list[str]:
        placed = tuple(Placed(t, s, s + 30) for t, s in zip(tasks, starts, strict=True))
        return faults(Schedule(problem, placed, 0, 0))

    evening = 360
    assert any("forbids" in f for f in moved(evening, evening + 60))
    assert any("forbids" in f for f in moved(evening, evening + 130))
    assert any("table" in f for f in moved(evening, evening + 60))
    assert any("hands" in f for f in moved(evening, evening + 20))
    assert any("outside the hours" in f for f in moved(evening - 20, evening + 80))
    assert any("outside the hours" in f for f in moved(evening + 60, evening + 151))
    assert faults(replace(good, placed=good.placed[:1])) == ["not every task is placed once"]
