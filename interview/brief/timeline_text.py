"""A timeline in fixed letters: bars over the days, and a sheet for each day with boxes to tick."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from interview.brief.typesetting import columns, wrapped
from interview.reasoning.day_lines import Line
from interview.reasoning.timetable import Doing, Timeline
from interview.text.harmless import harmless

NARROWEST, WIDEST = 60, 120
_HANDS, _WAIT, _LOOK = "█", "░", "•"
_LEGEND = f"{_HANDS} hands on   {_WAIT} waiting   {_LOOK} look at it"
_SCALES = tuple(timedelta(minutes=m) for m in (15, 30, 60, 120, 180, 240, 360, 480, 720, 1440, 2880, 10080))
_BOX = "[ ]"


@dataclass(frozen=True, slots=True)
class _Row:
    """One line of bars: everything of one step, or all coats of one sealer, whatever the pieces."""

    name: str
    doings: tuple[Doing, ...]


def timeline_text(time: Timeline, width: int, *, summed: bool = True) -> str:
    """Bars, one line a step, then (`summed`) when it begins and when it is ready. `width` in columns, 60 to 120."""
    width = min(max(width, NARROWEST), WIDEST)
    rows = _rows(time.doings)
    names = min(max((columns(r.name) for r in rows), default=0), width * 2 // 5)
    scale = _Scale(time, width - names - 1)
    lines = [f"{'':{names}} {line}".rstrip() for line in scale.heading()]
    lines += [f"{_fitted(row.name, names)} {scale.bar(row.doings)}".rstrip() for row in rows]
    lines += ["", _LEGEND + f"   {scale.words()}"]
    if summed:
        lines += ["", *(line for says in summing_up(time) for line in wrapped(says, width))]
    return "\n".join(lines)


def section(text: str, form: str) -> str:
    """The bars as the last part of a brief, in its form."""
    if form == "markdown":
        return f"\n## The days\n\n```\n{text}\n```\n"
    return f"\nTHE DAYS\n--------\n{text}\n"


def sheet_text(day: date, lines: Sequence[Line], looks: Sequence[tuple[datetime, str]], width: int) -> str:
    """What is to be done on one day, by the clock, each with a box to tick."""
    written = [long_day(day)]
    told: list[tuple[datetime, str]] = []
    for line in lines:
        who = f"{line.who}: " if line.who else ""
        pot = f" (pot {line.pot})" if line.pot else ""
        late = any(d.late and d.kind == "seal" for d in line.doings)
        missed = ". The window was missed; this is after the longer wait." if late else ""
        told.append((line.begins, f"to {line.ends:%H:%M}  {harmless(who + line.name, one_line=True)}{pot}{missed}"))
    told += [(run[0], _look_words(run, who)) for run, who in look_runs(looks)]
    for when, text in sorted(told, key=lambda t: t[0]):
        written += wrapped(text, width, f"{_BOX} {when:%H:%M} ")
    return "\n".join(written)


def look_runs(looks: Sequence[tuple[datetime, str]]) -> list[tuple[tuple[datetime, ...], str]]:
    """Looks at the same pieces, as evenly spaced as they come: one run each, by its first look."""
    runs: list[tuple[list[datetime], str]] = []
    for look, who in sorted(looks, key=lambda each: (each[1], each[0])):
        run = runs[-1][0] if runs and runs[-1][1] == who else None
        if run is not None and (len(run) == 1 or look - run[-1] == run[1] - run[0]):
            run.append(look)
        else:
            runs.append(([look], who))
    return sorted(((tuple(run), who) for run, who in runs), key=lambda each: each[0][0])


def _look_words(run: Sequence[datetime], who: str) -> str:
    shown = f"look at {harmless(who, one_line=True)}"
    if len(run) == 1:
        return shown
    if len(run) == 2:
        return f"and {run[1]:%H:%M}  {shown}"
    every = round((run[1] - run[0]) / timedelta(minutes=1))
    return f"to {run[-1]:%H:%M}, every {_counted(every, 'minute') if every != 60 else 'hour'}: {shown}"


def long_day(day: date) -> str:
    """ "Saturday 13 June"."""
    return f"{day:%A} {day.day} {day:%B}"


def moment(when: datetime) -> str:
    """ "Sat 13 June, 18:30"."""
    return f"{when:%a} {when.day} {when:%B}, {when:%H:%M}"


def in_days(span: timedelta) -> str:
    """ "2 days and 5 hours", "5 hours", "20 minutes": rounded up to what matters."""
    minutes = math.ceil(span / timedelta(minutes=1))
    if minutes < 60:
        return _counted(minutes, "minute")
    days, hours = divmod(math.ceil(minutes / 60), 24)
    if not days:
        return _counted(hours, "hour")
    return _counted(days, "day") + (f" and {_counted(hours, 'hour')}" if hours and days < 14 else "")


def _counted(number: int, unit: str) -> str:
    return f"{number} {unit}{'' if number == 1 else 's'}"


# ------------------------------------------------------------ bars


def _rows(doings: Sequence[Doing]) -> tuple[_Row, ...]:
    """In the order in which they begin. Coats of one sealer on one side share their id but for the number."""
    found: dict[str, list[Doing]] = {}
    for doing in doings:
        entry = doing.step.rpartition(".")[0] if doing.kind == "seal" else doing.step
        found.setdefault(f"{entry} {_named(doing)}", []).append(doing)
    return tuple(_Row(_named(each[0]), tuple(each)) for each in found.values())


def _named(doing: Doing) -> str:
    name, _, coat = doing.name.rpartition(", coat ")
    return harmless(f"{name}, {coat.split(' of ')[1]} coats" if name else doing.name, one_line=True)


def _fitted(name: str, width: int) -> str:
    if columns(name) > width:
        kept = name
        while columns(kept) > width - 1:
            kept = kept[:-1]
        name = f"{kept.rstrip()}…"
    return name + " " * (width - columns(name))


class _Scale:
    """Time on so many columns."""

    def __init__(self, time: Timeline, room: int) -> None:
        self._first = datetime.combine(time.begins.date(), datetime.min.time())
        whole = time.ready - self._first
        self._step = next((s for s in _SCALES if whole <= s * room), None) or -(-whole // room)
        self._first = self._first if self._step >= timedelta(hours=2) else time.begins.replace(minute=0)
        self._room = min(room, max(1, -(-(time.ready - self._first) // self._step)))

    def words(self) -> str:
        hours = self._step / timedelta(hours=1)
        if hours < 1:
            return f"one sign = {hours * 60:g} minutes"
        return f"one sign = {_counted(int(hours), 'hour') if hours % 24 else _counted(int(hours // 24), 'day')}"

    def heading(self) -> tuple[str, str]:
        """The days, as many as there is room for, and a stroke where each begins."""
        names, strokes = [" "] * (self._room + 12), [" "] * self._room
        free = 0
        for at, day in self._days():
            strokes[at] = "|"
            label = f"{day:%a} {day.day}" if day.day != 1 and at else f"{day.day} {day:%b}"
            if at >= free and at + len(label) <= self._room + 4:
                names[at : at + len(label)] = label
                free = at + len(label) + 1
        return "".join(names).rstrip(), "".join(strokes)

    def _days(self) -> Iterator[tuple[int, date]]:
        day = self._first
        while (at := self._column(day)) < self._room:
            if at >= 0:
                yield at, day.date()
            day = datetime.combine(day.date() + timedelta(days=1), datetime.min.time())

    def _column(self, when: datetime) -> int:
        return int((when - self._first) // self._step)

    def bar(self, doings: Sequence[Doing]) -> str:
        signs = [" "] * self._room
        for doing in doings:
            self._fill(signs, doing.ends, doing.until, _WAIT)
        for doing in doings:
            for look in doing.looks:
                self._fill(signs, look, look + timedelta(minutes=1), _LOOK)
        for doing in doings:
            self._fill(signs, doing.begins, doing.ends, _HANDS)
        return "".join(signs)

    def _fill(self, signs: list[str], begins: datetime, ends: datetime, sign: str) -> None:
        if ends <= begins:
            return
        first, last = self._column(begins), self._column(ends - timedelta(seconds=1))
        for at in range(max(0, first), min(last, self._room - 1) + 1):
            signs[at] = sign


# ------------------------------------------------------------ in words


def summing_up(time: Timeline) -> Iterator[str]:
    """When to begin, when it is ready, how sure that is, and what to do where it is late: a sentence each."""
    yield f"Begin {moment(time.begins)}. Ready {moment(time.ready)}."
    if time.latest == time.begins and time.ready_by is not None:
        yield f"That is the latest beginning that was found to be ready by {moment(time.ready_by)}."
    elif time.latest is not None and time.ready_by is not None:
        yield f"To be ready by {moment(time.ready_by)}, begin {moment(time.latest)} at the latest."
    if time.quickest < time.ready:
        quick = f"If everything dries at its quickest, it is ready {moment(time.quickest)}"
        check = "go on sooner only where the step's own check says so."
        yield f"That counts on the longest waits. {quick}; {check}"
    if time.pieces > 1:
        yield _how_close(time)
    if time.late and time.ready_by is not None:
        yield from too_late(time, time.ready_by)


def _how_close(time: Timeline) -> str:
    if time.bound >= time.ready:
        return "No other order of the work could be ready sooner."
    return f"No order of the work could be ready before {moment(time.bound)}."


def too_late(time: Timeline, ready_by: datetime) -> Iterator[str]:
    """By how much, and what would make it possible."""
    sure = "It cannot be ready" if time.impossible else "No way was found to have it ready"
    yield f"{sure} by {moment(ready_by)}: it is {in_days(time.late)} late."
    if not time.ways:
        yield "No change that was tried is enough, nor are all of them together."
    for way in time.ways:
        yield f"What would make it possible: {way.says} (ready {moment(way.ready)})."
