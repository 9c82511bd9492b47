"""Write out the answers of a kept piece as a file."""

from __future__ import annotations

import argparse
from argparse import ArgumentParser

from interview.commands import options as shared
from interview.commands.context import adviser_of, deliver, fitting_answers, kept_piece
from interview.commands.output import OK

HELP = "Write out the answers of a kept piece as a file."


def fill(command: ArgumentParser) -> None:
    shared.name(command)
    shared.file(command)


def run(options: argparse.Namespace) -> int:
    from interview.files.answers_file import write_answers

    kept = kept_piece(options.name, options)
    adviser = adviser_of(options)
    deliver(write_answers(fitting_answers(kept.answers, adviser), adviser.knowledge), options)
    return OK
