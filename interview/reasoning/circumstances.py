"""From answers to facts: which questions apply, what is taken as said, what is assumed, what follows.

`known` holds only what has been answered (what the agenda reads, so that nothing is asked on a guess).
`settled` fills every open question that applies with its safe side, so that a plan can be made at any time.
An answer to a question that does not apply is left out: it cannot leak into the plan.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from interview.conversation.answers import Answers
from knowledge.loading import Knowledge
from knowledge.shape import Inclusion, Material, Medium, Question


@dataclass(frozen=True, slots=True)
class Circumstances:
    """Facts by name. `assumed`: questions answered "not sure". `open`: questions that apply and have no answer."""

    facts: Mapping[str, Any]
    assumed: frozenset[str]
    open: tuple[str, ...]


def known(knowledge: Knowledge, answers: Answers) -> Circumstances:
    return _walk(knowledge, answers, assume=False)


def settled(knowledge: Knowledge, answers: Answers) -> Circumstances:
    return _walk(knowledge, answers, assume=True)


def assumed_value(question: Question) -> Any:
    """What "not sure" is taken as."""
    return frozenset(question.unsure.split()) if question.kind == "several" else question.unsure


def _walk(knowledge: Knowledge, answers: Answers, *, assume: bool) -> Circumstances:
    facts: dict[str, Any] = {"pours": True}
    assumed: list[str] = []
    open_: list[str] = []
    for question in knowledge.questions.values():
        holds = question.when.outcome(facts).holds
        if not holds:
            continue
        if answers.has(question.id):
            sure = not answers[question.id].unsure
            value = answers[question.id].value if sure else assumed_value(question)
            if not sure:
                assumed.append(question.id)
        else:
            open_.append(question.id)
            if not assume or question.part not in ("piece", "trials"):
                continue
            value = assumed_value(question)
            assumed.append(question.id)
        facts[question.id] = value
        follow = _FOLLOWS.get(question.id)
        if follow is not None:
            facts.update(follow(knowledge, facts))
    return Circumstances(facts, frozenset(assumed), tuple(open_))


def rows_of(table: Mapping[str, Any], ids: Iterable[str]) -> tuple[Any, ...]:
    """The rows for these ids in the table's order; ids that name no row (such as "none") are passed over."""
    wanted = set(ids)
    return tuple(row for id, row in table.items() if id in wanted)


def supports(knowledge: Knowledge, facts: Mapping[str, Any]) -> tuple[Material, ...]:
    return rows_of(knowledge.materials, facts.get("support", ()))


def media(knowledge: Knowledge, facts: Mapping[str, Any]) -> tuple[Medium, ...]:
    return rows_of(knowledge.media, facts.get("media", ()))


def laid_on(knowledge: Knowledge, facts: Mapping[str, Any]) -> tuple[Inclusion, ...]:
    return rows_of(knowledge.inclusions, facts.get("laid_on", ()))


def _after_support(knowledge: Knowledge, facts: Mapping[str, Any]) -> dict[str, Any]:
    rows = supports(knowledge, facts)
    return {
        "support.family": frozenset(r.family for r in rows),
        "support.face": frozenset(r.face for r in rows),
        "support.brush": frozenset(r.brush for r in rows),
        "support.moist": max((r.moist for r in rows), default=0),
        "support.drinks": any("open" in (r.face, r.core, r.back) for r in rows),
    }


def _after_finish(_: Knowledge, facts: Mapping[str, Any]) -> dict[str, Any]:
    closed = facts["wood_finish"] in ("painted", "varnished")
    return {"support.face": frozenset(("closed",))} if closed else {}


def _after_media(knowledge: Knowledge, facts: Mapping[str, Any]) -> dict[str, Any]:
    return {"media.dries": any(m.dry.high > 0 for m in media(knowledge, facts))}


def _after_laid_on(knowledge: Knowledge, facts: Mapping[str, Any]) -> dict[str, Any]:
    rows = laid_on(knowledge, facts)
    chosen = [*rows, *supports(knowledge, facts), *media(knowledge, facts)]
    return {
        "laid_on.any": bool(rows),
        "laid_on.natural": any(r.natural for r in rows),
        "at_risk": any(r.stop in ("copy", "specialist") for r in chosen)
        or any(r.family == "photo" or r.brush == "curls" for r in supports(knowledge, facts)),
    }


_FOLLOWS = {
    "support": _after_support,
    "wood_finish": _after_finish,
    "media": _after_media,
    "laid_on": _after_laid_on,
}
