"""The length that no conversation can pass, from the conditions of the questions alone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import combinations
from typing import Any

from interview.reasoning.circumstances import _FOLLOWS
from knowledge.loading import Knowledge
from knowledge.shape import Question
from tests.proof.folding import comparisons, follows
from tests.proof.pieces import media_mixes, plain_values, row_classes, support_mixes

Facts = Mapping[str, Any]
FEW = 6  # of so many choices all sets are gone through; of more, each alone and all together


def bound(knowledge: Knowledge) -> dict[str, int]:
    """For each kind of piece, the most questions that any answers can bring.

    Gone through in order with every answer, facts that no later question can tell apart taken together.
    Whether a question could change the plan is left aside, and a question about numbers counts unless its
    condition fails: the true longest conversation is no longer than this.
    """
    return {c.id: _longest(knowledge, c.id) for c in knowledge.questions["piece"].choices}


def _longest(knowledge: Knowledge, piece: str) -> int:
    asked = [q for q in knowledge.questions.values() if q.part != "heard"]
    tests = comparisons(knowledge, ("questions",))
    states: dict[tuple[Any, ...], tuple[int, Facts]] = {(): (0, {"pours": True})}
    for place, question in enumerate(asked):
        later = {name for q in asked[place + 1 :] for name in q.when.names()}
        kept: dict[tuple[Any, ...], tuple[int, Facts]] = {}
        for count, facts in _after(knowledge, question, piece, states.values()):
            key = tuple(leaf.holds(facts) for name in sorted(later) for leaf in tests[name])
            if key not in kept or kept[key][0] < count:
                kept[key] = (count, facts)
        states = kept
    return max(count for count, _ in states.values())


def _after(
    knowledge: Knowledge, question: Question, piece: str, states: Iterable[tuple[int, Facts]]
) -> Iterator[tuple[int, Facts]]:
    values = list(_answers(knowledge, question, piece))
    for count, facts in states:
        holds = question.when.holds(facts)
        if holds is False or (holds is None and question.part in ("piece", "trials")):
            yield count, facts
            continue
        for value in values:
            told = {**facts, question.id: value}
            follow = _FOLLOWS.get(question.id)
            yield count + 1, {**told, **follow(knowledge, told)} if follow else told


def _answers(knowledge: Knowledge, question: Question, piece: str) -> Iterator[Any]:
    """Every answer that another question could tell from the rest."""
    if question.id == "piece":
        yield piece
    elif question.id in ("support", "media", "laid_on"):
        yield from _rows(knowledge, question.id, piece)
    elif question.kind == "one":
        yield from plain_values(knowledge, question)
    elif question.kind == "several":
        ids = [c.id for c in question.choices if c.id not in question.alone]
        sizes = range(1, len(ids) + 1) if len(ids) <= FEW else (1, len(ids))
        yield from (frozenset(some) for n in sizes for some in combinations(ids, n))
        yield from (frozenset((one,)) for one in question.alone)
    else:
        yield "a value"


def _rows(knowledge: Knowledge, question: str, piece: str) -> Iterator[frozenset[str]]:
    """One set of rows for each outcome of what questions ask of them, and of what else follows from them."""
    have = row_classes(knowledge)
    if question == "support":
        mixed = support_mixes(knowledge, piece) if piece in have.supports else ()
        sets = [m.ids for m in (*have.supports.get(piece, ()), *mixed)]
    elif question == "media":
        sets = [m.ids for m in (*have.media, *media_mixes(knowledge))]
    else:
        sets = [frozenset(("none",)), *(a.ids | b.ids for a in have.things for b in have.things)]
    tables = {"support": knowledge.materials, "media": knowledge.media, "laid_on": knowledge.inclusions}
    seen = set()
    for ids in sets:
        facts = {"support": frozenset(), "media": frozenset(), "laid_on": frozenset(), question: ids}
        rows = [tables[question][i] for i in ids if i in tables[question]]
        worth = (follows(knowledge, question, facts), frozenset(getattr(r, "stop", "") for r in rows))
        if worth not in seen:
            seen.add(worth)
            yield ids
