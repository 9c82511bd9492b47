"""What was done of a plan, and when; and what came of it. Kept with the answers, told by the maker."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Done:
    """One step that is behind the maker. `at`: when it ended, local time. `skipped`: left out on purpose.

    `name`: the step as it was called then; a later plan may no longer hold it.
    """

    step: str
    at: datetime
    name: str
    skipped: bool = False


@dataclass(frozen=True, slots=True)
class DoneTo:
    """`step` was done to pieces `first` to `last` of the kind called `kind`; it ended `at`, local time."""

    kind: str
    first: int
    last: int
    step: str
    at: datetime


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of it after the cure, in the maker's words. `signs`: ids of the signs of trouble named."""

    at: datetime
    right: str = ""
    wrong: str = ""
    signs: tuple[str, ...] = ()
