"""The console for a real terminal. What is asked stands on the screen before the line editor and its library load."""

from __future__ import annotations

import os
import sys

from interview.terminal.held_keys import HeldKeys
from interview.terminal.layout import fewer_for, laid, prompt_lines, usable_width, window
from interview.text.harmless import harmless, legible

TYPE_CHECKING = False  # so called by `typing`, which loads after the first question
if TYPE_CHECKING:
    from collections.abc import Callable

    from prompt_toolkit.input import Input
    from prompt_toolkit.output import Output

    from interview.terminal.line_editor import LineEditor
    from interview.terminal.prompt import Prompt, Tone

# the terminal's own colours, by ECMA-48, so that they stay readable on light and dark grounds
_LOOKS = {"heading": "0;1", "warning": "0;31;1", "answer": "0;32"}
_LOOKS_WITHOUT_COLOUR = {"heading": "0;1", "warning": "0;1"}  # NO_COLOR set to anything, as no-color.org asks


class PromptConsole:
    """Prints as it is; hands every line that is typed to the line editor."""

    def __init__(self, source: Input | None = None, sink: Output | None = None) -> None:
        """`source` and `sink` stand in for the terminal."""
        self._editor: LineEditor | None = None
        self._waiting: Callable[[], None] | None = None
        self._looks = _LOOKS_WITHOUT_COLOUR if os.environ.get("NO_COLOR") else _LOOKS
        self._typed = b""
        if sink is not None or os.name == "nt":  # there the library teaches the window what our signs mean
            self._editor = _load(source, sink)
        else:
            held = HeldKeys()
            self._typed = held.typed
            self._write(held.wiped(self._size()[0]))

    @property
    def width(self) -> int:
        return usable_width(self._size()[0])

    def say(self, text: str, tone: Tone = "plain") -> None:
        self._print([(tone, line) for line in laid(text, tone, self.width)])

    def ask(self, prompt: Prompt) -> str:
        from dataclasses import replace

        from interview.terminal.prompt import LONGEST_LINE, TOO_LONG, EndOfInput, Interrupted

        prompt = replace(prompt, shown=fewer_for(prompt, self.width, self._size()[1]))
        self._print(prompt_lines(prompt, self.width))
        waiting, self._waiting = self._waiting, None
        try:
            typed = self._ready().ask(prompt, waiting)
        except KeyboardInterrupt:
            raise Interrupted from None
        except EOFError:
            raise EndOfInput from None
        typed = harmless(typed, one_line=True)
        if len(typed) > LONGEST_LINE:
            self.say(TOO_LONG, "warning")
        return typed[:LONGEST_LINE]

    def page(self, text: str) -> None:
        from interview.terminal.pager import show

        show(self._shown(text))

    def fresh(self) -> None:
        self._write("\x1b[H\x1b[2J\x1b[3J")  # the screen, and what could be scrolled back to
        if self._editor:
            self._editor.forget()

    def meanwhile(self, work: Callable[[], None]) -> None:
        self._waiting = work

    def _ready(self) -> LineEditor:
        """The line editor. Until it is loaded, its pointer shows where keys will go."""
        if self._editor is None:
            self._write("\x1b[1m> \x1b[0m")
            editor = _load(None, None)
            editor.take(self._typed)
            self._write("\r")  # the editor begins at the left
            self._editor = editor
        return self._editor

    def _print(self, lines: list[tuple[Tone, str]]) -> None:
        looks = ((self._looks.get(tone), self._shown(line)) for tone, line in lines)
        self._write("".join(f"\x1b[{look}m{line}\x1b[0m\r\n" if look else f"{line}\r\n" for look, line in looks))

    def _write(self, text: str) -> None:
        if self._editor:
            self._editor.write(text)
        else:
            sys.stdout.write(text)
            sys.stdout.flush()

    def _size(self) -> tuple[int, int]:
        """Columns and rows."""
        if self._editor:
            return self._editor.columns, self._editor.rows
        return window(sys.stdout)

    def _shown(self, text: str) -> str:
        return self._editor.shown(text) if self._editor else legible(text, sys.stdout.encoding or "utf-8")


def _load(source: Input | None, sink: Output | None) -> LineEditor:
    from interview.terminal.line_editor import LineEditor

    return LineEditor(source, sink)
