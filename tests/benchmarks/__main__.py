"""Speed as ratios, each measured side by side in one run: python -m tests.benchmarks

Nothing here is asserted: the numbers hang on the machine. What keeps start-up honest is tests/test_startup.py.
"""

from __future__ import annotations

import importlib.util
import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pexpect

from tests.benchmarks import engines

_kept: list[object] = []  # CLIPS writes a complaint into the output when it goes, so it stays until the end
ROUNDS = 7
MANY = 10_000
BARE = "from prompt_toolkit import PromptSession; PromptSession().prompt('Q0? ')"
ASKED = "import questionary; questionary.text('Q0?').ask()"


def main() -> None:
    _first_question()
    _decisions()
    _engines()


def _line(name: str, milliseconds: float, against: float) -> None:
    print(f"  {name:<46} {milliseconds:>9.2f} ms   {milliseconds / against:>6.2f} x")


def _first_question() -> None:
    """From the start of the process until the first question stands, in a pseudo-terminal."""
    print("First question on screen, against a bare prompt_toolkit prompt (median of 7)")
    shown = {"bare prompt": ([sys.executable, "-c", BARE], "Q0")}
    if importlib.util.find_spec("questionary"):
        shown["questionary, one text"] = ([sys.executable, "-c", ASKED], "Q0")
    with tempfile.TemporaryDirectory() as folder:
        if importlib.util.find_spec("copier"):
            template = Path(folder, "template")
            template.mkdir()
            (template / "copier.yml").write_text("q0:\n  type: str\n  help: Q0\n")
            command = [sys.executable, "-m", "copier", "copy", str(template), str(Path(folder, "out"))]
            shown["copier, one question"] = (command, "Q0")
        shown["beforepour"] = ([sys.executable, "-m", "interview"], "Tell me")
        times: dict[str, list[float]] = {name: [] for name in shown}
        for _ in range(ROUNDS):  # in turn, so that a busy moment falls on all
            for name, (command, words) in shown.items():
                times[name].append(_until(command, words, folder))
    base = statistics.median(times["bare prompt"])
    for name, each in times.items():
        _line(name, statistics.median(each), base)


def _until(command: list[str], words: str, home: str) -> float:
    environment: Any = {
        "TERM": "xterm", "PATH": "/usr/bin:/bin", "XDG_DATA_HOME": home, "HOME": home,
        "PROMPT_TOOLKIT_NO_CPR": "1", "PYTHONPATH": str(Path(__file__).parent.parent.parent), "LANG":
        "C.UTF-8",
    }  # fmt: skip
    begin = time.perf_counter()
    child = pexpect.spawn(command[0], command[1:], env=environment, dimensions=(24, 80), timeout=30)
    child.expect(words)
    took = time.perf_counter() - begin
    child.close(force=True)
    return took * 1000


def _decisions() -> None:
    from interview.reasoning.deciding import decide
    from interview.reasoning.planner import make_plan
    from knowledge.loading import load
    from tests.test_trade import TABLE, answers_of

    print("The knowledge and plans, against one decision")
    knowledge = load()
    cases = [answers_of(knowledge, case["answers"]) for case in TABLE["case"]]
    first = _each(lambda: [decide(knowledge, a) for a in cases], 1) / len(cases)
    rounds = MANY // len(cases) + 1
    decided = _each(lambda: [decide(knowledge, a) for a in cases], rounds) / len(cases)
    planned = _each(lambda: [make_plan(knowledge, a) for a in cases], rounds) / len(cases)
    _line("one decision, of many", decided, decided)
    _line("one decision, met for the first time", first, decided)
    _line("one whole plan with its figures, of many", planned, decided)
    seconds = MANY / 1000
    print(f"  so {MANY:,} decisions take {decided * seconds:.1f} s, {MANY:,} plans {planned * seconds:.1f} s")
    _line("loading all knowledge", _each(load, 3), decided)


def _each(work: Callable[[], Any], rounds: int) -> float:
    begin = time.perf_counter()
    for _ in range(rounds):
        work()
    return (time.perf_counter() - begin) * 1000 / rounds


def _engines() -> None:
    """The same rules in our conditions and in general engines; those that are not installed are told."""
    from knowledge.loading import load

    rules, facts = engines.common_part(load())
    print(f"{len(rules)} need rules over {len(facts)} zones, against ours")
    have = dict(engines.contenders(rules, facts))
    _kept.append(have)
    found = {name: [sorted(ids) for ids in run()] for name, run in have.items()}
    for name, held in found.items():
        assert held == found["ours"], f"{name} does not come to the same"
    times = {name: [] for name in have}  # type: dict[str, list[float]]
    for _ in range(ROUNDS):
        for name, run in have.items():
            times[name].append(_each(run, 1))
    base = statistics.median(times["ours"])
    for name, each in times.items():
        _line(name, statistics.median(each), base)
    for module, name in (("zen", "zen-engine"), ("clips", "clipspy")):
        if importlib.util.find_spec(module) is None:
            print(f"  {name} is not installed: pip install {name}")


if __name__ == "__main__":
    main()
    sys.stdout.flush()
    os._exit(0)
