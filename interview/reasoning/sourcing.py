"""Where each piece of advice comes from: a numbered list, strongest basis first."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from interview.plan.model import SourceLine
from interview.plan.parts import STRENGTH, Basis, Decision, Figure, Step, Warned
from knowledge.loading import Knowledge
from knowledge.shape import Row

_WORDS = {
    "your trial": "Your own trial",
    "your label": "The label of what you use",
    "computed": "Computed here; the working is shown on request",
    "common practice": "Common practice of the trade, no published source",
    "from memory": "From memory; check it before you lean on it",
    "your answer": "What you told",
    "assumed": "Assumed on the safe side, because you were not sure",
}


def sources(
    knowledge: Knowledge,
    decision: Decision,
    steps: Sequence[Step],
    cautions: Sequence[Warned],
    figures: Sequence[Figure] = (),
) -> tuple[SourceLine, ...]:
    """Every basis that the plan rests on, each with what rests on it."""
    backs: dict[Basis, list[tuple[str, str]]] = {}
    uses = _uses(knowledge, decision, steps, cautions)
    uses += [(f.basis, f"figure: {f.label}", f"figure:{f.id}") for f in figures]
    for basis, what, id in uses:
        backs.setdefault(basis, []).append((what, id))
    ordered = sorted(backs, key=lambda b: (STRENGTH.index(b.kind), b.source, b.locator))
    return tuple(
        SourceLine(
            number=n,
            text=_text(knowledge, b),
            short=_short(knowledge, b),
            backs=tuple(dict.fromkeys(what for what, _ in backs[b])),
            ids=tuple(dict.fromkeys(id for _, id in backs[b])),
        )
        for n, b in enumerate(ordered, 1)
    )


def _uses(
    knowledge: Knowledge, decision: Decision, steps: Sequence[Step], cautions: Sequence[Warned]
) -> list[tuple[Basis, str, str]]:
    """(basis, what rests on it in words, the same by id)"""
    names = {z.id: z.name for z in decision.zones}
    used: list[tuple[Basis, str, str]] = []
    for v in decision.verdicts:
        says, id = f"{v.reason}, {names[v.zone]}", f"verdict:{v.zone}"
        used += [(f.basis, says, id) for f in v.findings if v.need != "not needed"]
    for row in _rows(knowledge, decision):
        used.append((_named(row), f"properties of {row.name}", f"row:{row.id}"))
        used += [(Basis("published", c.source, c.locator), f"{c.of} of {row.name}", f"row:{row.id}") for c in row.cites]
    used += [(s.basis, f"step: {s.name}", f"step:{s.id}") for s in steps if s.kind != "trial"]
    used += [(t.basis, f"trial: {t.name}", f"trial:{t.id}") for t in decision.trials]
    used += [(c.basis, f"caution: {c.name}", f"caution:{c.id}") for c in cautions]
    return used


def _named(row: Row) -> Basis:
    """A row of the maker's own files says so, and which of ours it stands in for."""
    if not row.origin.startswith("knowledge/"):
        return Basis("your own row", row.origin)
    return Basis(row.basis, row.source, row.locator)


def _rows(knowledge: Knowledge, decision: Decision) -> list[Any]:
    ids = {i for z in decision.zones for i in (*z.ids("materials"), *z.ids("media"))}
    ids |= {t.sealer for t in decision.treatments}
    tables = (knowledge.materials, knowledge.inclusions, knowledge.media, knowledge.sealers)
    return [row for table in tables for id, row in table.items() if id in ids]


def _text(knowledge: Knowledge, basis: Basis) -> str:
    if basis.kind == "your own row":
        return f"Your own file: {basis.source}"
    if basis.kind != "published":
        return _WORDS[basis.kind]
    row = knowledge.sources.get(basis.source)
    if row is None:
        return f"{basis.source}, {basis.locator}"
    date = f", {row.date}" if row.date else ""
    return f"{row.publisher}: {row.title}{date}, {basis.locator}"


def _short(knowledge: Knowledge, basis: Basis) -> str:
    """Enough to find document and place: "MIL-HDBK-1110, 7.4.2". What a passage says is left to the full text,
    and so is a locator that names no place.
    """
    row = knowledge.sources.get(basis.source) if basis.kind == "published" else None
    if row is None:
        return _text(knowledge, basis)
    place, colon, _ = basis.locator.partition(": ")
    return ", ".join((row.short or row.title, *([place] if colon else ())))
