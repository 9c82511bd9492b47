"""Amounts told without being asked: each counts only beside a word that tells what it measures."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

from interview.reading.amount_numbers import spelt_number
from interview.reading.amount_types import Asking, Told
from interview.reading.amount_words import UNITS, candidates, is_special, special_for, unit_of
from interview.reading.clauses import Clause
from interview.reading.counting import read_count, read_joined
from interview.reading.lexicon import phrases_of
from interview.reading.line import PICKED, Found, Line, Span
from interview.reading.measures import Unclear, read_measure
from interview.reading.own_words import has_any, padded
from interview.reading.sentence import Sentence
from interview.reading.sizes import Measured
from knowledge.shape import Question
from knowledge.word_files import read_words

Phrases = tuple[str, ...]


def add_amounts(line: Line, sentence: Sentence, found: Found) -> None:
    """Sizes, counts, and every amount beside a word that tells what it is."""
    if line.at != "size" and not (line.question and line.question.kind == "size"):
        meant = [
            s for s in sentence.sizes if not _NOT.search(line.text[: max(line.text.find(s.words), 0)])
        ] or sentence.sizes
        if len({repr(s.size) for s in meant}) == 1 and not any(one.side for one in sentence.alone):
            size = _deep(meant[0], sentence, line.text)
            place = max(line.text.find(size.words), 0)
            found.add(line.fact("size", size.size, (place, place + len(size.words))))
    _counted(line, sentence, found)
    before: tuple[str, ...] = ()
    for said in line.heard.said:
        clause = said.clause
        short = len(clause.words) <= _SHORT  # "its got a deadline too, 20 december"
        told_with = (*before, *clause.words) if short else clause.words
        before = clause.words
        for id, told in _beside(clause, told_with, line):
            span = (clause.start + told.span[0], clause.start + told.span[1])
            if id != line.at and not _crosses(span, found, line):
                found.add(line.fact(id, told.value, span))
                found.spent.append((clause.start, clause.end))


def _deep(size: Measured, sentence: Sentence, text: str) -> Measured:
    """A mould's size with its depth, where that is said apart: "80 x 80 mm, 80 mm deep"."""
    deep = next((one.words for one in sentence.alone if one.words.endswith("deep")), "")
    if not deep or not _MOULD.search(text) or "depth" in size.size:
        return size
    from interview.quantities.units import ReadError, read

    wide = size.size.get("diameter")
    words = f"{wide} mm round" if wide else size.words
    try:
        return replace(size, size=read(f"{words} x {deep.removesuffix('deep')}", "size").value)
    except ReadError:
        return size


_MOULD = re.compile(r"\b(?:moulds?|molds?|cast(?:ing)?|paperweights?|cubes?|spheres?|blocks?)\b", re.IGNORECASE)


def _crosses(span: Span, found: Found, line: Line) -> bool:
    whole = (0, len(line.text))
    return any(f.span[0] < span[1] and span[0] < f.span[1] and f.span != whole for f in found.facts.values())


_NOT = re.compile(r"\b(?:not|rather than|instead of|never)\s*$", re.IGNORECASE)
_OF_THEM = re.compile(
    r"\b(?:of (?:them|these|those)|there (?:are|is|were)|there'?s|theres|altogether|in all|in total)\b", re.IGNORECASE
)
_EACH = re.compile(r"\bof (?:them|these|those)\b", re.IGNORECASE)
_NOW = re.compile(r"\bnow\W*$", re.IGNORECASE)
_THERE_ARE = re.compile(
    r"\b(?:there (?:are|is|were|will be)|there'?s|theres|i have|i'?ve (?:got|made)) (?:about |only |just )?"
    r"(\w+)(?: of (?:them|these|those))?(?= in all| altogether| in total|\W*$|[.,;])",
    re.IGNORECASE,
)
_MENDED = re.compile(
    r"\b(\w+)(?: \w+)? (?:not|rather than|instead of) (\w+)\b|\b(\w+) was a typo\W+(?:it'?s|its)?\s*(\w+)",
    re.IGNORECASE,
)


