"""The line one types into, on prompt_toolkit: completion, history, a check on Enter, a quiet foot line.

Only this line is redrawn; all above it scrolls away, so a resized window harms nothing.
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
from prompt_toolkit.input.typeahead import store_typeahead
from prompt_toolkit.input.vt100_parser import Vt100Parser
from prompt_toolkit.key_binding import KeyPress
from prompt_toolkit.output import Output
from prompt_toolkit.shortcuts import PromptSession

from interview.terminal.completion import PromptCompleter
from interview.terminal.key_bindings import make_bindings
from interview.terminal.layout import usable_width, wrap
from interview.terminal.prompt import Prompt
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


class LineEditor:
    """One session for the whole conversation, so that the arrow keys find earlier replies."""

    def __init__(self, source: Input | None, sink: Output | None) -> None:
        self._prompt = Prompt("")
        self._trouble = ""
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
    def columns(self) -> int:
        return self._session.output.get_size().columns

    @property
    def rows(self) -> int:
        return self._session.output.get_size().rows

    def take(self, typed: bytes) -> None:
        """Keys typed before this was here: as if they were typed now."""
        keys: list[KeyPress] = []
        parser = Vt100Parser(keys.append)
        parser.feed(typed.decode("utf-8", "surrogateescape"))
        parser.flush()
        store_typeahead(self._session.input, keys)

    def ask(self, prompt: Prompt, waiting: Callable[[], None] | None) -> str:
        """One line that passes the prompt's check. `waiting` is begun beside it. Raises KeyboardInterrupt, EOFError."""
        self._prompt, self._trouble = prompt, ""
        return self._session.prompt(
            default=self.shown(prompt.offered),
            completer=PromptCompleter(prompt) if prompt.options or prompt.words else DummyCompleter(),
            refresh_interval=1.0 if prompt.live else 0,
            pre_run=threading.Thread(target=waiting).start if waiting else None,
        )

    def write(self, text: str) -> None:
        self._session.output.write_raw(text)
        self._session.output.flush()

    def forget(self) -> None:
        """What was typed before cannot be called back."""
        self._session.history = self._session.default_buffer.history = InMemoryHistory()
        self._session.default_buffer.reset()

    def shown(self, text: str) -> str:
        return legible(text, self._session.output.encoding() or "utf-8")

    def _passes(self, typed: str) -> bool:
        check = self._prompt.check
        self._trouble = (check(harmless(typed, one_line=True)) if check else None) or ""
        return not self._trouble

    def _forget_trouble(self, _: Any) -> None:
        self._trouble = ""

    def _message(self) -> FormattedText:
        lines = wrap(f"  {self._trouble}", usable_width(self.columns)) if self._trouble else []
        above = [("class:warning", self.shown(line) + "\n") for line in lines]
        return FormattedText([*above, ("class:pointer", "> ")])

    def _foot(self) -> FormattedText:
        prompt = self._prompt
        if prompt.live:
            status, ring = prompt.live()
            prompt = replace(prompt, status=status)
            if ring:
                self._session.output.bell()
        line = foot_line(prompt, self._session.default_buffer.text, self.columns)
        return FormattedText([("class:quiet", self.shown(line))])
