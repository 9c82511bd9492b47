"""The proof for whole pieces: every class of material with every class of medium, and all mixes of either.

The rest of the answers is drawn, the same each time, so that over the walk every two answers that can stand
together do. Each piece is decided and checked whole (`held`); its zones must be in the states that `zones`
has gone through.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from typing import Any

from interview.plan.answers import NOT_SURE, Answers
from interview.reasoning.circumstances import settled
from knowledge.loading import Knowledge
from knowledge.shape import Question
from tests.proof.folding import Mix, classes, media_worth, mixes, offered, support_worth, thing_class
from tests.proof.held import Piece, faults, look_at
from tests.proof.states import strange
from tests.proof.tally import Tally

ROWS = ("support", "media")
TRIALS = ("drop", "rub", "swab", "coupon")


@dataclass(frozen=True, slots=True)
class Base:
    """What a piece is made on and with. `number`: which of the bases it is; the rest of the answers is drawn by it."""

    number: int
    piece: str
    support: frozenset[str]
    media: frozenset[str]


@dataclass(frozen=True, slots=True)
class Classes:
    """Classes of rows: one mix of a single row for each. Supports by kind of piece."""

    media: tuple[Mix, ...]
    things: tuple[Mix, ...]
    supports: Mapping[str, tuple[Mix, ...]]


@lru_cache(maxsize=4)
def row_classes(knowledge: Knowledge) -> Classes:
    """What rows there are, as far as rules can tell them apart."""
    pieces = knowledge.questions["support"].families
    return Classes(
        tuple(classes(knowledge.media, lambda ids: media_worth(knowledge, ids))),
        tuple(classes(knowledge.inclusions, lambda ids: thing_class(knowledge, next(iter(ids))))),
        {piece: tuple(classes(offered(knowledge, piece), _worth(knowledge, piece))) for piece in pieces},
    )


@lru_cache(maxsize=4)
def media_mixes(knowledge: Knowledge) -> tuple[Mix, ...]:
    """All mixes of media that may be coated."""
    may = [m for m in row_classes(knowledge).media if not _stops(knowledge.media, m)]
    return tuple(mixes(may, lambda ids: media_worth(knowledge, ids)))


@lru_cache(maxsize=32)
def support_mixes(knowledge: Knowledge, piece: str) -> tuple[Mix, ...]:
    """All mixes of materials that a kind of piece may be made on and that may be coated."""
    may = [m for m in row_classes(knowledge).supports[piece] if not _stops(knowledge.materials, m)]
    return tuple(mixes(may, _worth(knowledge, piece)))


def _worth(knowledge: Knowledge, piece: str) -> Callable[[frozenset[str]], tuple[Any, ...]]:
    return lambda ids: support_worth(knowledge, piece, ids)


def _stops(table: Mapping[str, Any], mix: Mix) -> bool:
    """A row with a way out of its own settles its zone alone: three rules, which read nothing else."""
    return any(table[i].stop for i in mix.ids)


def bases(knowledge: Knowledge) -> list[Base]:
    """Single classes of either with all classes and mixes of the other; castings have neither."""
    have = row_classes(knowledge)
    made: dict[tuple[str, frozenset[str], frozenset[str]], None] = {}
    for piece, supports in have.supports.items():
        for support in supports:
            for medium in (*have.media, *media_mixes(knowledge)):
                made[piece, support.ids, medium.ids] = None
        for support in support_mixes(knowledge, piece):
            for medium in have.media:
                made[piece, support.ids, medium.ids] = None
    return _numbered([*made, *_castings(have)])


def single_bases(knowledge: Knowledge) -> list[Base]:
    """Every class of material with every class of medium, and every two things cast."""
    have = row_classes(knowledge)
    made = [(p, s.ids, m.ids) for p, supports in have.supports.items() for s in supports for m in have.media]
    return _numbered([*made, *_castings(have)])


def _castings(have: Classes) -> Iterator[tuple[str, frozenset[str], frozenset[str]]]:
    """Two things stand in the places of material and medium."""
    return (("cast", one.ids, other.ids) for one, other in combinations(have.things, 2))


def _numbered(made: Sequence[tuple[str, frozenset[str], frozenset[str]]]) -> list[Base]:
    return [Base(n, *parts) for n, parts in enumerate(made)]


# ------------------------------------------------------------------ the rest of the answers


def answers_for(knowledge: Knowledge, base: Base) -> Answers:
    """All answers of one piece, in the order of the questions; those that do not apply are told all the same."""
    rng = random.Random(base.number)
    tried = frozenset(t for t in TRIALS if rng.random() < 0.35) or frozenset(("none",))
    answers = Answers()
    for question in knowledge.questions.values():
        if question.part in ("piece", "trials"):
            answers = answers.say(question.id, _value(knowledge, question, base, tried, rng))
    return answers


def _value(knowledge: Knowledge, question: Question, base: Base, tried: frozenset[str], rng: random.Random) -> Any:
    cast = base.piece == "cast"
    fixed = {"piece": base.piece, "support": base.support, "media": base.media, "tried": tried}
    if question.id in fixed:
        return NOT_SURE if fixed[question.id] == frozenset((question.unsure,)) else fixed[question.id]
    if question.id == "laid_on":
        return base.support | base.media if cast else _things(knowledge, base, rng)
    if rng.random() < 0.1:
        return NOT_SURE
    if question.id == "mounted" and rng.random() < 0.4:
        return "no"
    values = plain_values(knowledge, question)
    if question.kind == "several":
        alone = [v for v in values if v in question.alone]
        if alone and rng.random() < 0.3:
            return frozenset(alone[:1])
        free = [v for v in values if v not in question.alone]
        return frozenset(rng.sample(free, min(len(free), rng.choice((1, 1, 2, 3)))))
    return rng.choice(values)


def plain_values(knowledge: Knowledge, question: Question) -> Sequence[str]:
    """The single answers a question offers."""
    rows = {"mount": [m.id for m in knowledge.materials.values() if m.mount], "": []}.get(question.rows, [])
    return (*rows, *(c.id for c in question.choices))


def _things(knowledge: Knowledge, base: Base, rng: random.Random) -> Any:
    """Nothing, one thing after another, two, or not sure."""
    things = row_classes(knowledge).things
    draw = rng.random()
    if draw < 0.45:
        return frozenset(("none",))
    if draw < 0.5:
        return NOT_SURE
    one = things[base.number % len(things)].ids
    return one if draw < 0.9 else one | rng.choice(things).ids


# ------------------------------------------------------------------ the walk


def prove(knowledge: Knowledge, chosen: Sequence[Base], tally: Tally) -> Iterator[Base]:
    """Check each; gives each back when it is done."""
    for base in chosen:
        check(knowledge, answers_for(knowledge, base), tally)
        yield base


def check(knowledge: Knowledge, answers: Answers, tally: Tally) -> Piece:
    """One piece: decided, and everything that must hold looked at."""
    piece = look_at(knowledge, answers, settled(knowledge, answers))
    decision = piece.decision
    tally.counts["pieces decided and checked whole"] += 1
    tally.counts["zones in them"] += len(decision.zones)
    tally.counts["treatments in them"] += len(decision.treatments)
    tally.counts["steps in them"] += len(piece.steps)
    for fault in faults(piece):
        tally.fault(fault, told(piece))
    for zone in decision.zones:
        for fault in strange(knowledge, zone):
            tally.fault(fault, told(piece))
    tally.held |= rules_behind(piece)
    return piece


def told(piece: Piece) -> str:
    """The answers that apply, in one line."""
    shown = {q: a.value for q, a in piece.answers.items() if q in piece.around.facts}
    return ", ".join(f"{q} = {sorted(v) if isinstance(v, frozenset) else v}" for q, v in shown.items())


def rules_behind(piece: Piece) -> set[tuple[str, str]]:
    """Every rule that had a part in this piece, with its table."""
    k, d = piece.knowledge, piece.decision
    found = {("needs", f.rule) for v in d.verdicts for f in (*v.findings, *v.lifted)}
    found |= {("bars", f.rule) for b in d.barred for f in b.findings}
    found |= {("coats", f.rule) for t in d.treatments for f in t.findings}
    found |= {("preparations", p.id) for p in d.preps} | {("trials", t.id) for t in d.trials}
    found |= {("ways_out", o.id) for o in d.outlets} | {("remarks", n.rule) for n in d.notes}
    found |= {("sealers", t.sealer) for t in d.treatments}
    for table in ("steps", "cautions", "remedies"):
        found |= {(table, r.id) for r in getattr(k, table).values() if r.when.holds(piece.facts)}
    for table in ("contradictions", "remarks"):
        found |= {(table, r.id) for r in getattr(k, table).values() if r.when.holds(piece.around.facts)}
    return found


def pairs(piece: Piece) -> Iterator[tuple[str, str]]:
    """Every two answers that stood together and applied; a set of answers counts as each of its members."""
    single: list[str] = []
    for question, answer in piece.answers.items():
        if question in piece.around.facts and question not in ROWS:
            values = answer.value if isinstance(answer.value, frozenset) else (answer.value,)
            single += [f"{question}={v}" for v in values]
    return combinations(single, 2)
