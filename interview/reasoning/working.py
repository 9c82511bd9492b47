"""Putting a figure together: its number, how it is shown, and the lines a person would write on paper."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from interview.plan.parts import Basis, Figure, Finding, Input
from interview.quantities.written import amount, plain
from interview.text.minutes import in_words
from knowledge.shape import Span

Group = Literal["amounts", "mixing", "room", "air", "wood", "cost", "time", "other"]


@dataclass(frozen=True, slots=True)
class Reckoned:
    """How a figure came about: its formula in words, the lines of the calculation, what went in, where it holds."""

    formula: str
    lines: Sequence[str]
    inputs: Sequence[Input]
    range: str = ""


def figure(
    id: str, label: str, value: Span, how: Reckoned, *, group: Group, shown: str = "", up: bool = False
) -> Figure:
    """A figure. It counts as assumed where anything it rests on is; `up`: rounded up, for what has to be bought."""
    inputs = tuple(dict.fromkeys(how.inputs))
    guessed = any(i.basis.kind == "assumed" for i in inputs)
    return Figure(
        id=id,
        label=label,
        low=float(value.low),
        high=float(value.high),
        unit=value.unit,
        shown=shown or amount(value.low, value.high, value.unit, up=up),
        formula=how.formula,
        working=tuple(how.lines),
        inputs=inputs,
        basis=Basis("assumed" if guessed else "computed"),
        range=how.range,
        group=group,
    )


def finding(rule: str, says: str, *, kind: str = "computed", because: Sequence[str] = ()) -> Finding:
    """A conclusion from figures. `because`: ids of the questions it rests on."""
    return Finding(rule, says, Basis(kind), tuple(because))  # type: ignore[arg-type]


def span(low: float, high: float, digits: int = 3) -> str:
    """ "5 to 15", for the lines of a calculation."""
    a, b = plain(low, digits), plain(high, digits)
    return a if a == b else f"{a} to {b}"


def duration(low: float, high: float) -> str:
    """Minutes in words, rounded to what can be kept: five minutes below two hours, else half hours."""
    step = 1 if high < 20 else 5 if high < 120 else 30 if high < 2880 else 720
    a, b = (max(step, round(x / step) * step) for x in (low, high))
    return in_words(a, b)


def at_least(minutes: float) -> str:
    """A time to stay away, in words: rounded up, never down."""
    step = 1 if minutes < 20 else 5 if minutes < 120 else 30
    up = math.ceil(minutes / step - 1e-9) * step
    return in_words(up, up)


def listed(names: Sequence[str]) -> str:
    """ "a, b and c"."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
