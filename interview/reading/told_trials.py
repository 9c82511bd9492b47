"""Short lists told of without being asked: what a trial showed, which windows open, whether it is the only one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache

from interview.reading.clauses import spoken_list
from interview.reading.lexicon import phrases_of
from interview.reading.line import PICKED, Fact, Found, Line, Span
from interview.reading.own_words import SURE, guess, raises
from interview.reading.speech import holds
from knowledge.word_files import read_words

TRIALS = ("drop_result", "resin_drop_result", "rub_result", "coupon_result")
_TRIAL_OF = {
    "drop_result": "drop",
    "resin_drop_result": "resin_drop",
    "rub_result": "rub",
    "coupon_result": "coupon",
    "swab_clean": "swab",
    "swab_colour": "swab",
}
_SUBJECTS = (
    "drop_result",
    "rub_result",
    "coupon_result",
    "layers",
    "sturdiness",
    "hollow",
    "openings",
    "brush_place",
    "only_one",
    "natural_dry",
)
_ONLY_FOR = {"layers": ("piece", "collage")}  # told of anything else, the words are about something else


def add_subjects(line: Line, found: Found) -> None:
    """Other short lists, where the line speaks of their subject: "the drop sank in", "two windows open"."""
    words = [w for s in line.heard.said for w in s.clause.words]
    _swabs(line, words, found)
    if line.at == "opening":
        return
    for id in _SUBJECTS:
        question = line.knowledge.questions.get(id)
        if question is None or id in found.facts or id == line.at or not raises(words, id) or not _fits(line, id):
            continue
        clauses = [s.clause for s in line.heard.said]
        clause = next((c for c in clauses if raises(c.words, id)), clauses[0])
        span = (clause.start, clause.end)
        near = _near(line, id) if id in TRIALS else list(clause.words)
        telling = [w for w in near if w not in spoken_list("trial_words")] if id in TRIALS else near
        got = guess(telling, id, [c.id for c in question.choices])
        if (
            got is not None
            and got.share >= SURE
            and len(near) > 1
            and (line.at == "tried" or _instead_of_guess(line, found, clause.words) or not _taken(found, span))
        ):
            found.add(line.fact(id, got.value, span, holds(near, "hedge")))
            found.spent += [(s.clause.start, s.clause.end) for s in line.heard.said if set(s.clause.words) <= set(near)]


def _fits(line: Line, id: str) -> bool:
    if line.question is not None and line.question.kind not in PICKED and id not in TRIALS:
        return False  # "as thick as my finger" is no word of how sturdy it is
    if id == "sturdiness" and re.search(r"\d", line.said):
        return False
    if id == "sturdiness" and line.at not in ("support", "mounted", "read_back", "end"):
        return False
    question, value = _ONLY_FOR.get(id, ("", ""))
    return not question or line.answers.value(question) == value


def _instead_of_guess(line: Line, found: Found, words: Iterable[str]) -> bool:
    """Whether the question asked had only a guess, and its own subject is not named: the guess goes."""
    gives_way = found.guessed and len(line.heard.said) == 1 and not raises(tuple(words), line.at)
    if gives_way:
        found.facts.pop(line.at, None)
    return gives_way


def _taken(found: Found, span: Span) -> bool:
    """Whether the clause already answers something."""
    return any(a < span[1] and span[0] < b for a, b in (f.span for f in found.facts.values()) if b > a)


def _near(line: Line, id: str) -> list[str]:
    """The words from the clause that names the trial up to where another trial is named."""
    words: list[str] = []
    others = [o for o in (*TRIALS, "swab_clean") if o != id]
    on = not any(raises(s.clause.words, other) for s in line.heard.said for other in others)
    for said in line.heard.said:
        if raises(said.clause.words, id):
            on = True
        elif any(raises(said.clause.words, other) for other in others):
            on = False
        if on:
            words += said.clause.words
    return words


_CLEAN = re.compile(
    r"\b(?:clean|white|nothing|no colou?r|clear|fine|ok|stayed|held|didn'?t|did not|none|safe)\b", re.IGNORECASE
)
_COLOUR = re.compile(
    r"\b(?:took colou?r|colou?red|colou?r|pink|red|blue|black|grey|gray|green|yellow|purple|brown|orange|"
    r"dirty|bled|bleeds?|ran|stained|smudged|smeared|"
    r"came off|lifted|dissolved|picked up|marked|tinted|took)\b",
    re.IGNORECASE,
)


def _swabs(line: Line, words: list[str], found: Found) -> None:
    """Which liquids left the swab clean and which took colour, clause by clause."""
    asked = line.at if line.at in ("swab_clean", "swab_colour") else ""
    before = line.answers.value("swab_clean") or line.answers.value("swab_colour")
    if not (asked or raises(words, "swab_clean") or (before and len(words) > 1)):
        return
    got = _sorted_liquids(line, asked)
    if asked and not any(pairs for how, pairs in got.items() if how != asked):
        return  # what was asked for is read as any list is
    for how, pairs in got.items():
        if pairs:
            ids = frozenset(id for id, _ in pairs)
            span = (pairs[0][1][0], pairs[-1][1][1])
            found.facts.pop(how, None)
            found.add(line.fact(how, ids, span))
            found.spent += [(s.clause.start, s.clause.end) for s in line.heard.said]


Liquids = list[tuple[str, Span]]


def _sorted_liquids(line: Line, asked: str) -> dict[str, Liquids]:
    got: dict[str, Liquids] = {"swab_clean": [], "swab_colour": []}
    held: Liquids = []
    last = ""
    for start, end in _halves(line):
        text = line.said[start:end]
        liquids = _liquids(text, start)
        how = _how(text)
        if how:
            got[how] += [*held, *liquids]
            held, last = [], how
        elif last and _TOO.search(text):
            got[last] += liquids
        else:
            held += liquids
    if asked:
        got[asked] += held
    return got


_TOO = re.compile(r"\b(?:too|also|as well|same)\b", re.IGNORECASE)
_NO = re.compile(r"\bno\b|didn'?t|\bnot\b|nothing", re.IGNORECASE)


def _how(text: str) -> str:
    colour = bool(_COLOUR.search(text))
    if _CLEAN.search(text) and not (colour and not _NO.search(text)):
        return "swab_clean"
    return "swab_colour" if colour else ""


def _halves(line: Line) -> Iterator[Span]:
    for said in line.heard.said:
        start = said.clause.start
        for match in re.finditer(r"\band\b|\bbut\b|\bwhile\b", line.said[said.clause.start : said.clause.end]):
            yield start, said.clause.start + match.start()
            start = said.clause.start + match.end()
        yield start, said.clause.end


def _liquids(text: str, offset: int) -> list[tuple[str, Span]]:
    """The liquids named, the longest names first, with their places."""
    return [(_names()[m[0].lower()], (offset + m.start(), offset + m.end())) for m in _any_name().finditer(text)]


@cache
def _names() -> dict[str, str]:
    return {phrase: row["value"] for row in read_words("replies")["liquid"] for phrase in phrases_of(row["say"])}


@cache
def _any_name() -> re.Pattern[str]:
    return re.compile(rf"\b(?:{'|'.join(sorted(map(re.escape, _names()), key=len, reverse=True))})\b", re.IGNORECASE)


_DONE = re.compile(
    r"\b(drop|rub|swab|scrap|water) (?:test|thing|trial)|\b(?:did|done|tried) (?:the|a) (drop|rub|swab|scrap)\b",
    re.IGNORECASE,
)
_TEST = {"drop": "drop", "water": "drop", "rub": "rub", "swab": "swab", "scrap": "coupon"}


def add_tried(line: Line, found: Found) -> None:
    """A result told is a trial done. At the question of its result that is known."""
    if line.at in _TRIAL_OF:
        return
    trials = {_TRIAL_OF[q] for q in found.facts if q in _TRIAL_OF}
    trials |= {_TEST[(m[1] or m[2]).lower()] for m in _DONE.finditer(line.said)} if trials else set()
    if trials:
        before = found.facts.get("tried")
        had = before.value if before is not None and isinstance(before.value, frozenset) else frozenset()
        first = next(f for q, f in found.facts.items() if q in _TRIAL_OF)
        found.facts["tried"] = Fact("tried", (had - {"none"}) | trials, False, (first.span[0], first.span[0]))
