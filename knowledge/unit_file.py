"""knowledge/units.txt, line by line: what is wrong with it. The file's head tells its form; pint reads it in earnest."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from knowledge.loading import Fault, read_text

UNITS = "units.txt"
GROUP = "@group imperial"  # what is asked for to tell how a person thinks
FORM = "write name = 12 * unit above = symbol = other names"
# reads one sound line after the other as those do who use them; gives what is wrong with it, or nothing
Reads = Callable[[str], str]


def unit_faults(path: Path, wanted: Iterable[str] = (), reads: Reads | None = None) -> list[Fault]:
    """All that is wrong with a file of units. `wanted`: units that rows are written in, "m2/L" being two.

    `reads`: how a line is read in earnest, if the caller has it at hand.
    """
    faults: list[Fault] = []
    names: dict[str, int] = {}
    lines = [line.split("#", 1)[0].strip() for line in read_text(path, path.name, faults).splitlines()]
    if faults:
        return faults
    for number, line in ((n, line) for n, line in enumerate(lines, 1) if line and not line.startswith("@")):
        says = reads(line) if reads is not None else ""
        if says:
            faults.append(Fault(path.name, f"line {number}", f"cannot be read: {says}; {FORM}"))
        name, _, *others = (part.strip() for part in line.split("="))
        for word in (name, *(other for other in others if other != "_")):
            where = names.setdefault(word, number)
            if where != number:
                faults.append(Fault(path.name, f"line {number}", f"'{word}' is a name in line {where}, too; keep one"))
    units = dict.fromkeys(word.lower() for unit in wanted for word in unit.split("/"))
    faults += (Fault(path.name, "", f"'{word}' is missing; {FORM}") for word in units if word not in names)
    if GROUP not in lines:
        faults.append(Fault(path.name, "", f"has no {GROUP}; write it above the inches, and @end below the gallons"))
    return faults
