"""Plans on a clock: tables of cases a practitioner could read, random stalls looked at piece by piece."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import pytest

from interview.plan.answers import Answers
from interview.plan.model import Plan
from interview.plan.plain_values import value_from_plain
from interview.reasoning.batch import make_batch, pots, sheets, shopping
from interview.reasoning.jobs import Sizes, jobs
from interview.reasoning.lots import Kind, Means, Some, cut, footprint, how_many
from interview.reasoning.offers import ways_out
from interview.reasoning.planner import make_plan
from interview.reasoning.scheduling.hours import ROUND_THE_CLOCK, Calendar
from interview.reasoning.scheduling.tasks import CannotSchedule, Late
from interview.reasoning.timetable import Timeline, arrange, as_timed, in_words, timeline
from knowledge.loading import Knowledge
from tests.scheduling.batches import hours, week
from tests.scheduling.stall import (
    AT_HOME,
    WAKING,
    WEDNESDAY,
    piece_faults,
    plan,
    pour_steps,
    random_stall,
    step,
    two_pours,
)
from tests.test_trade import TABLE, answers_of

NOW = Means(AT_HOME, WEDNESDAY)
QUICK = replace(NOW, waits="shortest")
COLLAGE = {
    "piece": "collage", "support": ["tissue_paper"], "opened": ["torn"], "layers": "flat", "mounted": "plywood",
    "adhesive": "pva", "hollow": "none", "media": ["no_medium"], "laid_on": ["glitter"], "held": "loose",
    "resin_on": "sides", "ways": ["brush", "spray_outdoors"],
    "size": {"shape": "rectangle", "width": 300.0, "height": 400.0},
}  # fmt: skip


def made(knowledge: Knowledge, told: dict[str, Any]) -> Plan:
    answers = Answers()
    for id, plain in told.items():
        answers = answers.say(id, value_from_plain(knowledge.questions[id], plain))
    return make_plan(knowledge, answers, "gulls")


def begins(time: Timeline, id: str) -> datetime:
    return next(d.begins for d in time.doings if d.step == id)


def test_a_real_plan_keeps_its_order_and_hours(knowledge: Knowledge) -> None:
    collage = made(knowledge, COLLAGE)
    time = timeline(collage, NOW)
    kind = Kind("gulls", collage)
    assert piece_faults([kind], NOW, time) == []
    assert {d.step for d in time.doings} == {s.id for s in collage.steps}
    assert time.bound == time.ready  # one piece: nothing could be quicker, and that is proven
    assert time.quickest < time.ready
    assert not time.late and not time.impossible


@pytest.mark.parametrize("waits", ["longest", "shortest"])
def test_every_case_of_the_trade_has_its_timetable(waits: Any, knowledge: Knowledge) -> None:
    """Each plan of tests/cases/trade.toml, on evenings and weekends: order, windows and hours kept, nearly all proven the best."""
    timed = proven = 0
    for case in TABLE["case"]:
        told = make_plan(knowledge, answers_of(knowledge, case["answers"]), "it")
        if not told.steps:
            continue
        means = replace(NOW, waits=waits)
        time = timeline(told, means)
        assert piece_faults([Kind("it", told)], means, time) == [], case["says"]
        told_first = [s.id for s in told.steps if s.kind == "trial" or s.id == "prepare.copy_first"]
        assert [d.step for d in time.doings if d.step in told_first] == told_first, case["says"]
        assert told_first.index("prepare.copy_first") == 0 if "prepare.copy_first" in told_first else True
        assert time.bound <= time.ready, case["says"]
        proven += time.bound == time.ready
        timed += 1
    assert timed > 50
    assert proven >= 0.97 * timed


def test_one_piece_hour_by_hour() -> None:
    """Two brushed coats an hour apart, a day's drying, then the pour. Evenings from six to ten."""
    coats = [
        step("seal.a.1", 15, (60, 60), place="table"),
        step("seal.a.2", 15, (1440, 1440), after=(("seal.a.1", 60, None),)),
    ]
    time = timeline(plan([*coats, *pour_steps([("seal.a.2", 1440)])]), QUICK)
    assert begins(time, "seal.a.1") == datetime(2026, 5, 6, 18)
    assert begins(time, "seal.a.2") == datetime(2026, 5, 6, 19, 15)
    assert begins(time, "prepare.room") == datetime(2026, 5, 7, 19, 30)  # a day after half past seven
    assert begins(time, "mix.mix") == datetime(2026, 5, 7, 21)  # dust settles for an hour
    assert begins(time, "pour.coat") == datetime(2026, 5, 7, 21, 8)
    watch = next(d for d in time.doings if d.kind == "watch")
    assert watch.looks == tuple(datetime(2026, 5, 7, 21, 23) + timedelta(minutes=15 * n) for n in range(1, 9))
    assert begins(time, "cure.cover") == watch.looks[-1]  # covered after the last look, at 23:23
    assert time.ready == datetime(2026, 5, 7, 23, 28) + timedelta(minutes=1440 + 4320)


