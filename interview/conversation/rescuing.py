"""When something went wrong: the person first; then the sign, a few looks, the cause, and one way on."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING, Any

from interview.conversation.rescue_told import UNKNOWN, closing, hazard_lines, report, told_as, understood
from interview.conversation.talk import Stopped, Talk
from interview.plan.doings import Outcome
from interview.reading.commands import read_command
from interview.reading.plain_words import NO, YES
from interview.reading.trouble_words import Heard, hours_in, may_be_trouble, read_trouble, speaks_of_trouble
from interview.reading.turn import Focus, read_turn
from interview.reasoning.rescue import MOST_LOOKS, Pace, Seen, found, is_before, next_look, worth_showing
from interview.reasoning.rescue_known import known, pace_of
from interview.reasoning.second_coat import second_coat
from interview.terminal.prompt import Option, Prompt
from interview.text.wording import capital
from knowledge.troubles import Find, Look, Troubles, Way, load_troubles, signs_as_told, signs_before, since_of

if TYPE_CHECKING:
    from interview.reasoning.rescue import Found

WORDS = ("not sure", "why", "back", "stop")
_NOT_SURE = Option(
    "not sure", "not sure, or none of these", ("don't know", "no idea", "cannot tell", "none", "none of these")
)
_NOT_THAT = ("no", "nope", "not that", "thats not it", "that's not it", "it is not that", "wrong")
_NONE = ("none", "no", "neither", "something else", "other")
_NOTHING = ("", "no", "nope", "nothing", "none", "ok", "okay", "thanks", "thank you", "done", "finish")


@dataclass(slots=True)
class _Case:
    """One trouble as it is told. `trail`: what was known before each answer, for going back."""

    troubles: Troubles
    seen: Seen
    pace: Pace
    trail: list[Seen]

    def take(self, seen: Seen) -> None:
        self.seen = replace(seen, signs=signs_as_told(self.troubles, seen.signs, seen.finds))


def rescue(talk: Talk, first: str = "") -> None:
    """From the first words to the way on. Comes back when the maker is through, or stops.

    Raises EndOfInput or Interrupted from the console.
    """
    troubles = load_troubles()
    try:
        text = first or _first_words(talk)
        heard = _people_first(talk, text, troubles)
        if heard is not None:
            _piece(talk, heard, troubles, text)
    except Stopped:
        talk.say("  Stopped. beforepour rescue begins anew.", "quiet")


def handed_over(talk: Talk, text: str, *, opening: bool = False) -> bool:
    """Whether a line said at any prompt is about trouble; then it is taken here, and the prompt comes again.

    `opening`: where a first sentence could be a piece as well, it is asked.
    """
    if not is_trouble(text) and not (opening and may_be_trouble(text, load_troubles()) and _means_trouble(talk)):
        return False
    rescue(talk, text)
    talk.say("")
    return True


def is_urgent(text: str) -> bool:
    """Whether a line is about somebody who is hurt, whatever was asked."""
    heard = read_trouble(text, load_troubles())
    return bool(heard.hazards and heard.marks)


def is_trouble(text: str) -> bool:
    """Whether a line is about something gone wrong."""
    return speaks_of_trouble(text, load_troubles())


def _means_trouble(talk: Talk) -> bool:
    return talk.confirm("Is that something that has gone wrong already, to be saved?") is True


def _first_words(talk: Talk) -> str:
    if talk.kept.name or talk.keeper.name:
        talk.say(f"{talk.keeper.name or talk.kept.name}: {talk.plan().summary if talk.answers else ''}".rstrip(": "))
    prompt = Prompt(
        "What has gone wrong? Say what you see or feel, and how long ago you poured.",
        hint="For example: it is still sticky all over after two days, the room was cold",
        words=("stop",),
    )
    while True:
        text = talk.console.ask(prompt).strip()
        command = read_command(text)
        if command is not None and command.name == "stop":
            raise Stopped
        if text:
            return text
        prompt = replace(prompt, again=True)


# ------------------------------------------------------------------ the person


def _people_first(talk: Talk, text: str, troubles: Troubles) -> Heard | None:
    """At once, with no question; then the piece, if there is anything about it. None: that was all."""
    heard = read_trouble(text, troubles)
    if not heard.hazards:
        return heard
    talk.say_all(hazard_lines(troubles, heard), "warning")
    prompt = Prompt("When nobody is in danger: is anything wrong with the piece?", hint="Say what, or press Enter.")
    typed = talk.console.ask(prompt).strip()
    command = read_command(typed)
    if typed.casefold().strip(" .!") in _NOTHING or (command is not None and command.name == "stop"):
        return None
    again = read_trouble(typed, troubles)
    if again.hazards and again.hazards != heard.hazards:
        return _people_first(talk, typed, troubles)
    return again


# ------------------------------------------------------------------ the piece


def _piece(talk: Talk, heard: Heard, troubles: Troubles, text: str) -> None:
    case = _begin(talk, heard, troubles)
    if heard.doubtful and len(heard.signs) > 1:
        _narrow(talk, case)
    if not case.seen.signs:
        _take_sign(talk, case)
    if not case.seen.signs:
        talk.say_all(UNKNOWN, "answer")
        return
    talk.say("")
    talk.say_all(understood(troubles, case.seen), "answer")
    _ask_looks(talk, case)
    if not case.seen.signs:
        talk.say_all(UNKNOWN, "answer")
        return
    _tell(talk, case)
    _afterwards(talk, case, text)


def _begin(talk: Talk, heard: Heard, troubles: Troubles) -> _Case:
    """What the words say, and what a kept plan knows already."""
    from_plan, hours = (
        known(talk.adviser.knowledge, talk.answers, talk.kept.did, talk.now()) if talk.answers else ({}, None)
    )
    finds: dict[str, str | None] = {**from_plan, **heard.finds}
    image = from_plan.get("under") in ("paper", "photo")
    only = "only" in heard.marks or (image and talk.answers.value("only_one") == "only")
    seen = Seen(heard.signs, finds, heard.hours if heard.hours is not None else hours, only=only)
    return _Case(troubles, seen, pace_of(talk.answers, heard.finds.get("room")), [])


def _narrow(talk: Talk, case: _Case) -> None:
    """One word of many led to a sign: the few it may be are shown, to be picked from, or to be none of them."""
    signs = [case.troubles.signs[id] for id, _ in case.seen.signs]
    options = (*(Option(s.id, f"{capital(s.name)}. {s.looks}") for s in signs), Option("none", "none of these", _NONE))
    case.seen = replace(case.seen, signs=(), asked=case.seen.asked + 1)
    sign = _pick(talk, case, "Which of these is nearest to it?", options)
    if sign is not None and sign != "none":
        case.seen = replace(case.seen, signs=((sign or signs[0].id, 1.0),))


def _take_sign(talk: Talk, case: _Case) -> None:
    """No sign was understood: one is picked, from a few groups and then from a few signs."""
    before = case.seen.finds.get("begun") == "not yet"
    signs = [s for s in case.troubles.signs.values() if not before or s.id in signs_before(case.troubles)]
    groups = tuple(dict.fromkeys(sign.group for sign in signs))
    text = "What is it about?"
    options = tuple(Option(group, group, word=group) for group in groups)
    group = _pick(talk, case, text, options)
    if not group:
        return
    shown = tuple(Option(s.id, f"{s.name}. {s.looks}") for s in signs if s.group == group)
    sign = _pick(talk, case, "Which of these is nearest?", shown)
    if sign:
        case.seen = replace(case.seen, signs=((sign, 1.0),), asked=case.seen.asked + 2)


def _pick(talk: Talk, case: _Case, text: str, options: tuple[Option, ...]) -> str | None:
    """An option by number or name; "" for none of them; None where a sign was said instead, which is then taken."""
    again = False
    while True:
        typed = talk.console.ask(Prompt(text, options, words=("stop",), again=again)).strip()
        command = read_command(typed)
        if command is not None and command.name == "stop":
            raise Stopped
        if not typed or _cannot_tell(talk, typed):
            return ""
        number = int(typed) if typed.isdecimal() and len(typed) < 4 else 0
        if 1 <= number <= len(options):
            return options[number - 1].id
        named = [
            o.id for o in options if typed and (typed.casefold() in o.also or typed.casefold() in o.text.casefold())
        ]
        if len(named) == 1:
            return named[0]
        heard = read_trouble(typed, case.troubles)
        if heard.signs:
            case.seen = replace(case.seen, signs=heard.signs, finds={**case.seen.finds, **heard.finds})
            return None
        if heard.finds:
            case.seen = replace(
                case.seen, finds={**case.seen.finds, **heard.finds}, hours=heard.hours or case.seen.hours
            )
            talk.say("  Noted.", "quiet")
        talk.say(f"  Type a number from 1 to {len(options)}, or say it in other words.", "warning")
        again = True


def _ask_looks(talk: Talk, case: _Case) -> None:
    while case.seen.signs and (look := next_look(case.troubles, case.seen, case.pace)) is not None:
        _ask(talk, case, look)


def _ask(talk: Talk, case: _Case, look: Look) -> None:
    before = is_before(case.troubles, case.seen)
    text = look.text.replace("How long ago did you mix it?", "How long ago did you seal it?") if before else look.text
    shown = worth_showing(case.troubles, case.seen, look)
    options = (*(Option(find.id, find.text, word=find.id) for find in shown), _NOT_SURE)
    again = False
    while True:
        status = f"look {case.seen.asked + 1} of at most {MOST_LOOKS} · {' · '.join(WORDS)}"
        typed = talk.console.ask(Prompt(text, options, words=WORDS, again=again, status=status)).strip()
        command = read_command(typed)
        name = command.name if command else ""
        if name == "stop":
            raise Stopped
        if name == "back" and case.trail:
            case.seen = case.trail.pop()
            return
        if name == "why":
            talk.say(f"  {look.why}", "quiet")
        elif name == "ask":
            talk.explain(typed, at="rescue")
        elif typed.casefold().strip(" .!") in _NOT_THAT:
            _again(talk, case)
            return
        elif _answered(talk, case, look, typed, shown, unsure=name == "not sure" or _unsure(typed, shown)):
            return
        again = True


def _again(talk: Talk, case: _Case) -> None:
    """It was another sign that was meant: what it is about is picked."""
    case.seen = replace(case.seen, signs=())
    _take_sign(talk, case)
    if case.seen.signs:
        talk.say_all(understood(case.troubles, case.seen), "answer")


def _cannot_tell(talk: Talk, typed: str) -> bool:
    """Whether a line, in whatever words, says that it is not known."""
    return "unsure" in read_turn(typed, Focus("rescue"), talk.adviser.knowledge).acts


def _unsure(typed: str, shown: tuple[Find, ...]) -> bool:
    return typed == str(len(shown) + 1) or typed.casefold().strip(" .!") in ("none", "none of these", "neither")


def _answered(talk: Talk, case: _Case, look: Look, typed: str, shown: tuple[Find, ...], *, unsure: bool) -> bool:
    """Take the answer, and what else the line tells. False: said why not."""
    heard = read_trouble(typed, case.troubles, look.id)
    if heard.hazards:
        talk.say_all(hazard_lines(case.troubles, heard), "warning")
        return False
    hours = hours_in(typed, asked=look.id == "since" or len(typed.split()) <= 3)
    find = None if unsure else _find(look, typed, heard, shown)
    others = {k: v for k, v in heard.finds.items() if k != look.id and not case.seen.finds.get(k)}
    if hours is not None:
        others["since"] = since_of(hours)
        find = others.pop("since") if look.id == "since" else find
    known = replace(
        case.seen, finds={**case.seen.finds, **others}, hours=hours if hours is not None else case.seen.hours
    )
    if find is None and not unsure and typed and not _cannot_tell(talk, typed):
        if others:
            case.seen = known
        noted = f"Noted: {told_as(case.troubles, others)}. And here: type" if others else "Type"
        talk.say(
            f"  {noted} a number from 1 to {len(shown) + 1}, say what you see, or: not sure.",
            "quiet" if others else "warning",
        )
        return False
    case.trail.append(case.seen)
    case.take(replace(known, finds={**known.finds, look.id: find}, asked=known.asked + 1))
    return True


def _find(look: Look, typed: str, heard: Heard, shown: tuple[Find, ...]) -> str | None:
    number = int(typed) if typed.isdecimal() and len(typed) < 4 else 0
    if 1 <= number <= len(shown):
        return shown[number - 1].id
    plain = typed.casefold().strip(" .!")
    exact = [f.id for f in look.finds if plain in (f.id, f.text.casefold())]
    if exact:
        return exact[0]
    if look.id in heard.finds:
        return heard.finds[look.id]
    begun = [f.id for f in look.finds if len(plain) > 2 and f.text.casefold().startswith(plain)]
    return begun[0] if len(begun) == 1 else None


# ------------------------------------------------------------------ what it comes to


def _tell(talk: Talk, case: _Case) -> Found:
    came = found(case.troubles, case.seen, case.pace)
    coat = second_coat(talk.answers, case.pace) if came.way.coat else None
    minds = _minds(talk, came.way)
    for text, tone in report(case.troubles, case.seen, came, case.pace, coat, talk.now(), minds):
        talk.say(text, tone)
    return came


def _minds(talk: Talk, way: Way) -> tuple[str, ...]:
    """What of this way a kept piece does not bear, as the rehearsal has it."""
    if not talk.answers or not way.plays:
        return ()
    from interview.reasoning.proposing import judge_proposals

    judged = judge_proposals(talk.adviser.knowledge, talk.answers, way.plays)
    return tuple(f"{capital(one.name)}: {one.says}" for one in judged if one.verdict != "yes")


def _afterwards(talk: Talk, case: _Case, text: str) -> None:
    """A look's result is taken as long as one is told; then the cause is kept with the piece."""
    came = found(case.troubles, case.seen, case.pace)
    prompt = Prompt(
        "What does that look show, or what else is there?" if came.either else "Is there anything else?",
        hint="Enter: finish. back: the last answer again.",
        words=("back", "stop"),
    )
    while True:
        typed = talk.console.ask(prompt).strip()
        command = read_command(typed)
        name = command.name if command else ""
        if typed.casefold().strip(" .!") in _NOTHING or name in ("stop", "next", "not sure"):
            break
        if name == "back" and case.trail:
            case.seen = case.trail.pop()
            _ask_looks(talk, case)
            _tell(talk, case)
        elif name == "ask":
            talk.explain(typed, at="rescue")
        elif not _told_more(talk, case, typed):
            talk.say("  That tells me nothing more. Say what you see or feel, or press Enter to finish.", "quiet")
        prompt = replace(prompt, again=True)
    came = found(case.troubles, case.seen, case.pace)
    talk.say_all(closing(came, talk.adviser.knowledge.sources), "quiet")
    _keep(talk, case, text)


