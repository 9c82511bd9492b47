"""List what is kept."""

from __future__ import annotations

import argparse
from argparse import ArgumentParser

from interview.commands import output
from interview.commands.output import OK

HELP = "List what is kept."


def fill(command: ArgumentParser) -> None:
    """It takes nothing more."""


def run(_: argparse.Namespace) -> int:
    from interview.conversation.sessions import describe, kept_pieces
    from interview.files.batches import names

    lines = [describe(path.stem, kept) for path, kept in kept_pieces()]
    lines += [f"{name} (batch): beforepour batch {name} tonight" for name in names()]
    output.put("\n".join(lines) or "Nothing is kept yet.")
    return OK
