"""Speed as ratios, each measured side by side in one run: python -m tests.benchmarks

Nothing here is asserted: the numbers hang on the machine. What keeps start-up honest is tests/test_startup.py.
"""

from __future__ import annotations

import importlib.util
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pexpect

ROUNDS = 7
BARE = "from prompt_toolkit import PromptSession; PromptSession().prompt('Q0? ')"
ASKED = "import questionary; questionary.text('Q0?').ask()"


def main() -> int:
    _first_question()
    _decisions()
    _engines()
    return 0


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
        "TERM": "xterm", "PATH": "/usr/bin:/bin", "XDG_DATA_HOME": home, "HOME": home, "PROMPT_TOOLKIT_NO_CPR": "1",
        "PYTHONPATH": str(Path(__file__).parent.parent.parent), "LANG": "C.UTF-8",
    }  # fmt: skip
    begin = time.perf_counter()
    child = pexpect.spawn(command[0], command[1:], env=environment, dimensions=(24, 80), timeout=30)
    child.expect(words)
    took = time.perf_counter() - begin
    child.close(force=True)
    return took * 1000


def _decisions() -> None:
    from interview.planner import make_plan
    from interview.reasoning.deciding import decide
    from knowledge.loading import load
    from tests.test_trade import TABLE, answers_of

    print("The knowledge and plans, against one decision")
    knowledge = load()
    cases = [answers_of(knowledge, case["answers"]) for case in TABLE["case"]]
    rounds = 10_000 // len(cases) + 1
    decided = _each(lambda: [decide(knowledge, a) for a in cases], rounds) / len(cases)
    planned = _each(lambda: [make_plan(knowledge, a) for a in cases], 1) / len(cases)
    _line(f"one decision (mean of {rounds * len(cases)})", decided, decided)
    _line("one whole plan", planned, decided)
    _line("loading all knowledge", _each(load, 3), decided)


def _each(work: Callable[[], Any], rounds: int) -> float:
    begin = time.perf_counter()
    for _ in range(rounds):
        work()
    return (time.perf_counter() - begin) * 1000 / rounds


def _engines() -> None:
    """The need rules for absorption, zone by zone, in a general engine and in ours: a fair common part."""
    from interview.reasoning.circumstances import settled
    from interview.reasoning.findings import zone_facts
    from interview.reasoning.piece import zones
    from knowledge.loading import load
    from tests.test_trade import TABLE, answers_of

    knowledge = load()
    rules = [r for r in knowledge.needs.values() if r.reason == "absorption"]
    facts = [
        {**zone_facts(zone), "front.absorption": "required"}
        for case in TABLE["case"]
        for zone in zones(knowledge, settled(knowledge, answers_of(knowledge, case["answers"])).facts)
    ]

    def ours() -> list[list[str]]:
        return [[r.id for r in rules if r.when.holds(f)] for f in facts]

    print(f"{len(rules)} need rules over {len(facts)} zones, against ours")
    base = _each(ours, 20)
    _line("ours", base, base)
    if importlib.util.find_spec("zen") is None:
        print("  zen-engine is not installed: pip install zen-engine")
        return
    engine, told = _zen(rules), [_flat(f) for f in facts]

    def theirs() -> list[list[str]]:
        return [[r for r, e in engine.items() if e.evaluate(f) is True] for f in told]

    assert [sorted(x) for x in theirs()] == [sorted(x) for x in ours()], "the engines do not agree"
    _line("zen-engine, compiled expressions", _each(theirs, 3), base)


def _flat(facts: Mapping[str, Any]) -> dict[str, Any]:
    return {
        name.replace(".", "_").replace(" ", "_"): sorted(map(str, v)) if isinstance(v, (frozenset, set)) else v
        for name, v in facts.items()
    }


def _zen(rules: list[Any]) -> dict[str, Any]:
    import zen

    return {r.id: zen.compile_expression(_expression(r.when)) for r in rules}


def _expression(condition: Any) -> str:
    """Our condition in the engine's own words."""
    from knowledge.checking import _SETS
    from knowledge.conditions import Either, Leaf, Opposite

    if isinstance(condition, Leaf):
        name, sets = condition.fact.replace(".", "_").replace(" ", "_"), condition.fact in _SETS
        wanted = condition.value if condition.test == "among" else (condition.value,)
        if condition.test in ("at_least", "at_most"):
            return f"{name} {'>=' if condition.test == 'at_least' else '<='} {condition.value}"
        words = [_word(w) for w in wanted]
        each = [f"contains({name}, {w})" if sets else f"{name} == {w}" for w in words]
        return f"({' or '.join(each)})"
    if isinstance(condition, Opposite):
        return f"not({_expression(condition.part)})"
    joint = " or " if isinstance(condition, Either) else " and "
    return f"({joint.join(map(_expression, condition.parts))})" if condition.parts else "true"


def _word(value: Any) -> str:
    return str(value).lower() if isinstance(value, bool) else f'"{value}"' if isinstance(value, str) else str(value)


if __name__ == "__main__":
    sys.exit(main())
