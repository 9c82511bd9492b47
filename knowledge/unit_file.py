"""knowledge/units.txt, line by line: what is wrong with it, and what would be right. The file's head tells its form."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from knowledge.loading import Fault, read_text

UNITS = "units.txt"
GROUP = "imperial"  # what is asked for to tell how a person thinks
FORM = "write name = 12 * unit above = symbol = other names"
# reads one sound line after the other as those do who use them; gives what is wrong with it, or nothing
Reads = Callable[[str], str]
_NAME = re.compile(r"[a-z][a-z0-9_]*")
_VALUE = re.compile(r"\s*(?:(\*\*|[*/])|([0-9][0-9.e]*)|([A-Za-z_][A-Za-z0-9_]*))")
_GROUP = re.compile(r"@group\s+([a-z]+)")
_LONGEST = 300


@dataclass(slots=True)
class _Seen:
    """What the lines so far have defined."""

    names: dict[str, tuple[str, int]] = field(default_factory=dict)  # name, symbol or other name -> unit, line
    dimensions: dict[str, tuple[str, int]] = field(default_factory=dict)
    groups: set[str] = field(default_factory=set)
    open_since: int = 0


def unit_faults(path: Path, wanted: Iterable[str] = (), reads: Reads | None = None) -> list[Fault]:
    """All that is wrong with a file of units. `wanted`: units that rows are written in, "m2/L" being two.

    `reads`: how a line is read in earnest, if the caller has it at hand.
    """
    faults: list[Fault] = []
    seen, before = _Seen(), len(faults)
    text = read_text(path, path.name, faults)
    for number, raw in enumerate(text.splitlines(), 1):
        line = raw.split("#", 1)[0].strip()
        if not line:
            continue
        said = list(_line_faults(line, number, seen))
        if not said and reads is not None and not line.startswith("@"):
            said = [f"cannot be read: {says}; {FORM}" for says in [reads(line)] if says]
        faults += [Fault(path.name, f"line {number}", says) for says in said]
    if seen.open_since:
        faults.append(
            Fault(path.name, f"line {seen.open_since}", "@group is not closed; write @end below its last unit")
        )
    if len(faults) == before:
        faults += [Fault(path.name, "", says) for says in _missing(seen, wanted)]
    return faults


def _missing(seen: _Seen, wanted: Iterable[str]) -> Iterator[str]:
    words = dict.fromkeys(word.lower() for unit in wanted for word in unit.split("/"))
    for word in words:
        if word not in seen.names:
            yield f"'{word}' is missing, in which rows are written; {FORM}"
    if GROUP not in seen.groups:
        yield f"has no @group {GROUP}; write it above the inches, pounds and gallons, and @end below"


def _line_faults(line: str, number: int, seen: _Seen) -> Iterator[str]:
    if len(line) > _LONGEST:
        yield f"is longer than {_LONGEST} letters; {FORM}"
    elif line.startswith("@"):
        yield from _group_faults(line, number, seen)
    elif "=" not in line:
        yield f"has no '='; {FORM}"
    else:
        yield from _unit_faults(line, number, seen)


def _group_faults(line: str, number: int, seen: _Seen) -> Iterator[str]:
    found = _GROUP.fullmatch(line)
    if line == "@end":
        if not seen.open_since:
            yield "@end closes nothing; write @group and a name above the first unit of the group"
        seen.open_since = 0
    elif found is None:
        yield f"'{line}' is neither '@group {GROUP}' nor '@end'"
    elif seen.open_since:
        yield f"a group is open since line {seen.open_since}; write @end before it"
    else:
        seen.groups.add(found[1])
        seen.open_since = number


def _unit_faults(line: str, number: int, seen: _Seen) -> Iterator[str]:
    name, given, *others = (part.strip() for part in line.split("="))
    value, _, more = (part.strip() for part in given.partition(";"))
    yield from _value_faults(value, number, name, seen)
    if more and not _is_offset(more):
        yield f"'; {more}' is no scale; write '; offset: 273.15'"
    for word in (name, *others[others[:1] == ["_"] :]):
        if not _NAME.fullmatch(word):
            yield f"'{word}' is no name; write small letters and digits, without blanks ('_' for no symbol)"
        elif word in seen.names:
            unit, where = seen.names[word]
            yield f"'{word}' is already a name of {unit} (line {where}); keep one of them"
        else:
            seen.names[word] = (name, number)


def _is_offset(more: str) -> bool:
    key, _, said = more.partition(":")
    return key.strip() == "offset" and _number(said.strip()) is not None


def _number(said: str) -> float | None:
    try:
        number = float(said)
    except ValueError:
        return None
    return number if math.isfinite(number) else None


def _value_faults(value: str, number: int, name: str, seen: _Seen) -> Iterator[str]:
    if value.startswith("["):
        if not (value.endswith("]") and _NAME.fullmatch(value[1:-1])):
            yield f"'{value}' is no dimension; write one word in brackets, such as [length]"
            return
        unit, where = seen.dimensions.setdefault(value, (name, number))
        if where != number:
            yield f"{value} already has a first unit, {unit} (line {where}); write a number times {unit}"
        return
    tokens, end = [], 0
    while found := _VALUE.match(value, end):
        tokens.append(found)
        end = found.end()
    marks = [bool(found[1]) for found in tokens]
    if value[end:].strip() or len(tokens) % 2 == 0 or marks != [bool(n % 2) for n in range(len(tokens))]:
        yield f"'{value}' is no number times a unit; write it with * and / and **, such as 12 * inch or inch ** 2"
        return
    yield from _token_faults(tokens, seen)


def _token_faults(tokens: list[re.Match[str]], seen: _Seen) -> Iterator[str]:
    power = False
    for found in tokens:
        if found[2]:
            number = _number(found[2])
            if number is None or number <= 0 or (power and number not in (1, 2, 3)):
                yield f"'{found[2]}' will not do; write a {'power of 2 or 3' if power else 'number above 0'}"
        elif found[3] and (power or found[3] not in seen.names):
            yield f"no line above defines '{found[3]}'; write a unit that stands above, or put its own line first"
        power = found[1] == "**"
    if not any(found[3] for found in tokens):
        yield "names no unit; write a number times a unit above it, or a [dimension]"
