"""The program as a process of its own, forked from this one, which has everything loaded already.

Start-up is the most that a short run of the program costs. Its pipes, limits, environment and folders are real.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import traceback
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import cache
from pathlib import Path

from interview.conversation.adviser import load_adviser

PATIENCE = 60  # seconds


def nothing_more() -> None:
    """What is done in the new process before the program begins."""


def run_forked(
    arguments: Sequence[str],
    typed: bytes,
    environment: Mapping[str, str],
    prepare: Callable[[], None] = nothing_more,
    folder: Path | None = None,
) -> subprocess.CompletedProcess[bytes]:
    """As subprocess.run, without loading anything anew. `typed` has to fit into a pipe, so does what is complained."""
    _warm()
    assert len(typed) < 60_000
    pipes = [os.pipe() for _ in range(3)]
    os.write(pipes[0][1], typed)
    sys.stdout.flush()
    sys.stderr.flush()
    child = os.fork()
    if child == 0:
        _be_the_program(pipes, arguments, environment, prepare, folder)
    for end in (pipes[0][0], pipes[0][1], pipes[1][1], pipes[2][1]):
        os.close(end)
    with _killed_if_it_hangs(child), os.fdopen(pipes[1][0], "rb") as out, os.fdopen(pipes[2][0], "rb") as err:
        shown, complained = out.read(), err.read()
        status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    return subprocess.CompletedProcess(list(arguments), status, shown, complained)


@cache
def _warm() -> None:
    from interview.brief.forms import render
    from interview.commands import batch, entry, parser  # noqa: F401
    from interview.conversation import sessions  # noqa: F401
    from interview.files import answers_file, journal, paths  # noqa: F401
    from interview.quantities.units import warm_up
    from interview.reasoning.planner import make_plan
    from interview.terminal import plain_console  # noqa: F401
    from tests.test_cli import GOOD

    warm_up()
    knowledge = load_adviser().knowledge
    render(make_plan(knowledge, answers_file.read_answers(GOOD.encode(), knowledge)), "terminal")


@contextmanager
def _killed_if_it_hangs(child: int) -> Iterator[None]:
    def late(*_: object) -> None:
        os.kill(child, signal.SIGKILL)

    before = signal.signal(signal.SIGALRM, late)
    signal.alarm(PATIENCE)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


def _be_the_program(
    pipes: Sequence[tuple[int, int]],
    arguments: Sequence[str],
    environment: Mapping[str, str],
    prepare: Callable[[], None],
    folder: Path | None,
) -> None:
    """Never returns."""
    status = 99
    try:
        for number, end in enumerate((pipes[0][0], pipes[1][1], pipes[2][1])):
            os.dup2(end, number)
        for pipe in pipes:
            for end in pipe:
                os.close(end)
        os.environ.clear()
        os.environ.update(environment)
        sys.stdin = open(0, encoding="utf-8", closefd=False)  # noqa: SIM115
        sys.stdout = open(1, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
        sys.stderr = open(2, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
        if folder is not None:
            os.chdir(folder)
        prepare()
        from interview.commands.entry import main

        status = main(arguments)
        sys.stdout.flush()
    except BaseException:
        traceback.print_exc()
    finally:
        os._exit(status)
