"""The whole walk: python -m tests.proof. Prints what was gone through, what was argued, and every fault found.

--sample N     go through one in N of everything (a first look)
--jobs N       so many processes (as many as the machine has)
--only PART    zones, pieces, talks, order, same; may be given more than once
--with FOLDER  with an own folder of knowledge
"""

from __future__ import annotations

import argparse
import multiprocessing
import os
import random
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from knowledge.loading import Knowledge, load
from tests.proof import lengths, orders, pieces, sameness, talks, zones
from tests.proof.pieces import Base
from tests.proof.tally import Tally, shown

PARTS = ("zones", "pieces", "talks", "order", "same")
PIECES_A_LOT, TALKS_A_LOT = 200, 10
TALKED = 10  # one in so many of the single classes is talked through; each class many times, none with every other
TABLES = (
    "needs",
    "bars",
    "coats",
    "preparations",
    "trials",
    "ways_out",
    "steps",
    "cautions",
    "remedies",
    "remarks",
    "contradictions",
)
ARGUED = """
Argued, and held by the walk:
  What is decided over a zone hangs on its own facts, on the need of the front of its body for absorption,
  and for the choice of sealers on one sealer that suits the whole sheet. Rules read no fact that the states
  of zones leave out, or the walk says so; every zone of every piece walked is in one of those states, or the
  walk says so. So the zones are gone through whole, and pieces need not be the product of all answers: they
  are gone through over all classes of materials and media and all mixes of either, the other answers drawn so
  that they meet in pairs. Rows are one class where no rule on sealing and no question can tell them apart; a
  mix of rows is worth the strongest of what its rows are worth, and each mix is asked of the real zones
  whether that is so. A row with a way out of its own stops its zone whatever lies beside it: three rules,
  which read nothing else."""

Met = set[tuple[str, str]]


def main() -> int:
    """Returns 0 where everything holds, 1 where something does not."""
    told = _arguments()
    knowledge = load(told.extra)
    start, all_ = time.monotonic(), Tally()
    for part in told.only or PARTS:
        print(f"\n{part}", flush=True)
        tally = _PARTS[part](knowledge, told)
        print("\n".join(tally.lines()), flush=True)
        all_.add(tally)
    if not told.only:
        never = [
            f"  {table}: {id}" for table in TABLES for id in getattr(knowledge, table) if (table, id) not in all_.held
        ]
        print("\nrules that came to hold in none of them", *(never or ["  none"]), ARGUED, sep="\n")
    print(f"\n{sum(all_.faults.values()):,} faults in {time.monotonic() - start:,.0f} s")
    return int(bool(all_.faults))


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.proof")
    parser.add_argument("--sample", type=int, default=1, metavar="N", help="one in N of everything")
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1, metavar="N", help="so many processes")
    parser.add_argument("--only", action="append", choices=PARTS, help="only this part")
    parser.add_argument("--with", dest="extra", type=Path, metavar="FOLDER", help="an own folder of knowledge")
    return parser.parse_args()


# ------------------------------------------------------------------ the parts


def _zones(knowledge: Knowledge, told: argparse.Namespace) -> Tally:
    return zones.prove(knowledge, 1 / told.sample)


def _pieces(knowledge: Knowledge, told: argparse.Namespace) -> Tally:
    have = pieces.row_classes(knowledge)
    media, mixed = len(knowledge.media), len(pieces.media_mixes(knowledge))
    print(f"  {media} media are {len(have.media)} classes and, mixed, {mixed}")
    for piece, supports in have.supports.items():
        rows, mixed = len(pieces.offered(knowledge, piece)), len(pieces.support_mixes(knowledge, piece))
        print(f"  {piece}: {rows} materials are {len(supports)} classes and, mixed, {mixed}")
    print(f"  {len(knowledge.inclusions)} things are {len(have.things)} classes", flush=True)
    return _spread(knowledge, pieces.bases(knowledge)[:: told.sample], _walk_pieces, PIECES_A_LOT, told.jobs, "pieces")


def _talks(knowledge: Knowledge, told: argparse.Namespace) -> Tally:
    chosen = pieces.single_bases(knowledge)[:: TALKED * told.sample]
    tally = _spread(knowledge, chosen, _walk_talks, TALKS_A_LOT, told.jobs, "conversations")
    bounds = lengths.bound(knowledge)
    for label, by_length in tally.lengths.items():
        mean = sum(n * c for n, c in by_length.items()) / sum(by_length.values())
        print(f"  {label}: {min(by_length)} to {max(by_length)} questions, {mean:.1f} on average")
        if max(by_length) > max(bounds.values()):
            tally.fault(f"9: a conversation of {max(by_length)} questions is longer than any can be", bounds)
    print(
        "  by the conditions of the questions none can be longer than: "
        + ", ".join(f"{p} {n}" for p, n in bounds.items())
    )
    return tally


def _order(knowledge: Knowledge, told: argparse.Namespace) -> Tally:
    single = pieces.single_bases(knowledge)
    some, rounds = single[:: max(1, len(single) // 150)], max(20, 400 // told.sample)
    bar = iter(shown(range(rounds), rounds, "orders of questions"))
    found = orders.search(knowledge, some, rounds, lambda: next(bar, None))
    print(f"  mean questions about the piece until nothing open can change the plan, over {len(some)} pieces:")
    print(f"    {found.now:.2f} as they are asked, {found.best:.2f} in the best of {found.tried} orders tried")
    print("    best: " + ", ".join(found.order))
    return Tally()


def _same(knowledge: Knowledge, told: argparse.Namespace) -> Tally:
    tally, every = Tally(), pieces.bases(knowledge)
    sameness.prove(knowledge, every[:: max(1, len(every) * told.sample // 300)], tally)
    return tally


_PARTS: dict[str, Callable[[Knowledge, argparse.Namespace], Tally]] = {
    "zones": _zones, "pieces": _pieces, "talks": _talks, "order": _order, "same": _same,
}  # fmt: skip


# ------------------------------------------------------------------ over several processes

_shared: tuple[Knowledge, Sequence[Base]]  # forked processes find it here


def _walk_pieces(lot: tuple[int, int]) -> tuple[Tally, Met]:
    knowledge, chosen = _shared
    tally, met = Tally(), Met()
    for base in chosen[slice(*lot)]:
        met |= set(pieces.pairs(pieces.check(knowledge, pieces.answers_for(knowledge, base), tally)))
    return tally, met


def _walk_talks(lot: tuple[int, int]) -> tuple[Tally, Met]:
    knowledge, chosen = _shared
    tally = Tally()
    for base in chosen[slice(*lot)]:
        talks.converse(knowledge, base, tally, unsure=random.Random(base.number).random() < 0.25)
    return tally, Met()


def _spread(
    knowledge: Knowledge, chosen: Sequence[Base], work: Callable[[tuple[int, int]], tuple[Tally, Met]],
    size: int, jobs: int, label: str,
) -> Tally:  # fmt: skip
    global _shared
    _shared = (knowledge, chosen)
    lots = [(n, n + size) for n in range(0, len(chosen), size)]
    tally, met, late = Tally(), Met(), 0
    with multiprocessing.get_context("fork").Pool(jobs) as pool:
        results: Iterator[tuple[Tally, Met]] = pool.imap(work, lots)
        for done, (part, pairs) in enumerate(shown(results, len(lots), label), 1):
            tally.add(part)
            late += len(pairs - met) if done > len(lots) * 0.9 else 0
            met |= pairs
    if met:
        print(f"  {len(met):,} pairs of answers stood together, {late:,} of them first met in the last tenth")
    return tally


if __name__ == "__main__":
    sys.exit(main())
