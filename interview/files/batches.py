"""A batch that is kept: its kinds, the means, what was done, and what was said on the way. One private JSON file a batch.

Written whole or not at all after each line. A second window that changed it meanwhile is told, and nothing is lost.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any

from interview.files.paths import batches_folder, file_name, make_private, read_file, why_not, write_whole
from interview.files.records import decode, encode
from interview.plan.answers import Answer, Answers
from interview.plan.doings import DoneTo

FORMAT = 2
_LARGEST = 20_000_000  # bytes


class NoBatch(Exception):
    """There is no such batch, or it cannot be read or written. One line for the person."""


@dataclass(frozen=True, slots=True)
class KeptKind:
    """`sells`: one's own selling price of a piece. `left_out`: parts whose coats are left out where they are extras."""

    name: str
    count: int
    answers: Answers
    sells: float | None = None
    left_out: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Listed:
    """A numbered line of a page, so that "done 3-7" can name it. `of`: kind, first and last piece, and step."""

    number: int
    says: str
    of: tuple[tuple[str, int, int, str], ...]


@dataclass(frozen=True, slots=True)
class KeptBatch:
    """`wishes`: fields of conversation.timing.Wishes that were told. `version` counts what was written."""

    name: str
    kinds: tuple[KeptKind, ...]
    wishes: Mapping[str, Any]
    did: tuple[DoneTo, ...] = ()
    shown: tuple[Listed, ...] = ()
    shown_day: str = ""
    said: tuple[tuple[str, str], ...] = ()
    version: int = 0
    before: str = ""  # what it was before the last line, for taking that back


def path_of_batch(name: str) -> Path:
    """Where it is kept, or would be. Raises NoPlace."""
    return batches_folder() / f"{file_name(name)}.json"


def is_kept(name: str) -> bool:
    try:
        return path_of_batch(name).is_file()
    except OSError:  # nowhere to keep anything
        return False


def save(batch: KeptBatch) -> KeptBatch:
    """Write it over what was there. Raises NoBatch where another window wrote meanwhile, or the system refuses."""
    path = path_of_batch(batch.name)
    if path.exists() and load(batch.name).version != batch.version:
        raise NoBatch(f'"{batch.name}" was changed in another window. Say it again.')
    new = replace(batch, version=batch.version + 1)
    try:
        make_private(path.parent)
        write_whole(path, json.dumps(_plain(new), ensure_ascii=False, indent=1), overwrite=True)
    except OSError as error:
        raise NoBatch(f"{path} cannot be written: {why_not(error)}.") from None
    return new


def load(name: str) -> KeptBatch:
    """Raises NoBatch."""
    path = path_of_batch(name)
    try:
        data = json.loads(read_file(path, _LARGEST))
        if data["format"] > FORMAT:
            raise NoBatch(f"{path} is from a newer beforepour.")
        return _batch(data)
    except OSError as error:
        raise NoBatch(f'There is no batch "{name}": {why_not(error)}.') from None
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        raise NoBatch(f"{path} is damaged and cannot be read. Plan the batch anew from its file.") from None


def with_before(new: KeptBatch, old: KeptBatch) -> KeptBatch:
    return replace(new, before=json.dumps(_plain(replace(old, before=""))))


def undone(batch: KeptBatch) -> KeptBatch | None:
    """The batch as it was before the last line; None where nothing was said since."""
    return replace(_batch(json.loads(batch.before)), version=batch.version) if batch.before else None


def names() -> list[str]:
    try:
        return sorted(path.stem for path in batches_folder().glob("*.json"))
    except OSError:
        return []


def _plain(batch: KeptBatch) -> dict[str, Any]:
    kinds = [
        {
            "name": k.name,
            "count": k.count,
            "sells": k.sells,
            "left_out": list(k.left_out),
            "answers": [[q, encode(a.value), a.origin, a.words] for q, a in k.answers.items()],
        }
        for k in batch.kinds
    ]
    return {
        "beforepour": "batch", "format": FORMAT, "version": batch.version, "name": batch.name, "kinds": kinds,
        "wishes": dict(batch.wishes), "said": [list(line) for line in batch.said],
        "did": [[d.kind, d.first, d.last, d.step, d.at.isoformat(" ", "minutes")] for d in batch.did],
        "shown": [[s.number, s.says, *map(list, s.of)] for s in batch.shown], "shown_day": batch.shown_day, "before": batch.before,
    }  # fmt: skip


def _batch(data: Mapping[str, Any]) -> KeptBatch:
    return KeptBatch(
        str(data["name"]),
        tuple(
            KeptKind(
                str(k["name"]), int(k["count"]), _answers(k["answers"]), k.get("sells"), tuple(k.get("left_out", ()))
            )
            for k in data["kinds"]
        ),
        dict(data["wishes"]),
        tuple(DoneTo(k, int(a), int(b), s, datetime.fromisoformat(at)) for k, a, b, s, at in data["did"]),
        tuple(
            Listed(int(n), str(says), tuple((k, int(a), int(b), s) for k, a, b, s in of))
            for n, says, *of in (data["shown"] if data["format"] > 1 else ())
        ),
        str(data.get("shown_day", "")),
        tuple((str(when), str(text)) for when, text in data["said"]),
        int(data["version"]),
        str(data.get("before", "")),
    )


def _answers(rows: Sequence[Any]) -> Answers:
    return Answers(tuple((q, Answer(decode(value), origin, words)) for q, value, origin, words in rows))
