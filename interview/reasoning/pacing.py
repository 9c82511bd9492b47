"""Sealers as slow as this piece and this room make them: a scrap that turned cloudy, air that is damp.

How warm the room is, is counted by the timetable; see lots.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from typing import Any

from knowledge.allowances import allowance
from knowledge.loading import Knowledge
from knowledge.shape import Sealer, Span

CLOUDY = 2.0  # times as long, where a scrap showed that the usual wait was too short; common practice


def in_this_room(knowledge: Knowledge, facts: Mapping[str, Any]) -> Knowledge:
    """The same knowledge with the waits of its sealers made longer; itself where nothing slows them."""
    humidity = facts.get("room_humidity")
    damp = isinstance(humidity, float | int) and humidity > allowance("sealer_humidity").value.high
    factor = (CLOUDY if facts.get("coupon_result") == "cloudy" else 1.0) * (
        allowance("damp_waits").value.high if damp else 1.0
    )
    return _slowed(knowledge, factor) if factor > 1 else knowledge


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
