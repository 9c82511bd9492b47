"""Durations from the data files -> minutes. Months are thirty days."""

from __future__ import annotations

from knowledge.shape import Span

_IN = {"minute": 1, "hour": 60, "day": 1440, "week": 10080, "month": 43200, "year": 525600}


def minutes(span: Span) -> tuple[float, float]:
    """(least, most). Raises ValueError where the unit is no duration."""
    factor = _IN.get(span.unit.removesuffix("s"))
    if factor is None:
        raise ValueError(f"{span.unit!r} is no duration; write minutes, hours, days, weeks or months")
    return span.low * factor, span.high * factor


def in_words(low: float, high: float) -> str:
    """ "24 to 48 hours", in the largest unit that keeps both numbers plain."""
    for unit, size in reversed(list(_IN.items())):
        if unit in ("month", "year") and (low % size or high % size):
            continue
        if low >= size and high >= size and (low / size) % 0.5 == 0 and (high / size) % 0.5 == 0:
            return _pair(low / size, high / size, unit)
    return _pair(round(low), round(high), "minute")


def _pair(low: float, high: float, unit: str) -> str:
    text = f"{low:g}" if low == high else f"{low:g} to {high:g}"
    return f"{text} {unit}{'' if text == '1' else 's'}"
