"""One input tried: how it came out, how long it took. A traceback, a hang or too much memory is a find."""

from __future__ import annotations

import re
import resource
import signal
import time
import traceback
from dataclasses import dataclass
from types import FrameType

from tests.hostile.common import Target

PATIENCE = 2.0  # seconds of work for one input
LONG_PATIENCE = 60.0  # seconds on the clock, on a machine that is busy with other things: then something waits for ever
_QUOTED = re.compile(r"\"[^\"]*\"|'[^']*'|\d+")


class Hang(BaseException):
    """The alarm rang: an input took longer than anybody would wait."""


@dataclass(frozen=True, slots=True)
class Find:
    """What should not have come about."""

    target: str
    data: bytes
    trouble: str

    @property
    def where(self) -> str:
        """The kind of trouble, so that one defect is told once."""
        return _QUOTED.sub("*", self.trouble.strip().splitlines()[-1])[:200]


@dataclass(frozen=True, slots=True)
class Tried:
    """`outcome`: how it came out, without the particulars; "" where it is a find."""

    outcome: str
    seconds: float
    find: Find | None = None


def _ring(_: int, __: FrameType | None) -> None:
    raise Hang


def attempt(target: Target, data: bytes, patience: float = PATIENCE) -> Tried:
    """Give one input to a target. Never raises."""
    before = [(number, signal.signal(number, _ring)) for number in (signal.SIGALRM, signal.SIGPROF)]
    began = time.process_time()
    outcome, trouble = "", ""
    try:
        signal.setitimer(signal.ITIMER_REAL, LONG_PATIENCE)
        signal.setitimer(signal.ITIMER_PROF, patience)
        outcome = _QUOTED.sub("*", target.run(data))[:160]
    except (Exception, Hang):
        trouble = traceback.format_exc()
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.setitimer(signal.ITIMER_PROF, 0)
        for number, handler in before:
            signal.signal(number, handler)
    find = Find(target.name, data, trouble) if trouble else None
    return Tried(outcome, time.process_time() - began, find)


def bound_memory(megabytes: int) -> None:
    """More than this is refused, and the MemoryError then is a find."""
    resource.setrlimit(resource.RLIMIT_AS, (megabytes << 20, resource.getrlimit(resource.RLIMIT_AS)[1]))


def memory_used() -> float:
    """The most megabytes this process ever held."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
