"""What may be loaded before the first question stands on the screen: prompt_toolkit, and this much of our own.

A stopwatch would be at the mercy of the machine; a list of modules is not. To load more, add it here and say why.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

OURS = {
    "dataclasses",
    "unicodedata",  # how wide a letter is
    "interview",
    "interview.plan.answers",  # the state that is kept holds answers
    "interview.commands",
    "interview.commands.context",
    "interview.commands.entry",
    "interview.files",
    "interview.plan",
    "interview.plan.doings",
    "interview.reading",
    "interview.text",
    "interview.conversation",
    "interview.conversation.adviser",  # to fetch the rest later
    "interview.conversation.greeting",
    "interview.files.recorder",
    "interview.files.kept",
    "interview.conversation.sessions",
    "interview.conversation.talk",
    "interview.reading.plain_words",
    "interview.text.harmless",
    "interview.commands.output",
    "interview.terminal",
    "interview.terminal.choice",
    "interview.terminal.completion",
    "interview.terminal.key_bindings",
    "interview.terminal.layout",
    "interview.terminal.prompt",
    "interview.terminal.prompt_console",
    "interview.terminal.style",
    "interview.terminal.toolbar",
    "knowledge",  # its folder holds the words of the first question
}

BARE = """
import json, sys
from prompt_toolkit import PromptSession
from prompt_toolkit.shortcuts import print_formatted_text
PromptSession(message="> ", enable_suspend=True)
print_formatted_text("")
"""
FIRST_QUESTION = """
import json, sys
from interview.terminal import choice
choice._is_terminal = lambda stream: True
from interview.commands import entry
def stop(self, *args, **kwargs):
    raise KeyboardInterrupt
from prompt_toolkit import PromptSession
PromptSession.prompt = stop
assert entry.main([]) == 130
"""


def loaded(program: str, folder: Path) -> set[str]:
    """The modules a program has loaded when it comes to its first prompt."""
    record = "import sys, json\ndef record(): print('\\n' + json.dumps(sorted(sys.modules)))\n"
    if program is FIRST_QUESTION:
        program = program.replace("    raise Keyb", "    record()\n    raise Keyb")
    else:
        program += "record()\n"
    done = subprocess.run(
        [sys.executable, "-c", record + program],
        env={**os.environ, "BEFOREPOUR_DATA": str(folder), "TERM": "xterm"},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=True,
    )
    return set(json.loads(next(line for line in done.stdout.splitlines() if line.startswith("["))))


def test_the_first_question_loads_prompt_toolkit_and_little_of_ours(tmp_path: Path) -> None:
    bare = loaded(BARE, tmp_path)
    first = loaded(FIRST_QUESTION, tmp_path)
    assert first - bare == OURS


def test_the_first_question_touches_no_file_of_the_person(tmp_path: Path) -> None:
    loaded(FIRST_QUESTION, tmp_path / "data")
    assert not (tmp_path / "data").exists()
