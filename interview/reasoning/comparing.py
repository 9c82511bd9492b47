"""Two plans -> what changed, in words."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from interview.plan.model import Plan
from interview.text.wording import capital, listed, sentence


def changes(before: Plan, after: Plan) -> list[str]:
    """One line a change, zones first. Empty where the plans come to the same."""
    lines = _zone_changes(before, after)
    lines += _list_changes("Do first", before.preps, after.preps, lambda p: p.name.lower())
    lines += _list_changes("Trial", before.trials, after.trials, lambda t: t.name.lower())
    lines += _list_changes("Way out", before.outlets, after.outlets, lambda o: o.name.lower())
    return lines


def _zone_changes(before: Plan, after: Plan) -> list[str]:
    """Parts that change alike stand on one line."""
    old = {z.zone: z for z in before.zone_lines}
    says: dict[str, list[str]] = {}
    for new in after.zone_lines:
        was = old.pop(new.zone, None)
        if was is None:
            says.setdefault(f"new: {new.line}.", []).append(new.name)
        elif was.line != new.line:
            says.setdefault(f"{new.line}. It was: {was.line}.", []).append(new.name)
    for gone in old.values():
        says.setdefault("no longer part of it.", []).append(gone.name)
    return [f"{capital(listed(names))}{',' if what.startswith('new') else ':'} {what}" for what, names in says.items()]


def _list_changes(label: str, before: Iterable[Any], after: Iterable[Any], name: Callable[[Any], str]) -> list[str]:
    old, new = [name(x) for x in before], [name(x) for x in after]
    added = [sentence(f"{label}, new: {n}") for n in new if n not in old]
    return added + [sentence(f"{label}, no longer: {n}") for n in old if n not in new]
