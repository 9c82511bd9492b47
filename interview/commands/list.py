"""List what is kept, or what was put aside."""

from __future__ import annotations

import argparse
from argparse import ArgumentParser

from interview.commands import output
from interview.commands.output import OK

HELP = "List what is kept, or what was put aside."


def fill(command: ArgumentParser) -> None:
    command.add_argument("--forgotten", action="store_true", help="what was put aside, and can be brought back")


def run(options: argparse.Namespace) -> int:
    if options.forgotten:
        from interview.files.pieces import forgotten

        aside = [f"{f.name}{' (batch)' if f.batch else ''}: for {f.left} more days" for f in forgotten()]
        output.put("\n".join(aside) or "Nothing was put aside.")
        return OK
    from interview.conversation.earlier import described
    from interview.files.batches import names

    lines = [*described(), *(f"{name} (batch): beforepour batch {name} tonight" for name in names())]
    output.put("\n".join(lines) or "Nothing is kept yet.")
    return OK
