"""Begin a new interview."""

from __future__ import annotations

import argparse
from argparse import ArgumentParser

from interview.commands.context import setting_of, start_interview

HELP = "Begin a new interview."


def fill(command: ArgumentParser) -> None:
    pace = command.add_mutually_exclusive_group()
    for name, help_text in (
        ("quick", "only what changes the verdict; the numbers on request"),
        ("counter", "a clerk with customers: few questions, a one-page sheet, nothing kept"),
    ):
        pace.add_argument(
            f"--{name}", dest="pace", action="store_const", const=name, default=argparse.SUPPRESS, help=help_text
        )
    command.add_argument("--name", default=argparse.SUPPRESS, help="keep it under this name")


def run(options: argparse.Namespace) -> int:
    return start_interview(setting_of(options, greet=options.pace != "counter"), options.pace, options.name)
