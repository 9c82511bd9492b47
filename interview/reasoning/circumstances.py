"""From answers to facts: which questions apply, what is taken as said, what is assumed, what follows.

`known` holds only what has been answered (what the agenda reads, so that nothing is asked on a guess).
`settled` fills every open question that applies with its safe side, so that a plan can be made at any time.
An answer to a question that does not apply is left out: it cannot leak into the plan.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from interview.plan.answers import Answers
from interview.text.minutes import in_words, minutes
from knowledge.classes import class_named
from knowledge.combining import combined
from knowledge.loading import Knowledge
from knowledge.shape import Inclusion, Material, Medium, Question

PIECE = ("piece", "trials")
NUMBERS = ("numbers", "clock")


@dataclass(frozen=True, slots=True)
class Circumstances:
    """Facts by name. `assumed`: questions answered "not sure", or with a class ("some wood"). `open`: those that
    apply and have no answer."""

    facts: Mapping[str, Any]
    assumed: frozenset[str]
    open: tuple[str, ...]


def known(knowledge: Knowledge, answers: Answers) -> Circumstances:
    """Facts from answers alone."""
    return walk(knowledge, answers, {}, PIECE)


def settled(knowledge: Knowledge, answers: Answers) -> Circumstances:
    """Facts with every open question about the piece taken on the safe side."""
    return walk(knowledge, answers, {}, PIECE, assumed_value)


def hoped(knowledge: Knowledge, answers: Answers) -> Circumstances:
    """Facts with every open question about the piece taken as its first choice: mostly the least trouble.

    Beside `settled` it shows what hangs on an answer where what is assumed of another question would hide it.
    """
    return walk(knowledge, answers, {}, PIECE, _first_choice)


def numbers(knowledge: Knowledge, answers: Answers, facts: Mapping[str, Any]) -> Circumstances:
    """The questions that come once the decision is known; `facts` are those of the decided piece."""
    return walk(knowledge, answers, facts, NUMBERS)


def assumed_value(question: Question) -> Any:
    """What "not sure" is taken as."""
    return frozenset(question.unsure.split()) if question.kind == "several" else question.unsure


def _first_choice(question: Question) -> Any:
    if not question.choices or question.always:
        return assumed_value(question)
    first = question.choices[0].id
    return frozenset((first,)) if question.kind == "several" else first


def walk(
    knowledge: Knowledge,
    answers: Answers,
    start: Mapping[str, Any],
    parts: tuple[str, ...],
    fill: Callable[[Question], Any] | None = None,
) -> Circumstances:
    """Go through the questions of these parts in order, each leaning only on what came before.

    `fill`: what an open question is taken as; without it, it is left open.
    """
    facts: dict[str, Any] = dict(start)
    said = {id: answer for id, answer in answers.entries if answer.origin != "stale"}
    assumed: list[str] = []
    open_: list[str] = []
    for question in knowledge.questions.values():
        if question.part not in parts or not question.when.holds(facts):
            continue
        answer = said.get(question.id)
        if answer is None and question.heard:
            facts[question.id] = assumed_value(question)
        elif answer is None:
            open_.append(question.id)
            if fill is None:
                continue
            facts[question.id] = fill(question)
        elif answer.unsure:
            assumed.append(question.id)
            facts[question.id] = assumed_value(question)
        else:
            facts[question.id] = answer.value
            if question.rows and class_named(knowledge.classes, answer.value):
                assumed.append(question.id)
        if question.id in _GUESSED and (answer is None or answer.unsure):
            facts[f"{question.id}.taken"] = (
                True  # nobody said so: names of zones do not, and what is drawn on goes first
            )
        follow = _FOLLOWS.get(question.id)
        if follow is not None:
            facts.update(follow(knowledge, facts))
    return Circumstances(facts, frozenset(assumed), tuple(open_))


def rows_of(table: Mapping[str, Any], ids: Iterable[str]) -> tuple[Any, ...]:
    """The rows for these ids in the table's order; ids that name no row (such as "none") are passed over."""
    wanted = set(ids) & table.keys()
    if len(wanted) < 2:  # by far the most usual: no need to go through the table
        return tuple(table[id] for id in wanted)
    return tuple(row for id, row in table.items() if id in wanted)


def supports(knowledge: Knowledge, facts: Mapping[str, Any]) -> tuple[Material, ...]:
    return rows_of(knowledge.materials, facts.get("support", ()))


def media(knowledge: Knowledge, facts: Mapping[str, Any]) -> tuple[Medium, ...]:
    return rows_of(knowledge.media, facts.get("media", ()))


def laid_on(knowledge: Knowledge, facts: Mapping[str, Any]) -> tuple[Inclusion, ...]:
    return rows_of(knowledge.inclusions, facts.get("laid_on", ()))


def stuff(knowledge: Knowledge, facts: Mapping[str, Any]) -> tuple[tuple[str, Any], ...]:
    """Every row that is in the piece, each with the question that named it."""
    mount = rows_of(knowledge.materials, [facts.get("mounted", "no")])
    named = {
        "support": supports(knowledge, facts), "mounted": mount, "media": media(knowledge, facts),
        "laid_on": laid_on(knowledge, facts),
    }  # fmt: skip
    return tuple((question, row) for question, rows in named.items() for row in rows)


def _after_support(knowledge: Knowledge, facts: Mapping[str, Any]) -> dict[str, Any]:
    rows = supports(knowledge, facts)
    shared = ((p, [getattr(row, p.id) for row in rows]) for p in knowledge.properties.values() if p.support)
    found = {f"support.{p.id}": combined(p.support, values) for p, values in shared if values and p.support}
    return {**found, "support.drinks": any("open" in (r.face, r.core, r.back) for r in rows)}


def _after_finish(_: Knowledge, facts: Mapping[str, Any]) -> dict[str, Any]:
    closed = facts["wood_finish"] in ("painted", "varnished")
    return {"support.face": frozenset(("closed",))} if closed else {}


def _after_media(knowledge: Knowledge, facts: Mapping[str, Any]) -> dict[str, Any]:
    rows = [m for m in media(knowledge, facts) if m.dry.high > 0]
    slowest = max(rows, key=lambda m: minutes(m.dry)[1], default=None)
    says = (
        f"{slowest.name[:1].upper()}{slowest.name[1:]} wants {in_words(*minutes(slowest.dry))} to dry."
        if slowest
        else ""
    )
    return {"media.dries": bool(rows), "media.slowest": says}


def _after_laid_on(knowledge: Knowledge, facts: Mapping[str, Any]) -> dict[str, Any]:
    rows = laid_on(knowledge, facts)
    chosen: list[Any] = [*rows, *supports(knowledge, facts), *media(knowledge, facts)]
    return {
        "laid_on.any": bool(rows),
        "laid_on.natural": any(r.natural for r in rows),
        "at_risk": _could_matter(facts) or any(r.stop for r in chosen),
    }


def _could_matter(facts: Mapping[str, Any]) -> bool:
    """Whether it may be the only one of its kind: all but bare stuff, and a jigsaw, with nothing on it."""
    if facts.get("laid_on", frozenset(("none",))) != frozenset(("none",)):
        return True
    if facts.get("piece") in ("wood", "hard"):
        return facts.get("media", frozenset()) != frozenset(("no_medium",))
    return facts.get("piece") != "jigsaw"


_GUESSED = ("opened", "wood_finish")

_FOLLOWS = {
    "support": _after_support,
    "wood_finish": _after_finish,
    "media": _after_media,
    "laid_on": _after_laid_on,
}
