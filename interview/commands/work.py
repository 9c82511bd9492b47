"""Do a kept piece step by step: what is next, from when, and what a trial changes."""

from __future__ import annotations

import argparse
from argparse import ArgumentParser

from interview.commands import options as shared
from interview.commands.context import all_shown, setting_of

HELP = "Do a kept piece step by step: what is next, from when, and what a trial changes."


def fill(command: ArgumentParser) -> None:
    shared.maybe_name(command)


def run(options: argparse.Namespace) -> int:
    from interview.conversation.sessions import work

    setting = setting_of(options)
    return all_shown(setting, work(setting, options.name))
