"""A timeline as an iCalendar file (RFC 5545): an event for each thing done by hand, alarms for the looks.

Times are local and without a zone ("floating", RFC 5545 section 3.3.5, form 1): six in the evening stays
six in the evening, wherever the calendar is opened.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from datetime import UTC, datetime, timedelta

from interview.reasoning.timetable import Doing, Timeline
from interview.text.harmless import harmless

_LONGEST = 75  # octets of a line, section 3.1
_HEAD_START = timedelta(minutes=10)  # how long before an event its own alarm rings
_ESCAPED = str.maketrans({"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n"})


def calendar_file(time: Timeline, name: str, stamp: datetime, how: Mapping[str, str] | None = None) -> str:
    """The whole file, lines ended by CR LF. `stamp`: now, with its zone. `how`: what to do, by step id.

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
    for doing in time.doings:
        if doing.ends > doing.begins:
            lines += _event(doing, _looks(doing, time.doings), name, stamp, (how or {}).get(doing.step, ""))
    lines.append("END:VCALENDAR")
    return "".join(f"{folded}\r\n" for line in lines for folded in _folded(line))


def _event(doing: Doing, looks: Sequence[datetime], name: str, stamp: datetime, how: str) -> Iterator[str]:
    summary = f"{doing.name} ({doing.who})" if doing.who else doing.name
    yield "BEGIN:VEVENT"
    yield f"UID:{_id(doing, name)}"
    yield f"DTSTAMP:{stamp.astimezone(UTC):%Y%m%dT%H%M%SZ}"
    yield f"DTSTART:{doing.begins:%Y%m%dT%H%M%S}"
    yield f"DTEND:{doing.ends:%Y%m%dT%H%M%S}"
    yield f"SUMMARY:{_text(summary)}"
    if how:
        yield f"DESCRIPTION:{_text(how)}"
    yield from _alarm(f"-PT{_HEAD_START // timedelta(minutes=1)}M", "START", summary)
    for look in looks:
        yield from _alarm(f"PT{(look - doing.ends) // timedelta(minutes=1)}M", "END", f"Look at it: {summary}")
    yield "END:VEVENT"


def _alarm(trigger: str, related: str, says: str) -> Iterator[str]:
    yield "BEGIN:VALARM"
    yield "ACTION:DISPLAY"
    yield f"TRIGGER;RELATED={related}:{trigger}"
    yield f"DESCRIPTION:{_text(says)}"
    yield "END:VALARM"


def _looks(doing: Doing, doings: Sequence[Doing]) -> tuple[datetime, ...]:
    """Its own looks, and, for a pour, those of the watching that belongs to it."""
    watching = [look for other in doings if other.job == doing.job and other.kind == "watch" for look in other.looks]
    mine = (*doing.looks, *(watching if doing.kind == "pour" else ()))
    return tuple(sorted({look for look in mine if look >= doing.ends}))


def _id(doing: Doing, name: str) -> str:
    """Unique over all timelines as far as names are, and the same each time."""
    told = "\n".join((name, doing.job, doing.step, doing.kind, doing.who)).encode("utf-8", "replace")
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
