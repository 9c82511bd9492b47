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

    pieces = kept_pieces()
    output.put("\n".join(describe(path.stem, kept) for path, kept in pieces) or "Nothing is kept yet.")
    return OK
