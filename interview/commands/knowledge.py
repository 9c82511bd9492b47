"""Check all facts, questions and rules."""

from __future__ import annotations

import argparse
from argparse import ArgumentParser

from interview.commands import output
from interview.commands.context import extra_folder, path_of
from interview.commands.output import OK, Fault

HELP = "Check all facts, questions and rules."


def fill(command: ArgumentParser) -> None:
    command.add_argument("folder", metavar="FOLDER", nargs="?", default="", help="a folder of your own additions")


def run(options: argparse.Namespace) -> int:
    from datetime import date

    from interview.quantities.units import line_reader
    from knowledge.checking import check

    folder = path_of(options.folder) if options.folder else extra_folder(options)
    faults = check(folder, today=date.today(), reads=line_reader())
    if faults:
        raise Fault(*map(str, faults), f"{len(faults)} faults.")
    output.put("The knowledge is sound: no faults found.")
    return OK
