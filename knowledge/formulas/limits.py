"""What a formula may be given. Outside it, one exception says what was wrong, and how much is allowed."""

from __future__ import annotations

import math


class OutOfRange(ValueError):
    """A value a relation does not hold for. Its message is one line: what, how much, what is allowed."""

    def __init__(self, what: str, value: float, allowed: str) -> None:
        self.what = what
        self.value = value
        self.allowed = allowed
        super().__init__(f"{what} is {value:g}; it must be {allowed}")


def within(what: str, value: float, low: float, high: float, unit: str = "") -> float:
    """The value, if low <= value <= high. Raises OutOfRange, also for NaN."""
    if not low <= value <= high:
        raise OutOfRange(what, value, f"from {low:g} to {high:g}{_spaced(unit)}")
    return float(value)


def positive(what: str, value: float, unit: str = "") -> float:
    """The value, if it is finite and above zero. Raises OutOfRange."""
    if not (value > 0 and math.isfinite(value)):
        raise OutOfRange(what, value, f"above 0{_spaced(unit)}")
    return float(value)


def not_negative(what: str, value: float, unit: str = "") -> float:
    """The value, if it is finite and not below zero. Raises OutOfRange."""
    if not (value >= 0 and math.isfinite(value)):
        raise OutOfRange(what, value, f"0 or more{_spaced(unit)}")
    return float(value)


def finite(what: str, value: float) -> float:
    """A result, if it is a number at all. Raises OutOfRange where absurd inputs overflow."""
    if not math.isfinite(value):
        raise OutOfRange(what, value, "a finite number; the inputs are absurdly large or small")
    return value


def _spaced(unit: str) -> str:
    return f" {unit}" if unit else ""
