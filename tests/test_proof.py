"""A sample of the proof over every reachable piece; the whole of it is `python -m tests.proof`."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from knowledge.conditions import Leaf
from knowledge.loading import Knowledge
from knowledge.shape import BarRule
from tests.proof import folding, lengths, mutation, pieces, sameness, states, talks, zones
from tests.proof.held import faults, look_at
from tests.proof.tally import Tally
from tests.test_trade import answers_of


def _drawn(knowledge: Knowledge, count: int) -> list[pieces.Base]:
    return random.Random(20261125).sample(pieces.single_bases(knowledge), count)


def test_rules_read_no_more_than_the_states_of_zones_hold(knowledge: Knowledge) -> None:
    assert not states.only_named(knowledge)


def test_a_rule_that_reads_more_is_told(knowledge: Knowledge) -> None:
    bar = BarRule("new", "common practice", when=Leaf("zone.drink", "at_least", 3), says="It drinks.")
    assert states.only_named(replace(knowledge, bars={**knowledge.bars, "new": bar}))


def test_a_sample_of_the_states_of_zones_holds(knowledge: Knowledge) -> None:
    tally = zones.prove(knowledge, 0.01)
    assert sum(tally.counts.values()) > 10_000, "the walk went nowhere"
    assert not tally.faults, "\n".join(tally.lines())


@pytest.mark.parametrize("piece", ["canvas", "cloth"])
def test_a_mix_of_materials_is_worth_what_its_rows_are(knowledge: Knowledge, piece: str) -> None:
    mixed = pieces.support_mixes(knowledge, piece)  # asks the real zones of each mix
    assert len(mixed) > len(pieces.row_classes(knowledge).supports[piece])


def test_a_sample_of_whole_pieces_holds(knowledge: Knowledge) -> None:
    tally = Tally()
    for base in _drawn(knowledge, 300):
        pieces.check(knowledge, pieces.answers_for(knowledge, base), tally)
    assert tally.counts["treatments in them"] > 150, "nothing was sealed"
    assert not tally.faults, "\n".join(tally.lines())


def test_a_sample_of_conversations_ends_asks_nothing_in_vain_and_leaves_nothing_out(
    knowledge: Knowledge,
) -> None:
    tally = Tally()
    for number, base in enumerate(_drawn(knowledge, 12)):
        talks.converse(knowledge, base, tally, unsure=number % 3 == 0)
    assert tally.counts["questions looked at for a pair of answers that differ"] > 80
    assert not tally.faults, "\n".join(tally.lines())


def test_no_casting_can_be_asked_more_than_so_much(knowledge: Knowledge) -> None:
    assert lengths._longest(knowledge, "cast") < talks.MOST


def test_same_answers_same_plan_in_another_process_and_another_order(knowledge: Knowledge) -> None:
    tally = Tally()
    sameness.prove(knowledge, _drawn(knowledge, 8), tally, seeds=("4711",))
    assert tally.counts["plans made again in another process, with another hash seed"] == 8
    assert not tally.faults, "\n".join(tally.lines())


@pytest.mark.parametrize(
    "broken",
    [
        "bars: brush_tears dropped", "bars: carrier_moves dropped", "bars: brush_on_what_lies_there dropped",
        "bars: it_dries_cloudy dropped", "needs: open_face weighed otherwise", "needs: little_air dropped",
        "trials: edges dropped", "trials: swab dropped", "cautions: aerosol dropped",
        "coats: seal_coat without coats",
    ],
)  # fmt: skip
def test_the_invariants_notice_what_is_broken(knowledge: Knowledge, broken: str) -> None:
    mutant = next(k for name, k in mutation.mutants(knowledge, (broken.split(":")[0],)) if name == broken)
    assert next(mutation.broken(mutant, mutation.walk(knowledge), broken.split(":")[0]), ""), (
        f"{broken}, and all seems well"
    )


def test_two_sealers_in_a_row_are_explained(knowledge: Knowledge) -> None:
    small = mutation.with_a_small_shelf(knowledge)
    answers = pieces.answers_for(knowledge, pieces.Base(0, "wood", frozenset(("mdf",)), frozenset(("no_medium",))))
    told = {
        "ways": frozenset(("brush",)),
        "darken": "no",
        "laid_on": frozenset(("none",)),
        "wood_finish": "bare",
        "tried": frozenset(("none",)),
    }
    for question, value in told.items():
        answers = answers.say(question, value)
    piece = look_at(small, answers)
    assert "two_sealers" in {n.rule for n in piece.decision.notes}
    assert not [f for f in faults(piece) if f[0] in "1234"]


def test_classes_keep_apart_what_rules_tell_apart(knowledge: Knowledge) -> None:
    worth = {
        i: folding.media_worth(knowledge, frozenset((i,)))
        for i in ("charcoal", "graphite", "alcohol_ink", "laser_toner")
    }
    assert len(set(worth.values())) == len(worth)


SPOILT = {
    "rub": {"piece": "wood", "support": ["weathered_wood"], "media": ["graphite_powder"]},
    "water": {"piece": "hard", "support": ["pebble"], "media": ["watercolour"]},
    "alcohol": {"piece": "hard", "support": ["glass"], "media": ["marker"]},
    "press": {"support": ["pastel_paper"], "media": ["soft_pastel"], "mounted": "hardboard", "adhesive": "laid"},
    "heat": {"piece": "hard", "support": ["vinyl_record"]},
    "strip": {"support": ["cardstock"], "media": ["metal_leaf"], "resin_on": "front"},
}


@pytest.mark.parametrize("hazard", SPOILT)
def test_the_replay_notices_what_is_no_longer_held_back(knowledge: Knowledge, hazard: str) -> None:
    """Were nothing said of what cannot be rubbed (wetted, pressed...), a plan would do harm, and the replay sees it."""
    limits = {k: v for k, v in knowledge.limits.items() if v.of not in (hazard, f"wet {hazard}", "soak", "wash")}
    media = {k: replace(v, cannot=()) for k, v in knowledge.media.items()}
    less = replace(knowledge, limits=limits, media=media)
    answers = answers_of(less, SPOILT[hazard])
    assert any(f[0] in "123" for f in faults(look_at(less, answers)))
    assert not list(faults(look_at(knowledge, answers)))
