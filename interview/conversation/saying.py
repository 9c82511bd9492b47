"""What is said back: the piece as it was understood, what a line changed, what found no place, what became of it all."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any

from interview.conversation.effects import Effect
from interview.conversation.ledger import entries
from interview.conversation.naming import NAMED, own_words
from interview.conversation.places import SHOWN, Place
from interview.conversation.telling import value_words
from interview.files.kept import Took
from interview.plan.answers import NOT_SURE, Answers
from interview.reading.clauses import spoken_words
from interview.reasoning.describing import joined

if TYPE_CHECKING:
    from interview.conversation.talk import Talk
    from interview.reading.turn import Turn
    from interview.reasoning.agenda import Asked

_IN_THE_SENTENCE = frozenset(("piece", "support", "mounted", "media", "laid_on"))
_TOLD_AT_ONCE = ("proposals", "worries")  # what follows from them says what was heard


def read_back(talk: Talk) -> None:
    """What was understood, to be agreed to or mended."""
    talk.say("")
    talk.say(understood(talk))
    if talk.kept.said and talk.kept.said[-1].left:
        _tell_unplaced(talk, talk.kept.said[-1].left)
    line = talk.adviser.acknowledge(Answers(), talk.answers)
    if line:
        talk.say(f"  {line}", "answer")
    if talk.answers.value("worries"):
        _tell_worries(talk, Answers())
    _tell_proposals(talk, talk.kept.said[-1].took if talk.kept.said else ())


def understood(talk: Talk) -> str:
    """The piece in a sentence, its size and number, then the rest: "Also: how the layers lie: some edges lift"."""
    answers = talk.answers
    parts = [talk.adviser.describe(answers, own_words(talk.kept, talk.adviser.knowledge))]
    size = answers.get("size")
    if size is not None and not size.unsure:
        parts.append(_words(talk, "size", size.value) + (", you think" if size.doubt else ""))
    count = answers.value("count")
    if count and count != 1:
        parts.append(f"{count} of them")
    text = f"{', '.join(p for p in parts if p)}."
    rest = _told_beside(talk)
    if "opened" in rest and answers.value("opened") and answers.value("opened") <= set(spoken_words(text)):
        rest.remove("opened")
    also = [f"{talk.adviser.question(id).short}: {_words(talk, id, answers[id].value)}" for id in rest]
    doubted = [_words(talk, id, a.value) for id, a in answers.items() if a.doubt and id not in ("size", "piece")]
    lines = [text[:1].upper() + text[1:]]
    if also:
        lines.append(f"  Also: {'; '.join(also)}.")
    if doubted:
        lines.append(f"  You are not certain of: {joined(doubted)}.")
    return "\n".join(lines)


def _told_beside(talk: Talk) -> list[str]:
    """The answers that the sentence about the piece does not hold."""
    known = talk.adviser.knowledge.questions
    ids = [id for id in talk.answers if id in known and id not in _IN_THE_SENTENCE | {"size", "count"}]
    return [id for id in ids if not known[id].later and id not in _TOLD_AT_ONCE]


def told_lines(talk: Talk) -> tuple[str, ...]:
    """What was said beside what the piece is, each in a few words; nothing that was assumed."""
    ids = [id for id in _told_beside(talk) if not talk.answers[id].unsure]
    return tuple(f"{talk.adviser.question(id).short}: {_words(talk, id, talk.answers[id].value)}" for id in ids)


def _words(talk: Talk, id: str, value: Any) -> str:
    knowledge = talk.adviser.knowledge
    words = value_words(talk.adviser.question(id), value, talk.adviser, talk.answers)
    if id in NAMED:
        for row, called in own_words(talk.kept, knowledge).items():
            words = words.replace((knowledge.materials.get(row) or knowledge.inclusions[row]).name, called)
    return words


# ------------------------------------------------------------------ what a line did


def tell_effect(talk: Talk, place: Place, typed: str, turn: Turn, effect: Effect, before: Answers) -> None:
    """What was taken of a line, in a few words, and what follows from it."""
    if place.kind == "opening":
        return
    lines = [line for line in _taken(talk, place, typed, effect, before) if line]
    if lines:
        talk.say(f"  {' '.join(lines)}", "answer")
    follows = talk.adviser.acknowledge(before, talk.answers)
    if follows:
        talk.say(f"  {follows}", "answer")
    _tell_stale(talk, before)
    if turn.worries:
        _tell_worries(talk, before)
    _tell_proposals(talk, effect.took)


def _taken(talk: Talk, place: Place, typed: str, effect: Effect, before: Answers) -> Iterator[str]:
    asked = place.id if place.kind in ("question", "narrow", "guess") else ""
    new: list[str] = []
    known: list[str] = []
    for id in dict.fromkeys((*effect.changed, *(took.question for took in effect.took))):
        answer = talk.answers.get(id)
        if id not in _TOLD_AT_ONCE and (id == asked or id in effect.changed or answer is None):
            yield _of_one(talk, id, asked, typed, effect)
        elif answer is not None and answer.value is not NOT_SURE and id not in _TOLD_AT_ONCE:
            line = f"{talk.adviser.question(id).short}: {_words(talk, id, answer.value)}"
            (known if answer == before.get(id) else new).append(f"{line}, you think" if answer.doubt else line)
    if new:
        yield f"Noted: {'; '.join(new)}."
    elif known and not effect.changed and not any(took.question == asked for took in effect.took):
        yield f"I have that: {'; '.join(known)}."
    if place.kind == "question" and asked not in talk.answers and (new or known or effect.changed):
        yield f"Still to tell: {talk.adviser.question(asked).short}."


def _of_one(talk: Talk, id: str, asked: str, typed: str, effect: Effect) -> str:
    """What was asked, or what was answered before and is otherwise now."""
    answer = talk.answers.get(id)
    if answer is None:
        return f"{_capital(talk.adviser.question(id).short)}: taken back."
    if id == asked:
        return _plainly(talk, id, typed, answer.value)
    return _difference(talk, id, effect.changed[id], answer.value)


def _difference(talk: Talk, id: str, old: Any, new: Any) -> str:
    """ "With glitter, too." "Oil pastel, not soft pastel." """
    if isinstance(old, frozenset) and isinstance(new, frozenset):
        added, gone = new - old, frozenset(i for i in old - new if not i.startswith("some_") or not new - old)
        if added and gone:
            return f"{_capital(_words(talk, id, added))}, not {_words(talk, id, gone)}."
        if added:
            narrowed = any(i.startswith("some_") for i in old - new)
            return f"{_capital(_words(talk, id, added))}, then." if narrowed else f"Added: {_words(talk, id, added)}."
        return f"Taken away: {_words(talk, id, gone)}."
    if old is NOT_SURE:
        return f"{_capital(talk.adviser.question(id).short)}: {_words(talk, id, new)}."
    if isinstance(old, str) and old.startswith("some_"):
        return f"{_capital(_words(talk, id, new))}, then."
    return f"{_capital(_words(talk, id, new))}, not {_words(talk, id, old)}."


def _plainly(talk: Talk, id: str, typed: str, value: Any) -> str:
    """How a longer reply was taken, where that is not what was typed word for word."""
    if value is NOT_SURE:
        return f"{_capital(talk.adviser.question(id).unsure_says)}."
    words = _words(talk, id, value)
    said, told = set(spoken_words(typed)), set(spoken_words(words))
    return "" if len(typed.split()) < 3 or told & said == told else f"Taken as: {words}."


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


def _tell_stale(talk: Talk, before: Answers) -> None:
    stale = [id for id in talk.answers if talk.answers[id].origin == "stale" and before.has(id)]
    if stale:
        names = ", ".join(talk.adviser.question(id).short for id in stale)
        talk.say(f"  That no longer fits, so I ask again: {names}.", "quiet")


def _tell_worries(talk: Talk, before: Answers) -> None:
    """A worry spoken, and what it means for the work."""
    was = {worry.rule for worry in talk.adviser.plan(before).worries}
    talk.say_all((f"  {worry.says}" for worry in talk.plan().worries if worry.rule not in was), "warning")


def _tell_proposals(talk: Talk, took: Iterable[Took]) -> None:
    """What they would do, judged at once on their own piece."""
    meant = {id for one in took if one.question == "proposals" for id in one.value}
    for judged in talk.plan().proposals if meant else ():
        if judged.action in meant:
            talk.say(f"  {_capital(judged.name)}: {judged.says}", "plain" if judged.verdict == "yes" else "warning")


def tell_left(talk: Talk, effect: Effect, something: bool) -> None:
    """What found no place, if the rest did; where nothing was understood the whole line is asked for again."""
    if effect.left and something:
        _tell_unplaced(talk, effect.left)


def _tell_unplaced(talk: Talk, left: tuple[str, ...]) -> None:
    words = joined([f'"{word}"' for word in left])
    talk.say(f"  I have nothing on {words}: kept in your notes as not covered.", "quiet")


# ------------------------------------------------------------------ on request


def ledger_lines(talk: Talk) -> Iterator[str]:
    """All that was said, and what became of it."""
    found = list(entries(talk.kept, talk.adviser.knowledge))
    if found:
        yield "What you told me, and what became of it:"
    for entry in found:
        where = (
            talk.adviser.question(entry.question).short if entry.question in talk.adviser.knowledge.questions else ""
        )
        words = f'  "{" ".join(entry.words.split()[:12])}"'
        if entry.fate == "not covered":
            yield f"{words}: not covered."
        elif entry.fate == "asked again":
            yield f"{words}: not understood; you said it in other words."
        elif entry.fate == "trouble":
            yield f"{words}: heard as something gone wrong, and told what to do."
        elif entry.fate == "contradicted":
            yield f"{words}: you said otherwise later ({where})."
        else:
            mark = {"doubted": ", not certain", "narrowed": ", since told more exactly"}.get(entry.fate, "")
            yield f"{words}: {where}{mark}."


def meanings(talk: Talk, place: Place, asked: Asked) -> Iterator[str]:
    """The choices on the screen, each with what it means or how to tell it."""
    from interview.conversation.meanings import choice_meant

    knowledge = talk.adviser.knowledge
    tells = {kind.row: kind.tell for one in knowledge.classes.values() for kind in one.kinds}
    for choice in asked.choices[place.page * SHOWN :][:SHOWN]:
        means = tells.get(choice.id) or choice_meant(asked.question.id, choice) or choice.hint
        yield f"  {choice.text}{f': {means}' if means else ''}"
