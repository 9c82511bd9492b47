"""One line a person typed -> a turn: what it does, what it says, what it asks, what is left over."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Literal, Protocol

from interview.plan.answers import NOT_SURE, Answers
from interview.reading.clauses import split, spoken_list, spoken_words
from interview.reading.commands import Command, read_command
from interview.reading.facts import gather, picked
from interview.reading.line import Fact, Found, Line, Pick
from interview.reading.proposed import proposed
from interview.reading.sentence import lexicon_of
from interview.reading.speech import Prompt, Said, Speech, holds, listen
from interview.reading.tokens import clean, tokenise
from knowledge.loading import Knowledge
from knowledge.shape import Choice, Question

__all__ = ["Act", "AskedNow", "Fact", "Focus", "Pick", "Turn", "read_turn"]
Act = Literal["agree", "deny", "answer", "add", "correct", "ask", "unsure", "chat", "command", "trial_result", "worry"]
_TRIALS = ("drop_result", "resin_drop_result", "rub_result", "coupon_result", "swab_clean", "swab_colour")


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


def read_turn(text: str, focus: Focus, knowledge: Knowledge) -> Turn:
    """Read one line. Never raises; takes time in proportion to the length of the text."""
    line_text = clean(text)
    command = read_command(text)
    if command is not None and command.name == "not sure" and focus.asked is not None:
        return Turn(frozenset(("unsure",)), (Fact(focus.at, NOT_SURE, span=(0, len(line_text)), words=line_text),))
    tokens = tokenise(line_text, lexicon_of(knowledge).spelling)
    heard = listen(split(tokens, line_text), _prompt(focus))
    line = _line(line_text, heard, focus, knowledge)
    bare = picked(line) if heard.command is None else None
    if bare is not None:
        return Turn(frozenset(("unsure",)) if bare.value is NOT_SURE else _acts_at((bare,)), (bare,))
    found = gather(line) if line.said.strip() or heard.leads or line.gone else Found()
    if heard.command is not None and heard.command.name != "repeat":
        found.facts.pop(focus.at, None)
    if heard.worries:
        found.add(Fact("worries", frozenset(heard.worries)))
    would = proposed(line_text, knowledge)
    if would:
        found.add(Fact("proposals", would))
    acts = _Judge(line, heard, found).acts()
    facts = tuple(_apart(found.facts.values()))
    if acts == {"unsure"} and focus.asked is not None:
        facts = (*facts, Fact(focus.at, NOT_SURE, span=(0, len(line_text)), words=line_text))
    return Turn(
        frozenset(acts), facts, tuple(found.removes), heard.command,
        _asks(line_text, heard, acts), tuple(sorted(heard.worries)),
        _left(line, found), found.pick if focus.at not in found.facts else None,
    )  # fmt: skip


def _asks(text: str, heard: Speech, acts: set[Act]) -> tuple[str, ...]:
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


# ------------------------------------------------------------------ acts


def _acts_at(facts: Iterable[Fact]) -> frozenset[Act]:
    named = {fact.question for fact in facts}
    return frozenset(("answer", "trial_result") if named & set(_TRIALS) else ("answer",))


@dataclass(frozen=True, slots=True)
class _Judge:
    """Which acts a line does, from what was heard and found and where it was typed."""

    line: Line
    heard: Speech
    found: Found

    def acts(self) -> set[Act]:
        acts: set[Act] = set()
        if self.heard.asks and self.line.at != "opening":
            acts.add("ask")
        if self.heard.worries or "fear" in self.heard.marks:
            acts.add("worry")
        if self.heard.command is not None:
            acts.add(self._command())
        acts |= self._lead()
        acts |= self._saying(acts)
        acts |= self._chat(acts)
        return acts or {"unsure" if self.heard.marks & {"unsure", "hum"} else "chat"}

    def _command(self) -> Act:
        """A wish put as a question asks; a goodbye at the end is talk."""
        words = spoken_words(self.line.text)
        if self.line.at == "end" and holds(words, "greet"):
            return "chat"
        return "ask" if words and words[0] in spoken_list("ask_word") else "command"

    @property
    def _asking(self) -> bool:
        return self.line.question is not None

    def _lead(self) -> set[Act]:
        """Agree or deny; at a question a yes or no is an answer."""
        leads = self.heard.leads
        if not leads or self._asking:
            return set()
        if self.line.at == "end":
            if "deny" in leads:
                return {"deny"}
            return set()
        last = [lead for lead in leads if lead != "nearly"]
        if not last:
            return set()
        if last[-1] == "deny" and "agree" in last:
            return {"agree"} if not self._mends() else {"deny"}
        return {"agree"} if last[-1] == "agree" else {"deny"}

    def _mends(self) -> bool:
        return bool(self.found.facts or self.found.removes)

    def _saying(self, acts: set[Act]) -> set[Act]:
        facts = [f for f in self.found.facts.values() if f.question not in ("worries", "proposals")]
        trials = {f.question for f in facts} & {*_TRIALS} and not self._turned()
        said: set[Act] = set()
        if trials:
            said.add("trial_result")
        if self._asking:
            said |= self._at_question(facts, acts)
        else:
            rest = [f for f in facts if not (trials and f.question in (*_TRIALS, "tried"))]
            said |= self._elsewhere(rest, acts | said)
        if self.heard.marks & {"unsure"} and self._unsure(facts, acts | said):
            said.add("unsure")
        return said

    def _turned(self) -> bool:
        """ "No, the other way round": what was told of a trial is put right."""
        return self.line.at == "read_back" and bool({"deny", "nearly"} & set(self.heard.leads))

    def _at_question(self, facts: list[Fact], acts: set[Act]) -> set[Act]:
        at, said = self.line.at, set[Act]()
        named = {f.question for f in facts if f.question != at or not self._repeats(f)}
        if at in named or (self.heard.leads and not named and not acts):
            said.add("answer")
        trial = at in (*_TRIALS, "tried")
        others = [f for f in facts if f.question != at and not (trial and f.question in (*_TRIALS, "tried"))]
        if at == "mounted":  # "just laid on the board" says of the mount that nothing holds it
            others = [f for f in others if (f.question, f.value) != ("adhesive", "laid")]
        if others and at != "piece":
            known = [f for f in others if self._differs(f) and "mend" in self.heard.marks]
            said.add("correct" if known else "add")
        elif others:
            said.add("answer")
        if not said and not acts and self.heard.said:
            if self._offers_two():
                said.add("ask")
            elif not self.heard.marks & {"unsure", "hum"} or (self.found.pick and self.found.pick.ids):
                said.add("answer")
        return said

    def _offers_two(self) -> bool:
        """ "With tax or without": at a question of amount, two ways and no amount ask which is meant."""
        question = self.line.question
        words = [w for s in self.heard.said for w in s.clause.words]
        amount = question is not None and question.kind not in ("one", "several", "text")
        return amount and "or" in words and not any(w[0].isdigit() for w in words) and "unsure" not in self.heard.marks

    def _elsewhere(self, facts: list[Fact], acts: set[Act]) -> set[Act]:
        marks, leads = self.heard.marks, set(self.heard.leads)
        if facts or self.found.removes:
            putting_right = bool(marks & {"mend"}) or "nearly" in leads or "deny" in acts
            differs = any(self._differs(f) for f in facts) or bool(self.found.removes)
            if (putting_right or differs) and not (marks & {"more"} and not putting_right):
                return {"correct"}
            return {"add"}
        if self.heard.said and not acts and not marks & {"unsure", "hum", "thanks", "greet", "story"}:
            return {"correct"} if marks & {"mend"} or "nearly" in leads else {"add"}
        return set()

    def _differs(self, fact: Fact) -> bool:
        """Whether another answer is known, of which this is not merely the nearer kind."""
        had = self.line.answers.value(fact.question)
        if had is None or had == fact.value:
            return False
        if isinstance(had, frozenset) and isinstance(fact.value, frozenset) and had < fact.value:
            return False  # the list grows
        ids = had if isinstance(had, frozenset) else {had} if isinstance(had, str) else set()
        return not (ids and all(id.startswith("some_") for id in ids))

    def _repeats(self, fact: Fact) -> bool:
        """Whether an unsure line says of the question only what was known."""
        return "unsure" in self.heard.marks and fact.value == self.line.answers.value(fact.question)

    def _unsure(self, facts: list[Fact], acts: set[Act]) -> bool:
        """Said in so many words, and not only of a thing that is answered all the same."""
        at = [f for f in facts if f.question == self.line.at]
        if at and not any(self._is_class(f) for f in at):
            return False
        return not acts & {"ask", "command"}

    @staticmethod
    def _is_class(fact: Fact) -> bool:
        ids = fact.value if isinstance(fact.value, frozenset) else [fact.value]
        return any(isinstance(id, str) and id.startswith("some_") for id in ids)

    def _chat(self, acts: set[Act]) -> set[Act]:
        marks = self.heard.marks
        if "story" in marks and not acts & {"worry", "ask", "correct"}:
            return {"chat"}
        if "greet" in marks or ("thanks" in marks and not acts & {"deny", "command", "ask"}):
            return {"chat"}
        if not acts and self.line.at == "end" and self.heard.leads:
            return {"chat"}
        return set()
