"""What to ask next: the first question that applies, has no answer, and whose answer can still change the plan.

Nothing here lists which questions matter for which piece. Whether one does is found out by deciding with each of
its answers: if they all come to the same, it is not asked.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Literal

from interview.plan.answers import NOT_SURE, Answers
from interview.reasoning.circumstances import Circumstances, assumed_value, hoped, known, numbers, settled
from interview.reasoning.deciding import decide_from
from interview.reasoning.figuring import number_faults
from interview.reasoning.outlining import outline
from knowledge.conditions import Every
from knowledge.loading import Knowledge
from knowledge.shape import UNSURE, Choice, Class, Contradiction, Question

Pace = Literal["full", "quick", "counter", "exact"]
COUNTER_QUESTIONS = 6
LAST = 99  # the order of what is always asked at the counter, last of the six


@dataclass(frozen=True, slots=True)
class Asked:
    """A question in the words for this situation."""

    question: Question
    text: str
    why: str
    choices: tuple[Choice, ...]


def next_question(knowledge: Knowledge, answers: Answers, pace: Pace = "full", asked: int = 0) -> Question | None:
    """The next one to ask, or None when nothing is left that can change the plan at this pace.

    `asked`: how many have been asked already; only the counter minds.
    """
    if pace != "counter":
        return next(_worth_asking(knowledge, answers, pace), None)
    closing = [q for q in knowledge.questions.values() if q.counter == LAST]
    early = asked < COUNTER_QUESTIONS - len(closing)
    found = next(_worth_asking(knowledge, answers, pace), None) if early else None
    last = next((q for q in closing if not answers.has(q.id)), None) if asked < COUNTER_QUESTIONS else None
    return found or last


def open_questions(knowledge: Knowledge, answers: Answers, pace: Pace = "full") -> tuple[Question, ...]:
    """All that are worth asking now, in order. Answers may open more."""
    return tuple(_worth_asking(knowledge, answers, pace))


def _worth_asking(knowledge: Knowledge, answers: Answers, pace: Pace) -> Iterator[Question]:
    found = False
    for question in _in_order(knowledge, _open_now(knowledge, answers, pace), pace):
        if can_change_plan(knowledge, answers, question):
            found = True
            yield question
    if pace in ("full", "exact") and not found:
        yield from _number_questions(knowledge, answers, pace)


def _open_now(knowledge: Knowledge, answers: Answers, pace: Pace) -> tuple[str, ...]:
    """What is open; at the counter also what is else only heard."""
    heard = (q.id for q in knowledge.questions.values() if q.heard and not answers.has(q.id))
    return (*known(knowledge, answers).open, *(heard if pace == "counter" else ()))


def _in_order(knowledge: Knowledge, open_: tuple[str, ...], pace: Pace) -> list[Question]:
    """Exact: all, as they follow from each other. Full: those that need no label or gauge at hand. Quick: those about
    the piece. Counter: the weightiest first."""
    questions = [knowledge.questions[id] for id in open_]
    if pace in ("full", "exact"):
        return [q for q in questions if pace == "exact" or not q.later]
    if pace == "quick":
        return [q for q in questions if q.part == "piece"]
    return sorted((q for q in questions if q.counter), key=lambda q: q.counter)


def _number_questions(knowledge: Knowledge, answers: Answers, pace: Pace) -> Iterator[Question]:
    for id in number_circumstances(knowledge, answers).open:
        if pace == "exact" or not knowledge.questions[id].later:
            yield knowledge.questions[id]


def number_circumstances(knowledge: Knowledge, answers: Answers) -> Circumstances:
    """The number questions that this plan needs, asked once the decision is known."""
    return numbers(knowledge, answers, decide_from(knowledge, settled(knowledge, answers))[1])


def can_change_plan(knowledge: Knowledge, answers: Answers, question: Question, depth: int = 2) -> bool:
    """Whether two of its answers come to different plans, or open a question of which that is true.

    Tried with what else is open taken on the safe side, and taken as it is hoped for.
    """
    if question.always or question.part not in ("piece", "trials"):
        return True
    told = [answers.say(question.id, value) for value in possible_values(knowledge, answers, question)]
    if any(_differ(knowledge, told, rest) for rest in (settled, hoped)):
        return True
    if not depth or question.id not in _leant_on(knowledge):
        return False
    before = frozenset(known(knowledge, answers).open)
    opened = ((a, i) for a in told for i in known(knowledge, a).open if i not in before)
    return any(can_change_plan(knowledge, a, knowledge.questions[i], depth - 1) for a, i in opened)


def _differ(knowledge: Knowledge, told: Sequence[Answers], rest: Callable[[Knowledge, Answers], Circumstances]) -> bool:
    outlines = (outline(knowledge, rest(knowledge, answers)) for answers in told)
    first = next(outlines)
    return any(other != first for other in outlines)


@lru_cache(maxsize=8)
def _leant_on(knowledge: Knowledge) -> frozenset[str]:
    """The questions that others are a follow-up to."""
    names = frozenset().union(*(q.when.names() for q in knowledge.questions.values()))
    return frozenset(name.split(".")[0] for name in names)


def possible_values(knowledge: Knowledge, answers: Answers, question: Question) -> Iterator[Any]:
    """One value for each choice on its own, and what "not sure" is taken as. Enough to tell whether the question matters.

    Not "not sure" itself: it always brings a trial of its own, which says nothing of the piece.
    """
    for choice in wording(question, knowledge, answers).choices:
        yield frozenset((choice.id,)) if question.kind == "several" else choice.id
    yield assumed_value(question)


# ------------------------------------------------------------------ wording


def wording(question: Question, knowledge: Knowledge, answers: Answers) -> Asked:
    """Text and choices for the situation; choices that name rows are filled from the knowledge."""
    facts = known(knowledge, answers).facts
    fitting = (w for w in question.wordings if w.when.holds(facts))
    special = next(fitting, None)
    text = special.text if special else question.text
    why = (special.why if special else "") or question.why
    own = tuple(c for c in question.choices if c.when.holds(facts))
    choices = (*_row_choices(question, knowledge, facts), *own)
    return Asked(question, _told(text, facts), _told(why, facts), choices)


def _told(text: str, facts: Mapping[str, Any]) -> str:
    """Put facts into a question's words where it names one: {media.slowest}. The names are the knowledge's own."""
    for name, value in facts.items():
        if isinstance(value, str):
            text = text.replace("{" + name + "}", value)
    return text


def _row_choices(question: Question, knowledge: Knowledge, facts: Any) -> tuple[Choice, ...]:
    """The rows a question offers: the usual ones first, then the rest as the files have them."""
    if not question.rows:
        return ()
    families = question.families.get(facts.get("piece", ""), ())
    tables: dict[str, Mapping[str, Any]] = {
        "medium": knowledge.media,
        "inclusion": knowledge.inclusions,
        "action": knowledge.actions,
        "mount": {id: row for id, row in knowledge.materials.items() if row.mount},
        "material": {id: row for id, row in knowledge.materials.items() if not families or row.family in families},
    }
    table = tables[question.rows]
    likely = (*question.likely.get(facts.get("piece", ""), ()), *question.first)
    shown = dict.fromkeys((*(f for f in likely if f in table), *table))
    ids = [i for i in shown if i not in UNSURE and not table[i].members]
    return tuple(Choice(i, table[i].name, table[i].also) for i in ids)


# ------------------------------------------------------------------ what an answer brings with it


def acknowledge(knowledge: Knowledge, before: Answers, after: Answers) -> str:
    """One line where something worth saying follows from what has just been answered, else nothing."""
    changed = {q for q in after if after.get(q) != before.get(q)}
    then = known(knowledge, before).facts
    now = known(knowledge, after).facts
    for row in knowledge.remarks.values():
        if changed & set(row.after) and row.when.holds(now) and not row.when.holds(then):
            return row.says
    return ""


def contradictions(knowledge: Knowledge, answers: Answers) -> tuple[Contradiction, ...]:
    """Answers that cannot all be so. Those taken as "not sure" contradict nothing."""
    facts = known(knowledge, answers).facts
    unsure = {q for q in answers if answers[q].unsure}
    held = tuple(
        row for row in knowledge.contradictions.values() if row.when.holds(facts) and not unsure & set(row.questions)
    )
    return held or _numbers_that_cannot_be(knowledge, answers)


def _numbers_that_cannot_be(knowledge: Knowledge, answers: Answers) -> tuple[Contradiction, ...]:
    """A room smaller than the piece, a second weighing ten times the first: the number is asked again."""
    if not any(knowledge.questions[q].part in ("numbers", "clock") for q in answers if q in knowledge.questions):
        return ()
    faults = number_faults(knowledge, answers, number_circumstances(knowledge, answers).facts)
    return tuple(
        Contradiction(f"number_{question}", "common practice", questions=(question,), when=Every(), says=says)
        for question, says in faults
    )


def refit(knowledge: Knowledge, before: Answers, after: Answers) -> Answers:
    """What was among the choices before a change and is not among them any more is to be asked again."""
    for id in after:
        question = knowledge.questions.get(id)
        if question is None or question.kind not in ("one", "several") or after[id] != before.get(id):
            continue
        value = after.value(id)
        if value is None or not _offered(knowledge, before, question, value):
            continue
        if id in known(knowledge, after.withdraw(id)).open and not _offered(knowledge, after, question, value):
            after = after.make_stale(id)
    return after


def _offered(knowledge: Knowledge, answers: Answers, question: Question, value: Any) -> bool:
    ids = {choice.id for choice in wording(question, knowledge, answers).choices}
    return value <= ids if isinstance(value, frozenset) else value in ids


def kinds_differ(knowledge: Knowledge, answers: Answers, question: Question, one: Class) -> bool:
    """Whether the kinds of a class that was said come to different plans, so that it is worth asking which."""
    if question.id not in answers:
        return False
    value = answers.value(question.id)
    rest = value - {one.id} if isinstance(value, frozenset) else None
    told = [
        answers.say(question.id, kind.row if rest is None else rest | {kind.row})
        for kind in one.kinds
        if rest is None or kind.row not in rest
    ]
    return _differ(knowledge, told, settled) or _differ(knowledge, told, hoped)


def questions_left(knowledge: Knowledge, answers: Answers, pace: Pace, asked: int) -> tuple[int, int]:
    """How many questions are still to come: the least and the most, as they are answered."""
    counts = []
    for reply in (lambda _: NOT_SURE, _usual_reply):
        told, count = answers, 0
        while (question := next_question(knowledge, told, pace, asked + count)) is not None:
            told, count = told.say(question.id, reply(question)), count + 1
        counts.append(count)
    return min(counts), max(counts)


def _usual_reply(question: Question) -> Any:
    if question.kind not in ("one", "several") or not question.choices:
        return NOT_SURE
    first = next((id for id in question.alone), question.choices[0].id)
    return frozenset((first,)) if question.kind == "several" else first
