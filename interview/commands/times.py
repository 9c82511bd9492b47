"""Timetables for the commands: options into wishes, a plan onto the calendar."""

from __future__ import annotations

import argparse
from dataclasses import asdict
from datetime import datetime
from typing import Any

from interview.commands.output import REFUSED, Fault
from interview.conversation.timing import TimingError, Wishes, timed_brief
from interview.plan.model import Plan
from interview.reasoning.timetable import Timeline


def in_form(made: Plan, options: argparse.Namespace, **look: Any) -> str | bytes:
    """The plan in the form that was asked for, with its days where the maker told hours or a day."""
    from interview.brief.forms import FORMS, render
    from interview.brief.pdf import NoPdf

    form, now = FORMS[options.form], datetime.now()
    if form.needs_time and not made.steps:
        raise Fault(f"There are no steps to put on a timetable. {made.headline}")
    look = {key: value for key, value in {**look, "stamp": now.astimezone()}.items() if key in form.options}

    def show(plan: Plan, time: Timeline | None, trouble: str) -> str | bytes:
        return render(plan, options.form, time=time, trouble=trouble, wishes=told, **look)

    try:
        wishes = wishes_of(options)
        told = {key: value for key, value in asdict(wishes).items() if value != getattr(Wishes(), key)}
        told["now"] = now.isoformat()
        return timed_brief(show, made, wishes, now, always=form.needs_time)
    except TimingError as error:
        raise Fault(str(error)) from None
    except NoPdf as error:
        raise Fault(str(error), status=REFUSED) from None


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
