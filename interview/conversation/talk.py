"""The state of one conversation, shared by its stages: who listens, who advises, who writes down, what is said."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from interview.files.kept import Kept
from interview.files.recorder import Keeper
from interview.plan.answers import Answers
from interview.terminal.prompt import Console, Prompt, Tone

if TYPE_CHECKING:
    from datetime import datetime

    from interview.conversation.adviser import Adviser, Later
    from interview.conversation.answering import Told
    from interview.conversation.situation import Situation
    from interview.plan.model import Plan
    from interview.reading.topic_matching import Meant
    from interview.reading.turn import Turn
    from interview.reasoning.agenda import Asked, Pace
    from interview.reasoning.timetable import Timeline


class Stopped(Exception):
    """The person said stop."""


def machine_clock() -> datetime:
    """What the machine's clock shows."""
    from datetime import datetime

    return datetime.now()


@dataclass(slots=True)
class Talk:
    """Everything a stage needs. `now`: the clock that timetables begin by."""

    console: Console
    later: Later[Adviser]
    keeper: Keeper
    pace: Pace = "full"
    kept: Kept = field(default_factory=Kept)
    first_time: Callable[[], bool] = lambda: False
    earlier: Callable[[str], Kept] | None = None
    now: Callable[[], datetime] = machine_clock
    hinted: set[str] = field(default_factory=set)
    turned: set[str] = field(default_factory=set)
    topic: str = ""  # of the last question that was answered
    offered: tuple[Meant, ...] = ()  # what the last question may have meant, where that was asked back
    unclear: str = ""  # that question

    @property
    def adviser(self) -> Adviser:
        return self.later.get()

    @property
    def answers(self) -> Answers:
        return self.kept.answers

    @property
    def asked_so_far(self) -> int:
        """Questions answered; at the counter every reply counts that told something, whatever it was asked for."""
        if self.pace != "counter":
            return len(self.kept.trail)
        return sum(1 for said in self.kept.said if said.at != "opening" and (said.took or said.left))

    def say(self, text: str, tone: Tone = "plain") -> None:
        self.console.say(text, tone)

    def say_all(self, lines: Iterable[str], tone: Tone = "plain") -> None:
        for line in lines:
            self.console.say(line, tone)

    def save(self, kept: Kept) -> None:
        """Take the new state, and have it written down before anything else is asked."""
        self.kept = kept
        if not self.keeper.name and not kept.answers and not any(said.left or said.took for said in kept.said):
            return  # nothing to keep yet
        trouble = self.keeper.keep(kept, self._called(kept))
        if trouble:
            self.console.say(trouble, "warning")

    def set_answers(self, answers: Answers, trail: tuple[str, ...] | None = None) -> None:
        self.save(replace(self.kept, answers=answers, trail=self.kept.trail if trail is None else trail))

    @property
    def imperial(self) -> bool:
        """Whether the person thinks in inches, by what was typed so far."""
        from interview.reading.measures import thinks_in_inches

        return thinks_in_inches((self.kept.opening, *(answer.words for answer in self.answers.values())))

    def brief(self, *, full: bool = False, form: str = "screen", **look: Any) -> str:
        """The last screen, or the whole brief, in the person's own units, with the days where hours or a day were told.
        `look`: what else the form takes."""
        from interview.brief.forms import render
        from interview.conversation.timing import Wishes, timed_brief

        form = "terminal" if full else form
        how: dict[str, Any] = {"width": self.console.width, "imperial": self.imperial}
        how |= {"full": True, **look} if full else look

        def show(plan: Plan, time: Timeline | None, trouble: str) -> str:
            return str(render(plan, form, time=time, trouble=trouble, **how))

        return timed_brief(show, self.sealed_plan(), Wishes(), self.now())

    def sealed_plan(self) -> Plan:
        from interview.conversation.sealing import sealed

        made = self.plan().model_copy(update={"done": self.kept.did})
        return sealed(made, self.answers, self.adviser, imperial=self.imperial)

    def plan(self) -> Plan:
        from interview.conversation.ledger import not_covered

        left = not_covered(self.kept, self.adviser.knowledge)
        return self.adviser.plan(self.answers, self.keeper.title, left, imperial=self.imperial)

    def questions_in(self, line: str, turn: Turn, asked: Asked | None, at: str) -> tuple[str, ...]:
        """What of a line is to be answered; see `answering.questions_in`."""
        from interview.conversation.answering import questions_in

        says_more = bool(turn.facts or turn.command or turn.removes or turn.acts & {"agree", "deny", "unsure", "chat"})
        return questions_in(line, turn.asks, self._situation(asked, at), says_more=says_more)

    def asks_of(self, question: str) -> str:
        """What it plainly asks about: "term" (what a word means), "stand_in", "topic"; "" where that is not plain."""
        from interview.conversation.answering import asks_of

        return asks_of(question, self._situation(None, "opening"))

    def explain(self, question: str, asked: Asked | None = None, at: str = "") -> None:
        """Answer what the person asks. `asked`: the question on the screen; `at`: where else it was typed."""
        from interview.conversation.answering import tell

        self._tell(tell(question, self._situation(asked, at)), question)

    def picks(self, reply: str, asked: Asked | None, at: str) -> bool:
        """Whether a reply says which of the offered meanings was meant; then that is answered."""
        from interview.conversation.answering import of_offer

        offered, self.offered = self.offered, ()
        told = of_offer(reply, offered, self.unclear, self._situation(asked, at)) if offered else None
        self._tell(told, self.unclear)
        return told is not None

    def _tell(self, told: Told | None, question: str) -> None:
        if told is not None:
            self.topic = told.topics[0] if told.topics else ""
            self.offered, self.unclear = told.offered, question
            self.say(f"  {told.says}".replace("\n", "\n  "), "quiet")

    def _situation(self, asked: Asked | None, at: str) -> Situation:
        from interview.conversation.situation import Situation

        return Situation(
            self.adviser.knowledge, self.answers, asked.question.id if asked else at, asked, last=self.topic,
            imperial=self.imperial, pace=self.pace, asked_so_far=self.asked_so_far, now=self.now(),
        )  # fmt: skip

    @property
    def settled(self) -> bool:
        """Whether the sealing has been told already, so that a change of it is worth telling."""
        return self.kept.done or "numbers" in self.turned

    def confirm(self, text: str) -> bool:
        """Whether what is asked is agreed to, in whatever words."""
        from interview.reading.turn import Focus, read_turn

        typed = self.console.ask(Prompt(text, hint="Yes or no."))
        return "agree" in read_turn(typed, Focus("read_back", now=self.now()), self.adviser.knowledge).acts

    def tell_difference(self, before: Plan | None, *, always: bool = False) -> None:
        """Say what a line did to the plan, if it did anything. `always`: also where it stays as it was."""
        if before is None:
            return
        from interview.conversation.outcomes import Outcome, differences

        lines = differences(Outcome(before, self.now()), Outcome(self.plan(), self.now()))
        if lines:
            self.say("What that changes:", "heading")
            self.say_all(f"  {line}" for line in lines)
        elif always:
            self.say("  The plan stays as it was.", "quiet")

    def keep_as_it_was(self, question: str) -> None:
        """An old answer, confirmed."""
        answer = self.answers.get(question)
        if answer is not None and answer.origin == "stale":
            self.set_answers(self.answers.say(question, answer.value, "said", answer.words, doubt=answer.doubt))
        trail = (*(id for id in self.kept.trail if id != question), question)
        self.set_answers(self.answers, trail)

    def _called(self, kept: Kept) -> str:
        """A name for what is kept: what the piece is."""
        if self.keeper.name or not kept.answers:
            return ""
        return self.adviser.describe(kept.answers)


def where_kept(talk: Talk) -> str:
    """How to take it up again, in one line."""
    if talk.keeper.name:
        talk.save(talk.kept)  # a file that is gone meanwhile is written anew
    if not talk.answers and not talk.kept.opening:
        return "Nothing was said yet, so nothing is kept."
    if talk.keeper.name and talk.keeper.safe:
        return f'All you said is kept as "{talk.keeper.name}". beforepour resume {talk.keeper.name} goes on from here.'
    return "Nothing of this is kept." if talk.pace == "counter" else "Not all of this is on disk."
