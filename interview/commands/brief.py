"""Show the brief of a kept piece again, in any form."""

from __future__ import annotations

import argparse
from argparse import ArgumentParser
from typing import Any

from interview.commands import options as shared
from interview.commands.context import adviser_of, fitting_answers, kept_piece, path_of
from interview.commands.output import Fault
from interview.commands.showing import show_plan

HELP = "Show the brief of a kept piece again, in any form."


def fill(command: ArgumentParser) -> None:
    command.add_argument("name", metavar="NAME", help="the name it is kept under, or a plan written as .json")
    shared.form(command)


def run(options: argparse.Namespace) -> int:
    from interview.conversation.sealing import sealed_piece

    if options.name.casefold().endswith(".json"):
        return show_plan(_written_plan(options.name), options, imperial=options.inches)
    kept = kept_piece(options.name, options)
    adviser = adviser_of(options)
    fitting_answers(kept.answers, adviser)  # what no longer fits is told
    made, imperial = sealed_piece(kept, adviser, imperial=options.inches)
    return show_plan(made, options, imperial=imperial)


def _written_plan(name: str) -> Any:
    """A plan that was written out as JSON, as it was."""
    from interview.brief.json_form import LARGEST, UnreadablePlan, read
    from interview.files.paths import read_file, why_not

    try:
        return read(read_file(path_of(name), LARGEST))
    except UnreadablePlan as error:
        raise Fault(f"{name}: {error}.") from None
    except OSError as error:
        raise Fault(f"{name} cannot be read: {why_not(error)}.") from None
