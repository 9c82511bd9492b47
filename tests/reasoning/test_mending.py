"""Each way of mending, alone: what it does to a plan with one clash in it, and when it has nothing to offer."""

from __future__ import annotations

from typing import Any

import pytest

from interview.plan.parts import Decision
from interview.reasoning import mending
from interview.reasoning.circumstances import settled
from interview.reasoning.deciding import decide_from
from interview.reasoning.mending import Trouble
from interview.reasoning.playing import play, scene
from interview.reasoning.rehearsal import _left, rehearse
from interview.reasoning.steps import steps
from knowledge.loading import Knowledge
from tests.test_trade import answers_of

BOTTLE = {"piece": "hard", "support": ["glass"], "media": ["marker"]}
PASTEL = {"support": ["pastel_paper"], "media": ["soft_pastel"], "mounted": "hardboard", "adhesive": "laid"}
RECORD = {"piece": "hard", "support": ["vinyl_record"]}
PEBBLE = {"piece": "hard", "support": ["pebble"], "media": ["watercolour"]}
ROSES = {"piece": "hard", "support": ["slate"], "laid_on": ["dried_flowers"], "held": "loose"}
CASES = [  # the rule, the piece, the step that clashes, whether the rule has an answer
    (mending.move, PASTEL, "prepare.glue_down", True),
    (mending.move, BOTTLE, "prepare.degrease", False),
    (mending.narrow, BOTTLE, "prepare.degrease", True),
    (mending.narrow, PASTEL, "prepare.glue_down", False),
    (mending.gentler, RECORD, "prepare.degrease", True),
    (mending.gentler, RECORD, "pour.pour_coat", True),
    (mending.gentler, PEBBLE, "prepare.rinse_salt", False),
    (mending.protect, ROSES, "prepare.degrease", True),
    (mending.protect, RECORD, "pour.pour_coat", False),
    (mending.leave_out, PEBBLE, "prepare.rinse_salt", True),
    (mending.leave_out, PASTEL, "prepare.glue_down", False),
    (mending.stop, PASTEL, "prepare.glue_down", True),
]


def trouble(knowledge: Knowledge, told: dict[str, Any], step: str) -> Trouble:
    """The plan as it was before any mending, at the clash of that step."""
    decision, facts = decide_from(knowledge, settled(knowledge, answers_of(knowledge, told)))
    work = steps(knowledge, decision, facts)
    on = scene(knowledge, decision, facts)
    clashes = tuple(c for c in play(on, work, past=True).clashes if c.step == step)
    assert clashes, f"{step} does not clash"

    def left(new: Decision) -> Any:
        return _left(knowledge, facts, step.partition(".")[2], new)

    return Trouble(on, decision, next(s for s in work if s.id == step), clashes, left)


@pytest.mark.parametrize(("rule", "told", "step", "helps"), CASES, ids=lambda v: getattr(v, "__name__", str(v))[:30])
def test_a_rule_alone(knowledge: Knowledge, rule: Any, told: dict[str, Any], step: str, helps: bool) -> None:
    found = rule(trouble(knowledge, told, step))
    assert (found is not None) is helps
    if found is not None:
        decision, says = found
        assert says, "no reason"
        assert decision != trouble(knowledge, told, step).decision, "nothing is changed"


def test_they_are_tried_from_the_least_to_the_last() -> None:
    assert [by for by, _ in mending.RULES] == ["move", "narrow", "gentler", "protect", "leave out", "stop"]


def test_the_reason_shown_is_the_clash(knowledge: Knowledge) -> None:
    decided, facts = decide_from(knowledge, settled(knowledge, answers_of(knowledge, BOTTLE)))
    decision, _ = rehearse(knowledge, decided, facts)
    assert decision.mended
    assert all(m.clash.says in m.says for m in decision.mended)
    narrowed = next(p for p in decision.preps if p.spares)
    assert "dissolves alcohol marker" in narrowed.says


def test_one_can_for_all_that_the_mist_hits(knowledge: Knowledge) -> None:
    told = {
        "support": ["watercolour_cold_pressed"],
        "media": ["watercolour"],
        "laid_on": ["glitter", "moss"],
        "held": "loose",
    }
    decided, facts = decide_from(knowledge, settled(knowledge, answers_of(knowledge, told)))
    decision, _ = rehearse(knowledge, decided, facts)
    sprayed = {t.sealer for t in decision.treatments if t.method == "spray" and not t.first}
    assert len(sprayed) == 1


def test_bare_glass_is_covered_before_sand_on_it_is_sprayed(knowledge: Knowledge) -> None:
    told = {"piece": "hard", "support": ["mirror"], "laid_on": ["sand"], "held": "loose"}
    decided, facts = decide_from(knowledge, settled(knowledge, answers_of(knowledge, told)))
    _, work = rehearse(knowledge, decided, facts)
    spray = next(s for s in work if s.kind == "seal" and "laid_sand" in s.zones)
    assert spray.how.startswith("Cover the face with paper first")
