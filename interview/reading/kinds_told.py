"""Kinds told in one sentence -> rows of a batch: "12 gull tiles 4 x 4 in, 10 leaf trays of plywood"."""

from __future__ import annotations

import re
from dataclasses import dataclass

from interview.plan.answers import Answers
from interview.reading.opening import understand
from interview.reading.stall_words import NUMBERS
from knowledge.loading import Knowledge

_COUNTS = "|".join(word for word in NUMBERS if word not in ("no", "zero"))
_UNIT = r"(?!(?:x|by|cm|mm|m|in|inch|inches|ft|g|kg|ml|l|percent|weeks?|days?|hours?|coats?)\b)"
_BEGINS = re.compile(rf"(?:^|[,;]|\band\b|\bplus\b)\s*(?:a )?(\d{{1,4}}|{_COUNTS})\s+(?=[a-z]){_UNIT}", re.IGNORECASE)
_NAME_ENDS = re.compile(r"\s*(?:[,:;(]|\d|\b(?:on|of|with|in|made|from|that|each|size)\b)")


@dataclass(frozen=True, slots=True)
class ToldKind:
    name: str
    count: int
    answers: Answers


def kinds_told(text: str, knowledge: Knowledge) -> tuple[ToldKind, ...]:
    """A kind for each number that begins a clause; its answers are what the reader takes from the clause."""
    begins = list(_BEGINS.finditer(text))
    made: list[ToldKind] = []
    for number, found in enumerate(begins):
        end = begins[number + 1].start() if number + 1 < len(begins) else len(text)
        clause = text[found.end() : end].strip(" ,;.")
        word = found[1].casefold()
        name = _NAME_ENDS.split(clause, 1)[0].strip() or clause[:30]
        answers = Answers()
        for question, value in understand(clause, knowledge).proposed.items():
            if question != "count":
                answers = answers.say(question, value, words=clause)
        if any(name == kind.name for kind in made):
            name = f"{name} {number + 1}"
        made.append(ToldKind(name, NUMBERS[word] if word in NUMBERS else int(word), answers))
    return tuple(made)
