"""The console for a real terminal, on prompt_toolkit: completion, history, a check on Enter, a quiet foot line.

What was asked is printed and scrolls away; only the line one types into is redrawn, so a resized
window harms nothing.
"""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from prompt_toolkit.completion import DummyCompleter
from prompt_toolkit.formatted_text import FormattedText
from prompt_toolkit.history import InMemoryHistory
from prompt_toolkit.input import Input
from prompt_toolkit.output import Output
from prompt_toolkit.shortcuts import PromptSession, print_formatted_text

from interview.terminal.completion import PromptCompleter
from interview.terminal.key_bindings import make_bindings
from interview.terminal.layout import fewer_for, prompt_lines, usable_width, wrap
from interview.terminal.prompt import LONGEST_LINE, EndOfInput, Interrupted, Prompt, Tone
from interview.terminal.style import STYLE, colour_depth
from interview.terminal.toolbar import foot_line
from interview.text.harmless import harmless, legible

_MENU_ROWS = 6


class _Session(PromptSession[str]):
    """Keeps less room free for the menu where the window is low, also after a resize."""

    @property
    def reserve_space_for_menu(self) -> int:
        return min(_MENU_ROWS, self.app.output.get_size().rows // 5)

    @reserve_space_for_menu.setter
    def reserve_space_for_menu(self, rows: int) -> None:
        pass  # prompt_toolkit sets its own number; ours follows the window


class PromptConsole:
    """One session for the whole conversation, so that the arrow keys find earlier replies."""

    def __init__(self, source: Input | None = None, sink: Output | None = None) -> None:
        self._prompt = Prompt("")
        self._trouble = ""
        self._waiting: Callable[[], None] | None = None
        self._session = _Session(
            message=self._message,
            style=STYLE,
            color_depth=colour_depth(os.environ),
            history=InMemoryHistory(),
            bottom_toolbar=self._foot,
            key_bindings=make_bindings(self._passes),
            complete_while_typing=True,
            enable_suspend=os.name == "posix",
            include_default_pygments_style=False,
            input=source,
            output=sink,
        )
        self._session.default_buffer.on_text_changed += self._forget_trouble

    @property
    def width(self) -> int:
        return usable_width(self._session.output.get_size().columns)

    def say(self, text: str, tone: Tone = "plain") -> None:
        self._print([(tone, line) for line in wrap(text, self.width)])

    def ask(self, prompt: Prompt) -> str:
        rows = self._session.output.get_size().rows
        prompt = replace(prompt, shown=fewer_for(prompt, self.width, rows))
        self._prompt, self._trouble = prompt, ""
        self._print(prompt_lines(prompt, self.width))
        waiting, self._waiting = self._waiting, None
        try:
            typed = self._session.prompt(
                default=self._shown(prompt.offered),
                completer=PromptCompleter(prompt) if prompt.options or prompt.words else DummyCompleter(),
                refresh_interval=1.0 if prompt.live else 0,
                pre_run=threading.Thread(target=waiting).start if waiting else None,
            )
        except KeyboardInterrupt:
            raise Interrupted from None
        except EOFError:
            raise EndOfInput from None
        return harmless(typed, one_line=True)[:LONGEST_LINE]

    def page(self, text: str) -> None:
        from interview.terminal.pager import show

        show(self._shown(text))

    def fresh(self) -> None:
        self._session.history = self._session.default_buffer.history = InMemoryHistory()
        self._session.default_buffer.reset()
        self._session.output.erase_screen()
        self._session.output.cursor_goto(0, 0)
        self._session.output.flush()

    def meanwhile(self, work: Callable[[], None]) -> None:
        self._waiting = work

    def _passes(self, typed: str) -> bool:
        check = self._prompt.check
        self._trouble = (check(harmless(typed, one_line=True)) if check else None) or ""
        return not self._trouble

    def _forget_trouble(self, _: Any) -> None:
        self._trouble = ""

    def _message(self) -> FormattedText:
        lines = wrap(f"  {self._trouble}", self.width) if self._trouble else []
        above = [("class:warning", self._shown(line) + "\n") for line in lines]
        return FormattedText([*above, ("class:pointer", "> ")])

    def _foot(self) -> FormattedText:
        columns = self._session.output.get_size().columns
        prompt = self._prompt
        if prompt.live:
            status, ring = prompt.live()
            prompt = replace(prompt, status=status)
            if ring:
                self._session.output.bell()
        line = foot_line(prompt, self._session.default_buffer.text, columns)
        return FormattedText([("class:quiet", self._shown(line))])

    def _print(self, lines: list[tuple[Tone, str]]) -> None:
        parts = [(f"class:{tone}", self._shown(line) + "\n") for tone, line in lines]
        print_formatted_text(
            FormattedText(parts),
            end="",
            style=STYLE,
            output=self._session.output,
            color_depth=self._session.color_depth,
            include_default_pygments_style=False,
        )

    def _shown(self, text: str) -> str:
        return legible(text, self._session.output.encoding() or "utf-8")
