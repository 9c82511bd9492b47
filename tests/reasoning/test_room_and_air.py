"""Room and air: dew point, wood, trapped air, times, vapour; and numbers that cannot be."""

from __future__ import annotations

import pytest

from interview.plan.answers import NOT_SURE, Answers
from interview.reasoning.agenda import next_question
from interview.reasoning.air import barred_spray, exposure, room_volume
from knowledge.loading import Knowledge
from knowledge.solvents import load_solvents
from tests.reasoning.pieces import ALL, COASTER, PINE, TILE, TISSUE, Case, size, some

ROOM = some("room")


# ------------------------------------------------------------------ room


# room °C, RH %, piece °C or None, words that must be said, words that must not
ROOMS = [
    (21.0, 50.0, None, "may be no colder than 14 °C", "do not coat"),
    (21.0, 50.0, 10.0, "water condenses on it", "no colder"),
    (25.0, 80.0, 22.5, "too near the dew point", "no colder"),
    (20.0, 95.0, None, "do not coat yet", "no colder"),
]  # fmt: skip


@pytest.mark.parametrize(("room", "humidity", "surface", "says", "not_said"), ROOMS)
def test_dew_point(
    knowledge: Knowledge, room: float, humidity: float, surface: float | None, says: str, not_said: str
) -> None:
    more = {"room_temperature": room, "room_humidity": humidity, "surface_temperature": surface}
    case = Case(knowledge, TILE, have=ROOM, **more)
    assert says in case.says("room.dew_point") and not_said not in case.says("room.dew_point")
    assert case.says("room.dew_point").startswith("At ")


def test_the_dew_point_is_the_published_one(knowledge: Knowledge) -> None:
    """PsychroLib 2.5.0: 20 °C and 50 % -> 9.27 °C."""
    case = Case(knowledge, TILE, have=ROOM, room_temperature=20.0, room_humidity=50.0)
    assert case["room.dew_point"].low == pytest.approx(9.27, abs=0.05)
    assert case["room.margin"].low == pytest.approx(10.73, abs=0.05)
    assert case["room.dew_point"].basis.kind == "computed"


def test_a_room_not_measured_is_said_to_be_assumed(knowledge: Knowledge) -> None:
    case = Case(knowledge, TILE)
    assert case.says("room.dew_point").startswith("Taken as")
    assert case["room.dew_point"].basis.kind == "assumed"


@pytest.mark.parametrize(("room", "humidity", "rule"), [
    (21.0, 90.0, "room.humid"), (21.0, 75.0, "room.blush"), (2.0, 50.0, "room.temperature"), (15.0, 50.0, "room.resin"), (35.0, 30.0, "room.resin"),
])  # fmt: skip
def test_limits_of_the_room(knowledge: Knowledge, room: float, humidity: float, rule: str) -> None:
    assert Case(knowledge, TILE, have=ROOM, room_temperature=room, room_humidity=humidity).says(rule)


def test_wood_in_the_room(knowledge: Knowledge) -> None:
    """Wood Handbook Table 4-2: 70 °F and 65 % -> 12.0 %."""
    case = Case(knowledge, PINE, have=ROOM, room_temperature=21.1, room_humidity=65.0)
    assert case["wood.equilibrium"].low == pytest.approx(12.0, abs=0.07)
    assert not Case(knowledge, TILE).has("wood")
    damp = Case(knowledge, PINE, have=ROOM, room_temperature=21.1, room_humidity=80.0)
    assert "16 %" in damp.says("wood.damp_room")


@pytest.mark.parametrize(
    ("second", "words"),
    [(4100.0, "still gives off water"), (4120.0, "too close together to tell"), (4150.0, "takes up water")],
)
def test_two_weighings(knowledge: Knowledge, second: float, words: str) -> None:
    case = Case(knowledge, PINE, have=some("scale"), weighing_first=4120.0, weighing_second=second)
    assert words in case.says("wood.weighing")


def test_trapped_air_by_hand(knowledge: Knowledge) -> None:
    """Pine 1 x 0.5 m x 20 mm = 10 L, 63 to 79 % air; from 21 °C by 3 to 6 °C it swells by 1.02 to 2.04 %."""
    case = Case(knowledge, PINE)
    held, out = case["room.air_held"], case["room.air_out"]
    assert (held.low, held.high) == pytest.approx((10_000 * (1 - 0.55 / 1.5), 10_000 * (1 - 0.32 / 1.5)))
    assert out.low == pytest.approx(held.low * 3 / 294.15)
    assert out.high == pytest.approx(held.high * 6 / 294.15)


def test_no_air_no_advice(knowledge: Knowledge) -> None:
    for piece in (TILE, COASTER):
        case = Case(knowledge, piece)
        assert not case.has("room.air")


def test_working_time_follows_the_room(knowledge: Knowledge) -> None:
    """The label's 40 minutes at 21 to 25 °C; ten degrees warmer halve it."""
    more = {"have": some("room", "resin_label"), "working_time": 40.0, "room_humidity": 40.0}
    cool = Case(knowledge, TILE, room_temperature=23.0, **more)["time.working"]
    warm = Case(knowledge, TILE, room_temperature=33.0, **more)["time.working"]
    assert warm.low == pytest.approx(cool.low / 2) and warm.high == pytest.approx(cool.high / 2)
    assert "rule of thumb" in warm.range
    cold = Case(knowledge, TILE, room_temperature=5.0, **more)["time.working"]
    assert cold.low == cold.high == 40 and "10 to 40 °C only" in cold.working[0]


