"""Classes, such as "some wood": each becomes a row of its members' table, the worst of each property of theirs.

Reasoning then works on it as on any row. Made anew each time the knowledge is loaded, so a shop's own rows count.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from knowledge import shape
from knowledge.combining import combined

_TYPES: Mapping[str, tuple[str, type]] = {
    "material": ("materials", shape.Material),
    "inclusion": ("inclusions", shape.Inclusion),
    "medium": ("media", shape.Medium),
}


def add_classes(shelves: Mapping[str, dict[str, Any]]) -> list[tuple[str, str]]:
    """Put the row of each class into its table. Gives (class id, what is wrong) where one cannot be made.

    `shelves`: rows by id, by the names that `Knowledge` has for them.
    """
    faults: list[tuple[str, str]] = []
    for one in shelves["classes"].values():
        table = shelves[_TYPES[one.of][0]]
        wrong = list(_faults(one, table))
        if wrong:
            faults += ((one.id, says) for says in wrong)
            continue
        members = _members(one, table)
        table[one.id] = _row(one, [table[id] for id in members], shelves["properties"])
        for sealer in list(shelves["sealers"].values()):
            if set(members) <= set(sealer.made_for):
                shelves["sealers"][sealer.id] = replace(sealer, made_for=(*sealer.made_for, one.id))
    return faults


def _members(one: shape.Class, table: Mapping[str, Any]) -> tuple[str, ...]:
    """In the order of the table; no class is a member of another."""
    rows, families = set(one.rows), set(one.families)
    return tuple(
        id
        for id, row in table.items()
        if (id in rows or getattr(row, "family", "") in families) and id not in one.without and not row.members
    )


def _faults(one: shape.Class, table: Mapping[str, Any]) -> Iterator[str]:
    for key, ids in (("rows", one.rows), ("without", one.without), ("kinds", [k.row for k in one.kinds])):
        yield from (f"'{key}' names the {one.of} '{id}', which is in no file" for id in ids if id not in table)
    if one.id in table and not table[one.id].members:
        yield f"there is a {one.of} of this id"
    members = _members(one, table)
    if len(members) < 2:
        yield "has fewer than two members"
    elif not one.family and len({getattr(table[id], "family", "") for id in members}) > 1:
        yield 'has members of several families; say its own: family = "..."'


def _row(one: shape.Class, members: Sequence[Any], properties: Mapping[str, shape.Property]) -> Any:
    values: dict[str, Any] = {}
    for prop in properties.values():
        if one.of in prop.of and prop.combine != "own":
            values[prop.id] = combined(prop.combine, [getattr(m, prop.id) for m in members], prop.values)
    if one.family:
        values["family"] = one.family
    worst = next((m for m in members if m.stop and m.stop == values["stop"]), None)
    if worst is not None:
        values["note"] = f"It may be {worst.name}. {worst.note}"
    return _TYPES[one.of][1](
        id=one.id, basis=one.basis, reviewed=one.reviewed, origin=one.origin, name=one.name,
        members=tuple(m.id for m in members), **values,
    )  # fmt: skip


def class_named(classes: Mapping[str, shape.Class], value: Any) -> shape.Class | None:
    """The class that an answer names ("some wood"), or None. `value`: as answers hold it."""
    named = sorted(value) if isinstance(value, frozenset) else (value,)
    return next((classes[id] for id in named if id in classes), None)


def not_sure_after(classes: Mapping[str, shape.Class], value: object) -> object | None:
    """What "not sure" of the kind comes to once `value` was said: that again where it names a class, else None."""
    return value if class_named(classes, value) else None
