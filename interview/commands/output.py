"""What commands print: in what the encoding can show, harmless, complaints apart."""

from __future__ import annotations

import sys

TYPE_CHECKING = False  # so called by `typing`, which loads after the first question
if TYPE_CHECKING:
    from collections.abc import Callable

OK, REFUSED, WRONG = 0, 1, 2


class Fault(Exception):
    """What will not do, one line each, and the exit status."""

    def __init__(self, *lines: str, status: int = WRONG) -> None:
        self.lines = lines
        self.status = status
        super().__init__("\n".join(lines))


def put(text: str) -> None:
    from interview.text.harmless import harmless

    write(harmless(text))


def write(text: str) -> None:
    """To standard output, in what its encoding can show. For rendered briefs, whose contents are harmless already."""
    from interview.text.harmless import legible

    _send(lambda: sys.stdout.write(legible(text.rstrip("\n") + "\n", sys.stdout.encoding or "ascii")))


def write_bytes(content: bytes) -> None:
    """To standard output as it is: a PDF."""
    _send(lambda: sys.stdout.buffer.write(content))


def _send(send: Callable[[], object]) -> None:
    try:
        send()
        sys.stdout.flush()
    except BrokenPipeError:
        raise
    except OSError as error:
        drop()
        raise unshown(error) from None


def unshown(error: OSError) -> Fault:
    """What to say where standard output takes nothing more, a full disk for one."""
    from interview.files.paths import why_not

    return Fault(f"This cannot be shown where it was to go: {why_not(error)}.", status=REFUSED)


def drop() -> None:
    """Nobody reads on; keep Python from complaining about it at exit."""
    from interview.terminal.sinks import drop as drop_sink

    drop_sink(sys.stdout)


def open_what_is_closed() -> None:
    """Streams the program was started without lead nowhere; nothing else is then taken for them."""
    import os

    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: PTH123, SIM115


def complain(line: str) -> None:
    """One line on standard error. Where that takes nothing either, the exit status alone tells."""
    from interview.terminal.sinks import drop as drop_sink
    from interview.text.harmless import harmless, legible

    said = legible(f"beforepour: {harmless(line, one_line=True)}\n", sys.stderr.encoding or "ascii")
    try:
        sys.stderr.write(said)
        sys.stderr.flush()
    except OSError:
        drop_sink(sys.stderr)


def width() -> int:
    import shutil

    from interview.terminal.layout import usable_width

    return usable_width(shutil.get_terminal_size((80, 24)).columns)


def is_terminal() -> bool:
    return sys.stdout is not None and sys.stdout.isatty()
