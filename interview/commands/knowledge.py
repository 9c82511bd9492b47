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
    command.add_argument(
        "--facts",
        metavar="RULE",
        default="",
        help="list what conditions of such a rule may read: need, bar, caution ...",
    )


def run(options: argparse.Namespace) -> int:
    from datetime import date

    from interview.quantities.units import line_reader
    from knowledge.checking import check

    if options.facts:
        return _facts(options)
    folder = path_of(options.folder) if options.folder else extra_folder(options)
    faults = check(folder, today=date.today(), reads=line_reader())
    if faults:
        raise Fault(*map(str, faults), f"{len(faults)} faults.")
    output.put("The knowledge is sound: no faults found.")
    return OK


def _facts(options: argparse.Namespace) -> int:
    from interview.text.nearest import did_you_mean
    from knowledge.loading import load
    from knowledge.vocabulary import STAGES, at_hand

    if options.facts not in STAGES:
        raise Fault(f"--facts: there is no rule called '{options.facts}'.{did_you_mean(options.facts, STAGES)}")
    for line in at_hand(load(extra_folder(options)), options.facts):
        output.put(line)
    return OK
