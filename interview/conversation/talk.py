"""The state of one conversation, shared by its stages: who listens, who advises, who writes down, what is
said.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from interview.files.kept import Kept
from interview.files.recorder import Keeper
from interview.plan.answers import Answers
from interview.reading.plain_words import NO, WORDS, YES
from interview.terminal.prompt import Console, Option, Prompt, Tone

if TYPE_CHECKING:
    from datetime import datetime

    from interview.conversation.adviser import Adviser, Later
    from interview.plan.model import Plan
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
    """Everything a stage needs. `now`: the clock that timetables begin by. `accepted`: contradictions the person let
    stand. `narrowed`: choices that an opening sentence left open; they come first in the list.
    """

    console: Console
    later: Later[Adviser]
    keeper: Keeper
    pace: Pace = "full"
    kept: Kept = field(default_factory=Kept)
    first_time: Callable[[], bool] = lambda: False
    earlier: Callable[[str], Kept] | None = None
    now: Callable[[], datetime] = machine_clock
    accepted: set[str] = field(default_factory=set)
    before_change: Plan | None = None
    hinted: set[str] = field(default_factory=set)
    turned: set[str] = field(default_factory=set)
    narrowed: dict[str, frozenset[str]] = field(default_factory=dict)
    topic: str = ""  # of the last question that was answered

    @property
    def adviser(self) -> Adviser:
        return self.later.get()

    @property
    def answers(self) -> Answers:
        return self.kept.answers

    def say(self, text: str, tone: Tone = "plain") -> None:
        self.console.say(text, tone)

    def say_all(self, lines: Iterable[str], tone: Tone = "plain") -> None:
        for line in lines:
            self.console.say(line, tone)

    def save(self, kept: Kept) -> None:
        """Take the new state, and have it written down before anything else is asked."""
        self.kept = kept
        trouble = self.keeper.keep(kept)
        if trouble:
            self.console.say(trouble, "warning")

    def set_answers(self, answers: Answers, trail: tuple[str, ...] | None = None) -> None:
        self.save(replace(self.kept, answers=answers, trail=self.kept.trail if trail is None else trail))

    @property
    def imperial(self) -> bool:
        """Whether the person thinks in inches, by what was typed so far."""
        from interview.reading.measures import thinks_in_inches

        return thinks_in_inches((self.kept.opening, *(answer.words for answer in self.answers.values())))

    def brief(self, *, full: bool = False) -> str:
        """The last screen, or the whole brief, in the person's own units, with the days where hours or a day were told."""
        from interview.brief.forms import render
        from interview.conversation.timing import Wishes, timed_brief

        form = "terminal" if full else "screen"
        how: dict[str, Any] = {"width": self.console.width, "imperial": self.imperial}
        how |= {"full": True} if full else {}

        def show(plan: Plan, time: Timeline | None, trouble: str) -> str:
            return str(render(plan, form, time=time, trouble=trouble, **how))

        return timed_brief(show, self.plan(), Wishes(), self.now())

    def plan(self) -> Plan:
        return self.adviser.plan(self.answers, self.keeper.name, imperial=self.imperial)

    def explain(self, question: str, asked: Asked | None = None, at: str = "") -> None:
        """Answer what the person asks. `asked`: the question on the screen; `at`: where else it was typed."""
        from interview.conversation.answering import Situation, tell

        told = tell(
            question,
            Situation(
                self.adviser.knowledge, self.answers, asked.question.id if asked else at, asked, last=self.topic,
                imperial=self.imperial, pace=self.pace, asked_so_far=len(self.kept.trail), now=self.now(),
            ),
        )  # fmt: skip
        if told is not None:
            self.topic = told.topics[0] if told.topics else ""
            self.say(f"  {told.says}".replace("\n", "\n  "), "quiet")

    def confirm(self, text: str) -> bool | str:
        """Yes or no, or what was typed where it is neither. Raises Stopped."""
        from interview.reading.commands import read_command

        options = (Option("yes", "yes", YES), Option("no", "no, change something", NO, word="no"))
        typed = self.console.ask(Prompt(text, options, words=WORDS, check=_something))
        plain = "".join(c for c in typed.casefold() if c.isalnum() or c == " ").strip()
        plain = " ".join(plain.split())
        if plain in ("1", *YES):
            return True
        if plain in ("2", *NO):
            return False
        command = read_command(typed)
        if command is not None and command.name == "stop":
            raise Stopped
        return typed


def _something(text: str) -> str | None:
    return None if text.strip() else "Type yes, or no, or what is different."
