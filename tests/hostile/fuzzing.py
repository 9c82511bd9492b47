"""Runs of the fuzzer: chunks of a target on several processes. Inputs that come out anew are gone on from."""

from __future__ import annotations

import time
from collections.abc import Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from dataclasses import dataclass, field
from pathlib import Path

from tests.hostile.mutating import Mutator, words_of
from tests.hostile.targets import BY_NAME, TARGETS
from tests.hostile.watching import Find, attempt, bound_memory, memory_used

CASES = Path(__file__).parent / "cases"
CHUNK = 5000
MEGABYTES = 2000  # of address space for one process
_POOL = 4000  # inputs gone on from


@dataclass(slots=True)
class Tally:
    """What came of the inputs of one target."""

    inputs: int = 0
    outcomes: set[str] = field(default_factory=set)
    slowest: float = 0.0
    slowest_data: bytes = b""
    seconds: float = 0.0
    memory: float = 0.0  # MB, the most a process held
    grown: float = 0.0  # MB, the most a process gained over one chunk
    finds: dict[str, Find] = field(default_factory=dict)

    def add(self, other: Tally) -> None:
        self.inputs += other.inputs
        self.outcomes |= other.outcomes
        if other.slowest > self.slowest:
            self.slowest, self.slowest_data = other.slowest, other.slowest_data
        self.seconds += other.seconds
        self.memory, self.grown = max(self.memory, other.memory), max(self.grown, other.grown)
        for where, find in other.finds.items():
            if where not in self.finds or len(find.data) < len(self.finds[where].data):
                self.finds[where] = find


def cases_of(name: str) -> list[Path]:
    """What was found before, kept."""
    return sorted((CASES / name).glob("*"))


def run_chunk(name: str, seed: int, inputs: int) -> Tally:
    """So many inputs of one target. An input with an outcome not seen before joins those gone on from."""
    target = BY_NAME[name]
    seeds = target.seeds() + [path.read_bytes() for path in cases_of(name)]
    mutator = Mutator(seed, seeds, words_of(seeds))
    tally = Tally()
    attempt(target, seeds[0])  # warm, so that only the inputs are measured
    held, began = memory_used(), time.perf_counter()
    for _ in range(inputs):
        data = mutator.next()
        tried = attempt(target, data)
        if tried.seconds > tally.slowest:
            tally.slowest, tally.slowest_data = tried.seconds, data
        if tried.find:
            tally.finds.setdefault(tried.find.where, tried.find)
        elif tried.outcome not in tally.outcomes:
            tally.outcomes.add(tried.outcome)
            if len(mutator.pool) < _POOL:
                mutator.pool.append(data)
    tally.inputs, tally.seconds = inputs, time.perf_counter() - began
    tally.memory, tally.grown = memory_used(), memory_used() - held
    return tally


def chunks(total: int, seed: int, only: Sequence[str]) -> Iterator[tuple[str, int, int]]:
    """(target, seed, inputs), so that all targets get their share of `total`."""
    chosen = [t for t in TARGETS if not only or t.name in only]
    shares = sum(t.share for t in chosen)
    for number, target in enumerate(chosen):
        left = -(-total * target.share // shares)
        part = 0
        while left > 0:
            size = min(left, CHUNK if target.name != "conversation" else 400)
            yield target.name, seed * 1_000_003 + number * 10_007 + part, size
            left, part = left - size, part + 1


def run(total: int, seed: int, only: Sequence[str], jobs: int) -> Iterator[tuple[str, Tally]]:
    """Each chunk as it comes in. No more chunks wait than processes work."""
    waiting = chunks(total, seed, only)
    with ProcessPoolExecutor(jobs, initializer=bound_memory, initargs=(MEGABYTES,), max_tasks_per_child=40) as pool:
        at_work: dict[Future[Tally], str] = {}
        while True:
            while len(at_work) < jobs + 1 and (chunk := next(waiting, None)):
                at_work[pool.submit(run_chunk, *chunk)] = chunk[0]
            if not at_work:
                return
            for done in wait(at_work, return_when=FIRST_COMPLETED).done:
                yield at_work.pop(done), done.result()
