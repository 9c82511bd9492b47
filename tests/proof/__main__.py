"""The whole proof with a bar: python -m tests.proof [SHARE]   (1 is everything, 0.01 a hundredth)"""

from __future__ import annotations

import random
import sys

from knowledge.loading import load
from tests.proof import lengths, pieces, talks, zones
from tests.proof.tally import Tally, shown


def run(share: float) -> Tally:
    """Zones, whole pieces and conversations; a share of each, the same every time."""
    knowledge = load()
    tally = zones.prove(knowledge, share)
    every = pieces.bases(knowledge)
    rng = random.Random(20261125)
    chosen = every if share >= 1 else rng.sample(every, max(1, round(len(every) * share)))
    for _ in shown(pieces.prove(knowledge, chosen, tally), len(chosen), "whole pieces"):
        pass
    talked = chosen if share >= 1 else rng.sample(chosen, max(1, len(chosen) // 6))
    for base in shown(talked, len(talked), "conversations"):
        talks.converse(knowledge, base, tally)
        talks.converse(knowledge, base, tally, unsure=True)
    return tally


def main() -> int:
    share = float(sys.argv[1]) if len(sys.argv) > 1 else 1.0
    tally = run(share)
    print("\n".join(tally.lines()))
    print(f"  No conversation can be longer than: {lengths.bound(load())}")
    return 1 if tally.faults else 0


if __name__ == "__main__":
    sys.exit(main())
