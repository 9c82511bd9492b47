"""What is kept, by name: found, listed, put aside for thirty days, and brought back. Pieces, and stalls the same way.

A piece has three names: its file's, in plain letters; the full one it was given, inside; an id of its own, for good.
Only one that is exactly one of these opens it.
"""

from __future__ import annotations

import contextlib
import os
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from interview.files.disk import NO_LINK, lock
from interview.files.journal import SUFFIX, NotKept, head
from interview.files.paths import batches_folder, data_folder, file_name, free_name, make_private, pieces_folder

KEPT_DAYS = 30
BATCH = ".json"


class NotExact(NotKept):
    """Nothing has this very name; `path` is the one that may be meant."""

    def __init__(self, path: Path, says: str) -> None:
        super().__init__(says)
        self.path = path


def listing(folder: Path) -> list[Path]:
    """All journals, the one worked on last first. Empty where the folder cannot be read."""
    return _files(folder, SUFFIX)


def _files(folder: Path, suffix: str) -> list[Path]:
    try:
        found = [(e.stat().st_mtime, e.name) for e in os.scandir(folder) if e.name.endswith(suffix) and e.is_file()]
    except OSError:
        return []
    return [folder / name for _, name in sorted(found, reverse=True)]


def find(folder: Path, name: str) -> Path:
    """The journal of exactly this name. Raises NotExact with the one that may be meant, NotKept with the nearest."""
    wanted = name.strip()
    exact = [path for path in listing(folder) if wanted in _names(path)]
    if len(exact) == 1:
        return exact[0]
    if exact:
        each = ", ".join(f"{path.stem} (id {head(path).id})" for path in exact)
        raise NotKept(f'"{name}" is the name of several: {each}. Type the id.')
    path = folder / f"{file_name(name)}{SUFFIX}"
    if os.path.lexists(path):
        if path.stem == wanted:  # no plain file; who opens it is told why
            return path
        raise NotExact(path, f'Nothing is kept under exactly "{name}". {_meant(path)}')
    from rapidfuzz import process

    stems = [p.stem for p in listing(folder)]
    near = process.extractOne(file_name(name), stems, score_cutoff=60)
    hint = f"Did you mean {near[0]}?" if near else "beforepour list shows what is kept."
    raise NotKept(f'Nothing is kept under "{name}". {hint}')


def _names(path: Path) -> set[str]:
    try:
        kept = head(path)
    except NotKept:
        return {path.stem}
    return {path.stem, kept.name, kept.id} - {""}


def _meant(path: Path) -> str:
    full = _full_name(path)
    return f"Did you mean {path.stem}{f' ({full})' if full else ''}?"


def _full_name(path: Path) -> str:
    try:
        name = head(path).name
    except NotKept:
        return ""
    return "" if name == path.stem else f'"{name}"'


# ------------------------------------------------------------------ put aside


@dataclass(frozen=True, slots=True)
class Forgotten:
    """Something put aside. `left`: whole days until it is gone for good."""

    path: Path
    left: int

    @property
    def name(self) -> str:
        return self.path.stem

    @property
    def batch(self) -> bool:
        return self.path.suffix == BATCH


def put_aside(path: Path) -> Path:
    """Out of the way for thirty days. Raises OSError; Busy where another window has it."""
    folder = data_folder() / "forgotten"
    make_private(folder)
    aside = folder / f"{free_name(path.stem, folder, path.suffix)}{path.suffix}"
    with _held(path):
        path.rename(aside)
        os.utime(aside)  # from now on the days count
    return aside


def remove(path: Path) -> None:
    """For good. Raises OSError; Busy where another window has it."""
    with _held(path):
        path.unlink()


@contextlib.contextmanager
def _held(path: Path) -> Iterator[None]:
    """Nobody else is at work on it meanwhile. Raises Busy."""
    try:
        handle = os.open(path, os.O_RDWR | NO_LINK)
    except OSError:  # what cannot be opened nobody is at work on
        yield
        return
    try:
        lock(handle)
        yield
    finally:
        os.close(handle)


def forgotten() -> list[Forgotten]:
    """What can be brought back, the last first; what is older than thirty days is removed for good."""
    return sorted(_still_there(), key=lambda each: -each.left)


def _still_there() -> Iterator[Forgotten]:
    try:
        folder = data_folder() / "forgotten"
    except OSError:
        return
    for path in (*_files(folder, SUFFIX), *_files(folder, BATCH)):
        try:
            left = KEPT_DAYS - int((time.time() - path.stat().st_mtime) // 86400)
            if left > 0:
                yield Forgotten(path, min(left, KEPT_DAYS))
            else:
                path.unlink()
        except OSError:
            continue


def bring_back(name: str) -> Path:
    """To where it was, under the next free name. Raises NotKept, OSError."""
    each = [f for f in forgotten() if name.strip() in ({f.name} if f.batch else _names(f.path))]
    if not each:
        raise NotKept(f'Nothing called "{name}" was put aside. beforepour list --forgotten shows what was.')
    path = each[0].path
    folder = batches_folder() if each[0].batch else pieces_folder()
    make_private(folder)
    back = folder / f"{free_name(path.stem, folder, path.suffix)}{path.suffix}"
    path.rename(back)
    return back
