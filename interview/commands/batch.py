"""Plan several kinds of pieces together."""

from __future__ import annotations

import argparse
from argparse import ArgumentParser

from interview.commands import options as shared

HELP = "Plan several kinds of pieces together."


def fill(command: ArgumentParser) -> None:
    command.add_argument(
        "kinds",
        metavar="KINDS.csv|NAME|WORDS",
        nargs="*",
        help="a CSV file with a row a kind, names of kept pieces, or kinds in words; or the name of a kept batch and "
        "what to say of it: tonight, done 3-7, late: thursday missed, now 60 coasters, what can I bring",
    )
    command.add_argument("--name", default="", help="keep the batch under this name, to work on it for days")
    command.add_argument("--assume", action="store_true", help='take "not sure" for every missing answer')
    shared.times(command)
    command.add_argument("--hands", type=int, default=1, help="how many people work")
    command.add_argument("--spray-places", type=int, default=1, help="how many places to spray there are")
    command.add_argument("--table", default="", help='room on the table: "120 x 80 cm"')
    command.add_argument("--rack", default="", help='room on the drying rack: "2 m2"')
    command.add_argument("--pot", default="", help='the largest pot you mix: "500 mL"')
    command.add_argument(
        "--folder", default="", help="write the sheets, the list, the calendar and the briefs into this folder"
    )
    command.add_argument("--paper", choices=("A4", "Letter"), help="the paper to print on; else by your locale")
    command.add_argument("--overwrite", action="store_true", help="replace files that are already there")


def run(options: argparse.Namespace) -> int:
    from interview.files.batches import is_kept

    if options.kinds and not options.name and is_kept(options.kinds[0]):
        from interview.commands.batch_kept import go_on

        return go_on(options)
    from interview.commands.batch_rows import plan_kinds

    return plan_kinds(options)
