"""Options that several commands take."""

from __future__ import annotations

from argparse import ArgumentParser

from interview.brief.forms import FORMS


def name(command: ArgumentParser) -> None:
    command.add_argument("name", metavar="NAME", help="the name it is kept under")


def maybe_name(command: ArgumentParser) -> None:
    command.add_argument("name", metavar="NAME", nargs="?", default="", help="the name it is kept under")


def file(command: ArgumentParser) -> None:
    command.add_argument("--to", metavar="FILE", help="write to this file instead of the screen; -: to standard output")
    command.add_argument("--overwrite", action="store_true", help="replace the file where it is already there")


def form(command: ArgumentParser) -> None:
    command.add_argument("--as", dest="form", choices=tuple(FORMS), default="terminal", help="the form of the brief")
    command.add_argument(
        "--full", action="store_true", help="every caution at length; a PDF with the full brief behind the bench sheet"
    )
    command.add_argument("--paper", choices=("A4", "Letter"), help="the paper to print on; else by your locale")
    command.add_argument("--inches", action="store_true", help="inches, ounces and gallons first")
    times(command)
    file(command)


def times(command: ArgumentParser) -> None:
    command.add_argument("--hours", default="", help='when you can work: "evenings, sat 9-17"')
    command.add_argument("--from", dest="begin", default="", help='when you can begin: "saturday", "13 june 9:00"')
    command.add_argument("--ready-by", default="", help='when it must be ready: "saturday week"')
    command.add_argument(
        "--latest", action="store_true", help="begin as late as you can and still be ready by that day"
    )
    command.add_argument("--days-off", default="", help='days without work: "12 june, sunday"')
