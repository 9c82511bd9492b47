"""A turn -> the answers after it: what is set, added, put in another's place, taken away. Pure.

A thing added adds, a correction replaces only what it names, a kind named within a class narrows it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from interview.files.kept import Took
from interview.plan.answers import NOT_SURE, Answers
from interview.reading.fitting import fits
from knowledge.classes import class_named, not_sure_after
from knowledge.conditions import Every, Leaf

if TYPE_CHECKING:
    from interview.reading.turn import Fact, Turn
    from knowledge.loading import Knowledge
    from knowledge.shape import Class, Question


@dataclass(frozen=True, slots=True)
class Effect:
    """answers: after the turn. took: what the line said. before: what was answered until then, by question, where
    that changed. left: words that found no place."""

    answers: Answers
    took: tuple[Took, ...] = ()
    before: Mapping[str, Any] | None = None
    left: tuple[str, ...] = ()

    @property
    def changed(self) -> Mapping[str, Any]:
        return self.before or {}


def take(
    knowledge: Knowledge, answers: Answers, turn: Turn, asked: str = "", *, anew: bool = False, instead: str = ""
) -> Effect:
    """`asked`: the question on the screen. `anew`: what is said of it replaces the whole old answer. `instead`: the
    class whose kind was asked for; what is said takes its place."""
    before: dict[str, Any] = {}
    took: list[Took] = []
    left = [] if turn.worries else list(turn.leftover)
    after = answers
    if instead:
        turn = replace(turn, removes=(*turn.removes, (asked, instead)))
    for id, away in _taken_away(turn).items():
        if id != asked and id not in {fact.question for fact in turn.facts}:
            after = _without(after, id, away)
            if after.get(id) != answers.get(id):
                before[id] = answers.value(id)
    for fact in turn.facts:
        question = knowledge.questions.get(fact.question)
        if question is None or not fits(fact.value, question, knowledge):
            left.append(fact.words)
            continue
        took.append(Took(fact.question, fact.value, fact.words, fact.doubt))
        value = _value(knowledge, answers, turn, fact, question, anew=anew and fact.question == asked)
        old = answers.get(question.id)
        if old is not None and old.value != value:
            before[question.id] = old.value
        if old is None or old.value != value or old.origin == "stale":
            origin = "trial" if question.part == "trials" else "said"
            after = after.say(question.id, value, origin, fact.words, doubt=fact.doubt)  # type: ignore[arg-type]
    for id in dict.fromkeys(fact.question for fact in took):
        after = _with_gates(knowledge, after, id)
    return Effect(after, tuple(took), before, tuple(w for w in left if w))


def _with_gates(knowledge: Knowledge, answers: Answers, id: str) -> Answers:
    """What was told without being asked for is at hand: "the label says 2:1" tells that there is a label."""
    when = knowledge.questions[id].when
    for part in when.parts if isinstance(when, Every) else (when,):
        gate = knowledge.questions.get(part.of) if isinstance(part, Leaf) and part.test == "is" else None
        if gate is None or not gate.later or gate.kind != "several":
            continue
        assert isinstance(part, Leaf)
        had = answers.value(gate.id) or frozenset()
        answers = answers.say(gate.id, (had - frozenset(gate.alone)) | {part.value})
    return answers


def _taken_away(turn: Turn) -> dict[str, set[str]]:
    away: dict[str, set[str]] = {}
    for id, value in turn.removes:
        away.setdefault(id, set()).add(value)
    return away


def _without(answers: Answers, id: str, away: set[str]) -> Answers:
    value = answers.value(id)
    if isinstance(value, frozenset):
        rest = value - away
        return answers.say(id, rest) if rest and rest != value else answers if rest else answers.withdraw(id)
    return answers.withdraw(id) if value in away else answers


def _value(knowledge: Knowledge, answers: Answers, turn: Turn, fact: Fact, question: Question, *, anew: bool) -> Any:
    old = answers.value(question.id)
    if fact.value is NOT_SURE:
        sure_of = question.not_sure_of.get(answers.value("piece") or "")
        one = knowledge.classes[sure_of] if sure_of else class_of_piece(knowledge, answers, question)
        return (not_sure_after(knowledge.classes, old) if old is not None else None) or _as_class(one, question)
    if old is None or anew:
        return fact.value
    if question.kind == "one":
        known = class_named(knowledge.classes, fact.value)
        return old if known and old in members(knowledge, known.id) else fact.value
    if question.kind == "several":
        return _together(knowledge, old, fact.value, turn, question)
    return fact.value


def _as_class(one: Class | None, question: Question) -> Any:
    """Who is not sure of the kind of wood still said that it is wood."""
    if one is None:
        return NOT_SURE
    return frozenset((one.id,)) if question.kind == "several" else one.id


def class_of_piece(knowledge: Knowledge, answers: Answers, question: Question) -> Class | None:
    """The class of material that a piece of this sort is made of, where it is of one: a wooden one, a photograph."""
    families = question.families.get(answers.value("piece") or "", ())
    classes = knowledge.classes.values()
    return next((c for c in classes if families and c.of == "material" and c.families[:1] == families[:1]), None)


def _together(
    knowledge: Knowledge, old: frozenset[str], new: frozenset[str], turn: Turn, question: Question
) -> frozenset[str]:
    alone = set(question.alone)
    if new & alone:
        return new
    rest = old - _taken_away(turn).get(question.id, set()) - alone
    if "correct" in turn.acts and "add" not in turn.acts and rest == old - alone:
        rest -= _rivals(knowledge, old, new, turn, question)
    rest = frozenset(id for id in rest if not new & members(knowledge, id))  # narrowed
    said = frozenset(id for id in new if not rest & members(knowledge, id))  # "wood", after "pine", adds nothing
    return rest | said


def _rivals(
    knowledge: Knowledge, old: frozenset[str], new: frozenset[str], turn: Turn, question: Question
) -> frozenset[str]:
    """What a correction that does not say so takes the place of: what is of the same class or family; failing that the
    only one, where what was said is denied or a piece has but one."""
    like = frozenset(id for id in old if _groups(knowledge, id) & {g for n in new for g in _groups(knowledge, n)})
    if like or len(old) > 1:
        return like
    return old if "deny" in turn.acts or question.id == "support" else frozenset()


def _groups(knowledge: Knowledge, id: str) -> frozenset[str]:
    """The classes a row is in, its family, and what it is a sort of: chalk marker and alcohol marker are both markers."""
    groups = {one for one in knowledge.classes if id in members(knowledge, one)}
    for table in (knowledge.materials, knowledge.media, knowledge.inclusions):
        if id in table:
            groups |= {name.split()[-1] for name in (table[id].name, *table[id].also)}
            groups |= {family} if (family := getattr(table[id], "family", "")) else set()
    return frozenset(groups)


def members(knowledge: Knowledge, id: str) -> frozenset[str]:
    """The rows of a class; empty for anything else."""
    one = knowledge.classes.get(id)
    if one is None:
        return frozenset()
    for table in (knowledge.materials, knowledge.media, knowledge.inclusions):
        if id in table:
            return frozenset((*table[id].members, *(kind.row for kind in one.kinds)))
    return frozenset()
