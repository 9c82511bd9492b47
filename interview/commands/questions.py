"""List the questions: ids, texts, choices, and when each is asked."""

from __future__ import annotations

import argparse
from argparse import ArgumentParser

from interview.commands import output
from interview.commands.context import adviser_of
from interview.commands.output import OK, Fault

HELP = "List the questions: ids, texts, choices, and when each is asked."


def fill(command: ArgumentParser) -> None:
    command.add_argument("id", metavar="ID", nargs="?", default="", help="one question only, with all its choices")


def run(options: argparse.Namespace) -> int:
    from interview.conversation.questionnaire import describe_question

    knowledge = adviser_of(options).knowledge
    if options.id and options.id not in knowledge.questions:
        from interview.text.nearest import did_you_mean

        raise Fault(f'There is no question "{options.id}".{did_you_mean(options.id, knowledge.questions)}')
    chosen = [knowledge.questions[options.id]] if options.id else list(knowledge.questions.values())
    text = "\n\n".join("\n".join(describe_question(q, knowledge, whole=bool(options.id))) for q in chosen)
    output.put(text)
    return OK
