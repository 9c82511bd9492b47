"""Materials, media and things that a line names: rows, classes, and what both become beside what is known."""

from __future__ import annotations

import re
from collections.abc import Iterable

from interview.reading.clauses import Clause
from interview.reading.lexicon import Sense
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
    ids = _not_over(ids, question, line.knowledge)
    kept = _narrower(ids, line, sentence, question)
    several = question != "mounted"
    if not several and len(kept) > 1:
        return None
    classes = all(id in line.knowledge.classes for id in kept)
    return line.fact(question, frozenset(kept) if several else next(iter(kept)), span, doubted and not classes)


def _of_open(one: Open, question: str, line: Line) -> set[str]:
    """What is recorded for what is open: its known rows and the class of the rest."""
    shelf = getattr(line.knowledge, SHELVES[question])
    ids = set(one.known)
    if question == "mounted":  # what is named there beside a kind is said, not doubted
        ids |= {named for named in one.named if named in shelf and one.named - {named} and not shelf[named].members}
    if len(one.named) == 1 and one.named == one.among:
        ids |= {id for id in one.named if id in shelf}
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


def _not_over(ids: set[str], question: str, knowledge: Knowledge) -> set[str]:
    """Without the classes of which a member is named beside them: "on a board, greyboard"."""
    shelf = getattr(knowledge, SHELVES[question])
    return {id for id in ids if not (id in shelf and set(shelf[id].members) & ids)}


def _narrower(ids: set[str], line: Line, sentence: Sentence, question: str) -> set[str]:
    """A class, or a wide word, of which a member is already known says nothing new: it is that member."""
    shelf = getattr(line.knowledge, SHELVES[question])
    before = line.answers.value(question)
    had = set(before) if isinstance(before, frozenset) else {before} if before else set()
    had = {id for id in had if id in shelf and not shelf[id].members} - sentence.settled.denied.get(
        question, frozenset()
    )
    if line.gone:
        had = set()
    wide: dict[str, set[str]] = {}
    for sense in _senses(sentence, question):
        if sense.among:
            wide.setdefault(sense.whole or sense.value, set()).update(sense.among)
            wide.setdefault(sense.value, set()).update(sense.among)
    kept: set[str] = set()
    for id in ids:
        members = set(shelf[id].members) if id in shelf else set()
        kept |= (had & (wide.get(id) or members)) or {id}
    return kept


def _senses(sentence: Sentence, question: str) -> list[Sense]:
    draft = sentence.draft
    return {"support": draft.supports, "mounted": draft.mounts, "media": draft.media, "laid_on": draft.laid_on}[
        question
    ]


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


def _narrows(line: Line, fact: Fact) -> bool:
    """Whether it is a nearer kind of the class that the mount was said to be: "pine", of "some wood"."""
    had = line.answers.value("mounted")
    value = next(iter(fact.value)) if isinstance(fact.value, frozenset) and len(fact.value) == 1 else fact.value
    row = line.knowledge.materials.get(value) if isinstance(value, str) else None
    if fact.question not in ("support", "mounted") or row is None or not row.mount or had not in line.knowledge.classes:
        return False
    whole = line.knowledge.materials[had]
    before = line.answers.value("support") or frozenset()
    held = {m for id in before if id in line.knowledge.materials for m in (id, *line.knowledge.materials[id].members)}
    return value not in held and (value in whole.members or row.family == whole.family)


def narrow_mount(line: Line, found: Found) -> None:
    """What narrows the class of the mount is told of the mount, wherever it is said."""
    said = found.facts.get("support")
    if said is not None and "mounted" not in found.facts and line.at != "support" and _narrows(line, said):
        found.facts.pop("support")
        found.add(Fact("mounted", next(iter(said.value)), said.doubt, said.span, said.words))


_CUE = re.compile(
    r"\b(?:that'?s|it'?s|its|it is|they'?re|they are|there'?s|theres|there is|there are|is|are|was|made (?:of|from|on|with)|on|with|onto|"
    r"to|forgot|plus|also|added|add|has|have|got|put|glued|stuck|mounted|painted|drawn|printed|written|in|make it|rather|of)\b",
    re.IGNORECASE,
)
_CARRIES = re.compile(
    r"\b(?:that'?s|it'?s|its|it is|they'?re|they are|there'?s|theres|is|are|made (?:of|from|on)|on|onto|to|forgot|plus|"
    r"glued|stuck|mounted|of)\b",
    re.IGNORECASE,
)
_LEADING = re.compile(
    r"^\W*(?:(?:a|an|the|some|my|and|just|only|not|no|plain|thin|thick|old|really|actually)\W+)*$", re.IGNORECASE
)
_FEW = 3  # words after a thing named at the head of a clause, which is then meant itself
_NUMBERED = re.compile(r"\d+\W+(?:\w+\W+)?$")


def _meant(line: Line, fact: Fact, found: Found) -> bool:
    """Whether a thing named beside the question is told of the piece, and not merely a word of the reply."""
    if line.at in ("opening", "piece") or _narrows(line, fact):
        return True
    if any(a <= fact.span[0] < b for a, b in found.spent):
        return False
    clause = next((s.clause for s in line.heard.said if s.clause.start <= fact.span[0] < s.clause.end), None)
    if clause is None:
        return fact.span == (0, 0)
    before = line.said[clause.start : fact.span[0]]
    if line.question is None:
        if "count" in found.facts and _NUMBERED.search(before):
            return False
        after = line.said[fact.span[1] : clause.end].split()
        leads = bool(_LEADING.match(before)) and len(after) <= _FEW
        return bool(line.heard.marks & {"mend", "more"}) or leads or bool(_CUE.search(before))
    asked = found.facts.get(line.at)
    if asked is not None and asked.span[0] <= fact.span[0] < asked.span[1] and asked.span != (0, len(line.text)):
        return False
    cue = _CARRIES if fact.question in ("support", "mounted") else _CUE
    return bool(cue.search(before)) and (bool(line.question.rows) or not _spent(clause, asked))


def _spent(clause: Clause, asked: Fact | None) -> bool:
    """The clause answers the question asked, and no more."""
    return asked is not None and clause.start <= asked.span[0] < clause.end and asked.span[1] - asked.span[0] > 0
