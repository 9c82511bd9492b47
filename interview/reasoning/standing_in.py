"""Would this do instead of a sealer? A stand-in judged against one piece: what it is, and what it would do there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from interview.reasoning.circumstances import laid_on, media, supports
from knowledge.loading import Knowledge
from knowledge.shape import CARRIERS, BasisKind
from knowledge.topics import StandIn

Verdict = Literal["yes", "scrap", "no"]
ORDER: tuple[Verdict, ...] = ("yes", "scrap", "no")
AT_RISK = frozenset(("pregnant", "asthma", "allergy", "child_helps", "bedroom_only"))
_LIQUID = {"hydrocarbon": "white spirit", "strong": "solvent"}
_WET = ("curls", "tears", "sheds", "crushes", "varies")


@dataclass(frozen=True, slots=True)
class Objection:
    """What stands against it on this piece. `carrier` or `rubbed`: from which property of which row."""

    verdict: Verdict
    says: str


@dataclass(frozen=True, slots=True)
class Judged:
    """The answer: `verdict` is the worst of the thing's own and of what stands against it on this piece."""

    stand_in: StandIn
    verdict: Verdict
    objections: tuple[Objection, ...]
    basis: BasisKind


def stand_in_judged(stand_in: StandIn, knowledge: Knowledge, facts: Mapping[str, Any]) -> Judged:
    """`facts`: of the piece, as circumstances give them; empty where nothing is known yet. Pure."""
    found = tuple(dict.fromkeys(_objections(stand_in, knowledge, facts)))
    own: Verdict = "yes" if stand_in.verdict == "fine" else stand_in.verdict
    worst = max((own, *(o.verdict for o in found)), key=ORDER.index)
    return Judged(stand_in, worst, found, stand_in.basis)


def better_of(one: Judged, other: Judged) -> StandIn | None:
    """Which of two to take: the safer verdict, then the one that yellows and sticks less. None: it does not matter."""
    ranks = [_rank(j) for j in (one, other)]
    if ranks[0] == ranks[1]:
        return None
    return (one if ranks[0] < ranks[1] else other).stand_in


def _rank(judged: Judged) -> tuple[int, ...]:
    row = judged.stand_in
    return (
        ORDER.index(judged.verdict),
        ("yes", "partly", "no").index(row.closes),
        ("no", "little", "yes").index(row.yellows),
        ("no", "damp", "weeks", "yes").index(row.sticky),
        max(row.dry_days, default=0),
    )


def _objections(stand_in: StandIn, knowledge: Knowledge, facts: Mapping[str, Any]) -> Iterator[Objection]:
    rows: tuple[Any, ...] = (*media(knowledge, facts), *supports(knowledge, facts), *laid_on(knowledge, facts))
    if stand_in.carrier in CARRIERS:
        yield from _dissolved(stand_in, rows)
    if stand_in.carrier == "heat" or stand_in.id == "laminating":
        yield from (Objection("no", f"Heat harms {row.name}.") for row in rows if getattr(row, "heat", 0) >= 2)
    if stand_in.method in ("brush", "press"):
        yield from _rubbed(stand_in, knowledge, facts)
    if stand_in.method == "spray" and AT_RISK & frozenset(facts.get("worries", ())):
        yield Objection("no", "Not by you, after what you told me: nobody at risk sprays or stands by.")
    ways = facts.get("ways", frozenset())
    if stand_in.method == "spray" and ways and not any(w in ways for w in ("spray_outdoors", "spray_booth")):
        yield Objection("no", "It is sprayed, and you have no safe place for that.")


def _dissolved(stand_in: StandIn, rows: Sequence[Any]) -> Iterator[Objection]:
    liquid = _LIQUID.get(stand_in.carrier, stand_in.carrier)
    for row in rows:
        level = getattr(row, stand_in.carrier, 0)
        if row.id == "unsure" and level:
            yield Objection("scrap", f"What is on yours is not known, and its {liquid} may move it.")
        elif level >= 2:
            yield Objection("no", f"Its {liquid} makes {row.name} run or swell.")
        elif level == 1:
            yield Objection("scrap", f"Its {liquid} may move {row.name}.")


def _rubbed(stand_in: StandIn, knowledge: Knowledge, facts: Mapping[str, Any]) -> Iterator[Objection]:
    does = "brush" if stand_in.method == "brush" else "pressing it on"
    for row in media(knowledge, facts):
        if row.smudge >= 2 or row.loose >= 2:
            yield Objection(
                "no", f"A {does} smears {row.name}." if does == "brush" else f"{does.capitalize()} smears {row.name}."
            )
    if stand_in.method != "brush":
        return
    for support in supports(knowledge, facts):
        if support.brush in ("tears", "sheds", "crushes"):
            yield Objection("no", f"A wet brush {_DOES[support.brush]} {support.name}.")
        elif support.brush in _WET:
            yield Objection("scrap", f"Wet, {support.name} may curl or cockle.")
    if facts.get("held") == "loose" and laid_on(knowledge, facts):
        yield Objection("no", "A brush drags off what lies loose.")


_DOES = {"tears": "tears", "sheds": "pulls grains or fibres off", "crushes": "crushes"}
