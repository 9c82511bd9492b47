"""A line and its focus -> facts: what it says of the question asked, and of any other, each with its doubt and place."""

from __future__ import annotations

import re
from functools import lru_cache

from interview.plan.answers import NOT_SURE
from interview.reading.ages import add_ages
from interview.reading.amount_types import Asking
from interview.reading.amount_words import amount_for
from interview.reading.choices import Chosen, by_number, head, read_choice, says_none, thats_all
from interview.reading.clauses import spoken_words
from interview.reading.elsewhere import add_elsewhere, add_solvents
from interview.reading.leftovers import unknown_words
from interview.reading.line import PICKED, ROWS, SHELVES, Fact, Found, Line, Pick, Span
from interview.reading.measures import Unclear
from interview.reading.scope import Stance
from interview.reading.sentence import Known, Sentence, lexicon_of, read_sentence
from interview.reading.tokens import words_of
from interview.reading.told_amounts import add_amounts
from interview.reading.told_rows import add_rows, by_form, class_of, narrow_mount, row_fact, where
from interview.reading.told_trials import add_subjects, add_tried
from knowledge.shape import Choice, Question


def gather(line: Line) -> Found:
    """All facts of a line."""
    found = Found()
    known = _known(line)
    sentence = read_sentence(line.said, line.knowledge, known)
    found.names = named(sentence)
    if line.question is not None:
        _asked(line, sentence, found)
    add_subjects(line, found)
    add_amounts(line, sentence, found)
    add_ages(line, found)
    add_rows(line, sentence, found)
    _states(line, sentence, found)
    _glued_on(line, sentence, found)
    _without_spray(line, found)
    _removed(line, sentence, found)
    _swapped(line, found)
    _instead(line, found)
    narrow_mount(line, found)
    add_solvents(line, found)
    add_elsewhere(line, found)
    add_tried(line, found)
    if _LABEL_TELLS.search(line.text):  # the label that tells it is that of the resin, and lies on nothing
        found.facts = {q: fact for q, fact in found.facts.items() if q not in ROWS or fact.words.casefold() != "label"}
    return found


_LABEL_TELLS = re.compile(r"\blabel(?:'s)? (?:says?|said|gives?|reads?|states?|tells?|is|has|:)", re.IGNORECASE)


def named(sentence: Sentence) -> tuple[str, ...]:
    """Words that no one taught, and things that nothing is made of, as typed."""
    words = unknown_words(sentence.items, {m.place for p in sentence.phrases for m in p.shown})
    return tuple(dict.fromkeys((*words, *sentence.draft.things)))


def _known(line: Line) -> Known:
    answers = line.answers
    piece = answers.value("piece") or ""
    carried = piece in ("sheet", "photo", "collage", "jigsaw", "canvas", "cloth") or bool(answers.value("support"))
    choices = line.choices if line.question is None or line.question.rows else line.question.choices
    begun = (line.at not in ("opening", "piece") and bool(line.answers)) or (
        line.at == "piece" and bool(line.heard.asks)
    )
    return Known(line.question, choices, piece, carried, _families(line), begun)


def _families(line: Line) -> frozenset[str]:
    """The families of what the piece is made of, as far as it is known."""
    rows = [*(line.answers.value("support") or ()), *filter(None, (line.answers.value("mounted"),))]
    return frozenset(line.knowledge.materials[id].family for id in rows if id in line.knowledge.materials)


# ------------------------------------------------------------------ the question asked


def _asked(line: Line, sentence: Sentence, found: Found) -> None:
    question = line.question
    assert question is not None
    if question.kind not in PICKED:
        _amount_asked(line, question, found)
        return
    lead = next((one for one in reversed(line.heard.leads) if one != "nearly"), "")
    if question.rows:
        _row_asked(line, sentence, question, lead, found)
        return
    if not line.said.strip() and not lead:
        return
    chosen = read_choice(line.said, sentence, question, question.choices, lead)
    _take(line, question, chosen, found)


def picked(line: Line) -> Fact | None:
    """A bare number, "number 3", or the very words of one choice of the list, at a question with choices."""
    question = line.question
    if question is None or question.kind not in PICKED:
        return None
    span = (0, len(line.text))
    if line.text.strip(" .)#") == str(len(line.choices) + 1):  # the list ends with "not sure"
        return Fact(question.id, NOT_SURE, False, span, line.text)
    chosen = by_number(line.text.strip(), line.choices, several=question.kind == "several")
    ids = chosen.ids if chosen is not None else _in_its_words(line, question)
    if not ids:
        return None
    return Fact(question.id, frozenset(ids) if question.kind == "several" else ids[0], False, span, line.text)