def _counted(line: Line, sentence: Sentence, found: Found) -> None:
    """How many pieces: "nine of them not eight", "there are 3 of them", "4 was a typo, its 14"."""
    amount = line.question is not None and line.question.kind not in PICKED
    if line.at in ("count", "pieces") or (amount and not _EACH.search(line.said)):
        return
    joined = read_joined(sentence.items, sentence.found, sentence.lexicon)
    jigsaw = line.answers.value("piece") == "jigsaw" or sentence.settled.proposed.get("piece") == "jigsaw"
    if jigsaw and joined:
        found.add(line.fact("pieces", joined, (0, 0)))
    count = read_count(sentence.items, sentence.found, sentence.lexicon)
    clear = line.at in ("opening", "piece") or _OF_THEM.search(line.said)
    clear = clear or (line.answers.value("count") and _NOW.search(line.said))
    if count is None and (there := _THERE_ARE.search(line.said)) and (number := spelt_number(there[1])):
        count = int(number) if number == int(number) else None
    if count is not None and clear and "pieces" not in found.facts:
        found.add(line.fact("count", count, (0, 0)))
    _count_mended(line, found)


_NUMBER_WRONG = re.compile(
    r"\b(?:number|count|how many)\b.*?\b(?:it'?s|is|are|make it)\s+(\w+)\b|\bmake (?:it|that|them)\s+(\w+)\b",
    re.IGNORECASE,
)


def _count_mended(line: Line, found: Found) -> None:
    match = _MENDED.search(line.said)
    had = line.answers.value("count")
    alone = spelt_number(line.said.strip(" .!")) if line.question is None else None
    if alone is not None and isinstance(had, int) and alone == int(alone):
        found.add(line.fact("count", int(alone), (0, len(line.text))))
    wrong = _NUMBER_WRONG.search(line.said)
    if wrong and isinstance(had, int) and (number := spelt_number(wrong[1] or wrong[2])):
        found.add(line.fact("count", int(number), wrong.span()))
    if match is None or not isinstance(had, int):
        return
    new, old = (match[1], match[2]) if match[1] else (match[4], match[3])
    number = spelt_number(new)
    if number is not None and spelt_number(old) == had:
        found.facts["count"] = line.fact("count", int(number), match.span())


_SHORT = 4  # words; a clause of so few goes with the one before it
_NEEDS_UNIT = ("degC", "%", "mm", "mL", "g", "minutes", "money", "m2/L")


@cache
def _rows() -> tuple[tuple[str, Phrases, Phrases, Phrases], ...]:
    """(question, phrases it needs, more it needs, phrases it must not have), as amounts.toml has them."""
    return tuple(
        (row["question"], _phrases(row["needs"]), _phrases(row.get("with_", "")), _phrases(row.get("without", "")))
        for row in read_words("amounts")["beside"]
    )


def _phrases(say: str) -> Phrases:
    return tuple(padded(phrase) for phrase in phrases_of(say))


def _beside(clause: Clause, words: tuple[str, ...], line: Line) -> Iterator[tuple[str, Told]]:
    """(question, amount) for each amount that a clause names and tells the nature of; places are the clause's."""
    taken: list[Span] = []
    text = line.said[clause.start : clause.end]
    for id, needs, more, without in _rows():
        question = line.knowledge.questions.get(id)
        if (
            question is None
            or not has_any(words, needs)
            or (more and not has_any(words, more))
            or has_any(words, without)
        ):
            continue
        found = _with_unit(question, text, line)
        if found is not None and not any(a < found.span[1] and found.span[0] < b for a, b in taken):
            taken.append(found.span)
            yield id, found


def _with_unit(question: Question, clause: str, line: Line) -> Told | None:
    if is_special(question) and question.id not in ("working_time", "surface_temperature", "pack_resin"):
        found = special_for(Asking(question, clause, line.answers, line.now))
        if isinstance(found, Told) and (question.id != "pieces" or found.value > 20):
            return found
        if question.id not in ("sealer_spread", "weighing_second"):
            return None
    unit = unit_of(question)
    if unit not in _NEEDS_UNIT:
        return None
    for words, span in candidates(unit, clause):
        if re.fullmatch(r"[\d.]+", words) and not (unit == "money" and _MONEY.search(clause)):
            continue
        got = read_measure(words, question, now=line.now)
        if not isinstance(got, Unclear):
            return Told(got.value, span)
    return None


_MONEY = re.compile(rf"[€£$]|\d[.,]\d\d\b|\b(?:cost|costs|paid|price|{UNITS['money']})", re.IGNORECASE)
