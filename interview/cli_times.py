"""Timetables for the commands: options into wishes, a plan onto the calendar."""

from __future__ import annotations

import argparse
from datetime import datetime
from typing import Any

from interview import output
from interview.output import Fault
from interview.plan import Plan
from interview.timing import TimingError, Wishes, timetable, wants_days


def _wants_days(made: Plan, options: argparse.Namespace) -> bool:
    return bool(options.hours or options.begin or options.ready_by or wants_days(made.answers))


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

        how = {s.id: f"{s.how} Done when: {s.done_when}" for s in made.steps}
        return calendar_file(time, made.name or made.summary, now.astimezone(), how)
    from interview.brief.timeline_text import timeline_text

    return timeline_text(time, output.width())


def days_section(made: Plan, options: argparse.Namespace) -> str:
    """The timetable as the last part of a brief, where the maker told hours or a day; else nothing."""
    if not _wants_days(made, options) or not made.steps:
        return ""
    text = timetable_text(made, options)
    if options.form == "markdown":
        return f"\n## The days\n\n```\n{text.rstrip()}\n```\n"
    return f"\nTHE DAYS\n--------\n{text}"


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
    return Wishes(options.hours, options.begin, options.ready_by, options.days_off, **extra)


def _amount_of(name: str, text: str) -> float:
    """m2 for a table or rack, mL for a pot."""
    from interview.quantities import ReadError, read

    try:
        if name == "pot":
            return float(read(text, "volume", "mL").value)
        size = read(text, "size", "mm").value
    except ReadError as error:
        raise Fault(f"--{name}: {error}") from None
    if size.get("shape") == "area":
        return float(size["area"])
    return float(size.get("width", size.get("diameter", 0.0)) * size.get("height", size.get("diameter", 0.0)) / 1e6)
