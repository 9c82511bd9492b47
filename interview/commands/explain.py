"""Show the working of a figure, or answer a question about the plan."""

from __future__ import annotations

import argparse
from argparse import ArgumentParser

from interview.commands import options as shared
from interview.commands import output
from interview.commands.context import adviser_of, fitting_answers, kept_piece
from interview.commands.output import OK, Fault

HELP = "Show the working of a figure, or answer a question about the plan."


def fill(command: ArgumentParser) -> None:
    shared.name(command)
    command.add_argument("figure", metavar="FIGURE", nargs="*", help="a figure's id, or a question: why not brush?")


def run(options: argparse.Namespace) -> int:
    from interview.brief.workings import figure_list, figure_working
    from interview.conversation.answering import UNKNOWN, Situation, answer

    kept = kept_piece(options.name, options)
    adviser = adviser_of(options)
    fitting = fitting_answers(kept.answers, adviser)
    made = adviser.plan(fitting, kept.name)
    asked = " ".join(options.figure)
    if not asked:
        output.put(figure_list(made))
        return OK
    told = figure_working(made, asked) or answer(asked, Situation(adviser.knowledge, fitting, "end", plan=made))
    if told is None or told == UNKNOWN:
        from interview.text.nearest import did_you_mean

        ids = [figure.id for figure in made.figures]
        raise Fault(
            f'There is no figure "{asked}" in this plan.{did_you_mean(asked, ids)} Without one, all are listed.'
        )
    output.put(told)
    return OK