def _told_more(talk: Talk, case: _Case, typed: str) -> bool:
    heard = read_trouble(typed, case.troubles)
    if heard.hazards:
        talk.say_all(hazard_lines(case.troubles, heard), "warning")
        return True
    only = case.seen.only or "only" in heard.marks
    if not heard.finds and not heard.signs and only == case.seen.only:
        return False
    case.trail.append(case.seen)
    signs = heard.signs if heard.signs and not set(heard.finds) else case.seen.signs
    hours = heard.hours if heard.hours is not None else case.seen.hours
    case.take(replace(case.seen, signs=signs, finds={**case.seen.finds, **heard.finds}, hours=hours, only=only))
    _tell(talk, case)
    return True


def _keep(talk: Talk, case: _Case, text: str) -> None:
    """The outcome is kept with the piece, and bears on the next plan, if the maker agrees that this was it."""
    if not talk.answers or not (talk.keeper.name and talk.keeper.safe):
        return
    came = found(case.troubles, case.seen, case.pace)
    options = (Option("yes", "yes", YES), Option("no", "no, or not sure yet", NO, word="no"))
    typed = talk.console.ask(Prompt(f'Keep with "{talk.keeper.name}" that it was this: {came.cause.name}?', options))
    agreed = typed.casefold().strip(" .!") in ("1", *YES)
    at: datetime = talk.now().replace(second=0, microsecond=0)
    before = talk.kept.outcome
    told: dict[str, Any] = {
        "right": before.right if before else "",
        "wrong": before.wrong if before and before.wrong else text,
        "signs": tuple(dict.fromkeys((*(before.signs if before else ()), case.seen.sign))),
    }
    kept = replace(talk.kept, outcome=Outcome(at, **told))
    if agreed and came.cause.learned:
        learned = frozenset(kept.answers.value("went_wrong") or ()) | {came.cause.learned}
        kept = replace(kept, answers=kept.answers.say("went_wrong", learned, "said", text))
    talk.save(kept)
    talk.say(
        "  Kept. The next plan of this piece, or of one the same as it, heeds it."
        if agreed
        else "  Kept what you saw.",
        "answer",
    )
