"""The forms of the brief: one table. The commands take their choices from it; each form is rendered here alone."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from interview.brief.slip import Shelf
    from interview.plan.model import Plan
    from interview.reasoning.timetable import Timeline


@dataclass(frozen=True, slots=True)
class Told:
    """What is rendered: a plan, its timetable where hours were told, or why there is none though they were."""

    plan: Plan
    time: Timeline | None = None
    trouble: str = ""
    seal: str = ""  # the whole one, for forms that hold it


@dataclass(frozen=True, slots=True)
class Look:
    """How it is rendered. `width` in columns; `colour`: ANSI; `paper`: "A4" or "Letter"; `stamp`: now, with its zone. Of a slip
    `shelf`: what is on it, `told`: what was said, `lines`: how each trial is done, `day`: its date.
    """

    width: int = 80
    colour: bool = False
    imperial: bool = False
    full: bool = False
    paper: str = "A4"
    stamp: datetime | None = None
    shelf: Shelf | None = None
    told: tuple[str, ...] = ()
    lines: Mapping[str, str] | None = None
    day: str = ""


def _terminal(told: Told, look: Look) -> str:
    from interview.brief.rendering import brief_text
    from interview.brief.terminal_sheet import TerminalSheet
    from interview.brief.timeline_text import section, timeline_text

    text = brief_text(told.plan, TerminalSheet(look.width, look.colour), full=look.full, **_common(told, look))
    return text + section(timeline_text(told.time, look.width, summed=False), "terminal") if told.time else text


def _markdown(told: Told, look: Look) -> str:
    from interview.brief.markdown_sheet import MarkdownSheet
    from interview.brief.rendering import brief_text
    from interview.brief.timeline_text import section, timeline_text

    text = brief_text(told.plan, MarkdownSheet(look.width), full=look.full, **_common(told, look))
    return text + section(timeline_text(told.time, look.width, summed=False), "markdown") if told.time else text


def _screen(told: Told, look: Look) -> str:
    from interview.brief.rendering import screen_text
    from interview.brief.terminal_sheet import TerminalSheet

    return screen_text(told.plan, TerminalSheet(look.width, look.colour), **_common(told, look))


def _slip(told: Told, look: Look) -> str:
    from interview.brief.slip import slip

    return slip(
        told.plan,
        width=look.width,
        shelf=look.shelf,
        told=look.told,
        lines=look.lines,
        day=look.day,
        **_common(told, look),
    )


def _html(told: Told, look: Look) -> str:
    from interview.brief.rendering import pages

    return pages(
        [told.plan], imperial=look.imperial, paper=look.paper, times=[(told.time, told.trouble)], seal=told.seal
    )


def _pdf(told: Told, look: Look) -> bytes:
    from interview.brief.pdf import printed
    from interview.brief.rendering import pages

    times = [(told.time, told.trouble)]
    return printed(pages([told.plan], imperial=look.imperial, paper=look.paper, alone=not look.full, times=times))


def _json(told: Told, look: Look) -> str:  # noqa: ARG001
    from interview.brief.json_form import write

    return write(told.plan, told.time, told.trouble, told.seal)


def _shopping(told: Told, look: Look) -> str:
    from interview.brief.csv_form import shopping

    return shopping(told.plan, imperial=look.imperial)


def _steps(told: Told, look: Look) -> str:  # noqa: ARG001
    from interview.brief.csv_form import steps

    return steps(told.plan, told.time)


def _timeline(told: Told, look: Look) -> str:
    from interview.brief.timeline_text import timeline_text

    assert told.time is not None
    text = timeline_text(told.time, look.width)
    first = [told.plan.damage, ""] if told.plan.damage else []
    return "\n".join([*first, text, *(["", f"Seal of this brief: {told.plan.seal}"] if told.plan.seal else [])])


def _calendar(told: Told, look: Look) -> str:
    from interview.brief.calendar_file import calendar_file

    assert told.time is not None
    assert look.stamp is not None
    return calendar_file(told.time, [told.plan], told.plan.name or told.plan.summary, look.stamp, told.seal)


class Form(NamedTuple):
    """`options`: which fields of Look change it. `needs_time`: it is nothing without a timetable."""

    render: Callable[[Told, Look], str | bytes]
    options: frozenset[str]
    needs_time: bool = False
    whole_seal: bool = False


_TEXT = frozenset({"width", "colour", "imperial", "full"})
FORMS: dict[str, Form] = {
    "terminal": Form(_terminal, _TEXT),
    "screen": Form(_screen, _TEXT - {"full"}),
    "slip": Form(_slip, frozenset({"width", "imperial"})),
    "markdown": Form(_markdown, _TEXT - {"colour"}),
    "html": Form(_html, frozenset({"imperial", "paper"}), whole_seal=True),
    "pdf": Form(_pdf, frozenset({"imperial", "paper", "full"}), whole_seal=True),
    "json": Form(_json, frozenset(), whole_seal=True),
    "csv-shopping": Form(_shopping, frozenset({"imperial"})),
    "csv-steps": Form(_steps, frozenset()),
    "timeline": Form(_timeline, frozenset({"width"}), needs_time=True),
    "calendar": Form(_calendar, frozenset({"stamp"}), needs_time=True, whole_seal=True),
}


def _common(told: Told, look: Look) -> dict[str, Any]:
    return {"imperial": look.imperial, "time": told.time, "trouble": told.trouble}


def render(
    plan: Plan,
    form: str,
    *,
    time: Timeline | None = None,
    trouble: str = "",
    wishes: Mapping[str, Any] | None = None,
    **look: Any,
) -> str | bytes:
    """The plan in one form: text, or bytes for a PDF. `wishes`: what the timetable was made by, for the seal.

    Raises ValueError for an unknown form, pdf.NoPdf.
    """
    if form not in FORMS:
        raise ValueError(f"no form of the brief is called {form!r}")
    make = FORMS[form].render
    if not plan.seal:
        return make(Told(plan, time, trouble), Look(**look))
    from interview.brief.seal import checked_text, sealed_pdf, sealed_text

    if not FORMS[form].whole_seal:
        return checked_text(str(make(Told(plan, time, trouble), Look(**look))))
    if not plan.made_from:
        return make(Told(plan, time, trouble), Look(**look))

    asked = {"form": form, "look": {key: _plain(value) for key, value in look.items()}}
    asked |= {"wishes": dict(wishes or {})} if time or trouble else {}
    if form == "pdf":
        pdf = make(Told(plan, time, trouble), Look(**look))
        assert isinstance(pdf, bytes)
        return sealed_pdf(pdf, plan.made_from, asked)
    return sealed_text(lambda seal: str(make(Told(plan, time, trouble, seal), Look(**look))), plan.made_from, asked)


def _plain(value: Any) -> Any:
    return value.isoformat() if isinstance(value, datetime) else value
