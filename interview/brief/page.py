"""What the HTML templates show: the bench sheet and the full brief of a piece."""

from __future__ import annotations

from dataclasses import dataclass

from interview.brief.bench import Bench, bench
from interview.brief.cleaning import cleaned
from interview.brief.composing import compose
from interview.brief.pace import lateness
from interview.brief.views import Brief
from interview.drawing.pictures import picture_of
from interview.drawing.signs import VERDICTS, Sign
from interview.drawing.svg import Svg
from interview.plan.model import Plan
from interview.reasoning.timetable import Timeline


@dataclass(frozen=True, slots=True)
class Page:
    """One piece on a page. `id` begins every anchor, so that several pieces share a page."""

    id: str
    brief: Brief
    bench: Bench
    verdict: Sign
    lifted: Svg | None
    copy: Svg
    late: tuple[str, ...]


def page(plan: Plan, *, imperial: bool, id: str = "piece", time: Timeline | None = None, trouble: str = "") -> Page:
    """Everything for one piece, drawings included."""
    plan = cleaned(plan)
    brief = compose(plan, imperial=imperial, time=time, trouble=trouble)
    made = bench(plan, brief, time)
    return Page(
        id=id,
        brief=brief,
        bench=made,
        verdict=VERDICTS[brief.sign],
        lifted=made.drawn.svg(f"{id}-lifted") if made.drawn else None,
        copy=picture_of("copy").drawn(),
        late=lateness(time) or ((trouble,) if trouble else ()),
    )
