"""Troubles: told apart, mended without harm, and every road leads somewhere."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from interview.conversation.rescue_told import hazard_lines
from interview.plan.answers import Answers
from interview.plan.doings import Done
from interview.plan.model import Plan
from interview.reading.trouble_words import hours_in, read_trouble, speaks_of_trouble
from interview.reasoning.planner import make_plan
from interview.reasoning.rescue import (
    ENDS,
    MOST_LOOKS,
    Pace,
    Seen,
    chance,
    entropy,
    found,
    gain,
    next_look,
    ranked,
    stage_at,
    way_of,
    window,
)
from interview.reasoning.rescue_known import known
from interview.reasoning.second_coat import second_coat
from knowledge.loading import load
from knowledge.troubles import STAGES, Cause, load_troubles, of_before
from tests.rescue.measure import Result, played
from tests.training.lines import signs

CASES = Path(__file__).parent / "cases.toml"
TROUBLES = load_troubles()
LINES = tuple(signs())
NOW = datetime(2026, 6, 13, 18, 0)


@pytest.fixture(scope="module")
def results() -> list[Result]:
    return played(CASES)


def test_no_case_is_harmed(results: list[Result]) -> None:
    assert not [(r.case["says"], r.harm) for r in results if r.harm]


def test_causes_are_told_apart(results: list[Result]) -> None:
    number = len(results)
    assert sum(r.first for r in results) / number >= 0.9
    assert sum(r.two for r in results) / number >= 0.95
    assert sum(r.path for r in results) / number >= 0.85
    assert sum(len(r.asked) for r in results) / number <= 4


def test_a_person_is_helped_with_no_question(results: list[Result]) -> None:
    people = [r for r in results if r.case["sign"] in TROUBLES.hazards]
    assert len(people) > 10
    assert not [r.case["says"] for r in people if r.asked or not r.heard.hazards]


# ------------------------------------------------------------------ every road


def _settle(sign: str, cause_id: str) -> tuple[Seen, int]:
    """Ask to the end, and answer each look as this cause would most likely have it."""
    cause = TROUBLES.causes[cause_id]
    seen = Seen(((sign, 1.0),))
    while (look := next_look(TROUBLES, seen)) is not None:
        find = max(look.finds, key=lambda f, q=look: chance(q, cause, f.id))  # type: ignore[misc]
        told = find.id if look.id in cause.tells else None
        seen = replace(seen, finds={**seen.finds, look.id: told}, asked=seen.asked + 1)
    return seen, seen.asked


def _best_sign(cause_id: str) -> str:
    signs = TROUBLES.causes[cause_id].signs
    order = ("always", "often", "seldom")
    return min(signs, key=lambda s: order.index(signs[s]))


@pytest.mark.parametrize("sign", TROUBLES.signs)
def test_every_sign_is_reached_by_words_and_ends_in_a_way(sign: str) -> None:
    lines = [row["typed"] for hand, row in LINES if row["sign"] == sign and hand == "signs_told"]
    lines += [row["typed"] for hand, row in LINES if row["sign"] == sign and hand == "signs_maker"]
    reached = [line for line in lines if sign in dict(read_trouble(line, TROUBLES).signs)]
    assert len(lines) > 8
    assert len(reached) >= 0.9 * len(lines)
    for cause, _ in ranked(TROUBLES, Seen(((sign, 1.0),))):
        for stage in STAGES:
            assert way_of(TROUBLES, cause, stage, Seen(((sign, 1.0),))).lines


@pytest.mark.parametrize("cause", TROUBLES.causes)
def test_every_cause_is_reached_within_six_looks(cause: str) -> None:
    """First, or beside the first with what tells them apart, or by another cause with the same way on."""
    seen, asked = _settle(_best_sign(cause), cause)
    assert asked <= MOST_LOOKS
    came = found(TROUBLES, seen, Pace())
    order = [c.id for c, _ in ranked(TROUBLES, seen)]
    same = way_of(TROUBLES, TROUBLES.causes[cause], came.stage, seen).id == came.way.id
    beside = came.either is not None and came.either.id == cause and (came.apart or same)
    assert came.cause.id == cause or beside or same, order[:3]


def test_either_is_said_with_what_tells_them_apart() -> None:
    seen = Seen((("sticky_all", 1.0),), {"extent": "all", "since": "days"}, asked=MOST_LOOKS)
    came = found(TROUBLES, seen, Pace())
    assert {came.cause.id, came.either.id if came.either else ""} == {"off_ratio", "cold_room"}
    assert "25 to 30" in came.apart


def test_nothing_is_taken_off_while_it_may_only_need_time() -> None:
    seen = Seen(
        (("sticky_all", 1.0),), {"since": "hours", "mixed": "by eye", "touch": "tacky"}, hours=3, asked=MOST_LOOKS
    )
    came = found(TROUBLES, seen, Pace())
    assert came.way.does == "wait"
    assert came.gentler == (came.cause.id == "off_ratio")


def test_what_is_not_sure_is_not_asked_again() -> None:
    seen = Seen((("sticky_all", 1.0),))
    asked = []
    while (look := next_look(TROUBLES, seen)) is not None:
        asked.append(look.id)
        seen = replace(seen, finds={**seen.finds, look.id: None}, asked=seen.asked + 1)
    assert len(asked) == len(set(asked)) <= MOST_LOOKS


def test_before_the_pour_nothing_is_asked_of_resin() -> None:
    for sign in (s.id for s in TROUBLES.signs.values() if s.stage == "before"):
        seen = Seen(((sign, 1.0),))
        while (look := next_look(TROUBLES, seen)) is not None:
            assert look.before, (sign, look.id)
            seen = replace(seen, finds={**seen.finds, look.id: None}, asked=seen.asked + 1)


# ------------------------------------------------------------------ sums


def test_entropy_and_gain_by_hand() -> None:
    """Shannon 1948: half and half 1 bit, four alike 2, one alone 0; a look that parts two causes wholly gains 1."""
    assert entropy([1, 1]) == pytest.approx(1)
    assert entropy([1, 1, 1, 1]) == pytest.approx(2)
    assert entropy([3]) == 0
    pair = ((TROUBLES.causes["off_ratio"], 0.5), (TROUBLES.causes["cold_room"], 0.5))
    for look in TROUBLES.looks.values():
        assert -1e-9 <= gain(look, pair) <= 1
        for cause, _ in pair:
            assert sum(chance(look, cause, f.id) for f in look.finds) == pytest.approx(1)


@pytest.mark.parametrize("way", TROUBLES.paths)
def test_windows_close_sooner_the_warmer_it_is(way: str) -> None:
    times = [
        window(TROUBLES.paths[way], Pace(40, room, assumed=False), None) for room in (10, 15, 18, 21, 25, 30, 35, 40)
    ]
    for kind in ("left", "wait"):
        told = [value for t in times if (value := getattr(t, kind)) is not None]
        assert told == sorted(told, reverse=True)
        assert len(set(told)) == len(told)


def test_no_hours_are_given_outside_ten_to_forty_degrees() -> None:
    for room in (5, 9.9, 41):
        told = window(TROUBLES.paths["pass_warm_air"], Pace(40, room), 0.1)
        assert told.left is None
        assert told.wait is None


def test_stages_by_the_clock() -> None:
    """Working time 40 min at 21 °C: 1, 4, 8, 20 of it are 0.67, 2.67, 5.33, 13.3 h; at 31 °C half of that."""
    pace = Pace(40, 21, assumed=False)
    assert [round(pace.hours(n) or 0, 2) for n in ENDS.values()] == [0.67, 2.67, 5.33, 13.33]
    assert [stage_at(h, pace) for h in (0.5, 2, 5, 12, 14)] == ["flowing", "gelled", "tacky", "firm", "cured"]
    assert stage_at(5, Pace(40, 31, assumed=False)) == "firm"


def test_a_window_that_is_over_says_so() -> None:
    way = TROUBLES.paths["pass_warm_air"]  # 0.7 of the working time
    assert window(way, Pace(40, 21), 0.25).left == pytest.approx(40 * 0.7 / 60 - 0.25)
    assert window(way, Pace(40, 21), 0.6).over


def test_second_coat_by_hand() -> None:
    """A4, 210 x 297 mm: 1 mm is 62.4 mL, 1.5 mm 93.6 mL (hand sum); with 10 to 20 % off the edges and 5 to 10 % in the
    cup 72.0 and 123.5 mL. At 31 °C it is hard in half of 24 to 48 hours.
    """
    size = {"shape": "rectangle", "width": 210.0, "height": 297.0}
    answers = Answers().say("size", size).say("ratio", (2.0, 1.0, "volume"))
    coat = second_coat(answers, Pace(40, 31))
    assert coat.low == pytest.approx(62.37 * 1.1 * 1.05, abs=0.01)
    assert coat.high == pytest.approx(93.555 * 1.2 * 1.1, abs=0.01)
    assert coat.parts == pytest.approx((coat.high * 2 / 3, coat.high / 3))
    assert coat.hard == pytest.approx((12, 24))
    front = second_coat(answers.say("resin_on", "front"), Pace())
    assert front.low == pytest.approx(62.37 * 1.05, abs=0.01)
    assert second_coat(Answers(), Pace()).low == pytest.approx(10 * 1.05)


# ------------------------------------------------------------------ words


@pytest.mark.parametrize(
    ("says", "sign"),
    [
        ("it's sticky", "sticky_all"),
        ("I already poured and it went cloudy", "milky_under"),
        ("bubles keep coming up out of the wood", "fresh_bubbles"),
        ("no bubbles but it is yellow now", "yellow"),
        ("the spray made the ink run", "ink_ran"),
    ],
)
def test_signs_in_peoples_words(says: str, sign: str) -> None:
    assert sign in dict(read_trouble(says, TROUBLES).signs)


@pytest.mark.parametrize(
    ("says", "hours"),
    [("3 hours ago", 3), ("two days ago", 48), ("half an hour ago", 0.5), ("a week old", 168), ("dried an hour", None)],
)
def test_hours_since_mixing(says: str, hours: float | None) -> None:
    assert hours_in(says) == (None if hours is None else pytest.approx(hours))


@pytest.mark.parametrize(
    ("says", "cause", "way"),
    [  # common practice: what a practitioner puts first, where nothing more is known
        ("the photo came unstuck and floats up at one corner, like honey now", "layer_lifted", "press_once"),
        ("my only photo of dad is floating up, still liquid", "layer_lifted", "press_hold"),
        ("the only picture of my mum came unstuck at one corner, it is hard now", "layer_lifted", "keep_only"),
        ("white cloudy patches on the sealer after spraying it, havent poured yet, it rained", "humid_spray_blush", "dry_then_mist"),
        ("cloudy, not poured yet", "sealer_not_dry", "dry_longer"),
        ("sealed it before i poured, now cloudy under the gloss", "sealer_not_dry", "dry_from_back"),
        ("its tacky in one corner, hard everywhere else, poured 4 days ago", "cup_scrapings", "cut_patch"),
        ("soft in one corner only, a week ago", "cup_scrapings", "cut_patch"),
        ("black blotches growing in from the edge of the mirror under the resin, a week later", "silver_attacked", "silver_stays"),
        ("my daffodils in the paperweight went brown after 3 weeks", "flower_not_dry", "accept_flower"),
        ("resin pulled back off the wax on my barn wood, holes like craters, still liquid", "grease_on_piece", "push_back"),
    ],
)  # fmt: skip
def test_what_is_told_at_once_decides(says: str, cause: str, way: str) -> None:
    heard = read_trouble(says, TROUBLES)
    came = found(TROUBLES, Seen(heard.signs, heard.finds, heard.hours, only="only" in heard.marks), Pace())
    assert (came.cause.id, came.way.id) == (cause, way)
    assert heard.finds.get("where") != "behind"


def test_before_the_pour_nothing_of_resin_is_the_cause() -> None:
    for says in (row["typed"] for _, row in LINES[::5]):
        heard = read_trouble(f"{says}, not poured yet", TROUBLES)
        seen = Seen(heard.signs, heard.finds)
        if heard.signs and heard.finds["begun"] == "not yet":
            assert all(of_before(TROUBLES, cause) for cause, _ in ranked(TROUBLES, seen)), says
            assert found(TROUBLES, seen, Pace()).way.id != "wash", says


@pytest.mark.parametrize("cause", TROUBLES.causes.values(), ids=lambda c: c.id)
def test_an_image_there_is_no_other_of_is_neither_cut_nor_sanded(cause: Cause) -> None:
    for sign in cause.signs:
        for stage in ("flowing", "gelled", "tacky", "firm", "cured"):
            way = way_of(TROUBLES, cause, stage, Seen(((sign, 1.0),), only=True))
            forbidden = {"open_spot", "remove_all", "wipe_solvent"}
            forbidden |= {"sand_and_flood", "trim"} if sign in ("floaters", "lifted_edge") else set()
            assert not forbidden & set(way.actions), (sign, stage, way.id)


def test_a_description_is_no_trouble() -> None:
    for says in (
        "torn tissue collage on plywood with glitter", "old board with cracks and dark stains", "a smoke drawing on paper",
        "tattoo on my arm, printed as a photo", "pressed flowers for a coaster",
    ):  # fmt: skip
        assert not speaks_of_trouble(says, TROUBLES), says


def test_a_kept_plan_answers_what_it_knows() -> None:
    answers = (
        Answers()
        .say("support", frozenset({"plywood"}))
        .say("laid_on", frozenset({"none"}))
        .say("room_temperature", 14.0)
    )
    did = (Done("pour.pour_coat", datetime(2026, 6, 13, 15, 0), "Pour and spread"),)
    finds, hours = known(load(), answers, did, NOW)
    assert hours == 3
    assert finds["room"] == "cold"
    assert finds["since"] == "hours"
    assert finds["under"] in ("wood", "board")


# ------------------------------------------------------------------ finish and hand over

SLATE = {
    "piece": "hard", "support": frozenset({"slate"}), "laid_on": frozenset({"none"}), "media": frozenset({"no_medium"}),
    "ways": frozenset({"brush"}), "size": {"shape": "rectangle", "width": 300.0, "height": 400.0},
}  # fmt: skip


def _plan(**told: object) -> Plan:
    answers = Answers()
    for question, value in {**SLATE, **told}.items():
        answers = answers.say(question, value)
    return make_plan(load(), answers)


def test_the_weight_by_hand() -> None:
    """Slate, 30 x 40 cm, taken as 18 mm: 2160 mL x 2.6 to 2.9 g/mL (handbook density of slate) = 5616 to 6264 g. Resin,
    3 mm on the face only: 360 mL x 1.05 to 1.15 = 378 to 414 g. Together 5994 to 6678 g; the hanger carries four times.
    """
    weight = next(f for f in _plan(resin_on="front").figures if f.id == "weight.piece")
    assert (round(weight.low), round(weight.high)) == (5994, 6678)
    assert "27 kg" in weight.working[-1]


def test_steps_after_the_pour_stand_where_they_apply_and_in_their_order() -> None:
    front = [s.id for s in _plan(resin_on="front").steps]
    order = ["watch.watch", "watch.tape_off", "cure.cure", "cure.full_cure", "finish.finish", "finish.pack"]
    assert [id for id in front if id in order] == order
    sides = [s.id for s in _plan(resin_on="sides").steps]
    assert "watch.tape_off" not in sides
    order = ["prepare.supports", "pour.pour_coat", "cure.cure", "finish.drips", "cure.full_cure", "finish.pack"]
    assert [id for id in sides if id in order] == order
    pack = next(s for s in _plan(resin_on="front").steps if s.id == "finish.pack")
    assert pack.after[0][0] == "finish.finish"


def test_the_card_promises_nothing_of_food_heat_or_years() -> None:
    card = " ".join(line.says for line in _plan(resin_on="front").care)
    for word in ("sun", "Heat", "Cleaning", "Food: not for it"):
        assert word in card
    assert "food safe" not in card.casefold()


def test_the_resin_is_of_the_kind_that_depth_and_use_ask_for() -> None:
    resin = next(i for i in _plan(resin_on="front").items if i.id == "resin")
    assert any("coating" in line for line in resin.look_for)
    assert any("food" in line for line in resin.look_for)


@pytest.mark.parametrize(
    ("says", "alarms"),
    [
        ("the dog ate one piece of the jigsaw", []),
        ("the paper drank the resin", []),
        ("the cup got hot yesterday and went hard", []),
        ("my toddler drank resin from a paper cup", ["swallowed"]),
        ("the dog licked the wet resin", ["swallowed"]),
        ("the cup is smoking, I mixed it yesterday", ["smoking_cup"]),
        ("the mixing cup got hot", ["smoking_cup"]),
    ],
)
def test_an_alarm_is_raised_for_what_is_one(says: str, alarms: list[str]) -> None:
    assert [alarm.id for alarm in read_trouble(says, TROUBLES).hazards] == alarms


@pytest.mark.parametrize("who", ["dog", "two year old"])
def test_an_animal_and_a_child_are_not_told_to_rinse_and_spit(who: str) -> None:
    told = " ".join(hazard_lines(TROUBLES, read_trouble(f"my {who} drank some resin", TROUBLES)))
    assert "spit" not in told
    assert "poison" in told
