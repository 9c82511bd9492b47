"""Both systems of units in one line, the maker's own first.

The reasoning writes a quantity as "80 mL (2 3/4 fl oz)". Here only the order is turned; nothing is converted.
"""

from __future__ import annotations

import re
from typing import Literal

Units = Literal["metric", "imperial"]

_NUMBER = r"[\d.,]+(?: \d+/\d+|/\d+)?"
_AMOUNT = rf"{_NUMBER}(?:(?: to | x | × |-){_NUMBER})*"
_METRIC = r"(?:mm|cm|m|mL|ml|L|g|kg|m2|m²|cm2|cm²|m3|m³|g/m2|g/m²|um|µm|°C)"
_IMPERIAL = (
    r"(?:in|ft|yd|mil|fl oz|US fl oz|oz|lb|qt|pt|gal|US gal|sq ft|sq in|ft2|ft²|in2|in²|ft3|ft³|cu ft|°F"
    r'|inch(?:es)?|")'
)
_METRIC_FIRST = re.compile(rf"(?<![\w.])({_AMOUNT} ?{_METRIC}) \(({_AMOUNT} ?{_IMPERIAL})\)")
_IMPERIAL_FIRST = re.compile(rf"(?<![\w.])({_AMOUNT} ?{_IMPERIAL}) \(({_AMOUNT} ?{_METRIC})\)")


def arranged(text: str, units: Units) -> str:
    """The text with every pair of quantities in the order that the maker reads.

    >>> arranged("Take 60 to 80 mL (2 to 2 3/4 fl oz).", "imperial")
    'Take 2 to 2 3/4 fl oz (60 to 80 mL).'
    """
    pattern = _METRIC_FIRST if units == "imperial" else _IMPERIAL_FIRST
    return pattern.sub(r"\2 (\1)", text)
