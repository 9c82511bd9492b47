"""The one place that runs templates: a plan in any of its forms, as text."""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING, Literal

from interview.brief import csv_form, json_form
from interview.brief.composing import compose
from interview.brief.markdown_sheet import MarkdownSheet
from interview.brief.terminal_sheet import TerminalSheet
from interview.brief.units import Units
from interview.plan import Plan

if TYPE_CHECKING:
    from jinja2 import Environment

Form = Literal["terminal", "markdown", "json", "csv-shopping", "csv-steps"]


def render(plan: Plan, form: Form, *, width: int = 80, colour: bool = False, units: Units = "metric") -> str:
    """The plan in one form. `width` in columns and `colour` (ANSI) are for the text forms; a caller that must not
    colour (NO_COLOR, no terminal) leaves it off. Raises ValueError for an unknown form.
    """
    match form:
        case "terminal":
            return _text(plan, TerminalSheet(width, colour), units)
        case "markdown":
            return _text(plan, MarkdownSheet(width), units)
        case "json":
            return json_form.write(plan)
        case "csv-shopping":
            return csv_form.shopping(plan, units)
        case "csv-steps":
            return csv_form.steps(plan)
    raise ValueError(f"no form of the brief is called {form!r}")


def _text(plan: Plan, sheet: TerminalSheet | MarkdownSheet, units: Units) -> str:
    template = _environment(escape=False).get_template("brief.txt.j2")
    text = template.render(brief=compose(plan, units), sheet=sheet)
    return re.sub(r"\n{3,}", "\n\n", text).strip("\n") + "\n"


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
