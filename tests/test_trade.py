"""The decisions against what the trade does (common practice, no source): tests/cases/trade.toml."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from interview.plan.answers import Answers
from interview.plan.parts import Decision, Step
from interview.plan.plain_values import value_from_plain
from interview.reasoning.agenda import acknowledge, contradictions
from interview.reasoning.circumstances import settled
from interview.reasoning.deciding import decide, decide_from
from interview.reasoning.playing import reached, scene
from interview.reasoning.rehearsal import rehearse
from interview.reasoning.summing_up import do_first, headline, sign
from knowledge.loading import Knowledge
from knowledge.shape import NEEDS

TABLE = tomllib.loads((Path(__file__).parent / "cases" / "trade.toml").read_text(encoding="utf-8"))


def answers_of(knowledge: Knowledge, told: dict[str, Any]) -> Answers:
    answers = Answers()
    for question in knowledge.questions.values():
        plain = told.get(question.id, TABLE["usual"].get(question.id))
        if plain is not None:
            answers = answers.say(question.id, value_from_plain(question, plain))
    return answers


def _need(decision: Decision, zone: str) -> str:
    return min((v.need for v in decision.verdicts if v.zone == zone), key=NEEDS.index)


def _chain(decision: Decision, zone: str) -> list[Any]:
    return [t for t in decision.treatments if zone in t.zones]


def test_every_case_names_known_things(knowledge: Knowledge) -> None:
    for case in TABLE["case"]:
        assert set(case["answers"]) <= set(knowledge.questions), case["says"]
        chosen = case["answers"].get("support", []), knowledge.materials
        if isinstance(chosen[0], list):
            assert set(chosen[0]) <= set(chosen[1]), case["says"]


@pytest.mark.parametrize("case", TABLE["case"], ids=lambda c: c["says"][:60])
def test_the_trade_agrees(knowledge: Knowledge, case: dict[str, Any]) -> None:
    answers = answers_of(knowledge, case["answers"])
    decision = decide(knowledge, answers)
    zones = {z.id for z in decision.zones}
    keys = ("seal", "better", "leave", "method", "not_barred")
    named = {zone for key in keys for zone in case.get(key, ())}
    assert named <= zones, f"no such zone: {named - zones}"
    for zone in case.get("seal", ()):
        assert _need(decision, zone) == "required", zone
        assert _chain(decision, zone), f"{zone} has no treatment"
    for zone in case.get("better", ()):
        assert _need(decision, zone) == "advised", zone
        assert _chain(decision, zone), f"{zone} has no treatment"
    for zone in case.get("leave", ()):
        assert not _chain(decision, zone), zone
    for zone, method in case.get("method", {}).items():
        assert {t.method for t in _chain(decision, zone)} == {method}, zone
    for zone, sealers in case.get("sealer", {}).items():
        used = [t.sealer for t in _chain(decision, zone)]
        assert [s for s in used if s in sealers] == sealers, (zone, used)
    for zone, least in case.get("coats", {}).items():
        assert _chain(decision, zone)[-1].coats_least >= least, zone
    for zone, reasons in case.get("reason", {}).items():
        got = {v.reason for v in decision.verdicts if v.zone == zone and v.need in ("required", "advised")}
        assert got == set(reasons), zone
    for zone, rules in case.get("because", {}).items():
        found = {f.rule for v in decision.verdicts if v.zone == zone for f in v.findings}
        assert set(rules) <= found, (zone, found)
    for zone, exact in case.get("coats_are", {}).items():
        last = _chain(decision, zone)[-1]
        assert [last.coats_least, last.coats_most] == exact, zone
    for zone, rules in case.get("barred", {}).items():
        found = {f.rule for b in decision.barred if b.zone == zone for f in b.findings}
        assert set(rules) <= found, (zone, found)
    for zone, rules in case.get("not_barred", {}).items():
        assert not set(rules) & {f.rule for b in decision.barred if b.zone == zone for f in b.findings}, zone
    for zone, told in case.get("need", {}).items():
        got = {f"{v.reason} {v.need}" for v in decision.verdicts if v.zone == zone}
        assert set(told) <= got, (zone, got)
    for sealer, exact in case.get("coats_of", {}).items():
        assert [[t.coats_least, t.coats_most] for t in decision.treatments if t.sealer == sealer] == [exact], sealer
    for sealer, rule in case.get("coats_because", {}).items():
        assert {f.rule for t in decision.treatments if t.sealer == sealer for f in t.findings} == {rule}, sealer
    _check_lists(case, decision)
    _check_shown(knowledge, case, answers)


def _check_played(
    knowledge: Knowledge, case: dict[str, Any], decision: Decision, facts: Any, work: tuple[Step, ...]
) -> None:
    """What the steps do, where, and in what order."""
    on = scene(knowledge, decision, facts)
    done = {f"{a} {z.id}" for s in work if not s.spares for a in s.does for z in reached(on, s, knowledge.actions[a])}
    assert not set(case.get("never", ())) & done
    assert set(case.get("does", ())) <= done
    by = {f"{m.step.partition('.')[2]} {m.by}" for m in decision.mended}
    assert set(case.get("mended", ())) <= by, by
    for told in case.get("order", ()):
        before, after = ([n for n, s in enumerate(work) if _is_named(s, part)] for part in told.split(" < "))
        assert before, f"no step is {told.split(' < ')[0]}"
        assert after, f"no step is {told.split(' < ')[1]}"
        assert max(before) < min(after), told


def _is_named(step: Step, name: str) -> bool:
    if step.kind != "seal":
        return step.id == name
    return name == "seal" or name.removeprefix("seal.") in (*step.zones, step.sealer)


def _check_lists(case: dict[str, Any], decision: Decision) -> None:
    _in_and_out(case, "trial", {t.id for t in decision.trials})
    _in_and_out(case, "prep", {p.id for p in decision.preps})
    _in_and_out(case, "note", {n.rule for n in decision.notes})


def _in_and_out(case: dict[str, Any], kind: str, ids: set[str]) -> None:
    assert set(case.get(kind, ())) <= ids, (kind, ids)
    assert not set(case.get(f"no_{kind}", ())) & ids, (kind, ids)


def _check_shown(knowledge: Knowledge, case: dict[str, Any], answers: Answers) -> None:
    """What is told beside the decision: steps, cautions, remedies, what follows from an answer, what contradicts it."""
    decision, facts = decide_from(knowledge, settled(knowledge, answers))
    decision, work = rehearse(knowledge, decision, facts)
    _in_and_out(case, "step", {s.id.split(".", 1)[1] for s in work})
    _in_and_out(case, "outlet", {o.id for o in decision.outlets})
    assert case.get("sign") in (None, sign(decision))
    for words in (*case.get("first", ()), *case.get("headline", ())):
        assert words in f"{do_first(decision, work)} | {headline(decision)}"
    if not decision.pours:
        assert not [s for s in work if s.kind in ("seal", "mix", "pour", "cure")], "a stopped piece has no such step"
    _check_played(knowledge, case, decision, facts, work)
    shown = {c.id for c in knowledge.cautions.values() if c.when.holds(facts) or c.id in facts["treated.cautions"]}
    _in_and_out(case, "caution", shown)
    _in_and_out(case, "worry", {w.id for w in knowledge.worries.values() if w.when.holds(facts)})
    _in_and_out(case, "remedy", {r.id for r in knowledge.remedies.values() if r.when.holds(facts)})
    _in_and_out(case, "contradiction", {c.id for c in contradictions(knowledge, answers)})
    for question, remark in case.get("said", {}).items():
        said = acknowledge(knowledge, answers.withdraw(question), answers)
        assert said == (knowledge.remarks[remark].says if remark else ""), (question, said)