def _in_its_words(line: Line, question: Question) -> tuple[str, ...]:
    """The choice whose name is the whole line, where no other has it and the words name no wider kind."""
    words = spoken_words(line.text.strip(" .,!"))
    lexicon = lexicon_of(line.knowledge)
    names, others = _names(line.choices)
    if len(names.get(words, ())) == 1:
        return names[words]
    if question.rows and any(s.sort == "kind" for s in lexicon.phrases.get(words_of(line.text, lexicon.spelling), ())):
        return ()
    return others[words] if len(others.get(words, ())) == 1 else ()


Named = dict[tuple[str, ...], tuple[str, ...]]


@lru_cache(maxsize=64)
def _names(choices: tuple[Choice, ...]) -> tuple[Named, Named]:
    """The choices by their texts, and by all their words."""
    names: Named = {}
    others: Named = {}
    for choice in choices:
        words = spoken_words(choice.text)
        names[words] = (*names.get(words, ()), choice.id)
        for other in dict.fromkeys(spoken_words(w) for w in (choice.text, head(choice.text), *choice.also)):
            others[other] = (*others.get(other, ()), choice.id)
    return names, others


def _take(line: Line, question: Question, chosen: Chosen, found: Found) -> None:
    if chosen.ids:
        value = frozenset(chosen.ids) if question.kind == "several" else chosen.ids[0]
        found.add(line.fact(question.id, value, chosen.span, chosen.doubt))
        found.guessed = bool(chosen.because)
    elif chosen.maybe:
        found.pick = Pick(question.id, chosen.maybe)


def _amount_asked(line: Line, question: Question, found: Found) -> None:
    if not line.said.strip():
        return
    got = amount_for(Asking(question, line.said, line.answers, line.now, line.imperial))
    if isinstance(got, Unclear):
        found.pick = Pick(question.id, says=got.says)
    elif got is not None:
        found.add(line.fact(question.id, got.value, got.span))


def _row_asked(line: Line, sentence: Sentence, question: Question, lead: str, found: Found) -> None:
    own = {c.id for c in question.choices}
    chosen = read_choice(line.said, sentence, question, question.choices) if own else Chosen()
    fact = row_fact(line, sentence, question.id)
    if fact is not None:
        found.add(fact)
    elif chosen.ids:
        _take(line, question, chosen, found)
    elif line.answers.value(question.id) and thats_all(line.said):
        return
    elif lead == "deny" or says_none(line.said):
        offered = (*(c.id for c in question.choices), *question.alone)
        none = next((id for id in offered if id in ("none", "no", "no_medium")), "")
        if none and (says_none(line.said) or not sentence.draft.denied.get(question.id)):
            found.add(
                line.fact(question.id, frozenset((none,)) if question.kind == "several" else none, (0, len(line.text)))
            )
    guessed = None if question.id in found.facts else by_form(line, question)
    if guessed is not None:
        found.add(guessed)


_OF_WOOD = ("wood_finish", "wood_features")
_NO_WOOD = ("sheet", "photo", "canvas", "cloth", "jigsaw")  # "granny painted this one"


def _states(line: Line, sentence: Sentence, found: Found) -> None:
    """What words of state say of other questions: torn, oiled, the only one."""
    proposed = sentence.settled.proposed
    for question, value in proposed.items():
        if question in ROWS or question in ("piece", line.at) or question in found.facts:
            continue
        other = line.answers.value("piece") in _NO_WOOD or line.answers.value("media")
        if question in _OF_WOOD and other and not _families(line) & {"wood", "board"}:
            continue
        values = value if isinstance(value, frozenset) else {value}
        span, _ = where(sentence, question, values)
        if line.question is not None and line.at != "piece" and not _beside_the_answer(line, span, found):
            continue
        if any(a <= span[0] < b for a, b in found.spent) or (line.at != "opening" and _shared(span, found)):
            continue
        if found.guessed and line.at in found.facts and len(line.heard.said) == 1:
            found.facts.pop(line.at)  # a word that says it of another matter outweighs a guess
        found.add(line.fact(question, value, span))


def _beside_the_answer(line: Line, span: Span, found: Found) -> bool:
    """Whether a state told at a question stands in another clause than the answer, or the question is of rows."""
    asked = None if found.guessed and len(line.heard.said) == 1 else found.facts.get(line.at)
    if asked is not None and asked.span[0] <= span[0] < asked.span[1]:
        return False
    assert line.question is not None
    clause = next((s.clause for s in line.heard.said if s.clause.start <= span[0] < s.clause.end), None)
    alone = clause is not None and (asked is None or not clause.start <= asked.span[0] < clause.end)
    return bool(line.question.rows) or alone


