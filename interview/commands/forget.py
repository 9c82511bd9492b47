"""Put a kept piece or batch aside for thirty days, or remove it for good."""

from __future__ import annotations

import argparse
import sys
from argparse import ArgumentParser
from typing import TYPE_CHECKING

from interview.commands import options as shared
from interview.commands import output
from interview.commands.context import piece_named, setting_of
from interview.commands.output import OK, REFUSED, Fault

if TYPE_CHECKING:
    from pathlib import Path

HELP = "Put a kept piece or batch aside for thirty days, or remove it for good."


def fill(command: ArgumentParser) -> None:
    shared.name(command)
    command.add_argument("--now", action="store_true", help="remove it for good")


def run(options: argparse.Namespace) -> int:
    from interview.files.batches import is_kept, path_of_batch
    from interview.files.disk import Busy
    from interview.files.paths import why_not
    from interview.files.pieces import KEPT_DAYS, put_aside, remove

    path = path_of_batch(options.name) if is_kept(options.name) else piece_named(options.name, options)
    if not _agreed(path, options):
        output.put("It stays.")
        return OK
    try:
        if options.now:
            remove(path)
            output.put(f'"{path.stem}" is removed for good.')
        else:
            aside = put_aside(path)
            output.put(
                f'"{path.stem}" is put aside for {KEPT_DAYS} days. beforepour recover {aside.stem} brings it back.'
            )
    except Busy:
        raise Fault(f'Another window is at work on "{path.stem}". Stop there first.', status=REFUSED) from None
    except OSError as error:
        raise Fault(f"{path} cannot be removed: {why_not(error)}.", status=REFUSED) from None
    return OK


def _agreed(path: Path, options: argparse.Namespace) -> bool:
    """Whoever sits there is asked; a script means what it says."""
    if not sys.stdin.isatty():
        return True
    from interview.conversation.earlier import agreed

    text = f'Remove "{path.stem}" for good?' if options.now else f'Put "{path.stem}" aside?'
    return agreed(setting_of(options).console, text)
