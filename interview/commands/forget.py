"""Remove a kept piece."""

from __future__ import annotations

import argparse
from argparse import ArgumentParser

from interview.commands import options as shared
from interview.commands import output
from interview.commands.context import kept_piece
from interview.commands.output import OK, REFUSED, Fault

HELP = "Remove a kept piece."


def fill(command: ArgumentParser) -> None:
    shared.name(command)


def run(options: argparse.Namespace) -> int:
    from interview.files.paths import why_not

    path, _ = kept_piece(options.name)
    try:
        path.unlink()
    except OSError as error:
        raise Fault(f"{path} cannot be removed: {why_not(error)}.", status=REFUSED) from None
    output.put(f'"{path.stem}" is removed.')
    return OK
