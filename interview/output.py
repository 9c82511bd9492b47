"""What commands print: in what the encoding can show, harmless, complaints apart."""

from __future__ import annotations

import sys

OK, REFUSED, WRONG = 0, 1, 2


class Fault(Exception):
    """What will not do, one line each, and the exit status."""

    def __init__(self, *lines: str, status: int = WRONG) -> None:
        self.lines = lines
        self.status = status
        super().__init__("\n".join(lines))


def put(text: str) -> None:
    from interview.harmless import harmless

    write(harmless(text))


def write(text: str) -> None:
    """To standard output, in what its encoding can show. For rendered briefs, whose contents are harmless
    already.
    """
    from interview.harmless import legible

    sys.stdout.write(legible(text.rstrip("\n") + "\n", sys.stdout.encoding or "ascii"))
    sys.stdout.flush()


def complain(line: str) -> None:
    from interview.harmless import harmless, legible

    sys.stderr.write(
        legible(f"beforepour: {harmless(line, one_line=True)}\n", sys.stderr.encoding or "ascii")
    )


def width() -> int:
    import shutil

    from interview.terminal.layout import usable_width

    return usable_width(shutil.get_terminal_size((80, 24)).columns)


def is_terminal() -> bool:
    return sys.stdout is not None and sys.stdout.isatty()
