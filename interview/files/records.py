"""The lines of a journal: how a step is written, checked and read back.

Behind the last line stands a mark that it is the last, so that a file cut short at a line's end is found out, too.
A line is one JSON object that ends with `"sum":"........"`, the CRC-32 of the object before it, begun with the sum of
the line before. A line cut short, changed, left out or moved no longer fits, and reading stops before it.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Iterator
from datetime import datetime
from typing import Any, get_args

from interview.files.kept import FORMAT, Kept, Said, Took
from interview.plan.answers import NOT_SURE, Answer, Answers, Origin
from interview.plan.doings import Done, Outcome
from interview.text.letters import LETTERS

MARKED = 3  # from this format on, a mark ends the file
_LONGEST = 200_000  # bytes of one line; ours are far shorter
_ORIGINS = get_args(Origin)
_PARTS = {"set", "opening", "done", "pace", "trail", "said", "did", "outcome"}


def new_id() -> str:
    """Of a piece, for good, whatever it is called: eight letters that are not taken for others."""
    import secrets

    return "".join(secrets.choice(LETTERS) for _ in range(8))


def end_mark(chain: int) -> bytes:
    """The last line: behind it nothing was ever written. Always as long, so that a longer line replaces it whole."""
    return b'{"end":"%08x"}\n' % chain


def whole(kept: Kept) -> tuple[bytes, int]:
    """All that is kept as two lines: the head, and one step that leads to it; and their sum."""
    first, chain = write_line(header(kept.name, kept.pace, kept.knowledge, kept.id), 0)
    record = step(Kept(kept.name, kept.pace, kept.knowledge), kept)
    if not record:
        return first, chain
    second, chain = write_line(record, chain)
    return first + second, chain


def header(name: str, pace: str, knowledge: str, id: str = "") -> dict[str, Any]:
    return {
        "beforepour": "conversation",
        "format": FORMAT,
        "id": id,
        "knowledge": knowledge,
        "name": name,
        "pace": pace,
    }


def step(before: Kept, after: Kept) -> dict[str, Any]:
    """One record that leads from `before` to `after`; empty where they are the same."""
    record: dict[str, Any] = {}
    changes = list(_changes(before.answers, after.answers))
    if changes:
        record["set"] = changes
    for field in ("opening", "done", "pace"):
        if getattr(before, field) != getattr(after, field):
            record[field] = getattr(after, field)
    if before.trail != after.trail:
        record["trail"] = list(after.trail)
    if new := after.said[len(before.said) :]:
        record["said"] = [_said(line) for line in new]
    if before.did != after.did:
        record["did"] = [[d.step, _time(d.at), d.name, d.skipped] for d in after.did]
    if before.outcome != after.outcome and after.outcome is not None:
        came = after.outcome
        record["outcome"] = [_time(came.at), came.right, came.wrong, list(came.signs)]
    return record


def _time(at: datetime) -> str:
    return at.isoformat(" ", "minutes")


def _said(line: Said) -> list[Any]:
    return [line.at, line.typed, [[t.question, encode(t.value), t.words, t.doubt] for t in line.took], list(line.left)]


def _changes(before: Answers, after: Answers) -> Iterator[list[Any]]:
    for question in before:
        if question not in after:
            yield [question]
    for question, answer in after.entries:
        if before.get(question) != answer:
            yield [question, encode(answer.value), answer.origin, answer.words, *([True] if answer.doubt else ())]


def encode(value: Any) -> Any:
    """A value as JSON, so that it comes back as it was."""
    if value is NOT_SURE:
        return {"not sure": True}
    if isinstance(value, frozenset):
        return {"several": sorted(value)}
    if isinstance(value, tuple):
        return {"parts": [encode(v) for v in value]}
    if isinstance(value, dict):
        return {"table": {k: encode(v) for k, v in value.items()}}
    return value


def decode(data: Any) -> Any:
    """The reverse of `encode`. Raises ValueError on anything else."""
    if isinstance(data, (str, bool, int, float)):
        return data
    if isinstance(data, dict) and len(data) == 1:
        kind, inner = next(iter(data.items()))
        if kind == "not sure":
            return NOT_SURE
        if kind == "several" and isinstance(inner, list) and all(isinstance(i, str) for i in inner):
            return frozenset(inner)
        if kind == "parts" and isinstance(inner, list):
            return tuple(decode(i) for i in inner)
        if kind == "table" and isinstance(inner, dict):
            return {k: decode(v) for k, v in inner.items()}
    raise ValueError(f"no value: {data!r}")


def write_line(record: dict[str, Any], chain: int) -> tuple[bytes, int]:
    """The line and the sum the next one begins with."""
    body = json.dumps(record, ensure_ascii=True, separators=(",", ":"), allow_nan=False)
    total = zlib.crc32(body.encode(), chain)
    return f'{body[:-1]}{"," if record else ""}"sum":"{total:08x}"}}\n'.encode(), total


def read_lines(data: bytes) -> Iterator[tuple[dict[str, Any], int, int]]:
    """Every whole record from the beginning: (record, the sum so far, where the next one begins)."""
    at, chain = 0, 0
    while (end := data.find(b"\n", at, at + _LONGEST)) >= 0:
        record = _read_line(data[at:end], chain)
        if record is None:
            return
        at, chain = end + 1, int(record.pop("sum"), 16)
        yield record, chain, at


def _read_line(line: bytes, chain: int) -> dict[str, Any] | None:
    try:
        record = json.loads(line)
        total = int(record["sum"], 16)
    except (ValueError, TypeError, KeyError, RecursionError):
        return None
    tail = f'"sum":"{total:08x}"}}'.encode()
    if not line.endswith(tail):
        return None
    body = line[: -len(tail)].removesuffix(b",") + b"}"
    return record if zlib.crc32(body, chain) == total else None


def apply(kept: Kept, record: dict[str, Any]) -> Kept:
    """The next state. Raises ValueError where the record is none of ours."""
    if "beforepour" in record:
        return _begin(record)
    if unknown := record.keys() - _PARTS:
        raise ValueError(f"unknown part of a record: {', '.join(sorted(unknown))}")
    answers = kept.answers
    for change in _typed(record, "set", list, []):
        answers = _change(answers, change)
    trail = _typed(record, "trail", list, list(kept.trail))
    if not all(isinstance(name, str) for name in trail):
        raise ValueError("a trail holds names")
    return Kept(
        name=kept.name,
        pace=_typed(record, "pace", str, kept.pace),
        knowledge=kept.knowledge,
        opening=_typed(record, "opening", str, kept.opening),
        answers=answers,
        trail=tuple(trail),
        said=(*kept.said, *map(_read_said, _typed(record, "said", list, []))),
        done=_typed(record, "done", bool, kept.done),
        did=_did(record, kept),
        outcome=_outcome(record, kept),
        format=kept.format,
        steps=kept.steps + 1,
        id=kept.id,
    )


def _did(record: dict[str, Any], kept: Kept) -> tuple[Done, ...]:
    if "did" not in record:
        return kept.did
    lines = _typed(record, "did", list, [])
    if not all(
        isinstance(line, list) and len(line) == 4 and all(isinstance(t, str) for t in line[:3]) for line in lines
    ):
        raise ValueError(f"no steps done: {lines!r}")
    return tuple(Done(step, datetime.fromisoformat(at), name, bool(skipped)) for step, at, name, skipped in lines)


def _outcome(record: dict[str, Any], kept: Kept) -> Outcome | None:
    if "outcome" not in record:
        return kept.outcome
    line = _typed(record, "outcome", list, [])
    if len(line) != 4 or not all(isinstance(t, str) for t in line[:3]) or not isinstance(line[3], list):
        raise ValueError(f"no outcome: {line!r}")
    return Outcome(datetime.fromisoformat(line[0]), line[1], line[2], tuple(map(str, line[3])))


def _begin(record: dict[str, Any]) -> Kept:
    return Kept(
        name=_typed(record, "name", str, ""),
        pace=_typed(record, "pace", str, "full"),
        knowledge=_typed(record, "knowledge", str, ""),
        format=_typed(record, "format", int, FORMAT),
        id=_typed(record, "id", str, ""),
    )


def _change(answers: Answers, change: Any) -> Answers:
    if not isinstance(change, list) or not change or not isinstance(change[0], str):
        raise ValueError(f"no change: {change!r}")
    if len(change) == 1:
        return answers.withdraw(change[0])
    question, data, origin, words, *doubt = change
    if origin not in _ORIGINS or not isinstance(words, str) or doubt not in ([], [True]):
        raise ValueError(f"no change: {change!r}")
    new = Answer(decode(data), origin, words, bool(doubt))
    if question in answers:
        return Answers(tuple((n, new if n == question else a) for n, a in answers.entries))
    return Answers((*answers.entries, (question, new)))


def _read_said(line: Any) -> Said:
    at, typed, took, left = line if isinstance(line, list) and len(line) == 4 else [None] * 4
    if not (isinstance(at, str) and isinstance(typed, str) and isinstance(took, list) and isinstance(left, list)):
        raise ValueError(f"no line said: {line!r}")
    if not all(isinstance(word, str) for word in left):
        raise ValueError(f"no words: {left!r}")
    return Said(at, typed, tuple(map(_read_took, took)), tuple(left))


def _read_took(took: Any) -> Took:
    question, value, words, doubt = took if isinstance(took, list) and len(took) == 4 else [None] * 4
    if not (isinstance(question, str) and isinstance(words, str) and isinstance(doubt, bool)):
        raise ValueError(f"nothing said: {took!r}")
    return Took(question, decode(value), words, doubt)


def _typed(record: dict[str, Any], key: str, kind: type, default: Any) -> Any:
    value = record.get(key, default)
    if not isinstance(value, kind) or (kind is int and isinstance(value, bool)):
        raise ValueError(f"{key} is {value!r}")
    return value
