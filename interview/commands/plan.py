"""Plan from an answers file, without an interview."""

from __future__ import annotations

import argparse
from argparse import ArgumentParser

from interview.commands import options as shared
from interview.commands.context import (
    adviser_of,
    answers_in,
    assume_the_rest,
    missing_line,
    path_of,
    refuse_contradictions,
)
from interview.commands.output import Fault
from interview.commands.showing import show_plan

HELP = "Plan from an answers file, without an interview."


def fill(command: ArgumentParser) -> None:
    command.add_argument("answers", metavar="ANSWERS.toml", help="an answers file, or - for standard input")
    command.add_argument("--assume", action="store_true", help='take "not sure" for every missing answer')
    shared.form(command)


def run(options: argparse.Namespace) -> int:
    from interview.conversation.sealing import sealed
    from interview.reading.measures import thinks_in_inches

    adviser = adviser_of(options)
    answers = answers_in(options.answers, adviser)
    if options.assume:
        answers = assume_the_rest(adviser, answers)
    refuse_contradictions(adviser, answers)
    words = [answer.words for answer in answers.values()]
    name = path_of(options.answers).stem if options.answers != "-" else ""
    imperial = options.inches or thinks_in_inches(words)
    made = adviser.plan(answers, name, imperial=imperial)
    if made.missing:
        lines = (missing_line(adviser, answers, id) for id in made.missing)
        raise Fault("These answers are missing (not sure is one, and --assume takes it for all of them):", *lines)
    return show_plan(sealed(made, answers, adviser, imperial=imperial), options, imperial=imperial)
