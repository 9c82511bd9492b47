"""What people ask, at any prompt: understood by topic, answered from the data or computed from their own plan."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from interview.conversation.situation import Situation

if TYPE_CHECKING:
    from interview.reading.topic_matching import Meant
    from knowledge.topics import StandIn, Topic

__all__ = ["Situation", "Told", "answer", "asks_of", "questions_in", "tell"]

LONGEST = 30  # words of a line that is one question
OFFERED = 3  # topics at most, where it is not clear which is meant
DEFER = "The label and the data sheet come first."
UNKNOWN = (
    "I cannot answer that. Ask me about time, amounts, cost and gear; why, how and what if; "
    "whether something you have will do; or what a word means."
)


@dataclass(frozen=True, slots=True)
class Told:
    """`topics`: what was answered, or, where two were too near to tell, those that were offered: `offered`."""

    says: str
    topics: tuple[str, ...] = ()
    offered: tuple[Meant, ...] = ()


def answer(text: str, situation: Situation) -> str | None:
    """What to say to it, in one or a few lines; None where nothing was asked ("isn't it lovely today")."""
    told = tell(text, situation)
    return told.says if told else None


def tell(text: str, situation: Situation) -> Told | None:
    """As `answer`, with the topic, which is the `last` of the next question."""
    found = _found(text, situation)
    if not found:
        return Told(UNKNOWN)
    first = found[0]
    if first.kind == "stand_in" and (pair := _pair(text, situation)):
        from interview.conversation.meanings import two_told

        return Told(two_told(*pair, situation), ("two_tins", pair[0].id, pair[1].id))
    if _doubtful(found) and (offered := _offer(found[:OFFERED], situation)):
        return offered
    return _told(text, first, situation)


def of_offer(reply: str, offered: tuple[Meant, ...], question: str, situation: Situation) -> Told | None:
    """What a reply to "do you mean a, or b?" comes to: `question` answered as the one that it picks; None: no pick."""
    from interview.conversation.meanings import short_name
    from interview.reading.clauses import spoken_words
    from interview.reading.speech import is_phrase

    words = spoken_words(reply.strip(" .,!?"))
    if is_phrase(words, "none_offered"):
        return Told("Then ask it in other words.")
    for meant, place in zip(offered, ("first_offered", "second_offered", "third_offered"), strict=False):
        name = spoken_words(short_name(meant.kind, meant.id, situation.knowledge))
        if is_phrase(words, place) or words == name or (len(words) > 1 and set(words) < set(name)):
            return _told(question, meant, situation)
    return None


def questions_in(line: str, asks: tuple[str, ...], situation: Situation, *, says_more: bool) -> tuple[str, ...]:
    """What to answer of a line: its questions as heard, or the whole of it where that tells what "is this ok" is about.

    `says_more`: it tells something, so that it is no question just because it is like one.
    """
    from interview.reading.topic_matching import is_rhetoric, is_thin

    if is_rhetoric(line, situation.knowledge):
        return ()
    if not asks:
        return (line,) if not says_more and _sure(line, situation) else ()
    if len(asks) > 1 or asks[0] == line or len(line.split()) > LONGEST:
        return asks
    thin = is_thin(asks[0], situation.knowledge)
    return (line,) if (thin or not _sure(asks[0], situation)) and _sure(line, situation) else asks


def asks_of(text: str, situation: Situation) -> str:
    """The kind of what it plainly asks about: term, stand_in or topic; "" where that is not plain."""
    found = _found(text, situation)
    return found[0].kind if found and not _doubtful(found) else ""


def _sure(text: str, situation: Situation) -> bool:
    return asks_of(text, situation) != ""


def _found(text: str, situation: Situation) -> list[Meant]:
    from interview.reading.topic_matching import LEAST, meant_by

    return [m for m in meant_by(text, situation.knowledge, situation.at, situation.last) if m.score >= LEAST]


def _doubtful(found: list[Meant]) -> bool:
    from interview.reading.topic_matching import CLOSE, SURE

    return found[0].score < SURE or any(found[0].score - other.score < CLOSE for other in found[1:])


def _pair(text: str, situation: Situation) -> tuple[StandIn, StandIn] | None:
    """The two stand-ins that are named, where there are two."""
    from interview.reading.topic_matching import named_in
    from knowledge.topics import load_topics

    rows = load_topics().stand_ins
    named = list(dict.fromkeys(id for kind, id in named_in(text, situation.knowledge) if kind == "stand_in"))
    return (rows[named[0]], rows[named[1]]) if len(named) > 1 else None


def _told(text: str, meant: Meant, situation: Situation) -> Told | None:
    from interview.conversation import meanings
    from knowledge.topics import load_topics

    data = load_topics()
    if meant.kind == "term":
        return Told(meanings.term_meant(meant.id, situation.knowledge), (meant.id,))
    if meant.kind == "stand_in":
        return Told(meanings.stand_in_told(data.stand_ins[meant.id], situation), (meant.id,))
    topic = data.topics[meant.id]
    if topic.of == "chat":
        return None
    if topic.of == "unknown":
        return Told(topic.says or UNKNOWN, (topic.id,))
    if topic.id == "choices_now":
        return Told(meanings.choices_told(situation) or UNKNOWN, (topic.id,))
    says = "\n".join(filter(None, _lines(topic, text, situation)))
    if topic.kinds:
        says = f"{says}\n{meanings.kinds_told(topic.kinds, situation.knowledge)}"
    return Told(f"{says} {DEFER}" if topic.defer else says, (topic.id,))


def _lines(topic: Topic, text: str, situation: Situation) -> Iterator[str]:
    """What the data say, and what is computed: before it for another way, after it for the plan."""
    made = _computed(topic, text, situation) if situation.answers else ""
    if topic.of == "what_if":
        yield made
        yield topic.says
    else:
        yield topic.says if topic.beside or not made else ""
        yield made


def _computed(topic: Topic, text: str, situation: Situation) -> str:
    """From the plan; "" where the topic needs none."""
    if topic.of not in ("plan", "what_if"):
        return ""
    from interview.conversation.about_plan import Asking, about_plan
    from interview.conversation.outcomes import Outcome
    from interview.conversation.what_ifs import what_if
    from interview.reasoning.planner import make_plan

    plan = situation.plan or make_plan(situation.knowledge, situation.answers)
    asking = Asking(text, situation, Outcome(plan, situation.now or datetime.now()))
    return about_plan(topic.id, asking) if topic.of == "plan" else what_if(topic.id, asking)


def _offer(found: list[Meant], situation: Situation) -> Told | None:
    """ "Do you mean a, or b?", with a way out; None where fewer than two of them can be told apart."""
    from interview.conversation.meanings import short_name

    names = {short_name(meant.kind, meant.id, situation.knowledge): meant for meant in found}
    names.pop("", None)
    if len(names) < 2:
        return None
    meant = tuple(names.values())
    return Told(f"Do you mean {', or '.join(names)}?", tuple(one.id for one in meant), meant)
