"""Where nobody reads any more."""

from __future__ import annotations

import contextlib
import os
from typing import TextIO


def drop(sink: TextIO) -> None:
    """Nobody can read what is written: point the stream at nothing, so that closing it at exit cannot fail."""
    with contextlib.suppress(OSError, ValueError):
        nothing = os.open(os.devnull, os.O_WRONLY)
        try:
            os.dup2(nothing, sink.fileno())
        finally:
            os.close(nothing)
