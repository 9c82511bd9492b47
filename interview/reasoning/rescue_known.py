"""What a kept plan knows already of a trouble: nothing that it holds is asked again. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from interview.plan.answers import Answers
from interview.plan.doings import Done
from interview.reasoning.rescue import LABEL_TEMPERATURE, USUAL_WORKING, Pace
from knowledge.loading import Knowledge
from knowledge.troubles import since_of

_UNDER = {
    "paper": "paper", "photo": "photo", "jigsaw": "jigsaw", "board": "board", "canvas": "canvas", "cloth": "canvas",
    "wood": "wood", "plastic": "plastic", "glass": "glass", "ceramic": "glass", "metal": "glass",
}  # fmt: skip
_ROOMS = {"cold": 14.0, "cold and humid": 14.0, "warm": 29.0, "car": 30.0}  # °C, where only a word is known
COOL, WARM, DAMP = 18.0, 27.0, 70.0  # °C, °C, % relative humidity: common practice


def known(
    knowledge: Knowledge, answers: Answers, did: Iterable[Done], now: datetime
) -> tuple[dict[str, str | None], float | None]:
    """Finds that need no asking, and the hours since the last pour that was noted as done."""
    finds: dict[str, str | None] = {}
    under = _under(knowledge, answers)
    if under:
        finds["under"] = under
    room = _room(answers.value("room_temperature"), answers.value("room_humidity"))
    if room:
        finds["room"] = room
    poured = [d.at for d in did if d.step.startswith("pour.") and not d.skipped]
    if not poured:
        return finds, None
    hours = max(0.0, (now - max(poured)).total_seconds() / 3600)
    return {**finds, "since": since_of(hours), "begun": "yes"}, hours


def _under(knowledge: Knowledge, answers: Answers) -> str:
    """Only where one thing alone can be meant."""
    laid_on = answers.value("laid_on") or frozenset()
    support = answers.value("support") or frozenset()
    if laid_on - {"none"} or not isinstance(support, frozenset):
        return ""
    return under_of(frozenset(knowledge.materials[s].family for s in support if s in knowledge.materials))


def under_of(families: Iterable[str]) -> str:
    """The find of the look `under` for these families of material; "" where they are several, or none of them."""
    one = tuple(families)
    return _UNDER.get(one[0], "") if len(one) == 1 else ""


def _room(celsius: object, humidity: object) -> str:
    cold = isinstance(celsius, (int, float)) and celsius < COOL
    damp = isinstance(humidity, (int, float)) and humidity > DAMP
    if cold or damp:
        return "cold and humid" if cold and damp else "cold" if cold else "humid"
    if isinstance(celsius, (int, float)):
        return "warm" if celsius > WARM else "normal"
    return ""


def pace_of(answers: Answers, room: str | None) -> Pace:
    """The label's working time and the room, where told; else the usual ones, and it is said so."""
    working, celsius = answers.value("working_time"), answers.value("room_temperature")
    told = isinstance(working, (int, float))
    return Pace(
        float(working) if isinstance(working, (int, float)) else USUAL_WORKING,
        float(celsius) if isinstance(celsius, (int, float)) else _ROOMS.get(room or "", LABEL_TEMPERATURE),
        assumed=not told,
    )
