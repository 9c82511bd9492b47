"""The proof for conversations: each class of material with each class of medium is talked through to its end.

Of each conversation: it ends, nothing is asked twice, each question asked could change the plan (a pair of
answers is looked for whose plans differ), and none was left out that could.
"""

from __future__ import annotations

import random
import re
from collections import Counter
from collections.abc import Iterator
from typing import Any

from interview.plan.answers import NOT_SURE, Answers
from interview.reading.measures import Value, read_measure
from interview.reasoning.agenda import Asked, next_question, wording
from interview.reasoning.circumstances import assumed_value, known, numbers, settled
from interview.reasoning.deciding import decide_from
from interview.reasoning.planner import make_plan
from interview.reasoning.steps import steps
from knowledge.loading import Knowledge
from knowledge.shape import Question
from tests.proof.pieces import Base, answers_for, check, told
from tests.proof.tally import Tally

MOST = 60  # no conversation comes near; a longer one is taken not to end
TRIES = 12


def converse(knowledge: Knowledge, base: Base, tally: Tally, *, unsure: bool = False) -> Answers:
    """One conversation; the answers are those drawn for this base, or "not sure" wherever the base leaves it open."""
    drawn = answers_for(knowledge, base)
    rng = random.Random(base.number)
    answers, asked = Answers(), 0
    while question := next_question(knowledge, answers) or next_question(knowledge, answers, "exact"):
        asked += next_question(knowledge, answers) is not None  # what is asked on request does not count
        if question.id in answers or asked > MOST:
            tally.fault(
                f"9: '{question.id}' is asked {'twice' if question.id in answers else 'without end'}",
                dict(answers),
            )
            break
        if question.part in ("piece", "trials"):
            _could_matter(knowledge, answers, question, tally)
        answers = answers.say(question.id, _reply(knowledge, answers, question, drawn, rng, unsure=unsure))
    tally.counts["conversations"] += 1
    tally.counts["questions asked in them"] += asked
    tally.lengths.setdefault("not sure to everything" if unsure else "answered", Counter())[asked] += 1
    _at_the_end(knowledge, answers, rng, tally)
    return answers


def _reply(
    knowledge: Knowledge,
    answers: Answers,
    question: Question,
    drawn: Answers,
    rng: random.Random,
    *,
    unsure: bool,
) -> Any:
    if unsure and question.id not in ("piece", "support", "media", "laid_on"):
        return NOT_SURE
    asked = wording(question, knowledge, answers)
    if question.id in drawn:
        value = drawn[question.id].value
        offered = {c.id for c in asked.choices} | {asked.question.unsure}
        some = value & offered if isinstance(value, frozenset) else value
        return some or NOT_SURE
    return typed(question, asked, rng)


def typed(question: Question, asked: Asked, rng: random.Random) -> Any:
    """An answer to a question that is typed: its own example, or "not sure"."""
    if rng.random() < 0.5:
        return NOT_SURE
    if question.kind in ("one", "several"):
        one = rng.choice(asked.choices).id
        return frozenset((one,)) if question.kind == "several" else one
    for words in reversed(re.split(r",? or |, ", question.example)):
        got = read_measure(words, question)
        if isinstance(got, Value):
            return got.value
    return NOT_SURE


# ------------------------------------------------------------------ each question could change the plan


def _could_matter(knowledge: Knowledge, answers: Answers, question: Question, tally: Tally) -> None:
    """Look for two answers whose plans differ, with what else is open the same for both."""
    tally.counts["questions looked at for a pair of answers that differ"] += 1
    values = [*_values(knowledge, answers, question)]
    for rest in range(TRIES):
        filled = [_filled(knowledge, answers.say(question.id, v), random.Random(rest), safe=rest == 0) for v in values]
        seen = {shown(knowledge, a) for a in filled}
        if len(seen) > 1:
            return
    if question.always:
        tally.counts[f"of these '{question.id}', asked always, was of no account"] += 1
    else:
        tally.fault(
            f"9: '{question.id}' is asked in vain: no two answers were found whose plans differ",
            told_so(answers),
        )


