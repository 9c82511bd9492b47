"""A console that types from a list and keeps what would have been on the screen. For tests and the demo."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from interview.terminal.layout import laid, prompt_lines
from interview.terminal.prompt import LONGEST_LINE, TOO_LONG, EndOfInput, Interrupted, Prompt, Tone
from interview.text.harmless import harmless

INTERRUPT, END = "\x03", "\x04"  # replies that stand for Ctrl-C and Ctrl-D


class ScriptedConsole:
    """Takes one reply after the other; after the last it behaves like a closed pipe."""

    def __init__(self, replies: Iterable[str], width: int = 80) -> None:
        self._replies: Iterator[str] = iter(replies)
        self._width = width
        self._lines: list[str] = []

    @property
    def width(self) -> int:
        return self._width

    @property
    def transcript(self) -> str:
        """The whole screen so far. Lines the person typed begin with "> "."""
        return "\n".join(self._lines).strip("\n") + "\n"

    def say(self, text: str, tone: Tone = "plain") -> None:
        self._lines += laid(text, tone, self._width)

    def ask(self, prompt: Prompt) -> str:
        self._lines += [line for _, line in prompt_lines(prompt, self._width)]
        while True:
            typed = self._next(prompt)
            trouble = prompt.check(typed) if prompt.check else None
            if trouble is None:
                return typed
            self.say(f"  {trouble}", "warning")

    def page(self, text: str) -> None:
        self.say(text)

    def fresh(self) -> None:
        self.say("")

    def meanwhile(self, work: Callable[[], None]) -> None:
        work()

    def _next(self, prompt: Prompt) -> str:
        reply = next(self._replies, None)
        if reply is None or reply == END:
            raise EndOfInput
        if reply == INTERRUPT:
            raise Interrupted
        typed = harmless(reply, one_line=True)
        if len(typed) > LONGEST_LINE:
            self.say(TOO_LONG, "warning")
        typed = typed[:LONGEST_LINE] or prompt.offered
        self._lines.append(f"> {typed}".rstrip())
        return typed
