"""A plan in the form that was asked for, on the screen or in a file."""

from __future__ import annotations

import argparse
import os
from collections.abc import Sequence
from typing import Any

from interview.commands import output
from interview.commands.context import deliver, page, paper_of
from interview.commands.output import OK


def in_inches(words: Sequence[str], options: argparse.Namespace) -> bool:
    """Whether to tell inches and ounces first: asked for, or by what was typed."""
    from interview.reading.measures import thinks_in_inches

    return bool(options.inches) or thinks_in_inches(words)


def show_plan(made: Any, words: Sequence[str], options: argparse.Namespace) -> int:
    """`words`: what was typed, by which the maker's own units are known."""
    from interview.brief.file_names import safe
    from interview.commands.times import in_form

    screen = options.form == "terminal" and not options.to and output.is_terminal()
    text = in_form(
        made,
        options,
        width=output.width(),
        imperial=in_inches(words, options),
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
