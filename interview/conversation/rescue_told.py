"""What is said of a trouble: the person's first steps, what was understood, and the report with the way on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta

from interview.reading.trouble_words import Heard
from interview.reasoning.rescue import Found, Pace, Seen, Window, heeded, window
from interview.reasoning.second_coat import SecondCoat
from interview.terminal.prompt import Tone
from interview.text.wording import capital, lowered
from knowledge.shape import Source
from knowledge.troubles import Stage, Troubles

Line = tuple[str, Tone]
_SURE, _LIKELY = 0.8, 0.5
_STAGES: dict[Stage, str] = {
    "before": "not poured yet", "flowing": "it still flows", "gelled": "it draws threads", "tacky": "it is sticky",
    "firm": "firm, a nail marks it", "cured": "hard",
}  # fmt: skip
UNKNOWN = (
    "  I cannot tell it from that.",
    "  Meanwhile do it no harm: hands off, a cover that does not touch, the room at 20 to 25 °C, no warm air, nothing on top.",
    "  Look at the left-over in the cup, and at the piece in a low light from the side; then come back with what you see.",
)
LABEL = "Label and safety data sheet come first."


def hazard_lines(troubles: Troubles, heard: Heard) -> Iterator[str]:
    """The first steps, the worst danger first; what several of them say is said once."""
    told: set[str] = set()
    for alarm in heard.hazards:
        hazard = troubles.hazards[alarm.id]
        yield ""
        yield f"{hazard.name}. {'Call for help first if it is bad. ' if hazard.call else ''}Now:"
        more = [line for kind in alarm.kinds for line in kind.more]
        first = next((kind.instead for kind in alarm.kinds if kind.instead), hazard.first)
        lines = [line for line in dict.fromkeys((*more, *first)) if line not in told]
        told.update(lines)
        yield from (f"  {n}. {line}" for n, line in enumerate(lines, 1))


def understood(troubles: Troubles, seen: Seen) -> Iterator[str]:
    """The sign as it is taken, and what was told beside it."""
    signs = [troubles.signs[id] for id, share in seen.signs if share >= 0.6 * seen.signs[0][1]][:2]
    if len(signs) == 2:
        yield f"  Either {signs[0].name}, or {signs[1].name}."
    else:
        yield f"  {capital(signs[0].name)}. {signs[0].looks} (Not that? Say no.)"
    told = "; ".join(filter(None, (told_as(troubles, seen.finds), "there is no other like it" if seen.only else "")))
    if told:
        yield f"  Taken as told: {told}."


def told_as(troubles: Troubles, finds: Mapping[str, str | None]) -> str:
    """Finds in words: "all over; some days"."""
    return "; ".join(_find(troubles, look, find) for look, find in finds.items() if find and look != "begun")


def _find(troubles: Troubles, look: str, find: str) -> str:
    return next(f.text for f in troubles.looks[look].finds if f.id == find)


def report(
    troubles: Troubles,
    seen: Seen,
    came: Found,
    pace: Pace,
    coat: SecondCoat | None,
    now: datetime,
    minds: tuple[str, ...] = (),
) -> Iterator[Line]:
    """Cause, cautions, the way on with its times, what makes it worse, the second coat; the way on once more."""
    yield "", "plain"
    yield from _cause(troubles, seen, came)
    cautions = [troubles.warnings[id].says for id in came.way.cautions]
    if cautions:
        yield "", "plain"
        yield "First, for yourself", "heading"
        yield from ((f"  - {line}", "warning") for line in cautions)
    yield "", "plain"
    stage = f" ({_STAGES[came.stage]})" if came.stage else ""
    yield f"{came.way.name}{stage}", "heading"
    yield f"  {came.way.why}", "plain"
    yield from ((f"  {line}", "plain") for line in _times(window(came.way, pace, seen.hours), pace, seen, now))
    yield from ((f"  {n}. {line}", "plain") for n, line in enumerate(came.way.lines, 1))
    if minds:
        yield "  On this piece:", "warning"
        yield from ((f"  - {line}", "warning") for line in minds)
    yield "  Never:", "warning"
    yield from ((f"  - {line}", "warning") for line in came.way.worse)
    if coat is not None:
        yield f"  {_coat(coat)}", "plain"
    yield "", "plain"
    yield f"So: {lowered(came.way.name)}. {LABEL}", "answer"


def closing(came: Found, sources: Mapping[str, Source]) -> Iterator[str]:
    """What to do otherwise the next time, and what all this rests on."""
    cause, way = (_basis(row.basis, row.source, sources) for row in (came.cause, came.way))
    yield f"Next time: {came.cause.next_time}"
    yield f"Rests on: {cause} (cause), {way} (way on)."


def _cause(troubles: Troubles, seen: Seen, came: Found) -> Iterator[Line]:
    word = "Most likely" if came.share >= _SURE else "Probably" if came.share >= _LIKELY else "Perhaps"
    yield f"{word}: {came.cause.name}", "heading"
    yield f"  {came.cause.says}", "plain"
    told = heeded(troubles, came.cause, seen)
    speaks = [text for heed, text in told if heed == "for"]
    against = [text for heed, text in told if heed == "against"]
    if speaks:
        yield f"  For it: {'; '.join(speaks)}.", "quiet"
    if against:
        yield f"  Against it: {'; '.join(against)}.", "quiet"
    if came.either is not None:
        yield f"  It could be either this or: {came.either.name}.", "answer"
        if came.apart:
            yield f"  To tell them apart: {came.apart}", "answer"
        if came.gentler and came.other_way is not None:
            yield f"  Until that is known, the way that harms neither. Else: {lowered(came.other_way.name)}.", "answer"
        elif came.other_way is not None and came.other_way.id != came.way.id:
            yield f"  Were it that: {lowered(came.other_way.name)}.", "answer"


def _times(times: Window, pace: Pace, seen: Seen, now: datetime) -> Iterator[str]:
    """The window, from the working time and the room; "the touch counts" beside each number."""
    rests = f"{'a usual' if pace.assumed else 'the'} working time of {pace.working:g} minutes, {pace.room:g} °C"
    if times.over:
        yield f"By the clock the time for this is over ({rests}). What the finger finds counts: if it still runs, go on."
    elif times.left is not None and seen.hours is not None:
        yield f"Time left: about {_hours(times.left)}, until {_clock(now, times.left)} ({rests}). The touch counts more."
    elif times.left is not None:
        yield f"Until about {_hours(times.left)} after mixing ({rests}). The touch counts more."
    if times.wait and seen.hours is not None:
        yield f"Not before {_clock(now, times.wait)}, in {_hours(times.wait)} ({rests}). The touch counts more."
    elif times.wait and not times.over:
        yield f"Not before about {_hours(times.wait)} after mixing ({rests}). The touch counts more."


def _hours(hours: float) -> str:
    minutes = hours * 60
    if minutes < 100:
        return f"{max(5, round(minutes / 5) * 5)} minutes"
    return f"{round(hours)} hours" if hours < 48 else f"{round(hours / 24)} days"


def _clock(now: datetime, hours: float) -> str:
    at = now + timedelta(hours=hours)
    days = (at.date() - now.date()).days
    return f"{at:%H:%M}" if not days else f"tomorrow {at:%H:%M}" if days == 1 else f"{at:%A} {at.day} {at:%B}"


def _coat(coat: SecondCoat) -> str:
    from interview.quantities.written import amount

    mixed = f"{amount(coat.low, coat.high, 'mL', up=True)} mixed{'' if coat.for_all else ' for each 100 cm2'}"
    parts = ""
    if coat.parts is not None:
        resin, hardener = (amount(p, p, "mL", up=True) for p in coat.parts)
        parts = f" (at most {resin} of resin and {hardener} of hardener)"
    when = ""
    if coat.hard and coat.cured:
        hard, cured = (f"{_hours(low)} to {_hours(high)}" for low, high in (coat.hard, coat.cured))
        when = f" Hard after {hard}, cured after {cured} in this room, or what the label says."
    return f"The second coat, 1 to 1.5 mm: {mixed}{parts}.{when}"


def _basis(basis: str, source: str, sources: Mapping[str, Source]) -> str:
    return (sources[source].short or sources[source].title) if source in sources else basis
