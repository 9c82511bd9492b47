"""Check a brief by its seal: still the same, changed by hand, or different by newer rules."""

from __future__ import annotations

import argparse
import sys
from argparse import ArgumentParser

from interview.commands import output
from interview.commands.context import adviser_of, path_of
from interview.commands.output import OK, REFUSED, Fault

HELP = "Check a brief by its seal: still the same, changed by hand, or different by newer rules."
LARGEST = 50_000_000  # bytes


def fill(command: ArgumentParser) -> None:
    command.add_argument("file", metavar="FILE", help="a brief in any form, or - for standard input")


def run(options: argparse.Namespace) -> int:
    from interview.conversation.verifying import verify
    from interview.files.paths import read_file, why_not

    try:
        data = sys.stdin.buffer.read(LARGEST + 1) if options.file == "-" else read_file(path_of(options.file), LARGEST)
    except OSError as error:
        raise Fault(f"{options.file} cannot be read: {why_not(error)}.") from None
    if len(data) > LARGEST:
        raise Fault(f"{options.file} is larger than {LARGEST // 1_000_000} MB; no brief is.")
    found = verify(data, adviser_of(options))
    output.put("\n".join(found.says))
    return OK if found.same else REFUSED
