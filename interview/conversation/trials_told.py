"""What a scrap showed with each number of coats, told in a sentence: "one coat went dark, with two it stayed clear"."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from interview.reading.clauses import spoken_words
from interview.reading.own_words import SURE, guess

if TYPE_CHECKING:
    from interview.plan.model import Plan
    from interview.reading.turn import Turn
    from knowledge.loading import Knowledge

RESULT = "coupon_result"
_TRIAL = re.compile(
    r"\b(?:trials?|tests?|tested|coupon|scraps?|sample|try ?out|hidden spot|tried (?:it|this|that|them|one|two|a coat))\b",
    re.IGNORECASE,
)
_NUMBERS = {
    "no": 0, "zero": 0, "0": 0, "without": 0, "bare": 0, "unsealed": 0, "one": 1, "1": 1, "single": 1, "first": 1,
    "two": 2, "2": 2, "double": 2, "second": 2, "three": 3, "3": 3, "third": 3, "four": 4, "4": 4, "five": 5, "5": 5,
    "six": 6, "6": 6,
}  # fmt: skip
_PARTS = re.compile(r"[,;:.!?]|\b(?:and|but|while|whereas|though|then)\b", re.IGNORECASE)
_COATS = frozenset(("coat", "coats", "layer", "layers", "sealer"))


def of_a_trial(typed: str) -> bool:
    """Whether a line tells of a trial, so that what went dark or cloudy there is no trouble of the piece."""
    return bool(_TRIAL.search(typed) or len(looks(typed)) > 1)


def looks(typed: str) -> dict[int, str]:
    """Number of coats -> how the scrap looked with them; empty where the line does not speak of coats."""
    if not _COATS & set(spoken_words(typed)):
        return {}
    told: dict[int, str] = {}
    waiting: list[int] = []
    for part in _PARTS.split(typed):
        words = spoken_words(part)
        waiting += [_NUMBERS[word] for word in words if word in _NUMBERS]
        rest = [word for word in words if word not in _NUMBERS and word not in _COATS]
        got = guess(rest, RESULT, ("clear", "dark", "cloudy", "bubbles")) if rest else None
        if got is not None and got.share >= SURE and waiting:
            told |= dict.fromkeys(waiting, got.value)
            waiting = []
    return told


def with_coats(knowledge: Knowledge, turn: Turn, typed: str, plan: Plan) -> Turn:
    """The turn with what the scrap showed: clear where no more coats than planned were needed, else what it was."""
    from interview.reading.turn import Fact

    told = looks(typed)
    if len(told) < 2 or RESULT not in knowledge.questions:
        return turn
    clear = [n for n, look in told.items() if look == "clear" and all(told[m] == "clear" for m in told if m > n)]
    planned = max((t.coats_most for t in plan.treatments), default=0)
    value = "clear" if clear and min(clear) <= planned else told[max(n for n in told if told[n] != "clear")]
    rest = tuple(fact for fact in turn.facts if fact.question not in (RESULT, "tried", "layers", "hollow"))
    facts = (*rest, Fact("tried", frozenset(("coupon",))), Fact(RESULT, value, words=typed.strip()))
    return replace(turn, facts=facts, leftover=(), acts=turn.acts - {"chat"} | {"trial_result"}, pick=None)
