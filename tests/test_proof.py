"""A sample of the proof over every reachable piece; the whole one is `python -m tests.proof`."""

from __future__ import annotations

import random

from knowledge.loading import Knowledge
from tests.proof import pieces, talks, zones
from tests.proof.tally import Tally


def test_the_invariants_hold_in_a_sample_of_zone_states(knowledge: Knowledge) -> None:
    tally = zones.prove(knowledge, 0.002)
    assert sum(tally.counts.values()) > 1000, "the walk went nowhere"
    assert not tally.faults, "\n".join(tally.lines())


def test_the_invariants_hold_in_a_sample_of_whole_pieces_and_conversations(knowledge: Knowledge) -> None:
    tally = Tally()
    chosen = random.Random(20261125).sample(pieces.bases(knowledge), 12)
    assert len(list(pieces.prove(knowledge, chosen, tally))) == len(chosen)
    talks.converse(knowledge, chosen[0], tally)
    talks.converse(knowledge, chosen[1], tally, unsure=True)
    assert not tally.faults, "\n".join(tally.lines())
