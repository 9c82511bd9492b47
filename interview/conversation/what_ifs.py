"""What if ...: the other way is planned as well, and the difference is told. What cannot be planned is said."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from interview.conversation.outcomes import Outcome, day_of, differences, hours_of, sealers_named, span_of
from interview.conversation.timing import USUAL_HOURS, Wishes
from interview.plan.answers import Answers
from interview.reading.amount_numbers import SPELT, spelt_number
from interview.reading.amount_words import candidates
from interview.reading.opening import understand
from interview.reading.topic_matching import named_in
from interview.reasoning.circumstances import known, settled
from interview.reasoning.lots import planned
from interview.reasoning.planner import make_plan
from interview.text.wording import capital, listed, lowered, span

if TYPE_CHECKING:
    from interview.conversation.about_plan import Asking
    from interview.conversation.situation import Situation
    from interview.plan.model import Plan
    from knowledge.loading import Knowledge

_SPRAYS = frozenset(("spray_outdoors", "spray_booth", "spray_room"))
_USUAL_MM, _DEEPER, _SHALLOWER = 3.0, 2.0, 0.5  # of the coat: taken where none is told, and as "thicker", "thinner"
_SIDE = 2**0.5  # of each side where the area is taken twice
_COLD, _WARM, _HUMID = 15.0, 28.0, 80.0


_USUAL = Wishes()


@dataclass(frozen=True, slots=True)
class Other:
    """Another way. `says`: what was taken; `adds`: lines that no difference tells; `knowledge`, `wishes`: where not the usual."""

    says: str
    answers: Answers | None = None
    knowledge: Knowledge | None = None
    wishes: Wishes = _USUAL
    plan: Plan | None = None
    adds: tuple[str, ...] = ()


def what_if(topic: str, asking: Asking) -> str:
    """The difference, in a few lines. "" where this piece has no such other way."""
    other = _OTHERS[topic](asking)
    if other is None:
        return ""
    return told(other, asking)


def several_ways(ways: Mapping[str, str], asking: Asking) -> str:
    """Other ways at once: topic -> the part of the line that tells it. "" where one of them is none for this piece."""
    says, situation, wishes, knowledge = [], asking.situation, _USUAL, None
    for topic, text in ways.items():
        other = _OTHERS[topic](replace(asking, text=text, situation=situation))
        if other is None or other.plan is not None:
            return ""
        says.append(other.says)
        if other.answers is not None:
            situation = replace(situation, answers=other.answers)
        if other.wishes != _USUAL:
            wishes = replace(other.wishes, hands=max(wishes.hands, other.wishes.hands))
        knowledge = other.knowledge or knowledge
    heads = [says[0], *map(lowered, says[1:])]
    return told(Other(f"{', and '.join(h.rstrip(':') for h in heads)}:", situation.answers, knowledge, wishes), asking)


def told(other: Other, asking: Asking) -> str:
    """The other way planned, and its difference to the plan as it stands."""
    situation, before = asking.situation, asking.outcome
    if other.answers is not None and not _applies(situation, other.answers):
        return ""
    plan = other.plan
    if plan is None and (other.answers is not None or other.knowledge is not None):
        plan = make_plan(other.knowledge or situation.knowledge, other.answers or situation.answers)
    lines = [other.says]
    if plan is not None or other.wishes.days:
        after = Outcome(plan or before.plan, before.now, other.wishes)
        lines += differences(before, after) or [
            "Worked out both ways: the sealing, the days, the work and the amounts are the same."
        ]
    return "\n".join((*lines, *other.adds))


def _applies(situation: Situation, other: Answers) -> bool:
    """Whether all that was answered otherwise is a question for this piece, so that a plan can tell the difference."""
    changed = {q for q in other if other.get(q) != situation.answers.get(q)}
    facts = settled(situation.knowledge, other).facts
    return all(situation.knowledge.questions[q].part not in ("piece", "trials") or q in facts for q in changed)


def of_facts(asking: Asking, text: str) -> Other | None:
    """ "what if the edges are torn": anything that the opening understands, said in place of what was said before."""
    answers = asking.situation.answers
    got = understand(text, asking.situation.knowledge).proposed
    told_ = {q: v for q, v in got.items() if q in answers or q != "piece"}
    for question, value in told_.items():
        answers = answers.say(question, value)
    if answers == asking.situation.answers or not told_:
        return None
    names = [asking.situation.knowledge.questions[q].short for q in told_]
    return Other(f"With other answers for {listed(names)}:", answers)


# ------------------------------------------------------------ reading what was typed


def _amount(asking: Asking, question: str, *, with_unit: bool = True) -> Any:
    """The first amount in the text that the question's unit fits; None where there is none."""
    from interview.quantities.units import ReadError, read

    row = asking.situation.knowledge.questions[question]
    for typed, place in candidates(row.unit or "", asking.text):
        bare = typed.replace(".", "").replace(",", "").strip().isdigit()
        if bare and with_unit and asking.text[slice(*place)].strip().casefold() == typed:
            continue
        try:
            value = read(typed, row.kind, row.unit, imperial=asking.situation.imperial).value
        except ReadError:
            continue
        if isinstance(value, (int, float)):
            return float(value)
    return None


