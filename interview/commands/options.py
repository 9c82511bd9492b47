"""Options that several commands take."""

from __future__ import annotations

from argparse import ArgumentParser

FORMS = (
    "terminal",
    "markdown",
    "html",
    "handout",
    "sheet",
    "pdf",
    "json",
    "csv-shopping",
    "csv-steps",
    "timeline",
    "calendar",
)


def name(command: ArgumentParser) -> None:
    command.add_argument("name", metavar="NAME", help="the name it is kept under")


def maybe_name(command: ArgumentParser) -> None:
    command.add_argument("name", metavar="NAME", nargs="?", default="", help="the name it is kept under")


def file(command: ArgumentParser) -> None:
    command.add_argument("--to", metavar="FILE", help="write to this file instead of the screen")
    command.add_argument("--overwrite", action="store_true", help="replace the file where it is already there")


def form(command: ArgumentParser) -> None:
    command.add_argument("--as", dest="form", choices=FORMS, default="terminal", help="the form of the brief")
    command.add_argument("--full", action="store_true", help="with every caution at length, and what may go wrong")
    command.add_argument("--paper", choices=("A4", "Letter"), default="A4", help="the paper of a PDF")
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
