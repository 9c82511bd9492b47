"""A plan with every text made harmless, once, before anything is rendered from it."""

from __future__ import annotations

import dataclasses
import operator
from functools import cache
from typing import Any, TypeVar

from pydantic import BaseModel

from interview.text.harmless import harmless

T = TypeVar("T")


def cleaned(value: T) -> T:
    """The same value with all its texts harmless and on one line; numbers and sets stay as they are."""
    return _cleaned(value)  # type: ignore[no-any-return]


def _cleaned(value: Any) -> Any:
    """The value itself where nothing in it had to change: most of a plan is our own words."""
    if isinstance(value, str):
        return _line(value)
    if isinstance(value, (tuple, list)):
        parts = [_cleaned(part) for part in value]
        same = all(map(operator.is_, parts, value))
        return value if same else type(value)(parts)
    if isinstance(value, dict):
        return {_cleaned(key): _cleaned(part) for key, part in value.items()}
    names = _names(type(value))  # type: ignore[arg-type]  # a class is hashable
    old = {name: getattr(value, name) for name in names}
    new = {name: made for name, part in old.items() if (made := _cleaned(part)) is not part}
    if not new:
        return value
    return value.model_copy(update=new) if isinstance(value, BaseModel) else dataclasses.replace(value, **new)


@cache
def _names(kind: type) -> tuple[str, ...]:
    """The fields of a model or a dataclass; none for other values, which hold no text."""
    if issubclass(kind, BaseModel):
        return tuple(kind.model_fields)
    return tuple(f.name for f in dataclasses.fields(kind)) if dataclasses.is_dataclass(kind) else ()


def _line(text: str) -> str:
    made = harmless(text, one_line=True)
    return text if made == text else made
