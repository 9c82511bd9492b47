"""Journals: as a crash leaves them, and whole ones with anything in them."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from interview.files.kept import Kept
from interview.text.harmless import harmless
from tests.hostile.common import in_memory, known, now_and_then, one_line, planned, questions


def journal(data: bytes) -> str:
    """A journal as found on disk. Read twice: looked at, then opened and mended."""
    from interview.files.journal import NotKept, read, reopen

    folder = in_memory() / "pieces"
    folder.mkdir(exist_ok=True)
    path = folder / "x.jsonl"
    path.write_bytes(data)
    kept = read(path)
    if not now_and_then(data, 4):
        return f"{kept.steps} steps {kept.format}"
    try:
        opened, told = reopen(path)
    except NotKept as error:
        return one_line(str(error))
    opened.close()
    again = read(opened.path).answers
    for left in folder.iterdir():
        left.unlink()
    assert again == opened.kept.answers == kept.answers
    return harmless(told) or "whole"


def journal_seeds() -> list[bytes]:
    return [_seal(lines) for lines in example_records()]


def example_records() -> list[list[dict[str, Any]]]:
    from interview.files import records
    from tests.conversation.test_journal import STEPS

    header = records.header("x", "full", "k")
    made, kept = [header], Kept("x")
    for question, value, words in STEPS:
        after = Kept("x", answers=kept.answers.say(question, value, words=words), trail=(*kept.trail, question))
        made.append(records.step(kept, after))
        kept = after
    real: list[dict[str, Any]] = [
        {
            "set": [
                ["piece", "sheet", "said", "a sheet"],
                ["size", records.encode({"shape": "oval", "width": 200.0, "height": 300.0}), "said", ""],
            ]
        },
        {
            "set": [["support", {"several": ["copy_paper"]}, "said", ""], ["layers"]],
            "done": True,
            "pace": "quick",
            "opening": "a sheet",
        },
    ]
    return [
        made,
        [header, *real],
        [{**header, "format": 2}, *real],
        [header, {"trail": ["piece"]}, {"done": True}],
    ]


def _seal(lines: Iterable[Any]) -> bytes:
    from interview.files import records

    chain, out = 0, b""
    for line in lines:
        sealed, chain = records.write_line(line, chain)
        out += sealed
    return out


def sealed_journal(data: bytes) -> str:
    """Records with right sums and any content, as another program might have written them."""
    from interview.conversation.earlier import describe
    from interview.files.answers_file import write_answers
    from interview.reading.fitting import keep_fitting

    lines = []
    for line in data.split(b"\n")[:40]:
        try:
            found = json.loads(line)
            if isinstance(found, dict):
                found.pop("sum", None)
                lines.append(found)
        except (ValueError, RecursionError):
            continue
    try:
        sealed = _seal(lines)
    except (ValueError, RecursionError):  # no finite number, or nested too deep to be written
        return "cannot be sealed"
    path = in_memory() / "sealed.jsonl"
    path.write_bytes(sealed)
    from interview.files.journal import read

    kept = read(path)
    describe("x", kept)
    fitting, misfits = keep_fitting(kept.answers, known())
    if not fitting:
        return f"{kept.steps} steps {len(misfits)} misfits"
    write_answers(fitting, known())
    return planned(fitting, data, kept.name) if now_and_then(data, 12) else f"{len(fitting)} fit, {len(misfits)} do not"


def sealed_seeds() -> list[bytes]:
    made = [b"\n".join(json.dumps(line).encode() for line in lines) for lines in example_records()]
    header = made[0].split(b"\n")[0]
    for question, choices in questions():
        value: Any = choices[0].id if choices else 3.5
        value = {"several": [value]} if question.kind == "several" else value
        value = {"parts": [2.0, 1.0, "volume"]} if question.kind == "ratio" else value
        value = {"table": {"shape": "circle", "width": 200.0}} if question.kind == "size" else value
        made.append(header + b"\n" + json.dumps({"set": [[question.id, value, "said", ""]]}).encode())
    return made
