"""The one place that runs templates: a plan as text or as a page."""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING

from interview.brief.composing import compose
from interview.brief.markdown_sheet import MarkdownSheet
from interview.brief.pace import lateness
from interview.brief.terminal_sheet import TerminalSheet
from interview.plan.model import Plan
from interview.reasoning.timetable import Timeline
from interview.text.wording import listed, sentence

if TYPE_CHECKING:
    from jinja2 import Environment

_BLANK_LINES = re.compile(r"\n\s*\n+")
SCREEN = 24  # lines of the last screen
WORDS = {"seal": "SEAL", "no_need": "NO NEED", "find_a_way": "FIND A WAY", "stop": "STOP"}


def brief_text(
    plan: Plan,
    sheet: TerminalSheet | MarkdownSheet,
    *,
    imperial: bool = False,
    full: bool = True,
    time: Timeline | None = None,
    trouble: str = "",
) -> str:
    """The whole brief. `full`: every caution at length; else one line each."""
    brief = compose(plan, imperial=imperial, time=time, trouble=trouble)
    text = _environment(escape=False).get_template("brief.txt.j2").render(
        brief=brief, sheet=sheet, full=full, word=WORDS[brief.sign]
    )  # fmt: skip
    return re.sub(r"\n{3,}", "\n\n", str(text)).strip("\n") + "\n"


def screen_text(
    plan: Plan, sheet: TerminalSheet, *, imperial: bool = False, time: Timeline | None = None, trouble: str = ""
) -> str:
    """The last screen of a conversation: the short answer, the first thing, the next, the days, what to buy.
    What does not fit is left to the whole brief."""
    brief = compose(plan, imperial=imperial, time=time, trouble=trouble)
    goods = sentence(listed(f"{g.name}, {g.amount}" if g.amount else g.name for g in brief.goods))
    text = _environment(escape=False).get_template("screen.txt.j2").render(
        brief=brief, sheet=sheet, word=WORDS[brief.sign], goods=goods, sentence=sentence,
        late=lateness(time) or ((trouble,) if trouble else ()),
    )  # fmt: skip
    lines = [line for line in str(text).split("\n") if line.strip()]
    if len(lines) > SCREEN - 5:
        lines = [*lines[: SCREEN - 6], "  ... and more: it is all in the whole brief."]
    if brief.seal:
        lines.append(sheet.remark(brief.seal, "Seal of this brief"))
    return "\n".join(lines) + "\n"


def pages(
    plans: Sequence[Plan],
    *,
    imperial: bool = False,
    paper: str = "A4",
    alone: bool = False,
    times: Sequence[tuple[Timeline | None, str]] = (),
    seal: str = "",
) -> str:
    """One HTML file for one piece or several. `alone`: the bench sheet without the full brief behind it.
    `times`: of each plan its timetable, or why there is none. `seal`: the whole one."""
    from interview.brief.page import page

    several = len(plans) > 1
    told = times or [(None, "")] * len(plans)
    made = [
        page(plan, imperial=imperial, id=f"piece-{n}" if several else "piece", time=time, trouble=trouble)
        for n, (plan, (time, trouble)) in enumerate(zip(plans, told, strict=True), 1)
    ]
    title = made[0].brief.title if not several else f"{len(made)} pieces"
    return html("page.html.j2", pages=made, title=title, paper=paper, alone=alone, seal=seal)


def html(template: str, **shown: object) -> str:
    """A page with its one script, which its own policy names by its sum."""
    environment = _environment(escape=True)
    text = environment.get_template(template).render(script_hash=_script_hash(), **shown)
    return _BLANK_LINES.sub("\n", str(text)).lstrip("\n")


def _script_hash() -> str:
    environment = _environment(escape=True)
    assert environment.loader is not None
    script = "\n" + environment.loader.get_source(environment, "ticks.js")[0]
    return f"sha256-{base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()}"


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
