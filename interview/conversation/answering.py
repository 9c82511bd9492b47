"""What people ask, at any prompt: understood by topic, answered from the data or computed from their own plan."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from interview.conversation.situation import Situation

if TYPE_CHECKING:
    from interview.conversation.about_plan import Asking
    from interview.plan.model import Plan
    from interview.reading.topic_matching import Meant
    from knowledge.topics import Topic

__all__ = ["Situation", "Told", "answer", "asks_of", "questions_in", "tell"]

NEXT = 5  # words of "and the back?" at most
_JOINTS = re.compile(r"[,;]|\b(?:and|but|plus)\b")
OPPOSITES = (
    {"thicker", "thinner"}, {"bigger", "smaller"}, {"colder", "warmer"}, {"more_hours", "fewer_hours"},
    {"both_sides", "front_only"}, {"no_spray", "no_brush"},
)  # fmt: skip
LONGEST = 30  # words of a line that is one question
SURE, LIKELY, SOME = 0.65, 0.06, 0.2  # shares: answered; offered; what all that is offered must come to
TOLD, VERY, PERHAPS = (
    0.3,
    0.6,
    0.4,
)  # of a line without a question's form: a telling one; asked beside it; where it tells nothing
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
    follows = _following(text, situation)
    if follows:
        return _told(text, follows, situation)
    several = _several(text, situation)
    if several:
        return several
    found = _found(text, situation)
    if _said(found) >= SURE:
        return None
    found = [meant for meant in found if meant.kind != "said"]
    if found[0].share >= SURE:
        return _told(text, found[0], situation)
    likely = [meant for meant in found[:OFFERED] if meant.share >= LIKELY]
    return _offer(likely, situation) or Told(UNKNOWN)


def _following(text: str, situation: Situation) -> Meant | None:
    """A bare "how do I tell", "why?", "and the back?": what it goes on from tells what is meant."""
    from interview.reading.clauses import spoken_words
    from interview.reading.speech import is_phrase
    from interview.reading.topic_matching import Meant
    from knowledge.topics import load_topics

    words, topics = spoken_words(text.strip(" .,!?")), load_topics().topics
    last, id = topics.get(situation.last), ""
    if is_phrase(words, "say_meanings") and situation.asked is not None:
        id = next((t.id for t in topics.values() if t.of == "tell" and situation.at in t.at), "choices_now")
    elif last is not None and is_phrase(words, "why_so"):
        id = last.why
    elif last is not None and last.why == "why_seal" and 1 < len(words) <= NEXT and words[0] in ("and", "what", "how"):
        id = "where_seal" if any(w in _parts(situation) for w in words[1:]) else ""
    return Meant("topic", id, 1.0) if id else None


def _parts(situation: Situation) -> frozenset[str]:
    """Words that name parts of the piece."""
    plan = _plan(situation)
    return frozenset(w.strip(",") for z in plan.zone_lines for w in z.name.casefold().split()) - {
        "the",
        "and",
        "of",
        "a",
    }


def _plan(situation: Situation) -> Plan:
    from interview.reasoning.planner import make_plan

    return situation.plan or make_plan(situation.knowledge, situation.answers)


def _several(text: str, situation: Situation) -> Told | None:
    """ "Sixty, and one more evening": other ways at once, told as one difference. "Will it yellow and can it hang": each."""
    from interview.conversation.what_ifs import several_ways
    from interview.reading.amount_numbers import spelt_number
    from knowledge.topics import load_topics

    topics = load_topics().topics
    ways: dict[str, str] = {}
    others: dict[str, tuple[str, Meant]] = {}
    for part in filter(str.strip, _JOINTS.split(text)) if situation.answers else ():
        first = _found(part, situation)[0]
        what_if = first.kind == "topic" and topics[first.id].of == "what_if"
        if spelt_number(part.strip(" ?.!").casefold()) is not None:
            ways["count_other"] = part
        elif what_if and first.share >= PERHAPS:
            ways[first.id] = part
        elif first.kind != "said" and _short_of(first, situation) and first.share >= VERY:
            others[first.id] = (part, first)
    if len(ways) > 1 and not any(ways.keys() >= pair for pair in OPPOSITES):
        says = several_ways(ways, _asking(text, situation))
        return Told(says, tuple(ways)) if says else None
    told = [t for part, meant in others.values() if (t := _told(part, meant, situation))] if len(others) > 1 else []
    return Told("\n".join(t.says for t in told), tuple(id for t in told for id in t.topics)) if told else None


def _short_of(meant: Meant, situation: Situation) -> str:
    """What is meant, in a few words; "" where nothing would be said to it."""
    from interview.conversation.meanings import short_name

    return short_name(meant.kind, meant.id, situation.knowledge)


def of_offer(reply: str, offered: tuple[Meant, ...], question: str, situation: Situation) -> Told | None:
    """What a reply to "do you mean a, or b?" comes to: `question` answered as the one that it picks; None: no pick."""
    from interview.conversation.meanings import short_name
    from interview.reading.clauses import spoken_words
    from interview.reading.speech import is_phrase

    words = spoken_words(reply.strip(" .,!?"))
    if is_phrase(words, "none_offered") or (len(offered) == 1 and is_phrase(words, "no")):
        return Told("Then ask it in other words.")
    if len(offered) == 1 and is_phrase(words, "yes"):
        return _told(question, offered[0], situation)
    for meant, place in zip(offered, ("first_offered", "second_offered", "third_offered"), strict=False):
        name = spoken_words(short_name(meant.kind, meant.id, situation.knowledge))
        if is_phrase(words, place) or words == name or (len(words) > 1 and set(words) < set(name)):
            return _told(question, meant, situation)
    return None


def questions_in(line: str, asks: tuple[str, ...], situation: Situation, *, says_more: bool) -> tuple[str, ...]:
    """What to answer of a line: its questions as heard, or the whole of it where that tells better what is asked.

    `says_more`: it tells something, so that it is no question just because it is like one.
    """
    if len(line.split()) > LONGEST:
        return asks
    found = _found(line, situation)
    whole = found[0]
    if _said(found) >= (TOLD if says_more else SURE):
        return tuple(ask for ask in asks if ask.endswith("?") and _names_stand_in(ask, situation))
    if not asks:
        return (line,) if whole.kind != "said" and whole.share >= (VERY if says_more else PERHAPS) else ()
    if len(asks) == 1 and asks[0] != line and whole.share > _found(asks[0], situation)[0].share:
        return (line,)
    return asks


def _names_stand_in(text: str, situation: Situation) -> bool:
    from interview.reading.topic_matching import named_in

    return any(kind == "stand_in" for kind, _ in named_in(text, situation.knowledge))


def asks_of(text: str, situation: Situation) -> str:
    """The kind of what it plainly asks about: term, stand_in or topic; "" where that is not plain."""
    first = _found(text, situation)[0]
    return first.kind if first.share >= SURE and first.kind != "said" else ""


def _found(text: str, situation: Situation) -> list[Meant]:
    from interview.reading.topic_matching import meant_by

    return meant_by(text, situation.knowledge, situation.at, situation.last)


def _said(found: list[Meant]) -> float:
    """How likely it is no question."""
    return next((meant.share for meant in found if meant.kind == "said"), 0.0)


def _told(text: str, meant: Meant, situation: Situation) -> Told | None:
    from interview.conversation import meanings
    from knowledge.topics import load_topics

    data = load_topics()
    ids = tuple(meant.id.split()[:2])
    if meant.kind == "term":
        return Told("\n".join(meanings.term_meant(id, situation.knowledge) for id in ids), ids)
    if meant.kind == "stand_in":
        rows = [data.stand_ins[id] for id in ids]
        if len(rows) == 2:
            return Told(meanings.two_told(rows[0], rows[1], situation), ("two_tins", *ids))
        return Told(meanings.stand_in_told(rows[0], situation), ids)
    topic = data.topics[meant.id]
    if topic.of in ("unknown", "name"):
        return Told(topic.says or UNKNOWN, (topic.id,) if topic.of == "unknown" else ())
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
    from interview.conversation.about_plan import about_plan
    from interview.conversation.what_ifs import what_if

    asking = _asking(text, situation)
    return about_plan(topic.id, asking) if topic.of == "plan" else what_if(topic.id, asking)


def _asking(text: str, situation: Situation) -> Asking:
    from interview.conversation.about_plan import Asking
    from interview.conversation.outcomes import Outcome

    return Asking(text, situation, Outcome(_plan(situation), situation.now or datetime.now()))


def _offer(found: list[Meant], situation: Situation) -> Told | None:
    """ "Do you mean a, or b?"; None where the likeliest is not known here, or there is nothing to name."""
    from interview.conversation.meanings import short_name

    names = {short_name(meant.kind, meant.id, situation.knowledge): meant for meant in found}
    if not found or ("" in names and names[""] is found[0]):
        return None
    names.pop("", None)
    meant = tuple(names.values())
    return Told(f"Do you mean {', or '.join(names)}?", tuple(id for one in meant for id in one.id.split()), meant)
