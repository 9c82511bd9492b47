"""Remove a kept piece or batch."""

from __future__ import annotations

import argparse
from argparse import ArgumentParser

from interview.commands import options as shared
from interview.commands import output
from interview.commands.context import kept_piece
from interview.commands.output import OK, REFUSED, Fault

HELP = "Remove a kept piece or batch."


def fill(command: ArgumentParser) -> None:
    shared.name(command)


def run(options: argparse.Namespace) -> int:
    from interview.files.batches import NoBatch, is_kept, remove
    from interview.files.paths import why_not

    if is_kept(options.name):
        try:
            remove(options.name)
        except NoBatch as error:
            raise Fault(str(error), status=REFUSED) from None
        output.put(f'"{options.name}" is removed.')
        return OK
    path, _ = kept_piece(options.name)
    try:
        path.unlink()
    except OSError as error:
        raise Fault(f"{path} cannot be removed: {why_not(error)}.", status=REFUSED) from None
    output.put(f'"{path.stem}" is removed.')
    return OK
