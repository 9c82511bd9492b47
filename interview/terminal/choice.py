"""Which console to talk through. Plain lines wherever a redrawn line could not work or would get in the way."""

from __future__ import annotations

import os
import sys

TYPE_CHECKING = False  # so called by `typing`, which loads after the first question
if TYPE_CHECKING:
    from collections.abc import Mapping

    from interview.terminal.prompt import Console


def choose_console(*, plain: bool = False) -> Console:
    """The prompt_toolkit console for a person at a terminal, else plain lines. Loads only the one it gives."""
    if plain or wants_plain(os.environ) or not (_is_terminal(sys.stdin) and _is_terminal(sys.stdout)):
        from interview.terminal.plain_console import PlainConsole

        return PlainConsole(sys.stdin.buffer, sys.stdout, echo=not _is_terminal(sys.stdin))
    from interview.terminal.prompt_console import PromptConsole

    return PromptConsole()


def wants_plain(environment: Mapping[str, str]) -> bool:
    """Asked for by BEFOREPOUR_PLAIN (for screen readers), or a terminal that cannot move its cursor."""
    return bool(environment.get("BEFOREPOUR_PLAIN")) or environment.get("TERM", "") in ("dumb", "unknown")


def _is_terminal(stream: object) -> bool:
    try:
        return bool(stream.isatty())  # type: ignore[attr-defined]
    except (AttributeError, ValueError):  # no stream at all, or one already closed
        return False
