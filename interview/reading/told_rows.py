"""Materials, media and things that a line names: rows, classes, and what both become beside what is known."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from interview.reading.clauses import Clause
from interview.reading.line import ROWS, SHELVES, Fact, Found, Line, Span
from interview.reading.resolving import Open
from interview.reading.sentence import Sentence, lexicon_of
from knowledge.loading import Knowledge
from knowledge.shape import Question


def row_fact(line: Line, sentence: Sentence, question: str) -> Fact | None:
    """Rows and classes of one question with a shelf, or None where nothing is said of it."""
    proposed = sentence.settled.proposed.get(question)
    opened = [o for o in sentence.settled.open if o.question == question]
    ids: set[str] = set(proposed) if isinstance(proposed, frozenset) else {proposed} if proposed else set()
    for one in opened:
        ids |= _of_open(one, question, line)
    ids -= {""}
    if not ids:
        return None
    span, doubted = where(sentence, question, ids | {k for o in opened for k in o.named})
    kept = _narrower(ids, line.answers.value(question), line.knowledge, question)
    several = question != "mounted"
    if not several and len(kept) > 1:
        return None
    return line.fact(question, frozenset(kept) if several else next(iter(kept)), span, doubted)


def _of_open(one: Open, question: str, line: Line) -> set[str]:
    """What is recorded for what is open: its known rows and the class of the rest."""
    ids = set(one.known)
    for named in sorted(one.named):
        whole = class_of(named, question, line)
        if whole:
            ids.add(whole)
    if len(one.named) > 1 and not any(id.startswith("some_") for id in ids):
        whole = _class_over(one.among, question, line.knowledge)
        ids |= {whole} if whole else set()
    return ids


def class_of(named: str, question: str, line: Line) -> str:
    shelf = "support" if question == "mounted" else question
    if named in line.knowledge.classes:
        return named
    return lexicon_of(line.knowledge).classes.get((shelf, named), "")


def _class_over(rows: Iterable[str], question: str, knowledge: Knowledge) -> str:
    """The smallest class that holds all these rows: "plywood or hardboard, not sure"."""
    shelf = getattr(knowledge, SHELVES[question])
    wanted = set(rows)
    holding = [id for id in knowledge.classes if id in shelf and wanted and wanted <= set(shelf[id].members)]
    return min(holding, key=lambda id: len(shelf[id].members), default="")


def _narrower(ids: set[str], before: Any, knowledge: Knowledge, question: str) -> set[str]:
    """A class of which a member is already known says nothing new: it is that member."""
    shelf = getattr(knowledge, SHELVES[question])
    had = set(before) if isinstance(before, frozenset) else {before} if before else set()
    kept = set()
    for id in ids:
        members = had & set(shelf[id].members) if id in shelf else set()
        kept |= members or {id}
    return kept


def where(sentence: Sentence, question: str, ids: Iterable[str]) -> tuple[Span, bool]:
    shelf = "support" if question == "mounted" else question
    spans = [sentence.draft.spans[key] for id in ids if (key := (shelf, id)) in sentence.draft.spans]
    unsure = {s.value for s in sentence.draft.unsure.get(shelf, ())}
    span = (min(s for s, _ in spans), max(e for _, e in spans)) if spans else (0, 0)
    return span, bool(unsure & set(ids))


_FORMS = (
    ("support", "wood", "some_wood"), ("support", "paper", "some_paper"), ("support", "board", "some_board"),
    ("support", "stone", "some_stone"), ("support", "cloth", "some_cloth"), ("support", "canvas", "some_canvas"),
    ("media", "print", "some_print"), ("media", "paint", "some_paint"), ("media", "ink", "some_ink"),
    ("media", "pastel", "some_pastel"), ("media", "pen", "some_pen"), ("laid_on", "flower", "some_flowers"),
    ("laid_on", "bead", "some_beads"), ("laid_on", "shell", "some_shell"), ("support", "metal", "some_metal"),
    ("laid_on", "wort", "some_plant"), ("laid_on", "grass", "some_plant"),
)  # fmt: skip


def by_form(line: Line, question: Question) -> Fact | None:
    """A word nobody taught, guessed by its form: "brellapaper" is some paper, "flintish" flint or the like."""
    wanted = "support" if question.id == "mounted" else question.id
    for match in re.finditer(r"[^\W\d_]{4,}", line.said):
        word = match[0].lower()
        for shelf, ending, id in _FORMS:
            stem = word.removesuffix("s")
            if (
                shelf == wanted
                and stem.endswith(ending)
                and len(stem) > len(ending) + 1
                and id in line.knowledge.classes
            ):
                value = frozenset((id,)) if question.kind == "several" else id
                return line.fact(question.id, value, match.span())
    return None


def add_rows(line: Line, sentence: Sentence, found: Found) -> None:
    """Materials, media and things said of other questions than the one asked."""
    for question in ROWS:
        if question in found.facts or question == line.at:
            continue
        fact = row_fact(line, sentence, question)
        if fact is not None and _meant(line, fact, found):
            found.add(fact)
    if line.at in ("opening", "piece") and "piece" in sentence.settled.proposed:
        found.add(line.fact("piece", sentence.settled.proposed["piece"], (0, 0)))


_CUE = re.compile(
    r"\b(?:it'?s|its|it is|they'?re|they are|there'?s|theres|there is|there are|is|are|was|made (?:of|from|on|with)|on|with|onto|"
    r"to|forgot|plus|also|added|add|has|have|got|put|glued|stuck|mounted|painted|drawn|printed|written|in)\b",
    re.IGNORECASE,
)


def _meant(line: Line, fact: Fact, found: Found) -> bool:
    """Whether a thing named beside the question is told of the piece, and not merely a word of the reply."""
    if line.question is None or line.at == "piece":
        return True
    asked = found.facts.get(line.at)
    if asked is not None and asked.span[0] <= fact.span[0] < asked.span[1] and asked.span != (0, len(line.text)):
        return False
    if line.question.rows:
        return True
    clause = next((s.clause for s in line.heard.said if s.clause.start <= fact.span[0] < s.clause.end), None)
    return (
        clause is not None and bool(_CUE.search(line.text[clause.start : fact.span[0]])) and not _spent(clause, asked)
    )


def _spent(clause: Clause, asked: Fact | None) -> bool:
    """The clause answers the question asked, and no more."""
    return asked is not None and clause.start <= asked.span[0] < clause.end and asked.span[1] - asked.span[0] > 0
