"""What may go wrong with this piece, told beforehand: each sign with its usual cause and the ways on, from one place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from interview.plan.parts import Basis, Mishap, Warned
from interview.reasoning.rescue import Seen, ranked, way_of
from interview.reasoning.rescue_known import under_of
from interview.text.wording import capital
from knowledge.loading import Knowledge
from knowledge.troubles import Hazard, load_troubles


def mishaps(knowledge: Knowledge, facts: Mapping[str, Any]) -> tuple[Mishap, ...]:
    """In the order of the pointers; the last line tells where the rest is."""
    return (*_told(knowledge, facts), _MORE) if knowledge.remedies else ()


def lessons(knowledge: Knowledge, facts: Mapping[str, Any]) -> tuple[Warned, ...]:
    """What went wrong before with this piece, and what to do otherwise; first among the cautions."""
    question = knowledge.questions.get("went_wrong")
    before = facts.get("went_wrong", frozenset())
    choices = [c for c in question.choices if c.id in before and c.hint] if question else []
    return tuple(
        Warned(f"lesson.{c.id}", "Last time", f"{capital(c.text)}. {c.hint}", c.hint, Basis("your trial"))
        for c in choices
    )


_MORE = Mishap(
    "rescue", "Anything else, or to be sure of the cause", "There are fifty signs, and most have several causes.",
    "beforepour rescue asks a few looks and tells the one way on, with its times.", Basis("common practice"),
)  # fmt: skip


def _told(knowledge: Knowledge, facts: Mapping[str, Any]) -> Iterator[Mishap]:
    troubles = load_troubles()
    under = under_of(facts.get("support.family", frozenset()))
    for row in knowledge.remedies.values():
        if row.when.holds(facts):
            hazard = troubles.hazards.get(row.sign)
            yield _hazard(row.id, hazard) if hazard else _sign(row.id, row.sign, under)


def _hazard(id: str, hazard: Hazard) -> Mishap:
    basis = Basis(hazard.basis, hazard.source, hazard.locator)
    return Mishap(id, hazard.name, "The person comes before the piece.", " ".join(hazard.first), basis)


@cache
def _sign(id: str, sign: str, under: str) -> Mishap:
    troubles = load_troubles()
    seen = Seen(((sign, 1.0),), {"under": under} if under else {})
    cause = ranked(troubles, seen)[0][0]
    stage = troubles.signs[sign].stage
    stages = (stage,) if stage else ("flowing", "cured")
    ways = {s: way_of(troubles, cause, s, seen) for s in stages}
    last = ways[stages[-1]]
    if len({w.id for w in ways.values()}) == 1:
        mend = f"{last.name}. {' '.join(last.lines)}"
    else:
        mend = f"While it flows: {' '.join(ways['flowing'].lines)} Once hard: {last.name[:1].lower()}{last.name[1:]}."
    basis = Basis(cause.basis, cause.source, cause.locator)
    return Mishap(
        id,
        capital(troubles.signs[sign].name),
        f"Mostly {cause.name}. {cause.says}",
        f"{mend} Never: {' '.join(last.worse)}",
        basis,
    )
