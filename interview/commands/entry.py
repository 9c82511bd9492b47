"""Where the program begins: one command is run, and its faults are told in one line each.

Exit status: 0 done, 1 cut short or the system refused, 2 something typed or in a file will not do, 130 Ctrl-C.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence

from interview.commands import output
from interview.commands.output import OK, Fault

INTERRUPTED = 130


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give the exit status. Never raises for what a person did."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    output.open_what_is_closed()
    try:
        if not given:  # the usual way; nothing to parse
            from interview.commands.context import setting_of, start_interview

            return start_interview(setting_of(None), "full", "")
        from interview.commands.parser import make_parser

        options = make_parser().parse_args(given)
        return int(options.run(options))
    except Fault as fault:
        for line in fault.lines:
            output.complain(line)
        return fault.status
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        output.drop()
        return OK
