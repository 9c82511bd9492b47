"""Solvents, propellants and assumed mixtures: knowledge/solvents.toml as frozen rows, read when first needed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal

from knowledge.formulas.ventilation import mg_per_m3, ppm_of
from knowledge.loading import Fault, KnowledgeError, read_toml, rows_in
from knowledge.shape import BasisKind, Carrier, Method, Span

FILE = Path(__file__).parent / "solvents.toml"
LimitKind = Literal["PEL", "REL", "STEL", "ceiling", "WEEL", "IDLH", "LEL", "flash"]
LONG: tuple[LimitKind, ...] = ("PEL", "REL", "WEEL")  # over a working day
SHORT: tuple[LimitKind, ...] = ("STEL", "ceiling")


@dataclass(frozen=True, slots=True)
class Limit:
    """One published or remembered value."""

    kind: LimitKind
    value: float
    unit: Literal["ppm", "mg/m3", "%", "degC"]
    basis: BasisKind
    source: str = ""
    locator: str = ""


@dataclass(frozen=True, slots=True)
class Solvent:
    """One substance. See the head of solvents.toml."""

    id: str
    name: str
    cas: str
    mw: float
    kind: Literal["liquid", "gas", "petroleum"]
    limits: tuple[Limit, ...]
    lel: tuple[Limit, ...]
    also: tuple[str, ...] = ()
    mw_note: str = ""
    flash: Limit | None = None
    note: str = ""

    def ppm(self, limit: Limit) -> float:
        """A limit of the air in ppm, at 25 °C."""
        return limit.value if limit.unit == "ppm" else ppm_of(limit.value, self.mw)

    def mg(self, ppm: float) -> float:
        """ppm of this substance in mg/m3, at 25 °C."""
        return mg_per_m3(ppm, self.mw)

    def lowest(self, kinds: tuple[LimitKind, ...]) -> Limit | None:
        """The strictest limit of these kinds, or None where none is known."""
        return min((x for x in self.limits if x.kind in kinds), key=self.ppm, default=None)

    def lowest_lel(self) -> Limit:
        """The lowest of the published lower flammable limits, %."""
        return min(self.lel, key=lambda x: x.value)


@dataclass(frozen=True, slots=True)
class Mixture:
    """What a sealer of unknown contents is taken to hold. `parts`: solvent id to % by mass of what evaporates."""

    id: str
    name: str
    carrier: Carrier
    method: Method
    density: float  # g/mL
    volatile: float  # % by mass
    parts: dict[str, float]
    basis: BasisKind


@dataclass(frozen=True, slots=True)
class Opening:
    """How the air of a room is changed. `changes`: times an hour; `mixing`: K, which divides them."""

    id: str
    name: str
    changes: Span
    mixing: Span
    basis: BasisKind
    source: str = ""
    locator: str = ""


@dataclass(frozen=True, slots=True)
class Solvents:
    """All of the file."""

    solvents: dict[str, Solvent]
    mixtures: tuple[Mixture, ...]
    openings: dict[str, Opening]

    def assumed(self, carrier: str, method: str) -> tuple[Mixture, ...]:
        """The mixtures that stand for a carrier and a method; none for what evaporates only water."""
        return tuple(m for m in self.mixtures if m.carrier == carrier and m.method == method)


@cache
def load_solvents(path: Path = FILE) -> Solvents:
    """Read the file. Raises KnowledgeError naming every fault."""
    faults: list[Fault] = []
    kinds = {"solvent": Solvent, "mixture": Mixture, "opening": Opening}
    read = rows_in(read_toml(path, path.name, faults), kinds, path.name, faults)
    solvents, mixtures = read["solvent"], read["mixture"]
    by_id = {s.id: s for s in solvents}
    for m in mixtures:
        faults += [
            Fault(path.name, m.id, f"'{part}' is no solvent of this file") for part in m.parts if part not in by_id
        ]
        if not 0 < sum(m.parts.values()) <= 100:
            faults.append(Fault(path.name, m.id, f"its parts add up to {sum(m.parts.values()):g} %"))
    if faults:
        raise KnowledgeError(faults)
    return Solvents(by_id, tuple(mixtures), {o.id: o for o in read["opening"]})
