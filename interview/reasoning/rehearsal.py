"""Every plan is rehearsed: its steps are played through in order on each layer, and each clash is mended, before
anyone does them. What the maker proposes is played too. Pure.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import Any

from interview.plan.parts import Clash, Decision, Step
from interview.reasoning.mending import Trouble, mend
from interview.reasoning.playing import play, scene
from interview.reasoning.steps import USUAL_AREA, steps
from knowledge.loading import Knowledge

MOST = 60  # every mending takes one clash out for good; no plan has come near this


def rehearse(
    knowledge: Knowledge, decision: Decision, facts: Mapping[str, Any], area: float = USUAL_AREA
) -> tuple[Decision, tuple[Step, ...]]:
    """The decision with every clash mended, and its steps. What was mended is in `mended`, with its clash."""
    for _ in range(MOST):
        work = steps(knowledge, decision, facts, area)
        on = scene(knowledge, decision, facts)
        played = play(on, work)
        if not played.clashes:
            return decision, work
        step = work[len(played.states)]
        left = partial(_left, knowledge, facts, step.id.partition(".")[2])
        decision = mend(Trouble(on, decision, step, played.clashes, left))
    raise AssertionError("mending goes round in circles")


def _left(knowledge: Knowledge, facts: Mapping[str, Any], id: str, decision: Decision) -> tuple[Clash, ...]:
    """What the step of that name clashes with where it stands in this decision."""
    work = steps(knowledge, decision, facts)
    clashes = play(scene(knowledge, decision, facts), work, past=True).clashes
    return tuple(c for c in clashes if c.step.partition(".")[2] == id)