def _values(knowledge: Knowledge, answers: Answers, question: Question) -> Iterator[Any]:
    choices = wording(question, knowledge, answers).choices
    ids = [c.id for c in choices]
    if question.always and len(ids) > 8:
        ids = ids[:: max(1, len(ids) // 8)]
    for id in ids:
        yield frozenset((id,)) if question.kind == "several" else id
    yield assumed_value(question)


def _filled(knowledge: Knowledge, answers: Answers, rng: random.Random, *, safe: bool) -> Answers:
    """All that is open about the piece answered: on the safe side, or as it is drawn."""
    while True:
        around = known(knowledge, answers)
        if not around.open:
            return answers
        question = knowledge.questions[around.open[0]]
        choices = wording(question, knowledge, answers).choices
        if safe or not choices:
            value = assumed_value(question)
        else:
            one = rng.choice(choices).id
            value = frozenset((one,)) if question.kind == "several" else one
        answers = answers.say(question.id, value)


def shown(knowledge: Knowledge, answers: Answers) -> tuple[Any, ...]:
    """What the plan tells the maker to do, and what it warns of: whatever a person would see change."""
    decision, facts = decide_from(knowledge, settled(knowledge, answers))
    work = steps(knowledge, decision, facts)
    tables = (*knowledge.cautions.values(), *knowledge.remedies.values())
    return (
        tuple((v.zone, v.reason, v.need) for v in decision.verdicts),
        tuple((t.name, t.zones, t.coats_least, t.coats_most) for t in decision.treatments),
        tuple((o.id, o.zones) for o in decision.outlets),
        tuple((s.id, s.zones, s.wait, s.how) for s in work),
        tuple(p.id for p in decision.preps),
        tuple(t.id for t in decision.trials),
        tuple(r.id for r in tables if r.when.holds(facts)),
    )


# ------------------------------------------------------------------ and none was left out


def _at_the_end(knowledge: Knowledge, answers: Answers, rng: random.Random, tally: Tally) -> None:
    """With whatever was never asked answered at random, the plan is the same."""
    base = shown(knowledge, answers)
    left = known(knowledge, answers).open
    tally.counts["questions left unasked at the end, being of no account"] += len(left)
    for _ in range(3 if left else 0):
        tally.counts["plans made with the unasked answered at random"] += 1
        other = _filled(knowledge, answers, rng, safe=False)
        if shown(knowledge, other) != base:
            tally.fault(
                f"9: {_culprits(knowledge, answers, other, base)} was not asked, and could change the plan",
                told_so(other),
            )
    piece = check(knowledge, answers, tally)
    plan = make_plan(knowledge, answers)
    tally.counts["plans made in full at the end"] += 1
    if not plan.complete or numbers(knowledge, answers, piece.facts).open:
        tally.fault(f"9: the plan lacks {plan.missing} at the end", told(piece))
    for figure in plan.figures:
        tally.counts["figures in them"] += 1
        if not 0 <= figure.low <= figure.high < float("inf") or not figure.inputs or not figure.working:
            inputs = len(figure.inputs)
            says = f"7: the figure {figure.id} is {figure.low} to {figure.high}, with {inputs} inputs"
            tally.fault(says, told(piece))


def _culprits(knowledge: Knowledge, answers: Answers, other: Answers, base: tuple[Any, ...]) -> str:
    """The unasked answers that alone, or else together, make the difference."""
    new = [q for q in other if q not in answers]
    alone = [q for q in new if shown(knowledge, answers.say(q, other[q].value)) != base]
    return " and ".join(f"'{q}'" for q in alone or new)


def told_so(answers: Answers) -> str:
    return ", ".join(
        f"{q} = {sorted(a.value) if isinstance(a.value, frozenset) else a.value}" for q, a in answers.items()
    )
