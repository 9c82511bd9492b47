"""Keys typed before anybody reads them: held by the terminal, not shown, not lost."""

from __future__ import annotations

import atexit
import os
import sys

_END_OF_INPUT = (b"\0", b"\x04")  # how the terminal hands over a Ctrl-D that came while it kept lines itself


class HeldKeys:
    """From now on keys are kept as they come, and shown by whoever reads them. The terminal is given back at exit.

    `typed`: what came before that, and was shown then; it is wiped off the screen, as it will be shown again.
    """

    def __init__(self) -> None:
        self.typed = b""
        try:
            import termios
        except ImportError:  # no such terminal on this system
            return
        self._from = sys.stdin.fileno()
        before = termios.tcgetattr(self._from)
        held = [*before[:3], before[3] & ~(termios.ECHO | termios.ICANON), *before[4:6], [*before[6]]]
        held[6][termios.VMIN], held[6][termios.VTIME] = 1, 0
        termios.tcsetattr(self._from, termios.TCSANOW, held)
        atexit.register(termios.tcsetattr, self._from, termios.TCSANOW, before)
        self.typed = self._there().replace(*_END_OF_INPUT)

    def _there(self) -> bytes:
        """What is there to be read, now."""
        from select import select

        return os.read(self._from, 1 << 16) if select([self._from], [], [], 0)[0] else b""

    def wiped(self, width: int) -> str:
        """What to write to take off the screen what was typed and shown too early.

        A line that ended in a line feed was shown. One that ended in a carriage return came while the shell
        still read, which shows nothing of it.
        """
        if not self.typed:
            return ""
        *whole, last = self.typed.split(b"\n")
        rows = sum(1 + max(0, len(line) - 1) // width for line in whole) + max(0, len(last) - 1) // width
        return "\r" + (f"\x1b[{rows}A" if rows else "") + "\x1b[J"
