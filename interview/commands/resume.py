"""Go on with an interview that was left off."""

from __future__ import annotations

import argparse
from argparse import ArgumentParser

from interview.commands import options as shared
from interview.commands.context import all_shown, setting_of

HELP = "Go on with an interview that was left off."


def fill(command: ArgumentParser) -> None:
    shared.maybe_name(command)


def run(options: argparse.Namespace) -> int:
    from interview.conversation.sessions import resume as go_on

    setting = setting_of(options)
    return all_shown(setting, go_on(setting, options.name))
