"""A plan in the form that was asked for, on the screen or in a file."""

from __future__ import annotations

import argparse
import os
from typing import Any

from interview.commands import output
from interview.commands.context import deliver, page, paper_of
from interview.commands.output import OK


def show_plan(made: Any, options: argparse.Namespace, *, imperial: bool) -> int:
    """`imperial`: inches and ounces first."""
    from interview.brief.file_names import safe
    from interview.commands.times import in_form

    screen = options.form == "terminal" and not options.to and output.is_terminal()
    text = in_form(
        made,
        options,
        width=output.width(),
        imperial=imperial,
        full=options.full,
        paper=paper_of(options.paper),
        colour=screen and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb",
    )
    if screen:
        page(str(text))
        return OK
    if isinstance(text, bytes):
        options.to = options.to or f"{safe(made.name)}.pdf"
    deliver(text, options)
    return OK
