"""Plain lines in and out: for pipes, `TERM=dumb` and screen readers. No colours, no cursor moves, nothing redrawn."""

from __future__ import annotations

import os
import sys

from interview.terminal.layout import laid, prompt_lines, usable_width, window
from interview.text.harmless import harmless, legible

TYPE_CHECKING = False  # so called by `typing`, which loads after the first question
if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import BinaryIO, TextIO

    from interview.terminal.prompt import Prompt, Tone

_LONGEST_READ = 1 << 16  # bytes read of one line; the rest of a longer one is passed over


class PlainConsole:
    """Reads bytes, so that any line ends and any encoding come through; writes what the encoding can show."""

    def __init__(self, source: BinaryIO, sink: TextIO, *, echo: bool) -> None:
        """`echo`: repeat what was read, so that what a pipe leaves behind reads like a conversation."""
        self._source = source
        self._sink = sink
        self._echo = echo
        self.refused: OSError | None = None  # why the sink took nothing more, where somebody should know
        self._waiting: Callable[[], None] | None = None

    @property
    def width(self) -> int:
        told = os.environ.get("COLUMNS", "")
        return usable_width(int(told) if told.isdecimal() and int(told) else window(sys.__stdout__ or sys.stdout)[0])

    def say(self, text: str, tone: Tone = "plain") -> None:
        self._write("".join(f"{line}\n" for line in laid(text, tone, self.width)))

    def ask(self, prompt: Prompt) -> str:
        lines = (line for _, line in prompt_lines(prompt, self.width))
        self._write("".join(f"{line}\n" for line in lines))
        if self._waiting is not None:
            import threading

            threading.Thread(target=self._waiting).start()
            self._waiting = None
        while True:
            typed = self._read(prompt.offered)
            trouble = prompt.check(typed) if prompt.check else None
            if trouble is None:
                return typed
            self.say(f"  {trouble}", "warning")

    def page(self, text: str) -> None:
        self.say(text)

    def fresh(self) -> None:
        self.say("")

    def meanwhile(self, work: Callable[[], None]) -> None:
        self._waiting = work

    def _read(self, offered: str) -> str:
        from interview.terminal.prompt import LONGEST_LINE, TOO_LONG, EndOfInput, Interrupted

        self._write(f"(Enter for: {offered}) > " if offered else "> ")
        try:
            raw = self._source.readline(_LONGEST_READ)
            rest = raw
            while rest and not rest.endswith(b"\n"):  # pass over the rest of an endless line
                rest = self._source.readline(_LONGEST_READ)
        except KeyboardInterrupt:
            raise Interrupted from None
        except (OSError, ValueError):
            raise EndOfInput from None
        if not raw:
            self._write("\n")
            raise EndOfInput
        typed = harmless(_decode(raw), one_line=True)
        if len(typed) > LONGEST_LINE or len(raw) >= _LONGEST_READ:
            self.say(TOO_LONG, "warning")
            typed = typed[:LONGEST_LINE]
        if self._echo:
            self._write(f"{typed}\n")
        return typed or offered

    def _write(self, text: str) -> None:
        try:
            self._sink.write(legible(text, self._sink.encoding or "ascii"))
            self._sink.flush()
        except OSError as error:  # nobody reads any more, or there is no room for what is said
            from interview.terminal.prompt import EndOfInput
            from interview.terminal.sinks import drop

            self.refused = None if isinstance(error, BrokenPipeError) else self.refused or error
            drop(self._sink)
            raise EndOfInput from None


def _decode(raw: bytes) -> str:
    """UTF-8 where it is, else Latin-1, which takes any byte."""
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("latin-1")