def test_the_longest_waits_are_counted_on_unless_told() -> None:
    steps = [step("seal.a.1", 15, (60, 300)), step("seal.a.2", 15, after=(("seal.a.1", 60, None),))]
    assert begins(timeline(plan(steps), QUICK), "seal.a.2") == datetime(2026, 5, 6, 19, 15)
    assert begins(timeline(plan(steps), NOW), "seal.a.2") == datetime(2026, 5, 7, 18)
    cold = plan(steps, room_temperature=11.0)
    assert begins(timeline(cold, QUICK), "seal.a.2") == datetime(2026, 5, 6, 20, 15)


def test_a_late_evening_pour_waits_for_somebody_to_look() -> None:
    """Up until half past eleven: two hours of looks, so the pour is done by half past nine."""
    steps = pour_steps([])
    late = replace(QUICK, begin=datetime(2026, 5, 6, 20, 1))
    assert begins(timeline(plan(steps), late), "pour.coat") == datetime(2026, 5, 7, 18, 8)
    early = replace(QUICK, begin=datetime(2026, 5, 6, 19, 20))
    assert begins(timeline(plan(steps), early), "pour.coat") == datetime(2026, 5, 6, 20, 58)


def test_a_second_watch_goes_on_from_the_first_and_a_second_pour_is_watched_too() -> None:
    """Two hours of looks, then hourly for two more; then another layer, mixed anew, looked at and covered."""
    steps = [s for s in pour_steps([]) if s.kind != "cure"]
    late = step("watch.late", 5, after=(("watch.watch", 0, None),), look_every=60.0, look_for=120.0)
    second = [
        step("mix.second", 8, after=(("watch.late", 0, 60),)),
        step("pour.second", 20, after=(("mix.second", 0, 10),), look_every=15.0, look_for=60.0),
        step("cure.cover", 5, (1440, 2880), after=(("pour.second", 0, None),)),
    ]
    saturday = replace(QUICK, begin=datetime(2026, 5, 9, 8))
    told = plan([*steps, late, *second])
    time = timeline(told, saturday)
    assert piece_faults([Kind("it", told)], saturday, time) == []
    first = begins(time, "pour.coat") + timedelta(minutes=15)
    looks = next(d.looks for d in time.doings if d.step == "watch.late")
    assert looks == (first + timedelta(hours=3), first + timedelta(hours=4))
    assert begins(time, "mix.second") == first + timedelta(hours=4)
    assert begins(time, "cure.cover") == begins(time, "pour.second") + timedelta(minutes=20 + 60)
    half = Kind("it", plan([*steps, late, *second], resin=300.0, count=1))
    lines = pots(timeline(half.plan, saturday), [half])
    assert [(p.number, p.total.split(" mL")[0]) for p in lines] == [(1, "150"), (2, "150")]


def test_no_spraying_outdoors_after_dark() -> None:
    spray = [step("seal.a.1", 30, place="spray place")]
    dusk = replace(QUICK, calendar=replace(AT_HOME, daylight=hours((8, 18.25))))
    assert begins(timeline(plan(spray, ways=["spray_outdoors"]), dusk), "seal.a.1") == datetime(2026, 5, 9, 9)
    assert begins(timeline(plan(spray, ways=["spray_booth"]), dusk), "seal.a.1") == datetime(2026, 5, 6, 18)


