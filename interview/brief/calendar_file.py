"""A timeline as an iCalendar file (RFC 5545): an event a stop, not a stroke, with one alarm.

Times are local and without a zone ("floating", RFC 5545 section 3.3.5, form 1): six in the evening stays
six in the evening, wherever the calendar is opened.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from itertools import groupby

from interview.brief.timeline_text import look_runs
from interview.plan.model import Plan
from interview.reasoning.timetable import Doing, Timeline, as_timed
from interview.text.harmless import harmless
from interview.text.wording import capital, listed

_LONGEST = 75  # octets of a line, section 3.1
_HEAD_START = timedelta(minutes=10)  # how long before an event its alarm rings
_SAME_SITTING = timedelta(hours=2)  # trials or coats no further apart are one event
_ESCAPED = str.maketrans({"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n"})


@dataclass(frozen=True, slots=True)
class Event:
    """`title` begins with what differs and ends with the piece; `key`: what it is known by from file to file."""

    key: str
    title: str
    begins: datetime
    ends: datetime
    says: str


def calendar_file(time: Timeline, plans: Sequence[Plan], name: str, stamp: datetime, seal: str = "") -> str:
    """The whole file, lines ended by CR LF. `plans`: of the kinds on the timeline; `stamp`: now, with its zone.

    The same timeline and name give the same event ids: importing it again changes events and doubles none.
    """
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//beforepour//timeline//EN",
        "CALSCALE:GREGORIAN",
        "METHOD:PUBLISH",
        f"X-WR-CALNAME:{_text(name)}",
    ]
    says = [plan.damage for plan in plans if plan.damage] + [
        f"Seal of this brief: {plan.seal}" for plan in plans if plan.seal
    ]
    lines += [f"X-WR-CALDESC:{_text(' '.join(says))}"] if says else []
    lines += [f"X-BEFOREPOUR-SEAL:{seal}"] if seal else []
    damage = "".join(f"{plan.damage}\n" for plan in plans if plan.damage)
    for event in events(time, plans, name):
        event = replace(event, says=f"{damage}{event.says}") if damage else event
        lines += _written(event, name, stamp)
    lines.append("END:VCALENDAR")
    return "".join(f"{folded}\r\n" for line in lines for folded in _folded(line))


def events(time: Timeline, plans: Sequence[Plan], name: str) -> tuple[Event, ...]:
    """Trials in one; the coats of one sitting in one; the pour with its looks; the rest each by itself; ready."""
    how = {s.id: (s.how, s.done_when) for n, plan in enumerate(plans) for s in as_timed(plan, time, n).steps}
    hands = [d for d in time.doings if d.ends > d.begins]
    made: list[Event] = []
    for _, run in groupby(_sittings(hands), key=lambda pair: pair[0]):
        doings = [d for _, d in run]
        made.append(_event(doings, how, name))
    looks = [(look, d.who) for d in time.doings for look in d.looks]
    for number, (run_of, who) in enumerate(look_runs(looks)):
        words = "Look at it" if len(run_of) == 1 else f"Look at it, {len(run_of)} times"
        says = ", ".join(f"{look:%H:%M}" for look in run_of)
        made.append(
            Event(
                f"looks {number} {who}",
                _title(words, who, name),
                run_of[0],
                run_of[-1] + timedelta(minutes=5),
                says,
            )
        )
    made.append(Event("ready", _title("Ready", "", name), time.ready, time.ready + timedelta(minutes=15), ""))
    seen: dict[str, int] = {}
    for n, event in enumerate(made):  # a stop that comes in two sittings is two events
        seen[event.key] = seen.get(event.key, 0) + 1
        made[n] = replace(event, key=f"{event.key} {seen[event.key]}")
    return tuple(sorted(made, key=lambda e: (e.begins, e.title)))


def _sittings(hands: Sequence[Doing]) -> Iterator[tuple[int, Doing]]:
    """Each doing with the number of its sitting."""
    number, before = 0, None
    for doing in hands:
        if before is None or not _together(before, doing):
            number += 1
        yield number, doing
        before = doing


def _together(one: Doing, other: Doing) -> bool:
    near = other.begins - one.ends <= _SAME_SITTING
    poured = ("mix", "pour", "watch", "cure")
    return near and (
        (one.kind == other.kind and one.kind in ("trial", "seal")) or (one.kind in poured and other.kind in poured)
    )


def _event(doings: Sequence[Doing], how: dict[str, tuple[str, str]], name: str) -> Event:
    says = "\n".join(_told(step, how) for step in dict.fromkeys(d.step for d in doings) if step in how)
    first = doings[0]
    named = next((d for d in doings if d.kind == "pour"), first)  # a pour with its mix and its cover is a pour
    more = len({d.name for d in doings}) - 1
    words = named.name if named.kind == "pour" or not more else f"{named.name} and {more} more"
    return Event(
        f"{first.job} {first.step} {first.who}", _title(words, first.who, name), first.begins, doings[-1].ends, says
    )


def _told(step: str, how: dict[str, tuple[str, str]]) -> str:
    says, done = how[step]
    return f"{says} Done when: {done}"


def _title(words: str, who: str, name: str) -> str:
    return f"{capital(words)}: {listed(t for t in (who or name,) if t)}"


def _written(event: Event, name: str, stamp: datetime) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{_id(event, name)}"
    yield f"DTSTAMP:{stamp.astimezone(UTC):%Y%m%dT%H%M%SZ}"
    yield f"DTSTART:{event.begins:%Y%m%dT%H%M%S}"
    yield f"DTEND:{event.ends:%Y%m%dT%H%M%S}"
    yield f"SUMMARY:{_text(event.title)}"
    if event.says:
        yield f"DESCRIPTION:{_text(event.says)}"
    yield "BEGIN:VALARM"
    yield "ACTION:DISPLAY"
    yield f"TRIGGER;RELATED=START:-PT{_HEAD_START // timedelta(minutes=1)}M"
    yield f"DESCRIPTION:{_text(event.title)}"
    yield "END:VALARM"
    yield "END:VEVENT"


def _id(event: Event, name: str) -> str:
    """Unique over all timelines as far as names are, and the same each time."""
    told = f"{name}\n{event.key}".encode("utf-8", "replace")
    return f"{hashlib.sha256(told).hexdigest()[:32]}@beforepour"


def _text(text: str) -> str:
    """A TEXT value, section 3.3.11."""
    return harmless(text).translate(_ESCAPED)


def _folded(line: str) -> Iterator[str]:
    """Lines of at most 75 octets, the following ones begun with a blank; no letter is cut in two."""
    data = line.encode()
    room, lead = _LONGEST, b""
    while len(data) > room:
        cut = room
        while data[cut] & 0xC0 == 0x80:
            cut -= 1
        yield (lead + data[:cut]).decode()
        data, lead, room = data[cut:], b" ", _LONGEST - 1
    yield (lead + data).decode()
