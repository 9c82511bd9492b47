"""How the cost of a schedule grows, by command: `python -m tests.benchmarks.bench_schedule [pieces ...]`.

Not part of the test run. Prints times of this machine and, to compare, the time a piece against that of the first line.
"""

from __future__ import annotations

import sys
from time import perf_counter

from interview.reasoning.jobs import Sizes, jobs
from interview.reasoning.lots import Kind, Means
from interview.reasoning.scheduling.bound import lower_bound
from interview.reasoning.scheduling.generating import ground, run
from interview.reasoning.timetable import arrange, timeline
from tests.scheduling.stall import AT_HOME, WEDNESDAY, plan, pour_steps, step

MEANS = Means(AT_HOME, WEDNESDAY, table=1.5, rack=3.0, pot=400.0, working_time=45)
KINDS = 20


def stall(pieces: int, kinds: int = KINDS) -> list[Kind]:
    """So many pieces of up to so many kinds, no two plans alike."""
    kinds = min(kinds, pieces)
    made = []
    for number in range(kinds):
        coats = [
            step(
                f"seal.a.{coat}",
                5 + number % 4,
                (30, 60),
                after=((f"seal.a.{coat - 1}", 30, None),) if coat > 1 else (),
            )
            for coat in range(1, 2 + number % 3)
        ]
        name = f"kind {number}"
        steps = [step("trial.drop", 10, (5, 5), name=name), *coats, *pour_steps([(coats[-1].id, 1440)])]
        size = {"shape": "rectangle", "width": 120.0 + 10 * (number % 5), "height": 150.0}
        count = pieces // kinds + (number < pieces % kinds)
        made.append(Kind(name, plan(steps, size=size, count=count, resin=90.0 * count), count))
    return made


def one_plan() -> float:
    """Seconds for one plan on the clock, the best of many."""
    single = stall(1)[0].plan
    return min(timed(lambda: timeline(single, MEANS)) for _ in range(20))


def timed(work: object) -> float:
    begin = perf_counter()
    work()  # type: ignore[operator]
    return perf_counter() - begin


def growth(sizes: list[int]) -> None:
    print("pieces  kinds  tasks   one pass   a piece   whole plan   a piece   days   over the bound")
    base: tuple[float, float] | None = None
    for pieces in sizes:
        kinds = stall(pieces)
        problem = jobs(kinds, MEANS, Sizes(8)).problem
        ready = ground(problem)
        lower_bound(ready)
        ranks = [float(b.number) for b in ready.network.blocks]
        single = min(timed(lambda: run(ready, ranks, parallel=False)) for _ in range(2))  # noqa: B023
        begin = perf_counter()
        time = arrange(kinds, MEANS)
        whole = perf_counter() - begin
        base = base or (single / pieces, whole / pieces)
        days = (time.ready - time.begins).days
        over = (time.ready - time.bound) / (time.bound - MEANS.begin)
        print(
            f"{pieces:6d}  {len(kinds):5d}  {len(problem.tasks):5d}  {single:7.3f} s  {single / pieces / base[0]:6.2f} x"
            f"  {whole:8.2f} s   {whole / pieces / base[1]:6.2f} x  {days:5d}   {over:6.1%}",
            flush=True,
        )


if __name__ == "__main__":
    print(f"one plan on the clock: {one_plan() * 1000:.1f} ms")
    growth([int(a) for a in sys.argv[1:]] or [10, 20, 50, 100, 200, 500, 1000])
