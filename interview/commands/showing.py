"""A plan in the form that was asked for, on the screen or in a file."""

from __future__ import annotations

import argparse
import os
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from interview.commands import output
from interview.commands.context import deliver, page
from interview.commands.output import OK, REFUSED, Fault

if TYPE_CHECKING:
    from interview.conversation.adviser import Adviser


def show_plan(adviser: Adviser, made: Any, words: Sequence[str], options: argparse.Namespace) -> int:
    from interview.reading.measures import thinks_in_inches

    if options.form in ("timeline", "calendar"):
        from interview.commands.times import timetable_text

        deliver(timetable_text(made, options), options)
        return OK
    how: dict[str, Any] = {"units": "imperial" if options.inches or thinks_in_inches(words) else "metric"}
    if options.form == "pdf":
        return _print_pdf(made, str(how["units"]), options)
    screen = options.form == "terminal" and not options.to and output.is_terminal()
    if options.form in ("terminal", "markdown", "sheet"):
        how |= {"width": output.width(), "full": options.full}
    if screen:
        how["colour"] = not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    from interview.commands.times import brief_text

    text = brief_text(lambda plan: adviser.brief(plan, options.form, **how), made, options)
    if screen:
        page(text)
    else:
        deliver(text, options)
    return OK


def _print_pdf(made: Any, units: str, options: argparse.Namespace) -> int:
    """By the system's browser, to a file; named after the piece where no name is given."""
    from interview.brief.file_names import safe
    from interview.brief.pdf import NoPdf, printed
    from interview.brief.rendering import pages

    try:
        data = printed(pages([made], "html", units=units, paper=options.paper))  # type: ignore[arg-type]
    except NoPdf as error:
        raise Fault(str(error), status=REFUSED) from None
    options.to = options.to or f"{safe(made.name)}.pdf"
    deliver(data, options)
    return OK