# ------------------------------------------------------------------ air


def test_outdoors_asks_for_no_room_and_gives_no_figure(knowledge: Knowledge) -> None:
    case = Case(knowledge, TISSUE)
    assert "outdoors" in case.says("air.outdoors") and not case.has("air")
    assert "air_room" not in case.facts


def test_a_water_borne_brush_coat_has_nothing_to_say_about_air(knowledge: Knowledge) -> None:
    case = Case(knowledge, PINE)
    assert not [f for f in case.got.findings if f.rule.startswith("air.")] and not case.has("air")


BOOTH = {**TISSUE, "ways": some("spray_booth"), "air_room": size("4 x 3 x 2.5 m")}


def test_a_booth_is_counted_as_if_it_caught_nothing(knowledge: Knowledge) -> None:
    case = Case(knowledge, BOOTH)
    assert case["air.peak.spray_acrylic"].low > 1
    assert "fan is made for flammable vapour" in case.says("air.booth")
    larger = Case(knowledge, {**BOOTH, "air_room": size("8 x 6 x 2.5 m")})
    assert larger["air.peak.spray_acrylic"].high == pytest.approx(case["air.peak.spray_acrylic"].high / 4)
    assert larger["air.clear.spray_acrylic"].high < case["air.clear.spray_acrylic"].high


def test_a_room_is_no_place_to_spray_and_the_figures_say_why(knowledge: Knowledge) -> None:
    case = Case(knowledge, {**TISSUE, "ways": some("spray_room")})
    assert barred_spray(case.told, case.decision)
    assert "times the limit" in case.says("air.barred") and case.has("air.peak.barred")
    assert not case.has("air.session")  # no amount is offered where it must not be done


def test_named_solvents_take_the_place_of_the_assumed(knowledge: Knowledge) -> None:
    case = Case(knowledge, BOOTH, have=some("data_sheet"), solvents=some("acetone", "toluene"))
    peak = case["air.peak.spray_acrylic"]
    assert any("all of it toluene" in line for line in peak.working)
    assert not any("xylenes" in line for line in peak.working)


def test_unknown_stays_unknown(knowledge: Knowledge) -> None:
    case = Case(knowledge, BOOTH, have=some("data_sheet"), solvents=some("acetone", "other"))
    assert "is not known" in case.says("air.unknown") and not case.has("air")
    assert "times the limit" not in " ".join(case.got.room)


def test_exposure_by_hand() -> None:
    """Own regression value: 85 g of acetone into 30 m3 is 1192.8 ppm, 4.8 times the REL, 4.8 % of what burns."""
    model = next(m for m in load_solvents().mixtures if m.id == "spray_strong_acetone")
    from dataclasses import replace

    acetone = replace(model, parts={"acetone": 100.0}, density=1.0, volatile=100.0)
    got = exposure(acetone, 85, 30)
    assert got.grams == 85
    assert got.parts[0][1] == pytest.approx(1192.8, abs=0.1)
    assert got.long == pytest.approx(4.77, abs=0.01) and got.fire == pytest.approx(0.0477, abs=0.0001)


def test_mixtures_add_up() -> None:
    """Each part alone is milder than the whole, for every assumed mixture."""
    for m in load_solvents().mixtures:
        got = exposure(m, 100, 20)
        for solvent, ppm in got.parts:
            limit = solvent.lowest(("PEL", "REL", "WEEL"))
            assert limit is not None and ppm / solvent.ppm(limit) <= got.long + 1e-9


@pytest.mark.parametrize(
    ("text", "cubic_metres"),
    [
        ("4 x 3 x 2.5 m", 30),
        ("4 x 3 m", 28.8),
        ("12 m2", 28.8),
        ("2 m round", 7.54),
        ("10 x 10 x 8 ft", 22.65),
    ],
)
def test_volume_of_a_room(text: str, cubic_metres: float) -> None:
    assert room_volume(size(text)) == pytest.approx(cubic_metres, rel=0.001)


# ------------------------------------------------------------------ numbers that cannot be, and how many are
# asked


def test_a_room_smaller_than_the_piece_is_asked_again(knowledge: Knowledge) -> None:
    assert Case(knowledge, {**BOOTH, "air_room": size("20 x 20 x 20 cm")}).faults[0][0] == "air_room"
    assert not Case(knowledge, BOOTH).faults


def test_weighings_of_two_different_things_are_asked_again(knowledge: Knowledge) -> None:
    case = Case(knowledge, PINE, have=some("scale"), weighing_first=4120.0, weighing_second=4.12)
    assert case.faults[0][0] == "weighing_second"


def test_a_coat_of_a_hundred_pours_is_asked_again(knowledge: Knowledge) -> None:
    case = Case(knowledge, PINE, have=some("coat", "resin_label"), coat=300.0, deepest=0.5)
    assert case.faults[0][0] == "deepest"


@pytest.mark.parametrize("name", ALL)
def test_the_interview_of_a_simple_piece_stays_under_fifteen_questions(knowledge: Knowledge, name: str) -> None:
    """Without an opening sentence, and with nothing at hand. What the piece does not tell is "not sure"."""
    answers, asked = Answers(), 0
    while (question := next_question(knowledge, answers)) is not None:
        asked += 1
        value = some("none") if question.id == "have" else ALL[name].get(question.id, NOT_SURE)
        answers = answers.say(question.id, value)
    assert 6 <= asked < 15, asked