def _number(asking: Asking) -> int | None:
    """The first count in the text, in digits or spelt."""
    for match in re.finditer(rf"\b(?:\d+|{SPELT})\b", asking.text.casefold()):
        number = spelt_number(match[0])
        if number is not None and number >= 1 and match[0] not in ("a", "an"):
            return round(number)
    return None


def _having(answers: Answers, *ids: str) -> Answers:
    """As if these had been told to be at hand, so that their questions count."""
    have = answers.value("have") or frozenset()
    return answers.say("have", (have - {"none"}) | frozenset(ids))


def _row(asking: Asking, shelf: str) -> str | None:
    """The last row of a shelf that the text names (of "oak and not pine", the first)."""
    named = [
        id
        for kind, id in named_in(asking.text, asking.situation.knowledge)
        if kind == "term" and id.startswith(f"{shelf}.")
    ]
    return named[0].partition(".")[2] if named else None


# ------------------------------------------------------------ how many, how big, how thick


def _count(a: Asking) -> Other:
    now = planned(a.plan)
    words = a.text.casefold()
    number = _number(a) or (
        2 * now if "double" in words or "twice" in words else max(1, now // 2) if "fewer" in words else 2 * now
    )
    return Other(f"{number} of them, not {now}:", _having(a.situation.answers, "count").say("count", number))


def _size(a: Asking, factor: float) -> Other:
    got = understand(f"a piece {a.text}", a.situation.knowledge).proposed.get("size")
    size = got or _scaled(a, factor)
    if got is None:
        taken = "twice" if factor > 1 else "half"
        return Other(
            f"Taken as {taken} the area, as I read no whole size in that:", a.situation.answers.say("size", size)
        )
    return Other(
        f"At that size{'' if a.situation.answers.value('size') else ' (yours was taken as 30 x 40 cm)'}:",
        a.situation.answers.say("size", size),
    )


def _scaled(a: Asking, factor: float) -> dict[str, Any]:
    size = a.situation.answers.value("size") or {"shape": "rectangle", "width": 300.0, "height": 400.0}
    return {k: v * factor if isinstance(v, (int, float)) and k != "depth" else v for k, v in size.items()}


def _bigger(a: Asking) -> Other:
    return _size(a, _SIDE)


def _smaller(a: Asking) -> Other:
    return _size(a, 1 / _SIDE)


def _coat(a: Asking, factor: float) -> Other | None:
    answers = a.situation.answers
    if answers.value("piece") == "cast":  # the mould decides
        return None
    now = answers.value("coat") or _USUAL_MM
    wished = _amount(a, "coat") or now * factor
    if wished == now:
        return Other(f"{wished:g} mm is what is planned.")
    return Other(f"{wished:g} mm, not {now:g} mm:", _having(answers, "coat").say("coat", wished))


def _thicker(a: Asking) -> Other | None:
    return _coat(a, _DEEPER)


def _thinner(a: Asking) -> Other | None:
    return _coat(a, _SHALLOWER)


def _two_pours(a: Asking) -> Other:
    coat = a.situation.answers.value("coat") or _USUAL_MM
    answers = _having(a.situation.answers, "resin_label").say("deepest", coat / 2)
    return Other("In two layers of half the thickness each:", answers)


# ------------------------------------------------------------ ways and sealers


def _ways(a: Asking, drop: frozenset[str], instead: str, says: str) -> Other:
    have = a.situation.answers.value("ways") or frozenset(("brush", "spray_outdoors"))
    left = (have - drop) or frozenset((instead,))
    return Other(says, a.situation.answers.say("ways", left))


def _no_spray(a: Asking) -> Other:
    return _ways(a, _SPRAYS, "brush", "Without a spray, by brush or a gentler way by hand:")


def _no_brush(a: Asking) -> Other:
    return _ways(a, frozenset(("brush",)), "spray_outdoors", "Without a brush, by spray outdoors:")


def _indoors(a: Asking) -> Other:
    have = (a.situation.answers.value("ways") or frozenset(("brush",))) - _SPRAYS
    return Other("If a room is all you have for spraying:", a.situation.answers.say("ways", have | {"spray_room"}))


@lru_cache(maxsize=16)
def _only(knowledge: Knowledge, ids: frozenset[str]) -> Knowledge:
    """The knowledge as if no other sealers were there."""
    return replace(knowledge, sealers={id: row for id, row in knowledge.sealers.items() if id in ids or id == "none"})


def _sealer(a: Asking) -> Other:
    knowledge = a.situation.knowledge
    named = _row(a, "sealers")
    if named:
        return Other(
            f"With {knowledge.sealers[named].name} alone:", a.situation.answers, _only(knowledge, frozenset((named,)))
        )
    words = a.text.casefold()
    used = {t.sealer for t in a.plan.treatments}
    for said, carrier in (("water", "water"), ("solvent free", "water"), ("alcohol", "alcohol"), ("resin", "none")):
        ids = frozenset(s.id for s in knowledge.sealers.values() if s.carrier == carrier and s.id != "none")
        if said in words and ids:
            return Other(
                f"With what is thinned with {carrier} alone:"
                if carrier != "none"
                else "With resin itself as the seal:",
                a.situation.answers,
                _only(knowledge, ids),
            )
    return Other("\n".join(_alternatives(a, used)) or "No other class of sealer does this job as safely.")


def _alternatives(a: Asking, used: Iterable[str]) -> Iterable[str]:
    """Each other class that does all of it by itself, with what it takes."""
    if a.plan.treatments:
        yield f"Planned: {sealers_named(a.plan)}. What each other one would come to by itself:"
    for row in a.situation.knowledge.sealers.values():
        if row.id in used or row.id == "none" or row.at_hand:
            continue
        plan = make_plan(_only(a.situation.knowledge, frozenset((row.id,))), a.situation.answers)
        after = Outcome(plan, a.outcome.now)
        if plan.sign == a.plan.sign and plan.treatments:
            coats = max(t.coats_most for t in plan.treatments)
            days = f", {span_of(after.days)} in all" if after.days else ""
            yield (
                f"{capital(row.name)}: does it too, up to {coats} coat{'' if coats == 1 else 's'}{days}; "
                f"to dry {span(*_ready(plan))} before resin."
            )
        else:
            why = next((f.says for b in a.plan.barred if b.sealer == row.id for f in b.findings), "")
            yield f"{capital(row.name)}: not by itself.{f' {why}' if why else ''}"


def _ready(plan: Plan) -> tuple[float, float]:
    waits = [s.wait for s in plan.steps if s.kind == "seal"]
    return max(waits, default=(0.0, 0.0), key=lambda w: w[1])


# ------------------------------------------------------------ time


def _hours(a: Asking, otherwise: str) -> Other:
    words = a.text.casefold()
    days = [
        d for d in ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday") if d[:-1] in words
    ]
    if "weekend" in words and "evening" not in words:
        days = ["saturday", "sunday"]
    if days and otherwise == _LITTLE:
        hours = ", ".join(f"{d[:3]} 9-17" for d in days)
    elif "evening" in words and otherwise == _LITTLE:
        hours = "evenings"
    elif "hour a day" in words or "hour in the evening" in words:
        hours = "mon-sun 19-20"
    else:
        hours = otherwise
    return Other(f"Working {hours}:", wishes=Wishes(hours=hours))


_MUCH, _LITTLE = "mon-sun 9-22", "sat 9-17, sun 9-17"


def _more_hours(a: Asking) -> Other:
    if any(w in a.text.casefold() for w in ("help", "two of us", "friend")):
        hours = a.situation.answers.value("hours") or USUAL_HOURS
        return Other("With one more pair of hands:", wishes=Wishes(hours=hours, hands=2))
    if "evening" in a.text.casefold() or "day off" in a.text.casefold():
        return Other(
            "Which day that is I do not know; at its most, with every day free, 9 to 22:", wishes=Wishes(hours=_MUCH)
        )
    return _hours(a, _MUCH)


def _fewer_hours(a: Asking) -> Other:
    return _hours(a, _LITTLE)


def _earlier(a: Asking) -> Other | None:
    """The day it is ready, and what would bring it nearer."""
    time, days = a.outcome.time, a.outcome.days
    if time is None or days is None:
        return None
    soonest = min(time.bound, time.quickest)
    lines = [
        f"Ready {day_of(time.ready)} counting on the longest waits, {day_of(time.quickest)} if all dries at its quickest."
    ]
    lines.append(f"Sooner than {day_of(soonest)} it cannot be: drying and cure take {span_of(days)}.")
    nearer = list(_nearer(a))
    return Other("\n".join((*lines, *(nearer or ["Nothing else that I can work out brings it nearer."]))))


def _nearer(a: Asking) -> Iterable[str]:
    """What can be changed, with the day that it would then be ready."""
    time, answers = a.outcome.time, a.situation.answers
    assert time is not None
    usual = answers.value("hours") or USUAL_HOURS
    ways: list[tuple[str, Answers | None, Wishes]] = [
        ("Working every day, 9 to 22", None, Wishes(hours=_MUCH)),
        ("With one more pair of hands", None, Wishes(hours=usual, hands=2)),
    ]
    if answers.value("resin_on") not in (None, "front") and answers.value("piece") != "cast":
        ways.append(("With resin on the front only", answers.say("resin_on", "front"), _USUAL))
    if a.outcome.pieces > 1:
        half = _having(answers, "count").say("count", a.outcome.pieces // 2)
        ways.append((f"With {a.outcome.pieces // 2} of them", half, _USUAL))
    for says, other, wishes in ways:
        plan = make_plan(a.situation.knowledge, other) if other is not None else a.plan
        after = Outcome(plan, a.outcome.now, wishes).time
        if after is not None and after.ready.date() < time.ready.date():
            yield f"{says}: {day_of(after.ready)} at the latest, {day_of(after.quickest)} at its quickest."


# ------------------------------------------------------------ the room, the piece


def _temperature(a: Asking, usual: float) -> Other:
    degrees = _amount(a, "room_temperature", with_unit=False)
    degrees = usual if degrees is None else degrees
    answers = _having(a.situation.answers, "room").say("room_temperature", degrees)
    return Other(f"At {degrees:g} °C:", answers)


def _colder(a: Asking) -> Other:
    return _temperature(a, _COLD)


def _warmer(a: Asking) -> Other:
    return _temperature(a, _WARM)


def _humid(a: Asking) -> Other:
    percent = _amount(a, "room_humidity") or _HUMID
    answers = _having(a.situation.answers, "room").say("room_humidity", percent)
    return Other(f"At {percent:g} % humidity:", answers)


def _damp(a: Asking) -> Other:
    answers = a.situation.answers
    natural = a.situation.at == "natural_dry" or answers.value("piece") == "cast"
    question, value = ("natural_dry", "fresh") if natural else ("dryness", "damp")
    if answers.value(question) == value:
        return Other("That is how it is planned: as not dry yet.")
    return Other("If it is not dry through:", answers.say(question, value))


def _darken(a: Asking) -> Other:
    if a.situation.answers.value("darken") == "yes":
        return Other("It is planned so already: it may go darker.")
    return Other("If it may go darker, as if wet:", a.situation.answers.say("darken", "yes"))


def _resin_on(a: Asking, value: str, says: str) -> Other:
    if a.situation.answers.value("resin_on") == value:
        return Other("That is how it is planned already.")
    if a.situation.answers.value("piece") == "cast":
        return Other("A cast piece is covered on all its sides as it is.")
    return Other(says, a.situation.answers.say("resin_on", value))


def _both(a: Asking) -> Other:
    return _resin_on(a, "all", "With the back in resin as well:")


def _front(a: Asking) -> Other:
    return _resin_on(a, "front", "With the front only:")


# ------------------------------------------------------------ other stuff


def _wood(a: Asking) -> Other | None:
    answers, row = a.situation.answers, _row(a, "materials")
    if row is None:
        return of_facts(a, a.text)
    name = a.situation.knowledge.materials[row].name
    mounted = answers.value("mounted")
    on_mount = a.situation.knowledge.materials[row].mount and answers.value("piece") not in ("wood", "hard", None)
    question, value = ("mounted", row) if on_mount else ("support", frozenset((row,)))
    if answers.value(question) == value or (on_mount and mounted == row):
        return Other(f"{capital(name)} is what it is planned with.")
    return Other(f"With {name}:", answers.say(question, value))


def _medium(a: Asking) -> Other | None:
    row = _row(a, "media")
    if row is None:
        return of_facts(a, a.text)
    name = a.situation.knowledge.media[row].name
    if a.situation.answers.value("media") == frozenset((row,)):
        return Other(f"{capital(name)} is what it is planned with.")
    return Other(f"If it is {name}:", a.situation.answers.say("media", frozenset((row,))))


_GLUES = {
    "tape": "film", "double": "film", "spray": "spray_adhesive", "paste": "paste", "rubber": "rubber_cement", "pva": "pva",
    "white glue": "pva", "wood glue": "pva", "dry mount": "dry_mount", "dont glue": "laid", "not glue": "laid",
}  # fmt: skip


def _glue(a: Asking) -> Other | None:
    words = a.text.casefold().replace("'", "")
    glue = next((id for said, id in _GLUES.items() if said in words), None)
    if glue is None or a.situation.answers.value("mounted") in (None, "no"):
        return None
    text = next(c.text for c in a.situation.knowledge.questions["adhesive"].choices if c.id == glue)
    return Other(f"With {text}:", a.situation.answers.say("adhesive", glue))


def _nothing_on(a: Asking) -> Other:
    answers = a.situation.answers
    laid = answers.value("laid_on") or frozenset()
    row = _row(a, "inclusions")
    left = laid - {row} if row in laid else frozenset()
    name = a.situation.knowledge.inclusions[row].name if row else "loose things"
    if not laid - {"none"}:
        return Other(f"There is no {name} on it as it stands: nothing changes.")
    return Other(f"Without the {name}:", answers.say("laid_on", left or frozenset(("none",))))


def _mount(a: Asking) -> Other | None:
    answers, row = a.situation.answers, _row(a, "materials")
    now = answers.value("mounted")
    if now and now != "no" and row in (None, now):
        return Other("Not mounted, a loose sheet:", answers.say("mounted", "no"))
    if "mounted" not in known(a.situation.knowledge, answers).open and now is None:
        return None
    board = row if row and a.situation.knowledge.materials[row].mount else "mdf"
    name = a.situation.knowledge.materials[board].name
    return Other(
        f"It is planned as a loose sheet. On {name} instead:", answers.say("mounted", board).say("adhesive", "pva")
    )


def _untried(a: Asking) -> Other:
    trials = [s for s in a.plan.steps if s.kind == "trial"]
    if not trials:
        return Other("No trial is planned as it stands, so there is none to leave out.")
    ids = {s.id for s in trials}
    steps = tuple(
        replace(s, after=tuple(x for x in s.after if x[0] not in ids)) for s in a.plan.steps if s.id not in ids
    )
    return Other(
        f"Without the trials, {hours_of(sum(s.hands(1) for s in trials))} of work less:",
        plan=a.plan.model_copy(update={"steps": steps}),
        adds=tuple(f"Not known then: {t.name}. {t.says}" for t in a.plan.trials[:3]),
    )


_OTHERS: dict[str, Callable[[Asking], Other | None]] = {
    "count_other": _count, "no_spray": _no_spray, "no_brush": _no_brush, "spray_indoors": _indoors,
    "more_hours": _more_hours, "fewer_hours": _fewer_hours, "earlier_date": _earlier, "thicker": _thicker,
    "thinner": _thinner, "both_sides": _both, "front_only": _front, "bigger": _bigger, "smaller": _smaller,
    "other_sealer": _sealer, "colder": _colder, "warmer": _warmer, "damp": _damp, "humid": _humid,
    "other_wood": _wood, "other_medium": _medium, "other_glue": _glue, "no_inclusion": _nothing_on,
    "no_trial": _untried, "darken_ok": _darken, "not_mounted": _mount, "two_pours": _two_pours,
}  # fmt: skip
