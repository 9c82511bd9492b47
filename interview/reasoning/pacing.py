"""Waits as long as this piece and this room make them: a scrap that turned cloudy, damp air, thick or green wood.

How warm the room is, is counted by the timetable; see lots.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from typing import Any

from interview.plan.parts import Decision
from interview.reasoning.numeric_answers import Told
from knowledge.allowances import allowance
from knowledge.formulas.drying import drying_days
from knowledge.loading import Knowledge
from knowledge.shape import Sealer, Span

MINERAL = {"stone", "ceramic", "cement"}
CLOUDY = 2.0  # times as long, where a scrap showed that the usual wait was too short; common practice


def in_this_room(knowledge: Knowledge, facts: Mapping[str, Any]) -> Knowledge:
    """The same knowledge with the waits of its sealers made longer; itself where nothing slows them."""
    humidity = facts.get("room_humidity")
    damp = isinstance(humidity, float | int) and humidity > allowance("sealer_humidity").value.high
    factor = (CLOUDY if facts.get("coupon_result") == "cloudy" else 1.0) * (
        allowance("damp_waits").value.high if damp else 1.0
    )
    return _slowed(knowledge, factor) if factor > 1 else knowledge


def dried_through(told: Told, decision: Decision) -> Decision:
    """The wait for a damp piece, by what it is and how thick: nine tenths of what is to go."""
    families = {f for z in decision.zones if z.kind != "inclusion" for f in z.ids("family")}
    fresh, thick = told.facts.get("dryness") == "green", told["thickness"].value
    wait = (
        _wood(thick, fresh)
        if families & {"wood", "board", "cork"}
        else _mineral(thick, fresh)
        if families & MINERAL
        else None
    )
    if wait is None:
        return decision
    return replace(decision, preps=tuple(replace(p, wait=wait) if p.id == "dry_piece" else p for p in decision.preps))


def _wood(thick: float, fresh: bool) -> tuple[float, float]:
    """Minutes, in whole days, three at least."""
    speed = allowance("wood_diffusion").value
    longer = allowance("green_longer").value.high if fresh else 1.0
    days = [max(3.0, math.ceil(longer * drying_days(thick, d * 1e-11))) for d in (speed.high, speed.low)]
    return days[0] * 1440.0, days[1] * 1440.0


def _mineral(thick: float, fresh: bool) -> tuple[float, float]:
    a_centimetre = allowance("mineral_cures" if fresh else "mineral_dries").value
    least = 28.0 if fresh else 3.0
    low, high = (max(least, math.ceil(d * thick / 10)) for d in (a_centimetre.low, a_centimetre.high))
    return low * 1440.0, high * 1440.0


@lru_cache(maxsize=16)
def _slowed(knowledge: Knowledge, factor: float) -> Knowledge:
    return replace(knowledge, sealers={id: _later(sealer, factor) for id, sealer in knowledge.sealers.items()})


def _later(sealer: Sealer, factor: float) -> Sealer:
    window = sealer.recoat_window
    return replace(
        sealer,
        touch=_times(sealer.touch, factor),
        recoat=_times(sealer.recoat, factor),
        recoat_window=_times(window, factor) if window else None,
        ready=_times(sealer.ready, factor),
    )


def _times(span: Span, factor: float) -> Span:
    return Span(span.low * factor, span.high * factor, span.unit)
