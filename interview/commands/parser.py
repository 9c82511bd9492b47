"""What can be typed after `beforepour`: commands, options and their help.

A command is one module here: HELP (one line), `fill` (its options) and `run` (options -> exit status).
"""

from __future__ import annotations

import argparse
from argparse import ArgumentParser
from collections.abc import Sequence
from importlib import import_module
from typing import Any, NoReturn

from interview.commands.output import Fault, put

NAMES = (
    "new", "resume", "work", "rescue", "list", "brief", "explain", "answers", "forget", "recover", "verify", "plan",
    "batch", "stock", "questions", "knowledge",
)  # fmt: skip


class _Parser(ArgumentParser):
    """Complains in one line, with the nearest command where one was misspelled."""

    def error(self, message: str) -> NoReturn:
        from interview.text.nearest import did_you_mean

        if "invalid choice: '" in message:
            typed = message.split("invalid choice: '", 1)[1].split("'", 1)[0]
            listed = message.split("(choose from", 1)[-1].rstrip(")")
            known = [word.strip(" '") for word in listed.split(",")]
            message = f'"{typed}" is none of {", ".join(known)}.{did_you_mean(typed, known)}'
        raise Fault(f"{message.rstrip('.')}. {self.prog} --help tells more.")

    def print_help(self, file: Any = None) -> None:  # noqa: ARG002
        """The library passes over a disk that is full; this tells."""
        put(self.format_help())


def make_parser(given: Sequence[str] | None = None) -> ArgumentParser:
    """The parser with every command; `run` of the parsed options is the function to call.

    `given`: what was typed. A command that it does not name has its name, and is not loaded, unless help is asked for.
    """
    from interview.commands import new

    parser = _Parser(
        prog="beforepour",
        description="An interview about a piece, and the brief for sealing it before a clear resin pour. "
        "Without a command, a new interview begins.",
        parents=[_shared()],
    )
    new.fill(parser)
    parser.set_defaults(run=new.run, pace="full", name="", plain=False, knowledge=None, stock=None)
    shared = _shared()
    sub = parser.add_subparsers(title="commands", metavar="COMMAND", parser_class=_Parser)
    for name in NAMES:
        if given is not None and name not in given and not any(word.startswith(("-h", "--h")) for word in given):
            sub.add_parser(name)
            continue
        module = import_module(f"interview.commands.{name}")
        command = sub.add_parser(name, help=module.HELP, description=module.HELP, parents=[shared])
        command.set_defaults(run=module.run)
        module.fill(command)
    return parser


def _shared() -> _Parser:
    shared = _Parser(add_help=False, argument_default=argparse.SUPPRESS)  # said before the command, it still counts
    shared.add_argument("--plain", action="store_true", help="plain lines, for screen readers and slow lines")
    shared.add_argument("--knowledge", metavar="FOLDER", help="a folder of your own additions to the knowledge")
    shared.add_argument("--stock", metavar="FILE", help="your list of sealers at hand (TOML or CSV)")
    return shared
