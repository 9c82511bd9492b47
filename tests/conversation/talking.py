"""A conversation with the real knowledge and a person who answers by what is asked."""

from __future__ import annotations

from collections.abc import Iterable

from interview.conversation.adviser import Adviser, Later
from interview.conversation.dialogue import Ending, converse
from interview.conversation.talk import Talk
from interview.files.kept import Kept
from interview.files.recorder import Keeper, Nobody
from interview.plan.answers import Answers
from interview.reasoning.agenda import Pace
from interview.terminal.prompt import Prompt
from interview.terminal.scripted_console import ScriptedConsole
from knowledge.loading import Knowledge
from knowledge.shape import Question

USUAL = {"Is that right?": "yes", "Anything to change": "", "Anything the customer": "stop"}


class Thorough(Adviser):
    """Asks every question about the piece that applies, in order: which ones matter is the agenda's own test."""

    def next_question(self, answers: Answers, pace: Pace, asked: int = 0) -> Question | None:
        from interview.reasoning.circumstances import known

        return next((self.question(id) for id in known(self.knowledge, answers).open), None)


class Person(ScriptedConsole):
    """Says each reply of the script when its question comes up, and to all others the usual, or "not sure".

    A reply goes with the beginning of the question it is said to; "" goes with whatever is asked next.
    """

    def __init__(self, replies: Iterable[tuple[str, str]], width: int = 80) -> None:
        super().__init__((), width)
        self._script = list(replies)
        self.asked: list[str] = []

    def _next(self, prompt: Prompt) -> str:
        self.asked.append(prompt.text)
        self._replies = iter([self._reply(prompt)])
        return super()._next(prompt)

    def _reply(self, prompt: Prompt) -> str:
        if self._script and prompt.text.startswith(self._script[0][0]):
            return self._script.pop(0)[1]
        return next((reply for text, reply in USUAL.items() if prompt.text.startswith(text)), "not sure")

    @property
    def unsaid(self) -> list[tuple[str, str]]:
        """What the script still held at the end: nothing, if the conversation went as thought."""
        return self._script


def talk_through(
    knowledge: Knowledge,
    *replies: tuple[str, str],
    pace: str = "full",
    kept: Kept | None = None,
    adviser: type[Adviser] = Thorough,
    keeper: Keeper | None = None,
    **more: object,
) -> tuple[Ending, Talk, Person]:
    """Hold the conversation to its end."""
    person = Person(replies)
    later = Later(lambda: adviser(knowledge))
    talk = Talk(person, later, keeper or Nobody(), pace, kept or Kept(pace=pace), **more)  # type: ignore[arg-type]
    ending = converse(talk)
    assert person.unsaid == [], f"never asked: {person.unsaid}; asked: {person.asked}"
    return ending, talk, person


TELL = "Tell me about the piece"