_NO_SPRAY = re.compile(
    r"\b(?:no|not|without|never|can'?t|cannot|won'?t)\W+(?:\w+\W+)?spray|"
    r"\bspray\w*(?: cans?)? (?:is|are|would be) (?:out|not|no(?! (?:problem|trouble|bother|issue))|impossible|off|forbidden)\b",
    re.IGNORECASE,
)


def _without_spray(line: Line, found: Found) -> None:
    """ "I have no garden, so no spray" leaves the brush."""
    fact = found.facts.get("ways")
    if fact is not None and isinstance(fact.value, frozenset) and _NO_SPRAY.search(line.said):
        left = frozenset(id for id in fact.value if not id.startswith("spray"))
        found.facts["ways"] = Fact("ways", left or frozenset(("brush",)), fact.doubt, fact.span, fact.words)


def _glued_on(line: Line, sentence: Sentence, found: Found) -> None:
    """ "A feather glued on it", "sand, glued down": told of what lies on it, where nothing is said of a mount."""
    states = sentence.draft.states
    told = states.get("paste") or states.get("held") or [s for s in states.get("adhesive", ()) if s.value != "laid"]
    beside = "laid_on" in found.facts and "mounted" not in found.facts and line.at not in ("opening", "mounted", "held")
    if told and beside:
        loose = re.search(r"\b(?:loose|not (?:glued|stuck|fixed))\b", line.said, re.IGNORECASE)
        found.facts["held"] = line.fact("held", "loose" if loose else "glued", (0, 0))


def _shared(span: Span, found: Found) -> bool:
    """Whether the same words already say something else."""
    return any(a < span[1] and span[0] < b for a, b in (f.span for q, f in found.facts.items() if q in ROWS))


def _removed(line: Line, sentence: Sentence, found: Found) -> None:
    """What is said not to be there and had been answered."""
    for question, ids in sentence.settled.denied.items():
        for place in ("support", "mounted") if question == "support" else (question,):
            had = line.answers.value(place)
            values = had if isinstance(had, frozenset) else {had}
            out = (ids - _said_too(sentence, question)) | {m for id in ids for m in _members(id, place, line)}
            found.removes += [(place, id) for id in sorted(out & {v for v in values if isinstance(v, str)})]
            fact = found.facts.get(place)
            if place in ROWS and fact is not None and isinstance(fact.value, frozenset) and fact.value & ids:
                left = fact.value - ids
                found.facts.pop(place)
                if left:
                    found.add(Fact(place, left, fact.doubt, fact.span, fact.words))


def _said_too(sentence: Sentence, question: str) -> frozenset[str]:
    """Rows of which one member is denied and another said: "ash, not oak"."""
    said = (i for i, stance in zip(sentence.items, sentence.found, strict=True) if stance is Stance.SAID)
    return frozenset(s.value for item in said for s in item.senses if s.sort == "row" and s.question == question)


def _swapped(line: Line, found: Found) -> None:
    """ "Swap the copy paper for bristol": the copy paper goes."""
    if not line.gone:
        return
    gone = read_sentence(line.gone, line.knowledge, _known(line))
    for question in ROWS:
        shelf = "support" if question == "mounted" else question
        named = {
            s.value
            for m in (gone.draft.supports, gone.draft.mounts, gone.draft.media, gone.draft.laid_on)
            for s in m
            if s.question == shelf
        }
        had = line.answers.value(question)
        values = had if isinstance(had, frozenset) else {had}
        wide = {m for id in named for m in _members(id, question, line)}
        found.removes += [(question, id) for id in sorted((named | wide) & {v for v in values if isinstance(v, str)})]


def _instead(line: Line, found: Found) -> None:
    """ "Not MDF, it's plywood": what is said takes the place of what it denies, on the question that had it."""
    out = {question for question, _ in found.removes}
    said = found.facts.get("support")
    if said is not None and "mounted" in out and "support" not in out and "mounted" not in found.facts:
        value = next(iter(said.value)) if len(said.value) == 1 else ""
        row = line.knowledge.materials.get(value)
        if row is not None and row.mount:
            found.facts.pop("support")
            found.add(Fact("mounted", value, said.doubt, said.span, said.words))


def _members(kind: str, question: str, line: Line) -> set[str]:
    if question not in SHELVES:
        return set()
    whole = class_of(kind, question, line)
    return {whole, *getattr(line.knowledge, SHELVES[question])[whole].members} if whole else set()
