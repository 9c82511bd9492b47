"""Short lists told of without being asked: what a trial showed, which windows open, whether it is the only one."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from interview.reading.lexicon import phrases_of
from interview.reading.line import Fact, Found, Line, Span, inside
from interview.reading.own_words import SURE, guess, raises
from interview.reading.speech import holds
from knowledge.word_files import read_words

TRIALS = ("drop_result", "rub_result", "coupon_result")
_TRIAL_OF = {
    "drop_result": "drop",
    "rub_result": "rub",
    "coupon_result": "coupon",
    "swab_clean": "swab",
    "swab_colour": "swab",
}
_SUBJECTS = ("drop_result", "rub_result", "coupon_result", "layers", "hollow", "openings", "brush_place", "only_one")


def add_subjects(line: Line, found: Found) -> None:
    """Other short lists, where the line speaks of their subject: "the drop sank in", "two windows open"."""
    words = [w for s in line.heard.said for w in s.clause.words]
    _swabs(line, words, found)
    for id in _SUBJECTS:
        question = line.knowledge.questions.get(id)
        if question is None or id in found.facts or id == line.at or not raises(words, id):
            continue
        near = _near(line, id) if id in TRIALS else _clause_of(line, id)
        got = guess(near, id, [c.id for c in question.choices])
        if got is not None and got.share >= SURE and len(near) > 1:
            span = _subject_span(line, id)
            if not any(inside(span, f) for f in found.facts.values()):
                found.add(line.fact(id, got.value, span, holds(near, "hedge")))


def _clause_of(line: Line, id: str) -> list[str]:
    return next((list(s.clause.words) for s in line.heard.said if raises(s.clause.words, id)), [])


def _subject_span(line: Line, id: str) -> Span:
    clause = next((s.clause for s in line.heard.said if raises(s.clause.words, id)), None)
    return (clause.start, clause.end) if clause else (0, 0)


def _near(line: Line, id: str) -> list[str]:
    """The words from the clause that names the trial up to where another trial is named."""
    words: list[str] = []
    on = not any(
        raises(s.clause.words, other) for s in line.heard.said for other in (*TRIALS, "swab_clean") if other != id
    )
    for said in line.heard.said:
        if raises(said.clause.words, id):
            on = True
        elif any(raises(said.clause.words, other) for other in (*TRIALS, "swab_clean") if other != id):
            on = False
        if on:
            words += said.clause.words
    return words


_CLEAN = re.compile(
    r"\b(?:clean|white|nothing|no colou?r|clear|fine|ok|stayed|held|didn'?t|did not|none|safe|not)\b", re.IGNORECASE
)
_COLOUR = re.compile(
    r"\b(?:took colou?r|colou?red|colou?r|pink|red|blue|black|grey|gray|green|yellow|purple|brown|orange|"
    r"dirty|bled|bleeds?|ran|stained|smudged|smeared|"
    r"came off|lifted|dissolved|picked up|marked|tinted|took)\b",
    re.IGNORECASE,
)


def _swabs(line: Line, words: list[str], found: Found) -> None:
    """Which liquids left the swab clean and which took colour, clause by clause."""
    asked = line.at in ("swab_clean", "swab_colour")
    before = line.answers.value("swab_clean") or line.answers.value("swab_colour")
    if not (asked or raises(words, "swab_clean") or (before and len(words) > 1)):
        return
    got: dict[str, list[tuple[str, Span]]] = {"swab_clean": [], "swab_colour": []}
    held: list[tuple[str, Span]] = []
    last = ""
    for start, end in _halves(line):
        text = line.said[start:end]
        liquids = _liquids(text, start)
        clean, colour = bool(_CLEAN.search(text)), bool(_COLOUR.search(text))
        how = (
            "swab_clean"
            if clean and not (colour and not re.search(r"\bno\b|didn|not\b|nothing", text))
            else "swab_colour"
            if colour
            else ""
        )
        if how:
            got[how] += [*held, *liquids]
            held, last = [], how
        elif last and re.search(r"\b(?:too|also|as well|same)\b", text, re.IGNORECASE):
            got[last] += liquids
        else:
            held += liquids
    for how, pairs in got.items():
        if pairs and not (how == line.at and how in found.facts and not any(_COLOUR.search(line.said) for _ in (0,))):
            ids = tuple(dict.fromkeys(id for id, _ in pairs))
            found.facts.pop(how, None)
            found.add(line.fact(how, frozenset(ids), (pairs[0][1][0], pairs[-1][1][1])))


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


def add_tried(found: Found) -> None:
    """A result told is a trial done."""
    trials = {_TRIAL_OF[q] for q in found.facts if q in _TRIAL_OF}
    if trials:
        before = found.facts.get("tried")
        had = before.value if before is not None and isinstance(before.value, frozenset) else frozenset()
        first = next(f for q, f in found.facts.items() if q in _TRIAL_OF)
        found.facts["tried"] = Fact("tried", (had - {"none"}) | trials, False, (first.span[0], first.span[0]))
