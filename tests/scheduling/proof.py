"""The long checks, by command: `python -m tests.scheduling.proof [batches] [compared] [stalls]`.

Thousands of random batches through the checker, hundreds against CP-SAT's best, and the distribution.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from statistics import mean, median

from interview.reasoning.scheduling.planning import schedule
from interview.reasoning.scheduling.tasks import CannotSchedule, Problem, Schedule
from interview.reasoning.timetable import arrange
from tests.scheduling.batches import random_batch
from tests.scheduling.best import best
from tests.scheduling.checking import faults
from tests.scheduling.stall import piece_faults, random_stall

HORIZON = 35 * 1440  # minutes within which CP-SAT may look for a schedule that we say does not exist


@dataclass(frozen=True, slots=True)
class Compared:
    """One batch against CP-SAT. `over`: the share by which our finish is later; None where both have none."""

    seed: int
    over: float | None
    proven: bool
    fault: str = ""


def compare(seed: int, *, seconds: float = 20.0) -> Compared:
    """Ours first; its finish is where CP-SAT need not look beyond."""
    problem = random_batch(seed, most_tasks=12)
    ours = attempt(problem)
    if ours is None:
        theirs = best(problem, HORIZON, seconds)
        fault = "" if theirs.finish is None else f"CP-SAT finishes at {theirs.finish} where we find nothing"
        return Compared(seed, None, theirs.proven, fault)
    broken = faults(ours)
    if broken:
        return Compared(seed, None, False, broken[0])
    theirs = best(problem, ours.finish, seconds)
    if theirs.finish is None:
        return Compared(seed, 0.0, False, "CP-SAT says there is no schedule" if theirs.proven else "")
    fault = f"the bound {ours.bound} is above the best, {theirs.finish}" if ours.bound > theirs.finish else ""
    return Compared(seed, (ours.finish - theirs.finish) / max(1, theirs.finish), theirs.proven, fault)


def attempt(problem: Problem) -> Schedule | None:
    try:
        return schedule(problem)
    except CannotSchedule:
        return None


def check_batches(seeds: range) -> Iterator[str]:
    """A line for every fault found."""
    for seed in seeds:
        made = attempt(random_batch(seed, most_tasks=20))
        if made is not None:
            yield from (f"batch {seed}: {fault}" for fault in faults(made))


def table(results: list[Compared]) -> str:
    """The distribution, as text."""
    over = [r.over for r in results if r.over is not None]
    steps = (0.0, 0.01, 0.02, 0.05, 0.1, 0.2, 10.0)
    bins = Counter(next(s for s in steps if o <= s + 1e-12) for o in over)
    lines = [
        f"{len(results)} batches: {len(over)} with a schedule, {len(results) - len(over)} without",
        f"proven by CP-SAT: {sum(r.proven for r in results)}",
        f"later than the best: mean {mean(over):.2%}, median {median(over):.2%}, most {max(over):.2%}",
    ]
    lines += [f"  up to {step:6.0%}: {bins[step]:4d}  {'#' * (60 * bins[step] // len(over))}" for step in steps]
    lines += [f"  batch {r.seed}: {r.fault}" for r in results if r.fault]
    return "\n".join(lines)


def check_stalls(seeds: range) -> Iterator[str]:
    """Whole stalls, every piece looked at."""
    for seed in seeds:
        kinds, means = random_stall(seed)
        time = arrange(kinds, means)
        yield from (f"stall {seed}: {fault}" for fault in piece_faults(kinds, means, time))


def main(batches: int = 5000, compared: int = 250, stalls: int = 500) -> int:
    wrong = []
    for seed in range(1000, 1000 + stalls):
        wrong += list(check_stalls(range(seed, seed + 1)))
        print(f"\r{seed - 999} of {stalls} stalls checked, {len(wrong)} faults", end="", flush=True)
    print()
    for begin in range(0, batches, 100):
        wrong += list(check_batches(range(begin, min(begin + 100, batches))))
        print(
            f"\r{min(begin + 100, batches)} of {batches} batches checked, {len(wrong)} faults",
            end="",
            flush=True,
        )
    print()
    results = []
    for seed in range(100_000, 100_000 + compared):
        results.append(compare(seed))
        print(f"\r{len(results)} of {compared} compared with CP-SAT", end="", flush=True)
    print()
    print("\n".join(wrong))
    if any(r.over is not None for r in results):
        print(table(results))
    return 1 if wrong or any(r.fault for r in results) else 0


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
