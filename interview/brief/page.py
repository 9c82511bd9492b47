"""What the HTML templates show: the sections of a brief with its drawings, and how much there is of it."""

from __future__ import annotations

from dataclasses import dataclass

from interview.brief.cleaning import cleaned
from interview.brief.composing import compose
from interview.brief.own_units import Units
from interview.brief.timeline_drawing import Timeline, timeline
from interview.brief.typesetting import columns
from interview.brief.views import Brief, ZoneRow
from interview.drawing.above import above, fills
from interview.drawing.patterns import swatch
from interview.drawing.section import section
from interview.drawing.svg import Svg
from interview.plan.model import Plan

# how many lines of a handout one page holds in each size of type; more than the last is set for the wall,
# smallest
_SIZES = ((27, "roomy"), (31, "snug"), (42, "close"), (58, "dense"))
_LINE = 62  # letters in a line of a handout


@dataclass(frozen=True, slots=True)
class Keyed:
    """A line of a legend with its sample."""

    sign: str
    sample: Svg
    says: str


@dataclass(frozen=True, slots=True)
class ZoneSample:
    row: ZoneRow
    sample: Svg


@dataclass(frozen=True, slots=True)
class Page:
    """One piece on a page. `id` begins every anchor, so that several pieces share a page."""

    id: str
    brief: Brief
    zones: tuple[ZoneSample, ...]
    above: Svg | None
    section: Svg | None
    legend: tuple[Keyed, ...]
    days: Timeline | None
    size: str


def page(plan: Plan, units: Units, id: str = "piece") -> Page:
    """Everything for one piece, drawings included."""
    plan = cleaned(plan)
    brief = compose(plan, units)
    fill = fills(plan)
    cut = section(plan, f"{id}-section")
    return Page(
        id=id,
        brief=brief,
        zones=tuple(ZoneSample(row, swatch(fill[row.ids[0]])) for row in brief.zones),
        above=above(plan, f"{id}-above"),
        section=cut.picture if cut else None,
        legend=tuple(Keyed(sign, swatch(p), says) for sign, p, says in cut.legend) if cut else (),
        days=timeline(plan.steps, brief.phases, brief.trials) if brief.phases else None,
        size=_size(brief),
    )


def _size(brief: Brief) -> str:
    """The size of type in which the handout fits its page."""
    lines = handout_lines(brief)
    return next((name for most, name in _SIZES if lines <= most), "wall")


def handout_lines(brief: Brief) -> int:
    """About how many lines the handout has."""
    texts = [f"{z.zones} {z.line}" for z in brief.zones]
    texts += [f"{t.name} {t.where}" for t in brief.trials]
    texts += [f"{s.name} {s.shortly}" for phase in brief.phases for s in phase.steps]
    texts += [brief.summary, brief.unfinished, *(f"{t.name} {t.says}" for t in brief.ways_out)]
    lines = sum(columns(t) // _LINE + 1 for t in texts)
    lines += sum(columns(t) * 5 // (3 * _LINE) + 1 for t in (brief.title, brief.headline))
    return lines + sum(columns(f"{t.name} {t.says}") // (_LINE // 2) + 1 for t in brief.shorts) // 2
