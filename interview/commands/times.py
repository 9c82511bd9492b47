"""Timetables for the commands: options into wishes, a plan onto the calendar."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from datetime import datetime
from typing import Any

from interview.commands import output
from interview.commands.output import Fault
from interview.conversation.timing import TimingError, Wishes, timed_brief, timetable
from interview.plan.model import Plan


def timetable_text(made: Plan, options: argparse.Namespace) -> str:
    """The timeline of one piece as text bars, or as a calendar file."""
    now = datetime.now()
    try:
        time = timetable(made, wishes_of(options), now)
    except TimingError as error:
        raise Fault(str(error)) from None
    if time is None:
        raise Fault(f"There are no steps to put on a timetable. {made.headline}")
    if options.form == "calendar":
        from interview.brief.calendar_file import calendar_file
        from interview.reasoning.timetable import as_timed

        how = {s.id: f"{s.how} Done when: {s.done_when}" for s in as_timed(made, time).steps}
        return calendar_file(time, made.name or made.summary, now.astimezone(), how)
    from interview.brief.timeline_text import timeline_text

    return timeline_text(time, output.width())


def brief_text(show: Callable[[Plan], str], made: Plan, options: argparse.Namespace) -> str:
    """The brief as `show` gives it, and with its days where the maker told hours or a day."""
    try:
        return timed_brief(show, made, options.form, wishes_of(options), datetime.now(), output.width())
    except TimingError as error:
        raise Fault(str(error)) from None


def wishes_of(options: argparse.Namespace) -> Wishes:
    """What the options ask for beyond the plan's own answers. Raises Fault."""
    extra: dict[str, Any] = {}
    for name, low in (("hands", 1), ("spray_places", 1)):
        given = getattr(options, name, low)
        if not low <= given <= 99:
            raise Fault(f"--{name.replace('_', '-')} {given}: type a number from {low} to 99.")
        extra[name] = given
    for name in ("table", "rack", "pot"):
        if getattr(options, name, ""):
            extra[name] = _amount_of(name, getattr(options, name))
    return Wishes(options.hours, options.begin, options.ready_by, options.days_off, latest=options.latest, **extra)


def _amount_of(name: str, text: str) -> float:
    """m2 for a table or rack, mL for a pot."""
    from interview.quantities.units import ReadError, read

    try:
        if name == "pot":
            return float(read(text, "volume", "mL").value)
        size = read(text, "size", "mm").value
    except ReadError as error:
        raise Fault(f"--{name}: {error}") from None
    if size.get("shape") == "area":
        return float(size["area"])
    return float(size.get("width", size.get("diameter", 0.0)) * size.get("height", size.get("diameter", 0.0)) / 1e6)
