"""The first question. Light on purpose: it stands on the screen before the knowledge and its libraries are read."""

from __future__ import annotations

import os

TYPE_CHECKING = False  # so called by `typing`, which loads after the first question
if TYPE_CHECKING:
    from interview.conversation.talk import Talk
    from interview.terminal.prompt import Console, Prompt


def opening_words() -> tuple[str, str, str]:
    """Greeting, first question, example: read without the rest of the knowledge. Raises KnowledgeError."""
    import knowledge

    # pathlib would cost as much as all the rest
    path = os.path.join(knowledge.__path__[0], "opening.txt")  # noqa: PTH118
    try:
        with open(path, encoding="utf-8") as file:  # noqa: PTH123
            greeting, question, example = (line.rstrip("\n") for line in file if line.strip() and line[0] != "#")
    except (OSError, ValueError):
        from knowledge.loading import Fault, KnowledgeError

        fault = Fault("opening.txt", "", "needs three lines: a greeting, the first question and an example")
        raise KnowledgeError([fault]) from None
    return greeting, question, example


def greet(console: Console) -> bool:
    """The greeting and the first question on the screen, before anything else is loaded. False: they are not there."""
    try:
        greeting, question, example = opening_words()
    except Exception:  # what is wrong with them is told where knowledge is read
        return False
    console.say(greeting)
    console.say("")
    console.say(question, "heading")
    console.say(f"  {example}", "quiet")
    return True


def opening_prompt() -> Prompt:
    """The first question."""
    from interview.reading.plain_words import WORDS
    from interview.terminal.prompt import Prompt

    _, question, example = opening_words()
    return Prompt(question, hint=example, words=WORDS, status=" · ".join(WORDS))


def first_words(talk: Talk, *, greeted: bool = False) -> str:
    """Greet, and ask for the piece in the person's own words. The rest is loaded while they type."""
    from dataclasses import replace

    if not greeted:
        talk.say(opening_words()[0])

    def load() -> None:
        talk.later.start()
        from interview.quantities.units import warm_up

        warm_up()  # the first measure is read without a wait

    talk.console.meanwhile(load)
    return talk.console.ask(replace(opening_prompt(), again=greeted))
