"""Two plans -> what changed, in words."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from interview.plan.model import Plan


def changes(before: Plan, after: Plan) -> list[str]:
    """One line a change, zones first. Empty where the plans come to the same."""
    lines = _zone_changes(before, after)
    lines += _list_changes("Do first", before.preps, after.preps, lambda p: p.name.lower())
    lines += _list_changes("Trial", before.trials, after.trials, lambda t: t.name.lower())
    lines += _list_changes("Way out", before.outlets, after.outlets, lambda o: o.name.lower())
    return lines


def _zone_changes(before: Plan, after: Plan) -> list[str]:
    old = {z.zone: z for z in before.zone_lines}
    lines = []
    for new in after.zone_lines:
        was = old.pop(new.zone, None)
        name = new.name[:1].upper() + new.name[1:]
        if was is None:
            lines.append(f"{name}, new: {new.line}.")
        elif was.line != new.line:
            lines.append(f"{name}: {new.line}. It was: {was.line}.")
    lines += [f"{z.name[:1].upper()}{z.name[1:]}: no longer part of it." for z in old.values()]
    return lines


def _list_changes(label: str, before: Iterable[Any], after: Iterable[Any], name: Callable[[Any], str]) -> list[str]:
    old, new = [name(x) for x in before], [name(x) for x in after]
    added = [f"{label}, new: {n}." for n in new if n not in old]
    return added + [f"{label}, no longer: {n}." for n in old if n not in new]
