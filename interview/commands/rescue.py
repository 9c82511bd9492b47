"""Something went wrong: what it is, and what can still be done."""

from __future__ import annotations

import argparse
from argparse import ArgumentParser

from interview.commands import options as shared
from interview.commands.context import all_shown, setting_of

HELP = "Something went wrong: what it is, and what can still be done."


def fill(command: ArgumentParser) -> None:
    shared.maybe_name(command)


def run(options: argparse.Namespace) -> int:
    from interview.conversation.sessions import save_it

    setting = setting_of(options)
    return all_shown(setting, save_it(setting, options.name))
