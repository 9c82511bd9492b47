"""A plan with every text made harmless, once, before anything is rendered from it."""

from __future__ import annotations

import dataclasses
from typing import Any, TypeVar

from pydantic import BaseModel

from interview.harmless import harmless

T = TypeVar("T")


def cleaned(value: T) -> T:
    """The same value with all its texts harmless and on one line; numbers and sets stay as they are."""
    return _cleaned(value)  # type: ignore[no-any-return]


def _cleaned(value: Any) -> Any:
    if isinstance(value, str):
        return harmless(value, one_line=True)
    if isinstance(value, tuple):
        return tuple(_cleaned(part) for part in value)
    if isinstance(value, dict):
        return {_cleaned(key): _cleaned(part) for key, part in value.items()}
    if isinstance(value, list):
        return [_cleaned(part) for part in value]
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return dataclasses.replace(
            value, **{f.name: _cleaned(getattr(value, f.name)) for f in dataclasses.fields(value)}
        )
    if isinstance(value, BaseModel):
        return value.model_copy(
            update={name: _cleaned(getattr(value, name)) for name in type(value).model_fields}
        )
    return value
