"""The state of a conversation that is kept: what was said, in which order, and whether it came to its end."""

from __future__ import annotations

from dataclasses import dataclass

from interview.plan.answers import Answers

FORMAT = 1  # of the journal; a newer number is left alone


@dataclass(frozen=True, slots=True)
class Kept:
    """`trail`: the questions in the order they were answered, for going back. `steps`: records in the
    journal.
    """

    name: str = ""
    pace: str = "full"
    knowledge: str = ""
    opening: str = ""
    answers: Answers = Answers()  # noqa: RUF009 -- immutable
    trail: tuple[str, ...] = ()
    done: bool = False
    format: int = FORMAT
    steps: int = 0
