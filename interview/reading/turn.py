"""One line a person typed -> a turn: what it does, what it says, what it asks, what is left over."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any, Protocol

from interview.plan.answers import NOT_SURE, Answers
from interview.reading.acts_heard import TRIALS, Act, acts_of
from interview.reading.clauses import split, spoken_list, spoken_words
from interview.reading.commands import Command, read_command
from interview.reading.facts import gather, picked
from interview.reading.fitting import fits
from interview.reading.line import Fact, Found, Line, Pick
from interview.reading.proposed import proposed
from interview.reading.sentence import lexicon_of
from interview.reading.speech import Prompt, Said, Speech, holds, listen
from interview.reading.tokens import clean, tokenise
from knowledge.loading import Knowledge
from knowledge.shape import Choice, Question

__all__ = ["Act", "AskedNow", "Fact", "Focus", "Pick", "Turn", "read_turn"]


class AskedNow(Protocol):
    """The question on the screen, in the words for this situation."""

    @property
    def question(self) -> Question: ...
    @property
    def choices(self) -> tuple[Choice, ...]: ...


@dataclass(frozen=True, slots=True)
class Focus:
    """Where the line was typed. `at`: a question's id, "opening", "read_back", "end" or another prompt's name."""

    at: str
    asked: AskedNow | None = None
    answers: Answers = field(default_factory=Answers)
    imperial: bool = False
    now: datetime | None = None


@dataclass(frozen=True, slots=True)
class Turn:
    """acts: what the line does, several at once. facts: what it says. removes: (question, value) taken away.

    command: a wish about the conversation. asks: its questions, as typed. worries: ids of the question `worries`.
    leftover: words that no act covers. pick: a weak match, to be asked about.
    """

    acts: frozenset[Act] = frozenset()
    facts: tuple[Fact, ...] = ()
    removes: tuple[tuple[str, str], ...] = ()
    command: Command | None = None
    asks: tuple[str, ...] = ()
    worries: tuple[str, ...] = ()
    leftover: tuple[str, ...] = ()
    pick: Pick | None = None

    def value(self, question: str) -> Any:
        """What the line says of a question, or None."""
        return next((fact.value for fact in self.facts if fact.question == question), None)


def taken(text: str, focus: Focus, knowledge: Knowledge) -> tuple[Line, Found]:
    """The line and what the rules find in it, whatever it does."""
    line = _heard(clean(text), focus, knowledge)
    return line, _found(line)


def read_turn(text: str, focus: Focus, knowledge: Knowledge) -> Turn:
    """Read one line. Never raises; takes time in proportion to the length of the text."""
    line_text = clean(text)
    command = read_command(text)
    if command is not None and command.name == "not sure" and focus.asked is not None:
        return Turn(frozenset(("unsure",)), (Fact(focus.at, NOT_SURE, span=(0, len(line_text)), words=line_text),))
    line = _heard(line_text, focus, knowledge)
    heard = line.heard
    bare = picked(line) if heard.command is None else None
    if bare is not None:
        return Turn(_picks(bare), (bare,))
    found = _found(line)
    if heard.command is not None and heard.command.name != "repeat":
        found.facts.pop(focus.at, None)
    if heard.worries:
        found.add(Fact("worries", frozenset(heard.worries)))
    would = proposed(line_text, knowledge)
    if would:
        found.add(Fact("proposals", would))
    acts = acts_of(line, found)
    facts = tuple(fact for fact in _apart(found.facts.values()) if _can_be(fact, knowledge))
    if acts == {"unsure"} and focus.asked is not None and (heard.marks & _DOUBTING or not _told_again(line)):
        facts = (*facts, Fact(focus.at, NOT_SURE, span=(0, len(line_text)), words=line_text))
    return Turn(
        acts, facts, tuple(found.removes), heard.command,
        _asks(line_text, heard, acts), tuple(sorted(heard.worries)),
        _left(line, found), found.pick if focus.at not in found.facts else None,
    )  # fmt: skip


def _heard(text: str, focus: Focus, knowledge: Knowledge) -> Line:
    heard = listen(split(tokenise(text, lexicon_of(knowledge).spelling), text), _prompt(focus))
    return _line(text, heard, focus, knowledge)


def _found(line: Line) -> Found:
    return gather(line) if line.said.strip() or line.heard.leads or line.gone else Found()


def _picks(fact: Fact) -> frozenset[Act]:
    """What a bare number or a choice's very words do."""
    if fact.value is NOT_SURE:
        return frozenset(("unsure",))
    return frozenset(("answer", "trial_result") if fact.question in TRIALS else ("answer",))


_DOUBTING = {"unsure", "hum"}


def _told_again(line: Line) -> bool:
    """Whether it tells of something else, such as what is known already: "fountain pen, like i said"."""
    return bool(gather(replace(line, at="read_back", question=None, choices=(), answers=Answers())).facts)


def _can_be(fact: Fact, knowledge: Knowledge) -> bool:
    """Whether it is an answer at all: cloth carries no other sheet."""
    question = knowledge.questions.get(fact.question)
    return question is None or fits(fact.value, question, knowledge)


