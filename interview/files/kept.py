"""The state of a conversation that is kept: what was said, in which order, and whether it came to its end."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from interview.plan.answers import Answers
from interview.plan.doings import Done, Outcome

FORMAT = 3  # of the journal; a newer number is left alone


@dataclass(frozen=True, slots=True)
class Took:
    """One thing a line said, and the words it was read from."""

    question: str
    value: Any
    words: str = ""
    doubt: bool = False


@dataclass(frozen=True, slots=True)
class Said:
    """One line as typed. `at`: the prompt it was typed at. `left`: words that no answer took up."""

    at: str
    typed: str
    took: tuple[Took, ...] = ()
    left: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Kept:
    """`trail`: the questions in the order they were answered, for going back. `said`: the ledger, every line typed.
    `did`: the steps that were done, with their times. `outcome`: what came of it. `steps`: records in the journal.
    `lost`: what of a damaged file cannot be read, in words; "" where it is whole.
    """

    name: str = ""
    pace: str = "full"
    knowledge: str = ""
    opening: str = ""
    answers: Answers = Answers()  # noqa: RUF009 -- immutable
    trail: tuple[str, ...] = ()
    said: tuple[Said, ...] = ()
    done: bool = False
    did: tuple[Done, ...] = ()
    outcome: Outcome | None = None
    format: int = FORMAT
    steps: int = 0
    id: str = ""
    lost: str = ""