def test_back_from_the_fair() -> None:
    steps = pour_steps([])
    fair = replace(QUICK, ready_by=datetime(2026, 5, 16, 8))
    time = timeline(plan(steps), fair, backward=True)
    assert timeline(plan(steps), fair).latest == time.begins
    assert time.ready <= datetime(2026, 5, 16, 8)
    later = timeline(plan(steps), replace(fair, begin=time.begins + timedelta(minutes=1)))
    assert later.late


@pytest.mark.parametrize("seed", range(25))
def test_random_stalls_hold_for_every_piece(seed: int) -> None:
    kinds, means = random_stall(seed)
    time = arrange(kinds, means)
    assert piece_faults(kinds, means, time) == []
    assert time.bound <= time.ready
    assert sum(d.ends > d.begins for s in sheets(time) for line in s.lines for d in line.doings) == sum(
        d.ends > d.begins for d in time.doings
    )


@pytest.mark.parametrize("broken", ["late", "crowded", "night", "asleep", "twice"])
def test_the_piece_checker_sees_what_is_wrong(broken: str) -> None:
    kinds = [Kind("coaster", plan(pour_steps([]), size={"shape": "circle", "diameter": 100.0}), 4)]
    means = replace(QUICK, table=0.06)
    time = arrange(kinds, means)
    assert piece_faults(kinds, means, time) == []
    move = {"late": timedelta(minutes=-30), "crowded": timedelta(), "night": timedelta(hours=7)}
    doings = list(time.doings)
    pour = next(n for n, d in enumerate(doings) if d.kind == "pour")
    if broken == "asleep":
        watch = next(n for n, d in enumerate(doings) if d.kind == "watch")
        doings[watch] = replace(doings[watch], looks=(datetime(2026, 5, 7, 3),))
    elif broken == "twice":
        doings.append(doings[pour])
    else:
        doings[pour] = replace(
            doings[pour], begins=doings[pour].begins + move[broken], ends=doings[pour].ends + move[broken]
        )
    if broken == "crowded":
        means = replace(means, table=0.001)
    if broken == "twice":
        with pytest.raises(AssertionError, match="done twice"):
            piece_faults(kinds, means, replace(time, doings=tuple(doings)))
    else:
        assert piece_faults(kinds, means, replace(time, doings=tuple(doings)))


