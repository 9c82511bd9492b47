"""Where the program begins: one command is run, and its faults are told in one line each.

Exit status: 0 done, 1 cut short or the system refused, 2 something typed or in a file will not do, 70 a fault of
ours, 130 Ctrl-C.
"""

from __future__ import annotations

import gc
import os
import sys

from interview.commands import output
from interview.commands.output import OK, Fault

TYPE_CHECKING = False  # so called by `typing`, which loads after the first question
if TYPE_CHECKING:
    from collections.abc import Sequence

INTERRUPTED = 130
FAILED = 70  # a fault of ours, as sysexits.h numbers it


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give the exit status. Never raises for what a person did."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    output.open_what_is_closed()
    gc.disable()  # nothing of what loads is rubbish; `load_adviser` puts it on again
    try:
        if not given:  # the usual way; nothing to parse
            from interview.commands.context import setting_of, start_interview

            return start_interview(setting_of(None, greet=True), "full", "")
        from interview.commands.parser import make_parser

        options = make_parser(given).parse_args(given)
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
    except Exception as error:
        if os.environ.get("BEFOREPOUR_TRACEBACK"):
            raise
        output.complain(_own_fault(error))
        return FAILED
    finally:
        gc.enable()


def _own_fault(error: Exception) -> str:
    """One line for a fault of ours: where it is, that nothing is lost, and how to see more."""
    import traceback

    at = traceback.extract_tb(error.__traceback__)[-1]
    where = f"{type(error).__name__} in {at.filename.rpartition('/')[2]}, line {at.lineno}"
    return (
        f"beforepour has a fault of its own here ({where}). What you said before is kept: beforepour resume. "
        "BEFOREPOUR_TRACEBACK=1 shows more."
    )
