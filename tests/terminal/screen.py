"""The program in a real pseudo-terminal, and its screen as a person sees it."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pexpect
import pyte

PATIENCE = 20.0  # seconds until a screen that does not come is a failure


class _Screen(pyte.Screen):
    """A screen that answers where its cursor is, as terminals do."""

    def __init__(self, columns: int, lines: int, child: pexpect.spawn) -> None:
        super().__init__(columns, lines)
        self._child = child

    def write_process_input(self, data: str) -> None:
        self._child.send(data)

    def fit(self, columns: int, lines: int) -> None:
        """Resize as terminals do: what does not fit scrolls out at the top, the cursor stays on its line."""
        drop = max(0, self.cursor.y - lines + 1)
        kept = {row - drop: cells for row, cells in self.buffer.items() if drop <= row < drop + lines}
        at = self.cursor.y - drop
        self.buffer.clear()
        self.buffer.update(kept)
        self.lines, self.columns = lines, columns
        self.set_margins()
        self.dirty.update(range(lines))
        self.cursor.y, self.cursor.x = at, min(self.cursor.x, columns - 1)


class Terminal:
    """Types into the program and waits for what it should show."""

    def __init__(self, folder: Path, *arguments: str, columns: int = 80, lines: int = 24, **environment: str) -> None:
        kept = {name: os.environ[name] for name in ("PATH", "HOME", "SYSTEMROOT", "VIRTUAL_ENV") if name in os.environ}
        wanted = {
            "TERM": "xterm-256color",
            "LC_ALL": "C.UTF-8",
            "BEFOREPOUR_DATA": str(folder),
            **environment,
        }
        self.child = pexpect.spawn(
            sys.executable, ["-m", "interview", *arguments], env={**kept, **wanted}, dimensions=(lines, columns),
            timeout=PATIENCE, encoding=None, cwd=Path(__file__).parents[2],
        )  # fmt: skip
        self.child.delaybeforesend = None
        self._screen = _Screen(columns, lines, self.child)
        self._stream = pyte.ByteStream(self._screen)
        self.raw = b""

    @property
    def display(self) -> str:
        return "\n".join(line.rstrip() for line in self._screen.display).rstrip()

    @property
    def last_line(self) -> str:
        """The line the cursor is on."""
        return self._screen.display[self._screen.cursor.y].rstrip()

    def read(self, seconds: float = 0.05) -> bool:
        """Take in what the program wrote; False when it has ended."""
        try:
            data = self.child.read_nonblocking(65536, seconds)
        except pexpect.TIMEOUT:
            return True
        except pexpect.EOF:
            return False
        self.raw += data
        self._stream.feed(data)
        return True

    def see(self, *texts: str) -> None:
        """Wait until all the texts stand on the screen (line breaks count as blanks)."""
        end = time.monotonic() + PATIENCE
        alive = True
        while not all(self.shows(text) for text in texts):
            missing = [text for text in texts if not self.shows(text)]
            assert alive and time.monotonic() < end, f"not seen: {missing}\n{self.display}"
            alive = self.read()

    def shows(self, text: str) -> bool:
        return text in " ".join(self.display.split())

    @property
    def asked(self) -> str:
        """What stands between the last reply and the line to type into: the question, in one line."""
        lines = self.display.split("\n")
        at = max((n for n, line in enumerate(lines) if line.startswith(">")), default=0)
        last = max((n for n, line in enumerate(lines[:at]) if line.startswith("> ")), default=-1)
        return " ".join(" ".join(lines[last + 1 : at]).split())

    def come_to(self, question: str) -> None:
        """Say "not sure" to whatever else is asked, until this question stands there."""
        for _ in range(30):
            self.ready()
            if question in self.asked:
                return
            self.enter("not sure")
        raise AssertionError(f"never asked: {question}\n{self.display}")

    def enter(self, text: str) -> None:
        """Type a line into an empty one, and Enter; then wait until it has been taken."""
        self.type(text)
        self._wait(lambda: self.last_line.endswith(text[-20:]), f"not typed: {text}")
        self.type("\r")
        self._wait(lambda: not self.last_line.endswith(text[-20:]), f"not taken: {text}")

    def _wait(self, there: Callable[[], bool], trouble: str) -> None:
        end = time.monotonic() + PATIENCE
        while not there():
            assert time.monotonic() < end, f"{trouble}\n{self.display}"
            if not self.read():
                return

    def ready(self) -> None:
        """Wait until an empty line to type into stands under what was asked."""
        end = time.monotonic() + PATIENCE
        while self.last_line != ">":
            assert self.read() and time.monotonic() < end, f"no line to type into\n{self.display}"

    def type(self, text: str) -> None:
        self.child.send(text.encode())

    def resize(self, columns: int, lines: int) -> None:
        self._screen.fit(columns, lines)
        self.child.setwinsize(lines, columns)

    def end(self) -> int:
        """Wait for the end; the exit status, negative for a signal."""
        end = time.monotonic() + PATIENCE
        while self.read():
            assert time.monotonic() < end, f"still running\n{self.display}"
        self.child.close()
        return self.child.exitstatus if self.child.exitstatus is not None else -(self.child.signalstatus or 0)

    def kill(self) -> None:
        if self.child.closed:
            return
        self.child.kill(9)
        while self.read():
            pass
        self.child.close()
