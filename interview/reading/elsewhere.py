"""A bare answer to another question than the one asked: "in the garden", while the finish is being asked."""

from __future__ import annotations

import re
from functools import cache

from interview.reading.choices import head, says_whole
from interview.reading.clauses import Clause, spoken_words
from interview.reading.lexicon import phrases_of, phrases_told
from interview.reading.line import PICKED, Found, Line
from interview.reading.speech import all_of, starts
from knowledge.word_files import read_words

Words = tuple[str, ...]
# questions whose sayings are told from one another by themselves
_PLAIN = (
    "opened", "layers", "sturdiness", "wood_finish", "wood_features", "adhesive", "hollow", "natural_dry", "held",
    "resin_on", "darken", "ways", "only_one", "brush_place", "openings",
)  # fmt: skip
_RESTS_ON = {"natural_dry": "laid_on"}  # no such answer before this is told: "it's sticky" is then no petal
_AROUND = ("fill", "hedge", "thanks", "bare")


def add_elsewhere(line: Line, found: Found) -> None:
    """The one other question of which a clause is a saying and no more, where the question asked does not know it."""
    asked = line.question
    if asked is None or line.at in ("opening", "piece"):
        return
    for said in line.heard.said:
        clause = said.clause
        if said.unsure or clause.end in line.heard.worried or not _free(clause, line, found):
            continue
        if says_whole(clause.words, asked) or _means(clause.words, asked.id):
            continue
        meant = {(id, value) for id in _PLAIN if id != line.at and (value := _means(clause.words, id))}
        if len(meant) > 1 and not {"spray", "brush"} & set(clause.words):  # a mere place is where one brushes
            meant = {(id, value) for id, value in meant if id != "ways"}
        if len({id for id, _ in meant}) != 1:
            continue
        id, value = meant.pop()
        question = line.knowledge.questions.get(id)
        rests_on = _RESTS_ON.get(id)
        told = rests_on is None or rests_on in found.facts or line.answers.value(rests_on) is not None
        if question is None or id in found.facts or not told:
            continue
        span = (clause.start, clause.end)
        if _guessed(line, found):
            found.facts.pop(line.at)
        found.pick = None
        found.add(line.fact(id, frozenset((value,)) if question.kind == "several" else value, span))


_CONTENTS = re.compile(r"\b(?:data ?sheet|section 3|contains?|in it|sealer|lacquer|tin|can|lists?)\b", re.IGNORECASE)
_USED = re.compile(r"\b(?:swab\w*|wip\w*|clean\w*|buds?|cloth|rub\w*|dab\w*)\b", re.IGNORECASE)


def add_solvents(line: Line, found: Found) -> None:
    """What a sealer holds, told where its tin or its data sheet is named."""
    question = line.knowledge.questions.get("solvents")
    if question is None or line.at == "solvents" or not _CONTENTS.search(line.said) or _USED.search(line.said):
        return
    names = {
        name.lower(): c.id for c in question.choices if c.id not in question.alone for name in (head(c.text), *c.also)
    }
    names = {name: id for name, id in names.items() if id != "other"}
    pattern = "|".join(sorted(map(re.escape, names), key=len, reverse=True))
    named = list(re.finditer(rf"(?<!no )(?<!not )(?<!without )\b(?:{pattern})\b", line.said, re.IGNORECASE))
    if named:
        ids = frozenset(names[m[0].lower()] for m in named)
        found.add(line.fact("solvents", ids, (named[0].start(), named[-1].end())))


def _guessed(line: Line, found: Found) -> bool:
    fact = found.facts.get(line.at)
    picked = line.question is not None and line.question.kind in PICKED
    return (
        fact is not None
        and line.question is not None
        and picked
        and not line.question.rows
        and len(line.heard.said) == 1
    )


def _free(clause: Clause, line: Line, found: Found) -> bool:
    """Whether nothing is made of the clause, or only what its words may say of the question asked."""
    spans = [f.span for q, f in found.facts.items() if not (q == line.at and _guessed(line, found))]
    return not any(a < clause.end and clause.start < b for a, b in spans)


def _means(words: Words, question: str) -> str:
    """The choice that covers the clause with its sayings, but for words around them that do nothing; or ""."""
    sayings = _sayings(question)
    values = [value for value, phrases in sayings.items() if _covers(words, phrases)]
    return values[0] if len(values) == 1 else ""


def _covers(words: Words, phrases: frozenset[Words]) -> bool:
    rest, told = words, False
    longest = max(map(len, phrases))
    while rest:
        length = next((n for n in range(min(longest, len(rest)), 0, -1) if rest[:n] in phrases), 0)
        told = told or bool(length)
        length = length or max(starts(rest, name) for name in _AROUND)
        if not length:
            return False
        rest = rest[length:]
    return told


@cache
def _sayings(question: str) -> dict[str, frozenset[Words]]:
    """Choice -> what people say for it, of the lists that hold where it is asked and of those that hold anywhere."""
    found: dict[str, set[Words]] = {}
    states = (
        (p, s["value"])
        for s in read_words("states")["state"]
        if s["question"] == question
        for p in phrases_of(s["say"])
    )
    for phrase, value in (*phrases_told(question), *states):
        words = spoken_words(phrase)
        if words and not all_of(words, ("yes", "no", "good", "bad", "about", "negators", "unsure", "fill")):
            found.setdefault(value, set()).add(words)
    return {value: frozenset(phrases) for value, phrases in found.items()}
