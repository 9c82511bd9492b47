"""Answers and decision -> every figure, the advice that rests on them, and what to buy. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from interview.plan.answers import Answers
from interview.plan.parts import Decision, Figure, Finding
from interview.reasoning.air import ROOMS_LEAST, air_figures, air_findings, room_volume
from interview.reasoning.amounts import drink_figures, resin_figures, sealer_figures
from interview.reasoning.areas import extent, piece_extent
from interview.reasoning.numeric_answers import Told
from interview.reasoning.pots import (
    Bought,
    bought,
    cost_figures,
    float_figures,
    float_findings,
    mixing_figures,
)
from interview.reasoning.pouring import layer_figures
from interview.reasoning.room import air_figures as pore_figures
from interview.reasoning.room import (
    dew_figures,
    dew_findings,
    time_figures,
    wood_figures,
    wood_findings,
)
from interview.reasoning.weight import weight_figures
from knowledge.loading import Knowledge

MOST_POURS = 50


@dataclass(frozen=True, slots=True)
class Figured:
    """All numbers of a plan. `room`: advice on room and air, in the order to read it."""

    figures: tuple[Figure, ...] = ()
    findings: tuple[Finding, ...] = ()
    bought: tuple[Bought, ...] = ()

    @property
    def room(self) -> tuple[str, ...]:
        return tuple(f.says for f in self.findings)


def figured(told: Told, decision: Decision) -> Figured:
    """`told`: with the facts of the decided piece together with the number questions that apply
    (`agenda.number_circumstances(...).facts`). Where nothing is poured there are no numbers.
    """
    sealers = sealer_figures(told, decision)
    resin = resin_figures(told, decision)
    pores = pore_figures(told, decision)
    floats = float_figures(told, decision)
    woods = wood_figures(told, decision)
    goods = bought(told, decision, (*sealers, *resin))
    figures = (
        *sealers,
        *resin,
        *drink_figures(told, decision),
        *layer_figures(told),
        *mixing_figures(told, decision),
        *dew_figures(told),
        *pores,
        *air_figures(told, decision),
        *woods,
        *time_figures(told),
        *cost_figures(told, goods),
        *floats,
        *weight_figures(told, decision),
    )
    findings = (
        *dew_findings(told),
        *wood_findings(told, woods),
        *air_findings(told, decision),
        *float_findings(floats),
    )
    return Figured(figures, findings, goods)


def number_faults(knowledge: Knowledge, answers: Answers, facts: Mapping[str, Any]) -> tuple[tuple[str, str], ...]:
    """(question to ask again, what is wrong) for numbers that cannot be so, each on its own or together."""
    told = Told(knowledge, answers, facts)
    found: list[tuple[str, str]] = []
    size, room = piece_extent(told), told["air_room"]
    if room.said and told["size"].said:
        inside = room_volume(room.value)
        body = size.face * (size.depth or 1.0) / 1000
        if inside < ROOMS_LEAST or inside <= body or extent(room.value).face < size.face:
            found.append(
                (
                    "air_room",
                    f"A room of {inside:.2g} m3 is smaller than the work needs. Type length x width x height.",
                )
            )
    coat, deep = told["coat"], told["deepest"]
    if coat.said and deep.said and coat.value > MOST_POURS * deep.value:
        found.append(
            (
                "deepest",
                f"That makes more than {MOST_POURS} pours. Type how deep one pour may be, such as 6 mm.",
            )
        )
    first, second = told["weighing_first"], told["weighing_second"]
    if first.said and second.said and not 0.3 <= second.value / first.value <= 3:
        found.append(
            (
                "weighing_second",
                "The two weighings are too far apart to be of the same piece. Type both in grams.",
            )
        )
    return tuple(found)
