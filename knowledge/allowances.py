"""Values for where neither a label nor an answer tells: knowledge/allowances.toml as frozen rows."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from knowledge.loading import Fault, KnowledgeError, read_toml, rows_in
from knowledge.shape import BasisKind, Span

FILE = Path(__file__).parent / "allowances.toml"
SOLID = {
    "stone": "solid_stone", "ceramic": "solid_stone", "cement": "solid_stone", "mineral": "solid_stone",
    "leather": "solid_leather", "plastic": "solid_plastic",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Allowance:
    """One value or range with its unit and where it comes from."""

    id: str
    name: str
    value: Span
    basis: BasisKind
    source: str = ""
    locator: str = ""


@cache
def load_allowances(path: Path = FILE) -> dict[str, Allowance]:
    """Read the file. Raises KnowledgeError naming every fault."""
    faults: list[Fault] = []
    rows: dict[str, Allowance] = {}
    data = read_toml(path, path.name, faults)
    for row in rows_in(data, {"allowance": Allowance}, path.name, faults)["allowance"]:
        if row.id in rows:
            faults.append(Fault(path.name, row.id, "there is another allowance of this id"))
        if (row.basis == "published") != bool(row.source and row.locator):
            faults.append(Fault(path.name, row.id, "is published, so it needs source and locator, or is not"))
        rows[row.id] = row
    if faults:
        raise KnowledgeError(faults)
    return rows


def allowance(id: str) -> Allowance:
    """One of them. Raises KeyError."""
    return load_allowances()[id]


def solid_density(family: str) -> Allowance:
    """Density (g/cm3) of a material of this family with no air in it; fibre where nothing else is known."""
    return load_allowances()[SOLID.get(family, "solid_paper")]
