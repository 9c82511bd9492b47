"""Which acts a line does: by its words, and by what was found in it, weighed as our own lines taught."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import Literal, get_args

from interview.reading.clauses import plainly
from interview.reading.learned import Features, in_a_row, in_parts, model
from interview.reading.line import PICKED, Fact, Found, Line

Act = Literal["agree", "deny", "answer", "add", "correct", "ask", "unsure", "chat", "command", "trial_result", "worry"]
ACTS: tuple[Act, ...] = get_args(Act)
NAME = "acts"
TRIALS = ("drop_result", "resin_drop_result", "rub_result", "coupon_result", "swab_clean", "swab_colour")


def prompt_of(line: Line) -> str:
    """The kind of prompt: what a yes, a no or a bare noun does depends on it."""
    if line.question is None:
        return line.at if line.at in ("opening", "end") else "read_back"
    if line.at in (*TRIALS, "tried"):
        return "trial"
    if line.at == "piece":
        return "piece"
    return "row" if line.question.rows else "pick" if line.question.kind in PICKED else "amount"


def acts_of(line: Line, found: Found) -> frozenset[Act]:
    """The acts of a line, one at least. The first line of all only tells."""
    if line.at == "opening":
        heard = line.heard
        told: dict[Act, object] = {"command": heard.command, "worry": heard.worries, "add": found.facts or found.names}
        return frozenset(act for act, held in told.items() if held) or frozenset(("chat",))
    scores = model(NAME).scores(features(line, found))
    likely = {act for act, score in scores.items() if score > 0} or {max(scores, key=lambda act: scores[act])}
    return frozenset(act for act in ACTS if act in likely)


def features(line: Line, found: Found) -> Features:
    """What the line holds, with the prompt it was typed at."""
    at = prompt_of(line)
    words = tuple("0" if word[0].isdigit() else word for word in plainly(line.text))
    signals = tuple(dict.fromkeys(_signals(line, found, words)))
    return Features(
        (*in_a_row(words), *(f"{at}|{w}" for w in dict.fromkeys(words)), *in_a_row(words[:2], f"{at}>")),
        in_parts(words),
        (at, *signals, *(f"{at}|{s}" for s in signals), *(f"{a}&{b}" for a, b in combinations(signals[:8], 2))),
    )


def _signals(line: Line, found: Found, words: tuple[str, ...]) -> Iterator[str]:
    """What the rules heard and found, strongest first."""
    heard = line.heard
    facts = [f for f in found.facts.values() if f.question not in ("worries", "proposals")]
    others = [f for f in facts if f.question != line.at]
    yield from (f"lead {lead}" for lead in heard.leads)
    holds = {
        "asks": heard.asks,
        "answered": line.at in found.facts,
        "told of another": others,
        "told a trial": any(f.question in TRIALS for f in facts),
        "another answer than before": any(differs(line, f) for f in facts),
        "taken away": found.removes,
        "command": heard.command,
        "worry": heard.worries,
        "knows nothing": heard.said and all(s.unsure for s in heard.said),
        "hedged": any(s.hedged for s in heard.said),
        "nearly": found.pick,
        "words left": found.names,
        "number": any(c.isdigit() for c in line.text),
    }
    yield from (signal for signal, held in holds.items() if held)
    yield from (f"mark {mark}" for mark in sorted(heard.marks))
    yield from (f"of {f.question}" for f in others)
    last = line.text.rstrip()[-1:]
    yield f"clauses {min(len(heard.said), 3)}"
    yield f"ends {'' if last.isalnum() else last}"
    yield f"first {words[0] if words else ''}"
    yield f"long {min(len(words), 12) // 2}"
    yield f"command {heard.command.name if heard.command else ''}"
    yield f"at {line.at}"


def differs(line: Line, fact: Fact) -> bool:
    """Whether another answer is known, of which this is not merely the nearer kind."""
    had = line.answers.value(fact.question)
    if had is None or had == fact.value:
        return False
    if isinstance(had, frozenset) and isinstance(fact.value, frozenset) and had < fact.value:
        return False  # the list grows
    ids = had if isinstance(had, frozenset) else {had} if isinstance(had, str) else set()
    return not (ids and all(id.startswith("some_") for id in ids))
