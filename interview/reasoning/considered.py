"""A sealer considered for a zone, and what was chosen for it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from interview.plan.parts import Finding, Zone
from knowledge.shape import Reason, Sealer


@dataclass(frozen=True, slots=True, eq=False)
class Option:
    """One sealer considered for one zone. `moves`: 0-2, what its carrier may do there; `wets`: the same, were it made
    for nothing. Equal only to itself."""

    sealer: Sealer
    moves: int
    bars: Mapping[Reason, tuple[Finding, ...]]  # by purpose; empty: may be used
    wets: int = 0

    def fits(self, purpose: Reason) -> bool:
        return not self.bars[purpose]


@dataclass(frozen=True, slots=True)
class Chosen:
    """The sealers of one zone in order, each with the reasons it serves."""

    zone: Zone
    links: tuple[tuple[Option, tuple[Reason, ...]], ...]


def cost(option: Option, reasons: Iterable[Reason]) -> tuple[int, ...]:
    """Lower is better: moves nothing, then at hand, then (for air alone) the tightest film, then a brush, then what
    needs no making for what is there, then rank."""
    sealer = option.sealer
    air_only = tuple(reasons) == ("trapped air",)
    tightness = 2 - sealer.blocks_air if air_only else 0
    return (option.moves, int(not sealer.at_hand), tightness, int(sealer.method == "spray"), option.wets, sealer.rank)
