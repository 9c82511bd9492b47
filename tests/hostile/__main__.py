"""Fuzz everything that takes input: python -m tests.hostile [--inputs N] [--seed N] [--only NAME] [--jobs N]

A million inputs take twenty minutes on two free cores. What is found is told, and kept in cases/.
"""

from __future__ import annotations

import argparse
import sys
import zlib

from tests.hostile.fuzzing import CASES, Tally, run
from tests.hostile.targets import BY_NAME
from tests.hostile.watching import Find

_BAR = 40


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.hostile", description=__doc__)
    parser.add_argument("--inputs", type=int, default=1_000_000, metavar="N")
    parser.add_argument("--seed", type=int, default=1, metavar="N", help="another seed, other inputs")
    parser.add_argument("--only", action="append", default=[], choices=list(BY_NAME))
    parser.add_argument("--jobs", type=int, default=2, metavar="N", help="processes")
    options = parser.parse_args()
    tallies: dict[str, Tally] = {}
    done = 0
    for name, tally in run(options.inputs, options.seed, options.only, options.jobs):
        tallies.setdefault(name, Tally()).add(tally)
        done += tally.inputs
        _show_progress(name, done, options.inputs, sum(len(t.finds) for t in tallies.values()))
    print(file=sys.stderr)
    _print_table(tallies)
    finds = [find for tally in tallies.values() for find in tally.finds.values()]
    for find in finds:
        _keep(find)
    return 1 if finds else 0


def _show_progress(name: str, done: int, total: int, finds: int) -> None:
    filled = min(_BAR, _BAR * done // max(1, total))
    bar = "#" * filled + "." * (_BAR - filled)
    print(f"\r[{bar}] {done:>9,} of {total:,}  {finds} found  {name:<15}", end="", file=sys.stderr, flush=True)


def _print_table(tallies: dict[str, Tally]) -> None:
    print(
        f"{'target':<16}{'inputs':>11}{'outcomes':>10}{'a second':>10}"
        f"{'slowest s':>11}{'MB':>6}{'grown':>7}{'found':>7}"
    )
    for name, tally in tallies.items():
        pace = tally.inputs / max(tally.seconds, 1e-9)
        print(
            f"{name:<16}{tally.inputs:>11,}{len(tally.outcomes):>10,}{pace:>10,.0f}{tally.slowest:>11.3f}"
            f"{tally.memory:>6.0f}{tally.grown:>7.0f}{len(tally.finds):>7}"
        )
    print(f"{'all':<16}{sum(t.inputs for t in tallies.values()):>11,}")
    for name, tally in tallies.items():
        print(f"slowest of {name}: {len(tally.slowest_data)} bytes, {tally.slowest_data[:70]!r}")


def _keep(find: Find) -> None:
    """The input as a case, and what it did."""
    folder = CASES / find.target
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"{zlib.crc32(find.data):08x}"
    path.write_bytes(find.data)
    print(f"\n{path}\n{find.trouble}")


if __name__ == "__main__":
    sys.exit(main())
