"""What can be typed after `beforepour`: commands, options and their help."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from typing import Any, NoReturn

from interview.output import Fault, put

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
Commands = Mapping[str, Callable[[argparse.Namespace], int]]


class _Parser(argparse.ArgumentParser):
    """Complains in one line, with the nearest command where one was misspelled."""

    def error(self, message: str) -> NoReturn:
        from interview.nearest import did_you_mean

        if "invalid choice: '" in message:
            typed = message.split("invalid choice: '", 1)[1].split("'", 1)[0]
            listed = message.split("(choose from", 1)[-1].rstrip(")")
            known = [word.strip(" '") for word in listed.split(",")]
            message = f'"{typed}" is none of {", ".join(known)}.{did_you_mean(typed, known)}'
        raise Fault(f"{message.rstrip('.')}. {self.prog} --help tells more.")

    def print_help(self, file: Any = None) -> None:  # noqa: ARG002
        """The library passes over a disk that is full; this tells."""
        put(self.format_help())


def make_parser(commands: Commands) -> argparse.ArgumentParser:
    parser = _Parser(
        prog="beforepour",
        description="An interview about a piece, and the brief for sealing it before a clear resin pour. "
        "Without a command, a new interview begins.",
        parents=[_shared()],
    )
    _new(parser)
    parser.set_defaults(run=commands["new"], pace="full", name="", plain=False, knowledge=None, stock=None)
    shared = _shared()
    sub = parser.add_subparsers(title="commands", metavar="COMMAND", parser_class=_Parser)
    for name, (help_text, fill) in _COMMANDS.items():
        command = sub.add_parser(name, help=help_text, description=help_text, parents=[shared])
        command.set_defaults(run=commands[name])
        fill(command)
    return parser


def _shared() -> _Parser:
    shared = _Parser(add_help=False, argument_default=argparse.SUPPRESS)  # said before the command, it still counts
    shared.add_argument("--plain", action="store_true", help="plain lines, for screen readers and slow lines")
    shared.add_argument("--knowledge", metavar="FOLDER", help="a folder of your own additions to the knowledge")
    shared.add_argument("--stock", metavar="FILE", help="your list of sealers at hand (TOML or CSV)")
    return shared


def _new(command: argparse.ArgumentParser) -> None:
    pace = command.add_mutually_exclusive_group()
    for name, help_text in (
        ("quick", "only what changes the verdict; the numbers on request"),
        ("counter", "a clerk with customers: few questions, a one-page sheet, nothing kept"),
    ):
        pace.add_argument(
            f"--{name}", dest="pace", action="store_const", const=name, default=argparse.SUPPRESS, help=help_text
        )
    command.add_argument("--name", default=argparse.SUPPRESS, help="keep it under this name")


def _name(command: argparse.ArgumentParser) -> None:
    command.add_argument("name", metavar="NAME", help="the name it is kept under")


def _maybe_name(command: argparse.ArgumentParser) -> None:
    command.add_argument("name", metavar="NAME", nargs="?", default="", help="the name it is kept under")


def _file(command: argparse.ArgumentParser) -> None:
    command.add_argument("--to", metavar="FILE", help="write to this file instead of the screen")
    command.add_argument("--overwrite", action="store_true", help="replace the file where it is already there")


def _form(command: argparse.ArgumentParser) -> None:
    command.add_argument("--as", dest="form", choices=FORMS, default="terminal", help="the form of the brief")
    command.add_argument("--full", action="store_true", help="with every caution at length, and what may go wrong")
    command.add_argument("--paper", choices=("A4", "Letter"), default="A4", help="the paper of a PDF")
    command.add_argument("--inches", action="store_true", help="inches, ounces and gallons first")
    _times(command)
    _file(command)


def _times(command: argparse.ArgumentParser) -> None:
    command.add_argument("--hours", default="", help='when you can work: "evenings, sat 9-17"')
    command.add_argument("--from", dest="begin", default="", help='when you can begin: "saturday", "13 june 9:00"')
    command.add_argument("--ready-by", default="", help='when it must be ready: "saturday week"')
    command.add_argument(
        "--latest", action="store_true", help="begin as late as you can and still be ready by that day"
    )
    command.add_argument("--days-off", default="", help='days without work: "12 june, sunday"')


def _batch(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "kinds",
        metavar="KINDS.csv|NAME",
        nargs="*",
        help="a CSV file with a row a kind, or names of kept pieces; without any, you are asked",
    )
    command.add_argument("--assume", action="store_true", help='take "not sure" for every missing answer')
    _times(command)
    command.add_argument("--hands", type=int, default=1, help="how many people work")
    command.add_argument("--spray-places", type=int, default=1, help="how many places to spray there are")
    command.add_argument("--table", default="", help='room on the table: "120 x 80 cm"')
    command.add_argument("--rack", default="", help='room on the drying rack: "2 m2"')
    command.add_argument("--pot", default="", help='the largest pot you mix: "500 mL"')
    command.add_argument(
        "--folder", default="", help="write the sheets, the list, the calendar and the briefs into this folder"
    )
    command.add_argument("--overwrite", action="store_true", help="replace files that are already there")


def _plan(command: argparse.ArgumentParser) -> None:
    command.add_argument("answers", metavar="ANSWERS.toml", help="an answers file, or - for standard input")
    command.add_argument("--assume", action="store_true", help='take "not sure" for every missing answer')
    _form(command)


def _brief(command: argparse.ArgumentParser) -> None:
    command.add_argument("name", metavar="NAME", help="the name it is kept under, or a plan written as .json")
    _form(command)


def _answers(command: argparse.ArgumentParser) -> None:
    _name(command)
    _file(command)


def _explain(command: argparse.ArgumentParser) -> None:
    _name(command)
    command.add_argument("figure", metavar="FIGURE", nargs="*", help="a figure's id, or a question: why not brush?")


def _questions(command: argparse.ArgumentParser) -> None:
    command.add_argument("id", metavar="ID", nargs="?", default="", help="one question only, with all its choices")


def _folder(command: argparse.ArgumentParser) -> None:
    command.add_argument("folder", metavar="FOLDER", nargs="?", default="", help="a folder of your own additions")


def _nothing(command: argparse.ArgumentParser) -> None:
    """The command takes nothing more."""


_COMMANDS: dict[str, tuple[str, Callable[[argparse.ArgumentParser], None]]] = {
    "new": ("Begin a new interview.", _new),
    "resume": ("Go on with an interview that was left off.", _maybe_name),
    "list": ("List what is kept.", _nothing),
    "brief": ("Show the brief of a kept piece again, in any form.", _brief),
    "explain": ("Show the working of a figure, or answer a question about the plan.", _explain),
    "answers": ("Write out the answers of a kept piece as a file.", _answers),
    "forget": ("Remove a kept piece.", _name),
    "plan": ("Plan from an answers file, without an interview.", _plan),
    "batch": ("Plan several kinds of pieces together.", _batch),
    "questions": ("List the questions: ids, texts, choices, and when each is asked.", _questions),
    "knowledge": ("Check all facts, questions and rules.", _folder),
}
COMMAND_NAMES = tuple(_COMMANDS)