def test_equal_plans_are_worked_together() -> None:
    coaster = plan([step("seal.a.1", 5, (60, 60))], size={"shape": "circle", "diameter": 100.0})
    other = plan([step("seal.a.1", 6, (60, 60))])
    batch = make_batch([Kind("gull", coaster, 2), Kind("tern", coaster, 3), Kind("tray", other)], QUICK)
    assert batch.alike == (("gull", "tern", "tray"),)
    assert [(d.who, d.pieces) for d in batch.timeline.doings if d.pieces > 1] == [
        ("gull (all 2), tern (all 3), tray", 6)
    ]
    assert [(d.ends - d.begins) // timedelta(minutes=1) for d in batch.timeline.doings] == [5 * 5 + 6]


def test_pieces_of_several_lots_are_one_run_in_words() -> None:
    kinds = [Kind("gull", plan([]), 9), Kind("tern", plan([])), Kind("auk", plan([]), 3)]
    said = in_words((Some(0, 4, 6), Some(0, 7, 7), Some(1, 1, 1), Some(2, 1, 3), Some(0, 9, 9)), kinds)
    assert said == "gull 4 to 7, gull 9, tern, auk (all 3)"
    assert in_words((Some(0, 1, 1),), kinds[1:2]) == ""


def test_where_no_change_is_enough_all_of_them_together_may_be() -> None:
    """An hour sooner than quick drying alone would have it: it takes longer hours and help as well."""
    kinds = [Kind("coaster", plan([step("seal.a.1", 60, (60, 2880)), *pour_steps([("seal.a.1", 60)])]), 6)]
    quick = arrange(kinds, QUICK)
    hour = timedelta(hours=1)
    assert [w.says[:3] for w in ways_out(kinds, replace(NOW, ready_by=quick.ready + hour))] == ["if "]
    (way,) = ways_out(kinds, replace(NOW, ready_by=quick.ready - hour))
    assert way.says.startswith("all at once: everything dries as fast as it can, 3 hours more every day, one more")
    assert way.ready <= quick.ready - hour
    assert ways_out(kinds, replace(NOW, ready_by=WEDNESDAY + hour)) == ()


def test_pots_are_no_larger_than_can_be_spread() -> None:
    """Mix 8 minutes, 15 a piece: in 45 minutes two pieces, whatever the pot would hold."""
    kind = Kind("coaster", plan(pour_steps([]), count=5, resin=200.0, ratio=[2.0, 1.0, "volume"]), 5)
    lines = pots(arrange([kind], replace(QUICK, working_time=45)), [kind])
    assert sorted(p.pieces for p in lines) == [1, 2, 2]
    two = next(p for p in lines if p.pieces == 2)
    assert two.total.startswith("80 mL") and (two.resin, two.hardener) == ("54 mL", "27 mL")
    assert [p.number for p in lines] == [1, 2, 3]
    small = arrange([kind], replace(QUICK, working_time=45, pot=50.0))
    assert {p.pieces for p in pots(small, [kind])} == {1}


def test_shopping_adds_up(knowledge: Knowledge) -> None:
    """Twelve gulls and eight terns of one plan need what twenty gulls need, in as many cans."""
    gulls, terns, both = (
        Kind(name, made(knowledge, {**COLLAGE, "count": count}), count)
        for name, count in (("gulls", 12), ("terns", 8), ("both", 20))
    )
    together = {b.name: b for b in shopping([gulls, terns])}
    alone = {b.name: b for b in shopping([both])}
    assert together.keys() == alone.keys()
    for name, buy in together.items():
        assert buy.packs == alone[name].packs, name
        assert buy.kinds == ("gulls", "terns")


def test_too_late_says_by_how_much_and_what_would_help() -> None:
    kind = Kind("coaster", plan([step("seal.a.1", 60), *pour_steps([("seal.a.1", 0)])]), 8)
    fair = replace(NOW, ready_by=datetime(2026, 5, 16, 8))
    batch = make_batch([kind], fair)
    assert batch.timeline.late == batch.timeline.ready - datetime(2026, 5, 16, 8) > timedelta()
    assert batch.timeline.ways
    assert all(way.ready <= datetime(2026, 5, 16, 8) for way in batch.timeline.ways)
    assert any("dries as fast" in way.says for way in batch.timeline.ways)
    assert not any("coat" in way.says for way in batch.timeline.ways)


def test_another_plan_is_a_way_out_only_if_it_serves() -> None:
    slow = Kind("sign", plan([step("seal.a.1", 10, (20000, 20000)), *pour_steps([("seal.a.1", 20000)])]))
    quick = Kind("sign", plan(pour_steps([])))
    fair = replace(QUICK, ready_by=datetime(2026, 5, 14, 8))
    ways = ways_out([slow], fair, lambda: [("brush instead of spraying", [quick]), ("spray it twice", [slow])])
    assert [w.says for w in ways] == ["brush instead of spraying"]
    ways = ways_out([slow, replace(quick, name="tray")], fair)
    assert [w.says for w in ways] == ["1 piece instead of 2: 1 tray"]


@pytest.mark.parametrize(
    ("kinds", "means", "says"),
    [
        ([], NOW, "there are no pieces"),
        ([Kind("sign", plan([step("seal.a.1", 5)]), 0)], NOW, "there are no pieces"),
        (
            [Kind("tray", plan([step("seal.a.1", 5)], size={"shape": "rectangle", "width": 600.0, "height": 400.0}))],
            replace(NOW, rack=0.2),
            "a piece of “tray” takes 0.26 m2 with room beside it, and the rack has 0.20 m2",
        ),
        ([Kind("sign", plan([step("seal.a.1", 5)]))], replace(NOW, ready_by=datetime(2026, 5, 6, 9)), "is over already"),
        ([Kind("sign", plan([step("seal.a.1", 5)]))], replace(NOW, calendar=Calendar(((),) * 7)), "never time for"),
        ([Kind("sign", plan([step("seal.a.1", 700)]))], NOW, "700 minutes in one go"),
        (
            [Kind("sign", plan(pour_steps([])))],
            replace(NOW, calendar=Calendar(week(hours((18, 20)), ()))),
            "with somebody there to look at it afterwards",
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_is_said(kinds: list[Kind], means: Means, says: str) -> None:
    with pytest.raises(CannotSchedule) as caught:
        arrange(kinds, means)
    assert says in str(caught.value)


@pytest.mark.parametrize("seed", range(50))
def test_cut_keeps_every_piece(seed: int) -> None:
    chance = random.Random(seed)
    pieces = [Some(n, 1, chance.randint(1, 9)) for n in range(chance.randint(1, 5))]
    size = chance.randint(1, 12)
    slices = cut(pieces, size)
    each = [(s.kind, n) for mine in slices for s in mine for n in range(s.first, s.last + 1)]
    assert each == [(s.kind, n) for s in pieces for n in range(s.first, s.last + 1)]
    counts = [how_many(mine) for mine in slices]
    assert max(counts) <= size and max(counts) - min(counts) <= 1


@pytest.mark.parametrize(
    ("size", "space"),
    [
        ({"shape": "rectangle", "width": 300.0, "height": 400.0}, 32 * 42),
        ({"shape": "circle", "diameter": 100.0}, 12 * 12),
        ({"shape": "cylinder", "diameter": 100.0, "height": 500.0}, 12 * 12),
        ({"shape": "oval", "width": 100.0, "height": 200.0}, 12 * 22),
        ({"shape": "box", "width": 100.0, "height": 200.0, "depth": 50.0}, 12 * 22),
        ({"shape": "area", "area": 0.04}, 22 * 22),
    ],
)
def test_a_piece_takes_its_box_and_some_room_beside_it(size: dict[str, Any], space: int) -> None:
    assert footprint(size) == space


# ------------------------------------------------------------ two layers

EVENINGS_ONLY = Calendar(week(hours((18, 22)), hours((18, 22)), hours((18, 22))), watch=WAKING)
FLOATER = {
    "piece": "cast", "laid_on": ["pressed_flowers", "coin"], "natural_dry": "dry", "tried": ["none"],
    "ways": ["spray_booth"], "size": {"shape": "circle", "diameter": 100.0},
}  # fmt: skip


def pause(time: Timeline, before: str, after: str) -> float:
    """Hours from the end of one step by hand to the beginning of another, with any scuff before it."""
    ends = next(d.ends for d in time.doings if d.step == before)
    return (begins(time, after) - ends) / timedelta(hours=1)


def test_in_the_evenings_a_second_layer_comes_after_the_first_is_hard(knowledge: Knowledge) -> None:
    """Nobody is up when the window of 4 to 8 hours opens: a day later, with a scuff first, and its own looks."""
    floater = made(knowledge, FLOATER)
    time = timeline(floater, replace(NOW, calendar=EVENINGS_ONLY))
    assert piece_faults([Kind("it", floater)], replace(NOW, calendar=EVENINGS_ONLY), time) == []
    scuff, pour = (d for d in time.doings if d.step == "pour.second_pour")
    assert (scuff.kind, pour.kind, pour.late) == ("prepare", "pour", True)
    assert scuff.name == "Scuff the hard first layer and wipe it clean"
    assert (scuff.ends - scuff.begins, pour.begins) == (timedelta(minutes=5), scuff.ends)
    assert pause(time, "pour.pour_cast", "pour.second_pour") >= 24
    assert len(pour.looks) == 8 and pour.looks[-1].hour < 23
    assert all(len(d.looks) for d in time.doings if d.kind == "watch")
    told = next(s for s in as_timed(floater, time).steps if s.id == "pour.second_pour")
    assert "is hard" in told.how and "dust mask" in told.how and "tacky" not in told.how


def test_on_a_whole_day_a_second_layer_comes_while_the_first_is_tacky(knowledge: Knowledge) -> None:
    floater = made(knowledge, FLOATER)
    saturday = replace(QUICK, calendar=Calendar(week((), hours((8, 22))), watch=WAKING))
    time = timeline(floater, saturday)
    (pour,) = (d for d in time.doings if d.step == "pour.second_pour")
    assert not pour.late
    assert 4 <= pause(time, "pour.pour_cast", "pour.second_pour") <= 8
    assert pour.begins >= next(d.looks[-1] for d in time.doings if d.step == "watch.late_look")
    told = next(s for s in as_timed(floater, time).steps if s.id == "pour.second_pour")
    assert "tacky" in told.how and "hard" not in told.how


def test_without_a_clock_both_ways_are_told(knowledge: Knowledge) -> None:
    told = next(s for s in made(knowledge, FLOATER).steps if s.id == "pour.second_pour")
    for words in ("4 to 8 hours", "tacky", "1 day", "dust mask", "wet or outdoors", "wipe it clean", "21 °C"):
        assert words in told.how
    assert told.alternative_hands == 5


@pytest.mark.parametrize(
    ("celsius", "opens", "closes"), [(None, 4.0, 8.0), (21.0, 4.0, 8.0), (11.0, 8.0, 16.0), (31.0, 2.0, 4.0)]
)
def test_the_window_goes_with_the_room(celsius: float | None, opens: float, closes: float) -> None:
    """Twice the time for ten degrees less than 21 °C (the rule of thumb of reacting resins)."""
    answers = {"room_temperature": celsius} if celsius else {}
    steps = [s for s in two_pours([], watch=60.0) if s.id != "prepare.room"]
    layered = plan([replace(steps[0], after=()), *steps[1:]], **answers)
    always = replace(QUICK, calendar=Calendar(ROUND_THE_CLOCK))
    work = jobs([Kind("it", layered)], always, Sizes(1)).problem
    lag = next(g for g in work.lags if g.late is not None)
    setting_up = 13 / 60  # the pour of the second layer begins so much after its mixing
    assert lag.greatest is not None and lag.late is not None
    assert (lag.least / 60, lag.greatest / 60 + setting_up) == pytest.approx((opens, closes), abs=0.02)
    assert lag.late.least / 60 == pytest.approx(6 * opens, abs=0.02)
    time = timeline(layered, always)
    assert pause(time, "pour.coat", "pour.again") == pytest.approx(opens, abs=0.02)


def test_a_window_holds_for_every_piece_of_a_pot() -> None:
    """The first piece waits while the others are poured, so the second layer begins the sooner."""
    kind = Kind("coaster", plan(two_pours([], watch=60.0), count=3), 3)
    work = jobs([kind], replace(QUICK, working_time=90), Sizes(3)).problem
    lag = next(g for g in work.lags if g.late is not None)
    assert (lag.greatest, lag.late) == (480 - 13 - 2 * 15, Late(1440, 15))


def test_a_piece_lies_on_the_table_from_its_first_layer_until_the_last_is_firm() -> None:
    """Room for one: the next piece is not poured before the second layer of the one before it is firm."""
    size = {"shape": "circle", "diameter": 100.0}
    kind = Kind("coaster", plan(two_pours([]), size=size, count=2), 2)
    small = replace(QUICK, table=0.02, calendar=EVENINGS_ONLY)
    time = arrange([kind], small)
    assert piece_faults([kind], small, time) == []
    first, second = sorted((d for d in time.doings if d.step == "pour.coat"), key=lambda d: d.begins)
    again = next(d for d in time.doings if d.step == "pour.again" and d.kind == "pour" and d.some == first.some)
    firm = next(d.until for d in time.doings if d.step == "cure.cover" and d.some == first.some)
    assert first.ends < again.begins < firm <= second.begins
    between = replace(second, begins=first.ends + timedelta(hours=3), ends=first.ends + timedelta(hours=4))
    broken = replace(time, doings=tuple(between if d is second else d for d in time.doings))
    assert any("table" in fault for fault in piece_faults([kind], small, broken))


def test_too_many_for_an_evening_go_in_smaller_pots() -> None:
    """Twenty scuffs of five minutes and a pour do not fit before the looks of an evening; ten of them do."""
    steps = [replace(s, each=1.0) if s.kind == "pour" else s for s in two_pours([])]
    kind = Kind("coaster", plan(steps, count=24), 24)
    evenings = replace(QUICK, calendar=EVENINGS_ONLY, working_time=60)
    time = arrange([kind], evenings)
    assert piece_faults([kind], evenings, time) == []
    assert all(d.late for d in time.doings if d.step == "pour.again")
