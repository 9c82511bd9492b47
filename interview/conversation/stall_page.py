"""What is told of a kept batch: the page of a day with its numbered lines, how all of it stands, what can be brought."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta
from typing import NamedTuple

from interview.brief.money_text import money_text
from interview.brief.timeline_text import in_days, long_day, moment
from interview.brief.typesetting import wrapped
from interview.conversation.stall_state import Stall
from interview.files.batches import Listed
from interview.reasoning.batch import PotLine, pots
from interview.reasoning.day_lines import Line, day_lines
from interview.reasoning.lots import Kind, Means
from interview.reasoning.money import worths
from interview.reasoning.offers import offers
from interview.reasoning.timetable import Doing, Timeline
from interview.reasoning.under_way import WAITING
from interview.text.harmless import harmless

WIDE = 79
_INDENT = "     "


class Page(NamedTuple):
    """`listed`: what the numbers of its lines stand for; `day`: which day it is of, "" for none."""

    lines: list[str]
    listed: tuple[Listed, ...] = ()
    day: str = ""


def page(stall: Stall, day: date | None = None, width: int = WIDE) -> Page:
    """Of the next day with work, or of `day`. The numbers of lines told before on the same day stay."""
    time = stall.timeline
    if time is None:
        return Page(["All of it is done.", *held_words(stall)])
    lines = day_lines(time.doings)
    days = sorted({line.begins.date() for line in lines})
    wanted = next((d for d in days if day is None or d >= day), None)
    if wanted is None:
        return Page(["No more hand is needed; it only has to cure.", *_waiting(stall, time)])
    today = [line for line in lines if line.begins.date() == wanted]
    listed = _numbered(stall, today, wanted)
    told = [f"{long_day(wanted)}{_span(today)}", ""]
    gone = [str(old.number) for old in listed if _is_done(stall, old)]
    if gone:
        told += [f"{_INDENT}Done: {', '.join(gone)}.", ""]
    potted = {p.number: p for p in pots(time, [r.kind for r in stall.rests])}
    by_line = {one.of: one for one in listed}
    for line in today:
        told += _written(stall, by_line[_entries(stall, line)], line, potted.get(line.pot), width)
    told += ["", *_waiting(stall, time), f"Ready {moment(time.ready)}."]
    if time.late:
        told[-1] += ' That is too late: say "what can I bring".'
    return Page([*told, *held_words(stall)], listed, str(wanted))


def _span(today: Sequence[Line]) -> str:
    hands = sum((line.ends - line.begins for line in today), timedelta())
    return f", {today[0].begins:%H:%M} to {max(line.ends for line in today):%H:%M}, {in_days(hands)} of work"


def _written(stall: Stall, listed: Listed, line: Line, pot: PotLine | None, width: int) -> Iterator[str]:
    head = f"{listed.number:>3}  {line.begins:%H:%M}-{line.ends:%H:%M}  "
    yield from wrapped(f"{line.name}: {_who(stall, line)}", width, head)
    more = []
    if pot is not None and line.pot:
        parts = f": {pot.resin} resin and {pot.hardener} hardener" if pot.resin else ", parts by the label"
        more.append(f"Pot {pot.number}, {pot.total or 'as the label says'} in all{parts}.")
    if line.looks:
        more.append(f"Look at it: {_times(line.looks)}.")
    if line.until - line.ends > timedelta(minutes=1):
        more.append(f"Then it waits until {_until(line, line.begins.date())}.")
    for text in more:
        yield from wrapped(text, width, " " * len(head))


def _times(looks: Sequence[datetime]) -> str:
    """ "18:30", or "from 18:30 to 20:30, 9 times"."""
    return f"{looks[0]:%H:%M}" if len(looks) == 1 else f"from {looks[0]:%H:%M} to {looks[-1]:%H:%M}, {len(looks)} times"


def _until(line: Line, day: date) -> str:
    return f"{line.until:%H:%M}" if line.until.date() == day else moment(line.until)


# ------------------------------------------------------------------ numbers


def _numbered(stall: Stall, today: Sequence[Line], day: date) -> tuple[Listed, ...]:
    """Lines of before keep their numbers, new ones take the next; what is done stays among them."""
    before = {old: set(old.of) for old in stall.kept.shown} if stall.kept.shown_day == str(day) else {}
    last = max((old.number for old in before), default=0)
    made: list[Listed] = []
    for line in today:
        of = _entries(stall, line)
        steps = {(kind, step) for kind, _, _, step in of}
        old = next((o for o in before if {(k, s) for k, _, _, s in o.of} & steps and not _is_done(stall, o)), None)
        if old is not None:
            del before[old]
        else:
            last += 1
        made.append(Listed(old.number if old else last, f"{line.name}: {_who(stall, line)}", of))
    return tuple(sorted([*made, *(o for o in before if _is_done(stall, o))], key=lambda o: o.number))


def _is_done(stall: Stall, listed: Listed) -> bool:
    return all(
        any((d.kind, d.step) == (kind, step) and d.first <= first and last <= d.last for d in stall.kept.did)
        for kind, first, last, step in listed.of
    )


def _entries(stall: Stall, line: Line) -> tuple[tuple[str, int, int, str], ...]:
    """Which steps were done to which pieces, once the line is."""
    return tuple(
        (name, first, last, doing.step) for doing in line.doings for name, first, last in _numbers(stall, doing)
    )


def _numbers(stall: Stall, doing: Doing) -> Iterator[tuple[str, int, int]]:
    """The pieces of a doing by the numbers of their kind, in runs."""
    for some in doing.some:
        rest = stall.rests[some.kind]
        run: list[int] = []
        for number in (*rest.numbers[some.first - 1 : some.last], None):
            if run and (number is None or number != run[-1] + 1):
                yield rest.kind.name, run[0], run[-1]
                run = []
            if number is not None:
                run.append(number)


def _who(stall: Stall, line: Line) -> str:
    trays = stall.trays
    runs = [f"{pieces_words(stall, *run)} [{trays[run[0], run[1]]}]" for run in _numbers(stall, line.doings[0])]
    return ", ".join(runs)


def pieces_words(stall: Stall, name: str, first: int, last: int) -> str:
    count = next((k.count for k in stall.kinds if k.name == name), 0)
    name = harmless(name, one_line=True)
    if (first, last) == (1, count):
        return f"{name} (all {count})" if count > 1 else name
    return f"{name} {first}" if first == last else f"{name} {first} to {last}"


# ------------------------------------------------------------------ all of it


def held_words(stall: Stall) -> list[str]:
    """Kinds that wait for a way: they are not poured, so they are ready on no day."""
    return [f"{k.count:>4} x {k.name}: not poured as it is. {k.plan.headline}" for k in stall.held]


def _waiting(stall: Stall, time: Timeline) -> Iterator[str]:
    """What dries or cures from before: each thing once, for as long as its longest wait."""
    until: dict[tuple[str, str], dict[int, datetime]] = {}
    for doing in (d for d in time.doings if d.step.startswith(WAITING) and d.until > d.begins):
        for name, first, last in _numbers(stall, doing):
            mine = until.setdefault((name, doing.name.removeprefix("Under way: ")), {})
            mine |= {n: max(doing.until, mine.get(n, doing.until)) for n in range(first, last + 1)}
    for (name, step), waits in until.items():
        who = pieces_words(stall, name, min(waits), max(waits))
        yield f"{_INDENT}{who}: {step} waits until {moment(max(waits.values()))}."


def overview(stall: Stall) -> list[str]:
    """A ready day a kind, what is left of it, and whether it is in time."""
    lines = []
    for kind in stall.kinds:
        ends = stall.ends_of(kind.name)
        state = f"ready {moment(max(ends))}" if ends else "done"
        late = " (too late)" if ends and stall.means.ready_by and max(ends) > stall.means.ready_by else ""
        lines.append(f"{kind.count:>4} x {harmless(kind.name, one_line=True)}: {state}{late}")
    lines += held_words(stall)
    if stall.means.ready_by:
        lines.append(f"Wanted by {moment(stall.means.ready_by)}.")
    return lines


def money_words(stall: Stall, width: int = WIDE) -> list[str]:
    """Hours, cost and margin of each kind, of what is left to do."""
    kinds = [r.kind for r in stall.rests]
    sells = {k.name: k.sells for k in stall.kept.kinds if k.sells is not None}
    lines = money_text(worths(kinds, stall.timeline, sells), width)
    return lines if sells else [*lines, 'Say what you sell them at: "coasters sell at 12".']


def what_to_bring(stall: Stall, brushed: Sequence[tuple[str, Sequence[Kind], Means]] = ()) -> list[str]:
    """The offers as a small table: what each brings, and what it takes."""
    means = stall.means
    if means.ready_by is None:
        return ['Say first by when: "ready by saturday week".']
    if means.ready_by <= means.begin:
        return ["The day is over."]
    kinds = [r.kind for r in stall.rests]
    whole = sum(k.count for k in kinds)
    finished = sum(k.count for k in stall.kinds) - whole
    held = sum(k.count for k in stall.held)
    prices = {k.name: k.sells for k in stall.kept.kinds if k.sells is not None}
    found = offers(kinds, means, brushed, prices if all(k.name in prices for k in kinds) else None)
    if not found:
        return [f"Nothing that was tried makes more ready by {moment(means.ready_by)}. {finished} are ready already."]
    lines = [
        "Tried: fewer kinds, fewer pieces, other hands and hours, brush for spray, quickest drying, trials done, no extras."
    ]
    for offer in found:
        what = ", ".join(f"{n} {k.name}" for n, k in zip(offer.counts, kinds, strict=True) if n)
        left = ", ".join(f"{k.count - n} {k.name}" for n, k in zip(offer.counts, kinds, strict=True) if n < k.count)
        money = sum(prices.get(k.name, 0.0) * n for n, k in zip(offer.counts, kinds, strict=True))
        sold = f", {money:.2f} if all is sold" if money else ""
        lines.append(
            f"{offer.pieces + finished:>4} of {whole + finished + held} pieces  {offer.says or 'as it is'}; "
            f"ready {moment(offer.ready)}{sold}"
        )
        lines.append(f"      {what}{f'; not: {left}' if left else ''}")
    return [*lines, *held_words(stall)]


def changed_words(before: Stall, after: Stall) -> list[str]:
    """What a line came to: the day, and whether it is in time."""
    one, two = before.timeline, after.timeline
    if two is None:
        return ["All of it is done."]
    if one is None or one.ready == two.ready:
        lines = [f"Ready {moment(two.ready)}, as before." if one else f"Ready {moment(two.ready)}."]
    else:
        lines = [f"Ready {moment(two.ready)}; it was {moment(one.ready)}."]
    if two.late and after.means.ready_by:
        lines.append(f'That is after {moment(after.means.ready_by)}. Say "what can I bring" for the best set.')
    return lines
