"""The one place that runs templates: a plan in any of its forms, as text."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING, Literal

from interview.brief import csv_form, json_form
from interview.brief.composing import compose
from interview.brief.markdown_sheet import MarkdownSheet
from interview.brief.own_units import Units
from interview.brief.terminal_sheet import TerminalSheet
from interview.plan.model import Plan

if TYPE_CHECKING:
    from jinja2 import Environment

PageForm = Literal["html", "handout"]
Form = Literal["terminal", "markdown", "html", "handout", "sheet", "json", "csv-shopping", "csv-steps"]
_BLANK_LINES = re.compile(r"\n\s*\n+")


def render(
    plan: Plan,
    form: Form,
    *,
    width: int = 80,
    colour: bool = False,
    units: Units = "metric",
    full: bool = False,
) -> str:
    """The plan in one form. `width` in columns and `colour` (ANSI) are for the text forms; a caller that
    must not colour (NO_COLOR, no terminal) leaves it off. `full` gives the text forms what HTML always
    has: every caution at length, and what to do if it goes wrong. ValueError for an unknown form.
    """
    match form:
        case "terminal":
            return _text(plan, TerminalSheet(width, colour), units, full)
        case "sheet":
            return _text(plan, TerminalSheet(width, colour), units, full, "sheet.txt.j2")
        case "markdown":
            return _text(plan, MarkdownSheet(width), units, full)
        case "html" | "handout":
            return pages([plan], form, units=units)
        case "json":
            return json_form.write(plan)
        case "csv-shopping":
            return csv_form.shopping(plan, units)
        case "csv-steps":
            return csv_form.steps(plan)
    raise ValueError(f"no form of the brief is called {form!r}")


def _text(
    plan: Plan, sheet: TerminalSheet | MarkdownSheet, units: Units, full: bool, name: str = "brief.txt.j2"
) -> str:
    template = _environment(escape=False).get_template(name)
    text = str(template.render(brief=compose(plan, units), sheet=sheet, full=full))
    return re.sub(r"\n{3,}", "\n\n", text).strip("\n") + "\n"


def pages(plans: Sequence[Plan], form: PageForm = "html", *, units: Units = "metric", paper: str = "") -> str:
    """One HTML file for one piece or several; `paper` fixes the size of the sheet ("A4", "Letter")."""
    from interview.brief.page import page
    from interview.drawing.patterns import definitions

    several = len(plans) > 1
    made = [page(plan, units, f"piece-{n}" if several else "piece") for n, plan in enumerate(plans, 1)]
    template = _environment(escape=True).get_template("handout.html.j2" if form == "handout" else "page.html.j2")
    text = template.render(
        pages=made,
        several=several,
        title=_title([p.brief.title for p in made]),
        paper=paper,
        patterns=definitions(),
    )
    return _BLANK_LINES.sub("\n", str(text)).lstrip("\n")


def _title(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{len(names)} pieces"


@cache
def _environment(*, escape: bool) -> Environment:
    from jinja2 import Environment, PackageLoader, StrictUndefined

    return Environment(
        loader=PackageLoader("interview.brief", "templates"),
        undefined=StrictUndefined,
        autoescape=escape,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
