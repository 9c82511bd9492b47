"""The timeline: one bar a step, at the earliest that the waits allow. Long waits are drawn short, with a
mark.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from interview.brief.views import Phase, TrialView
from interview.drawing.svg import Svg, path, rectangle, tag
from interview.plan.parts import Step

DAY = 1440.0
LONGEST = 2 * DAY  # a stretch without an event is drawn no longer than this
WIDTH, HEIGHT = 600.0, 24.0


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the drawing: sign and name stand as text beside the bar."""

    sign: str
    name: str
    when: str
    bar: Svg


@dataclass(frozen=True, slots=True)
class Timeline:
    rows: tuple[Row, ...]
    ready: str  # "ready on day 7 at the earliest"


@dataclass(frozen=True, slots=True)
class _Bar:
    start: float
    busy: float  # end of the hands-on time
    end: float  # end of the least wait


def timeline(steps: Sequence[Step], phases: Sequence[Phase], trials: Sequence[TrialView]) -> Timeline | None:
    """Rows in the order of the steps; None if there is nothing to do."""
    if not steps:
        return None
    bars = _bars(steps)
    scale = _Scale(bars.values())
    rows = []
    names: list[tuple[str, str, tuple[str, ...]]] = []
    tried = [step for step in steps if step.kind == "trial"]
    names += [(t.letter, t.name, (step.id,)) for t, step in zip(trials, tried, strict=False)]
    names += [(str(v.number), v.name, v.ids) for phase in phases for v in phase.steps]
    for sign, name, ids in names:
        mine = [bars[i] for i in ids]
        rows.append(Row(sign, name, _when(mine), scale.bar(mine)))
    last = int(max(bar.end for bar in bars.values()) // DAY) + 1
    ready = f"At the earliest it is ready on day {last}." if phases else ""
    return Timeline(tuple(rows), ready)


def _bars(steps: Sequence[Step]) -> dict[str, _Bar]:
    made: dict[str, _Bar] = {}
    free = 0.0  # one pair of hands: a step begins when the hands of the one before are off
    for step in steps:
        start = max([free, *(made[before].busy + least for before, least, _ in step.after if before in made)])
        busy = start + step.hands_on
        watched = step.look_for or 0.0
        made[step.id] = _Bar(start, busy, busy + max(step.wait[0], watched))
        free = busy
    return made


def _when(bars: Sequence[_Bar]) -> str:
    first, last = int(bars[0].start // DAY) + 1, int(bars[-1].start // DAY) + 1
    return f"day {first}" if first == last else f"days {first} to {last}"


class _Scale:
    """Minutes -> place on the drawing; stretches in which nothing begins or ends are shortened."""

    def __init__(self, bars: object) -> None:
        events = sorted({0.0, *(t for b in bars for t in (b.start, b.busy, b.end))})  # type: ignore[attr-defined]
        self._places: list[tuple[float, float]] = [(0.0, 0.0)]
        self.breaks: list[float] = []
        for before, after in pairwise(events):
            stretch = after - before
            if stretch > LONGEST:
                self.breaks.append(self._places[-1][1] + LONGEST / 2)
            self._places.append((after, self._places[-1][1] + min(stretch, LONGEST)))
        self._whole = max(self._places[-1][1], 1.0)
        days = range(1, int(events[-1] // DAY) + 1)
        places = sorted({round(self.x(day * DAY)) for day in days})
        self._midnights = [path([(x, 0), (x, HEIGHT)], closed=False, class_="midnight") for x in places]

    def x(self, minute: float) -> float:
        for (t0, p0), (t1, p1) in pairwise(self._places):
            if minute <= t1:
                share = (minute - t0) / (t1 - t0) if t1 > t0 else 0.0
                return (p0 + (p1 - p0) * share) / self._whole * WIDTH
        return WIDTH

    def bar(self, bars: Sequence[_Bar]) -> Svg:
        shapes = [rectangle(0, 0, WIDTH, HEIGHT, class_="lane"), *self._midnights]
        for bar in bars:
            start, busy, end = self.x(bar.start), self.x(bar.busy), self.x(bar.end)
            if end > busy:
                shapes.append(rectangle(busy, 7, end - busy, HEIGHT - 14, class_="wait"))
            shapes.append(rectangle(min(start, WIDTH - 6), 2, max(busy - start, 6.0), HEIGHT - 4, class_="busy"))
        for place in self.breaks:
            x = place / self._whole * WIDTH
            if any(self.x(b.start) < x < self.x(b.end) for b in bars):
                shapes.append(path([(x - 6, HEIGHT), (x + 2, 0), (x + 8, 0), (x, HEIGHT)], class_="break"))
        return tag(
            "svg",
            *shapes,
            viewBox=f"0 0 {WIDTH:g} {HEIGHT:g}",
            preserveAspectRatio="none",
            aria_hidden="true",
            focusable="false",
            class_="bar",
        )
