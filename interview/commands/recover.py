"""Bring back a piece or batch that was put aside."""

from __future__ import annotations

import argparse
from argparse import ArgumentParser

from interview.commands import options as shared
from interview.commands import output
from interview.commands.output import OK, REFUSED, Fault

HELP = "Bring back a piece or batch that was put aside."


def fill(command: ArgumentParser) -> None:
    shared.name(command)


def run(options: argparse.Namespace) -> int:
    from interview.files.journal import NotKept
    from interview.files.paths import why_not
    from interview.files.pieces import bring_back

    try:
        path = bring_back(options.name)
    except NotKept as error:
        raise Fault(str(error)) from None
    except OSError as error:
        raise Fault(f"{options.name} cannot be brought back: {why_not(error)}.", status=REFUSED) from None
    output.put(f'"{path.stem}" is kept again.')
    return OK
