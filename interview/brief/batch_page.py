"""A batch on the wall: one row a kind on one ribbon of days, then a slip for each kind. One HTML file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from interview.brief.batch_sheet import buy_words
from interview.brief.cleaning import cleaned
from interview.brief.composing import compose
from interview.brief.pace import lateness
from interview.brief.rendering import html
from interview.brief.timeline_text import long_day, moment, summing_up
from interview.drawing.lifted import lifted
from interview.drawing.pictures import picture_of
from interview.drawing.signs import SAFETY, VERDICTS, Sign
from interview.drawing.svg import Svg
from interview.reasoning.batch import Batch
from interview.reasoning.timetable import Doing, of_kind
from interview.text.harmless import harmless
from interview.text.wording import capital


@dataclass(frozen=True, slots=True)
class Task:
    """One thing done to pieces of a kind on a day. `when`: "18:30"; `again`: looks, or the pot."""

    picture: Svg
    when: str
    verb: str
    more: str


@dataclass(frozen=True, slots=True)
class Row:
    """One kind: its verdict, what to know of it, and its tasks on each day of the ribbon."""

    id: str
    name: str
    count: int
    verdict: Sign
    do_first: str
    dates: str
    days: tuple[tuple[Task, ...], ...]
    headline: str
    summary: str
    assumed: tuple[str, ...]
    lifted: Svg | None
    worn: tuple[Sign, ...]


def wall_sheet(batch: Batch, title: str, paper: str) -> str:
    """All kinds. Texts are made harmless here."""
    time = batch.timeline
    days = sorted({d.begins.date() for d in time.doings if d.ends > d.begins or d.looks})
    rows = [_row(batch, number, days) for number in range(len(batch.kinds))]
    return html(
        "wall.html.j2",
        title=harmless(title, one_line=True),
        paper=paper,
        days=[f"{day:%a} {day.day} {day:%b}" for day in days],
        rows=rows,
        lines=tuple(summing_up(time)),
        late=lateness(time),
        shopping=[capital(harmless(buy_words(b), one_line=True)) for b in batch.shopping],
        pots=[
            (p.number, moment(p.mixed), p.total or "by the label", p.resin, p.hardener, harmless(p.who, one_line=True))
            for p in batch.pots
        ],
        notes=batch.notes,
        cost=batch.cost,
        care=_care(batch),
        long_days=[long_day(day) for day in days],
    )


def _row(batch: Batch, number: int, days: Sequence[date]) -> Row:
    kind = batch.kinds[number]
    plan, time = cleaned(kind.plan), of_kind(batch.timeline, number)
    brief = compose(plan, time=time)
    drawn = lifted(plan)
    methods = {t.sealer: t.method for t in plan.treatments}
    sealers = {s.id: s.sealer for s in plan.steps}
    runs: dict[tuple[date, str], list[Doing]] = {}
    for doing in time.doings:
        runs.setdefault((doing.begins.date(), _bare(doing)), []).append(doing)
    tasks = [(on, _task(run, methods.get(sealers.get(run[0].step, ""), "seal"))) for (on, _), run in runs.items()]
    return Row(
        id=f"kind-{number + 1}",
        name=harmless(kind.name, one_line=True),
        count=kind.count,
        verdict=VERDICTS[brief.sign],
        do_first=brief.do_first,
        dates=f"begin {moment(time.begins)}, ready {moment(time.ready)}",
        days=tuple(tuple(task for on, task in tasks if on == day and task) for day in days),
        headline=brief.headline,
        summary=brief.summary,
        assumed=tuple(f"{a.name}: {a.says}" for a in brief.assumed),
        lifted=drawn.svg(f"kind-{number + 1}-lifted") if drawn else None,
        worn=tuple(SAFETY[id] for id in SAFETY if any(id in s.safety for s in plan.steps)),
    )


def _bare(doing: Doing) -> str:
    """What is told together: all coats of one sealer on one side, all pots, all looks of one kind."""
    return doing.step.rpartition(".")[0] if doing.kind == "seal" else doing.step


def _task(run: Sequence[Doing], method: str) -> Task | None:
    """A day's doings of one sort; nothing for a wait of its own."""
    first = run[0]
    kind = f"seal.{method}" if first.kind == "seal" else first.kind
    picture = picture_of(first.step, kind, first.kind).drawn()
    looks = sorted(look for d in run for look in d.looks)
    if first.ends == first.begins:
        return (
            Task(picture, _span(looks), f"look, {len(looks)} times" if len(looks) > 1 else "look", "")
            if looks
            else None
        )
    pots = sorted({d.pot for d in run if d.pot})
    more = f"pot{'s' if len(pots) > 1 else ''} {', '.join(map(str, pots))}" if pots and first.kind == "mix" else ""
    verb = first.name if first.kind != "seal" else f"{capital(method)}, {len(run)} coat{'s' if len(run) > 1 else ''}"
    return Task(picture, _span([d.begins for d in run]), verb, more)


def _span(times: Sequence[datetime]) -> str:
    """ "18:00", or from the first to the last."""
    return _clock(times[0]) if len(times) < 2 else f"{_clock(times[0])} to {_clock(times[-1])}"


def _clock(when: datetime) -> str:
    return f"{when:%H:%M}"


def _care(batch: Batch) -> tuple[str, ...]:
    """Each caution of any kind once, in few words."""
    return tuple(dict.fromkeys(c.short for kind in batch.kinds for c in kind.plan.cautions))
