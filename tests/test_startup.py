"""What may be loaded before the first question stands on the screen: this much of our own, and no library.

A stopwatch would be at the mercy of the machine; a list of modules is not. To load more, add it here and say why.
"""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

import pexpect

OURS = {
    "__future__",
    "interview",
    "interview.commands",
    "interview.commands.context",
    "interview.commands.entry",
    "interview.commands.output",
    "interview.conversation",
    "interview.conversation.greeting",
    "interview.terminal",
    "interview.terminal.choice",
    "interview.terminal.layout",
    "interview.text",
    "interview.text.harmless",
    "knowledge",  # its folder holds the words of the first question
    "gc",
    "unicodedata",  # how wide a letter is
}
CONSOLES = {
    "window": {"interview.terminal.prompt_console", "interview.terminal.held_keys", "atexit", "termios", "select"},
    "plain": {"interview.terminal.plain_console"},
}

PARSED = {"interview.commands.parser", "interview.commands.new"}

# what is loaded when the first question has been written; then the program ends at once
FIRST_QUESTION = """
import json, os, sys
before = set(sys.modules)
from interview.commands import entry
def told(*_, write=sys.stdout.write, heard=[""]):
    heard[0] += _[0]
    if "For example" in heard[0]:
        write("\\n" + json.dumps(sorted(set(sys.modules) - before)) + "\\n")
        sys.stdout.flush()
        os._exit(0)
sys.stdout.write = told
entry.main(sys.argv[1:])
"""


def loaded(folder: Path, *arguments: str) -> set[str]:
    """The modules loaded by the time the first question stands, in a pseudo-terminal."""
    child = pexpect.spawn(
        sys.executable,
        ["-c", "import collections.abc, functools, re\n" + FIRST_QUESTION, *arguments],
        env={**os.environ, "BEFOREPOUR_DATA": str(folder), "TERM": "xterm"},
        dimensions=(24, 1000),
        encoding="utf-8",
    )
    child.expect(pexpect.EOF)
    child.close()
    return set(json.loads(next(line for line in child.before.splitlines() if line.startswith("["))))


def test_the_first_question_stands_before_any_library_is_loaded(tmp_path: Path) -> None:
    assert loaded(tmp_path) == OURS | CONSOLES["window"]
    plain = loaded(tmp_path, "--plain")
    ours = {name for name in plain if name.startswith(("interview", "knowledge"))}
    assert ours == (OURS | CONSOLES["plain"] | PARSED) - {"__future__", "gc", "unicodedata"}
    assert not plain & {"prompt_toolkit", "pydantic", "jinja2", "pint", "tomli", "asyncio"}


def test_the_first_question_touches_no_file_of_the_person(tmp_path: Path) -> None:
    loaded(tmp_path / "data")
    assert not (tmp_path / "data").exists()
