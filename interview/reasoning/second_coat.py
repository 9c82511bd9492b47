"""A second coat: how much to mix, and when it is hard and cured. The formulas are those of the first."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from interview.plan.answers import Answers
from interview.reasoning.areas import extent
from interview.reasoning.rescue import LABEL_TEMPERATURE, Pace
from knowledge.allowances import allowance
from knowledge.formulas import film, mixing
from knowledge.formulas.kinetics import HIGH, LOW, time_at

THICK = (1.0, 1.5)  # mm; thick enough to level and to close small holes: common practice
HARD, CURED = (24.0, 48.0), (72.0, 168.0)  # hours at 21 °C, as the steps of the first coat have them
SAMPLE = 0.01  # m2, where the size is not known: an amount for 100 cm2


@dataclass(frozen=True, slots=True)
class SecondCoat:
    """mL, mixed, with what runs off and stays in the cup. `parts`: mL of resin and hardener of the higher amount,
    where the label's ratio goes by volume. Hours; None where the room is outside 10 to 40 °C.
    """

    low: float
    high: float
    for_all: bool
    parts: tuple[float, float] | None
    hard: tuple[float, float] | None
    cured: tuple[float, float] | None


def second_coat(answers: Answers, pace: Pace) -> SecondCoat:
    """From the size that was told; else for 100 cm2."""
    size = answers.value("size")
    area = extent(size).face * _count(answers) if isinstance(size, dict) else SAMPLE
    open_edge = answers.value("resin_on") not in ("front",) and isinstance(size, dict)
    runs, cup = allowance("drips").value, allowance("cup").value
    low = film.pour_volume(area, THICK[0]) * (1 + (runs.low if open_edge else 0) / 100) * (1 + cup.low / 100)
    high = film.pour_volume(area, THICK[1]) * (1 + (runs.high if open_edge else 0) / 100) * (1 + cup.high / 100)
    return SecondCoat(
        low, high, isinstance(size, dict), _parts(answers.value("ratio"), high), _at(HARD, pace), _at(CURED, pace)
    )


def _count(answers: Answers) -> float:
    count = answers.value("count")
    return float(count) if isinstance(count, (int, float)) else 1.0


def _parts(ratio: Any, total: float) -> tuple[float, float] | None:
    if not (isinstance(ratio, tuple) and len(ratio) == 3 and ratio[2] == "volume"):
        return None
    pot = mixing.split(total, ratio[0], ratio[1])
    return pot.resin, pot.hardener


def _at(hours: tuple[float, float], pace: Pace) -> tuple[float, float] | None:
    if not LOW <= pace.room <= HIGH:
        return None
    low, high = (time_at(h, LABEL_TEMPERATURE, pace.room) for h in hours)
    return low, high