def _asks(text: str, heard: Speech, acts: frozenset[Act]) -> tuple[str, ...]:
    """The questions as typed; the whole line where it asks without the form of a question."""
    asks = tuple(text[a:b].strip() for a, b in heard.asks)
    return asks if asks or "ask" not in acts else (text.strip(),)


def _prompt(focus: Focus) -> Prompt:
    if focus.asked is not None:
        return "question"
    return "end" if focus.at == "end" else "opening" if focus.at == "opening" else "read_back"


def _line(text: str, heard: Speech, focus: Focus, knowledge: Knowledge) -> Line:
    """The line, and the same with only what says something left in it."""
    said, gone = text, ""
    if focus.at != "opening":
        spans = [(s.clause.start, s.clause.end) for s in _telling(heard)]
        if focus.at not in _TOLD_AS_PLANS:
            spans = [(a, b) for a, b in spans if not proposed(text[a:b], knowledge)]
        said = _only(text, spans)
        said, gone = _put_right(_SUPPOSED.sub(lambda m: m[1] + " " * len(m[2]), said))
    question = focus.asked.question if focus.asked else None
    choices = focus.asked.choices if focus.asked else ()
    now = focus.now or datetime.now()
    return Line(text, said, gone, heard, focus.at, question, choices, focus.answers, focus.imperial, now, knowledge)


def _telling(heard: Speech) -> list[Said]:
    """What is said, without what is not known of it: "some oil, no idea which"."""
    asks = spoken_list("ask_word")
    rest = [s for s in heard.said if not (s.unsure and len(s.clause.words) > 2 and asks & set(s.clause.words))]
    return rest if any(not s.unsure for s in rest) else heard.said


# questions about what one will do, where a plan is the answer
_TOLD_AS_PLANS = ("ways", "brush_place", "resin_on", "laid_on", "piece", "mounted", "tried", "have", "held")
_SUPPOSED = re.compile(r"(\b(?:would|could|might)\b[^.;,!?]*?)(\bif (?:i|we|you)\b[^.;,!?]*)", re.IGNORECASE)
_SWAP = re.compile(
    r"\b(?:swap|change|replace|exchange|switch|turn|alter)(?:\s+out)?\s+(?P<out>[^,.;]{1,40}?)\s+(?:for|to|with|by|into)\b",
    re.IGNORECASE,
)
_OUT = re.compile(
    r"\b(?:scratch|drop|forget(?: about)?|remove|delete|lose|skip|leave out|take out|take off|"
    r"took off|took out|removed|scraped off|sanded off|stripped off|got rid of)\s+(?:the|that|those|my)\s+"
    r"(?P<out>[^,.;]{1,40})|"
    r"\b(?:take|took|taken|leave|left)\s+(?:the|that|those|my)\s+(?P<off>[^,.;]{1,40}?)\s+(?:out|off|away)\b",
    re.IGNORECASE,
)
_LEFT_OUT = re.compile(
    r"\b(?:you|i|we)?\s*(?:forgot(?:ten)?(?! (?:which|what|how|who|where|when|the name))|missed|left out|left off|overlooked)"
    r"(?:\s+(?:about|to (?:say|mention)))?\b|"
    r"\b(?:is|are)?\s*(?:missing|left out|not (?:in|on) (?:the|your) list)(?:\s+(?:in|from|on) (?:the|your|that|this|it)\b\s*\w*)?",
    re.IGNORECASE,
)


def _put_right(said: str) -> tuple[str, str]:
    """ "Swap the copy paper for bristol", "you forgot the shells": what is put in stays, with the same places; what goes."""
    gone = ""
    if found := _SWAP.search(said) or _OUT.search(said):
        gone = next((group for group in found.groups() if group), "")
        said = said[: found.start()] + " " * (found.end() - found.start()) + said[found.end() :]
    return _LEFT_OUT.sub(lambda m: " " * len(m[0]), said), gone


def _only(text: str, spans: Iterable[tuple[int, int]]) -> str:
    kept = [" "] * len(text)
    for start, end in spans:
        kept[start:end] = text[start:end]
    return "".join(kept)


def _apart(facts: Iterable[Fact]) -> Iterable[Fact]:
    """The facts with spans that do not overlap: where two words said both, the later fact keeps no place."""
    taken: list[tuple[int, int]] = []
    for fact in facts:
        start, end = fact.span
        if any(start < b and a < end for a, b in taken):
            yield Fact(fact.question, fact.value, fact.doubt, (start, start), fact.words)
        else:
            taken.append(fact.span)
            yield fact


def _left(line: Line, found: Found) -> tuple[str, ...]:
    spans = [*(fact.span for fact in found.facts.values()), *found.spent]
    worries = [f"worry_{id}" for id in line.heard.worries if id != "pets"]
    names = [w for w in found.names if not any(holds(spoken_words(w), name) for name in worries)]
    return tuple(w for w in names if not any(w in line.text[a:b] for a, b in spans))
