"""What several rows come to together, property by property: for a class ("some wood") and for a zone."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from knowledge.shape import Combine, Span

MINUTES = {"minute": 1, "hour": 60, "day": 1440, "week": 10080, "month": 43200, "year": 525600}


def combined(how: Combine, values: Sequence[Any], worst_first: Sequence[str] = ()) -> Any:
    """One value of many. `how`: as properties.toml says it of the property. `values`: at least one."""
    return _COMBINE[how](values, worst_first)


def _worst(values: Sequence[Any], worst_first: Sequence[str]) -> Any:
    return next((value for value in worst_first if value in values), "")


def _range(values: Sequence[Any], _: Sequence[str]) -> Span | None:
    """From the least to the most. None where one is not known."""
    if None in values:
        return None
    return Span(min(span.low for span in values), max(span.high for span in values), values[0].unit)


def _longest(values: Sequence[Any], _: Sequence[str]) -> Span:
    return max(values, key=lambda span: span.high * MINUTES[span.unit.removesuffix("s")])


def _usual(values: Sequence[Any], _: Sequence[str]) -> Any:
    best, count = max(sorted(Counter(v for v in values if v).items()), key=lambda pair: pair[1], default=("", 0))
    return best if 2 * count >= len(values) else ""


_COMBINE: Mapping[str, Callable[[Sequence[Any], Sequence[str]], Any]] = {
    "most": lambda values, _: max(values),
    "worst": _worst,
    "any": lambda values, _: any(values),
    "all": lambda values, _: all(values),
    "range": _range,
    "longest": _longest,
    "usual": _usual,
    "union": lambda values, _: frozenset(value for value in values if value),
    "joined": lambda values, _: tuple(dict.fromkeys(one for value in values for one in value)),
    "shared": lambda values, _: values[0] if len(set(values)) == 1 else "",
}
