"""Words and things explained from the data: a term, the choices on the screen, how to tell, whether a tin will do."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from interview.reasoning.circumstances import known
from interview.reasoning.standing_in import Judged, better_of, stand_in_judged
from interview.text.wording import capital, listed, lowered, sentence
from knowledge.shape import Choice
from knowledge.topics import StandIn, Term, load_topics

if TYPE_CHECKING:
    from interview.conversation.situation import Situation
    from knowledge.loading import Knowledge

_SHELVES = {"support": "materials", "mounted": "materials", "media": "media", "laid_on": "inclusions"}
_MOST_CHOICES = 7
_HEADS = {"yes": "Yes", "scrap": "On a scrap first", "no": "No"}


def term_meant(id: str, knowledge: Knowledge) -> str:
    """ "shelf.id" -> its meaning, with how to tell it."""
    shelf, _, row = id.partition(".")
    if shelf == "sealers":
        return _sealer(row, knowledge)
    if shelf == "classes":
        return _class(row, knowledge)
    term = load_topics().terms[(shelf, row)]
    name = _name(shelf, row, knowledge)
    return f"{capital(name)}: {lowered(term.means)}{_tell(term)}"


def _tell(term: Term) -> str:
    return f" How to tell: {lowered(term.tell)}" if term.tell else ""


def _name(shelf: str, id: str, knowledge: Knowledge) -> str:
    rows: Mapping[str, Any] = getattr(knowledge, shelf, {}) if shelf else {}
    if id in rows:
        return str(rows[id].name)
    if shelf in knowledge.questions:
        return next((c.text for c in knowledge.questions[shelf].choices if c.id == id), id)
    return id.replace("_", " ")


def _sealer(id: str, knowledge: Knowledge) -> str:
    row = knowledge.sealers[id]
    return f"{capital(row.name)}: {row.plain}."


def _class(id: str, knowledge: Knowledge) -> str:
    row = knowledge.classes[id]
    kinds = "; ".join(f"{k.words}: {k.tell}" for k in row.kinds)
    return f"{capital(row.name)}: taken as the most troublesome of its kinds until you know. {capital(kinds)}."


def kinds_told(id: str, knowledge: Knowledge) -> str:
    """How to tell the kinds of a class apart."""
    return "\n".join(sentence(f"{kind.words}: {kind.tell}") for kind in knowledge.classes[id].kinds)


def choices_told(situation: Situation) -> str:
    """What the question on the screen means, and its choices; "" where none is asked."""
    if situation.asked is None:
        return ""
    question = situation.asked.question
    term = next((t for (shelf, _), t in load_topics().terms.items() if not shelf and question.id in t.at), None)
    lines = [term.means if term else situation.asked.why]
    lines += _each_choice(situation, situation.asked.choices)
    if question.example and not situation.asked.choices:
        lines.append(f"Type it as {question.example}.")
    lines.append(f"Not sure is an answer too: {question.unsure_says}.")
    return "\n".join(lines)


def _each_choice(situation: Situation, choices: tuple[Choice, ...]) -> Iterator[str]:
    assert situation.asked is not None
    for choice in choices[:_MOST_CHOICES]:
        if means := choice_meant(situation.asked.question.id, choice):
            yield f"{capital(choice.text)}: {means}"
    if len(choices) > _MOST_CHOICES:
        yield "Of the others, ask by name: what is plywood?"


def choice_meant(question: str, choice: Choice) -> str:
    """What a choice of a question means, with how to tell it; "" where it says so itself."""
    terms = load_topics().terms
    term = terms.get((_SHELVES.get(question, question), choice.id)) or terms.get((question, choice.id))
    return f"{lowered(term.means)}{_tell(term)}" if term else ""


# ------------------------------------------------------------ will it do


def stand_in_told(row: StandIn, situation: Situation) -> str:
    """Yes, on a scrap first, or no, for this piece, with the reasons and how far they may be trusted."""
    judged = _judge(row, situation)
    lines = [f"{_HEADS[judged.verdict]}: {row.name}, {row.is_}. {row.why}", _properties(row)]
    if judged.objections:
        lines.append(f"On yours: {' '.join(o.says for o in judged.objections)}")
    if row.instead and judged.verdict != "yes":
        lines.append(f"Better: {row.instead}.")
    if judged.verdict == "scrap":
        lines.append("Try it with resin on a scrap and look the next day.")
    lines.append(f"({judged.basis}; we know of no published test of it under resin.)")
    return "\n".join(lines)


def _judge(row: StandIn, situation: Situation) -> Judged:
    facts = known(situation.knowledge, situation.answers).facts  # only what was told speaks against it
    return stand_in_judged(row, situation.knowledge, facts)


_CLOSES = {"yes": "closes the pores", "partly": "closes the pores in part", "no": "does not close the pores"}
_YELLOWS = {"yes": "yellows", "little": "yellows a little", "no": "does not yellow"}
_STICKY = {
    "no": "does not stay sticky", "damp": "gets sticky in damp air", "weeks": "stays soft or sticky for weeks",
    "yes": "stays sticky",
}  # fmt: skip
_TAKES = {
    "well": "resin grips it", "scuffed": "resin grips it once scuffed", "poorly": "resin grips it badly",
    "not": "resin does not stick to it",
}  # fmt: skip


def _properties(row: StandIn) -> str:
    says = f"It {_CLOSES[row.closes]}, {_YELLOWS[row.yellows]}, {_STICKY[row.sticky]}; {_TAKES[row.takes]}."
    if row.dry_days:
        low, high = row.dry_days[0], row.dry_days[-1]
        span = f"{low}" if low == high else f"{low} to {high}"
        says += f" Let it dry {span} day{'' if span == '1' else 's'} before resin." if high else ""
    return says


def two_told(one: StandIn, other: StandIn, situation: Situation) -> str:
    """Two of them against this piece, a line each, and which to take."""
    judged = [_judge(row, situation) for row in (one, other)]
    lines = []
    for j in judged:
        yours = f" {' '.join(o.says for o in j.objections)}" if j.objections else ""
        lines.append(f"{capital(j.stand_in.name)}: {_HEADS[j.verdict].lower()}. {j.stand_in.why}{yours}")
    best = better_of(*judged)
    if all(j.verdict == "no" for j in judged):
        lines.append("Take neither.")
    elif best is None:
        lines.append("Neither is the better one here: take the one whose label is the clearer about its wait.")
    else:
        lines.append(f"Of the two, take the {best.name}.")
    return "\n".join(lines)


def short_name(kind: str, id: str, knowledge: Knowledge) -> str:
    """What a question may be about, in a few words; "" where nothing would be said to it."""
    data, ids = load_topics(), id.split()[:2]
    if kind == "term":
        names = [_name(shelf, row, knowledge) for shelf, _, row in (one.partition(".") for one in ids)]
        return f"what {listed(names)} {'is' if len(ids) == 1 else 'are'}"
    if kind == "stand_in":
        return f"whether {' or '.join(data.stand_ins[one].name for one in ids)} will do"
    return data.topics[id].short if id in data.topics else ""
