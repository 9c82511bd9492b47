"""Everything said, kept on disk after each answer: one private file a piece, only ever added to.

`Journal` writes; `read` only looks; `reopen` goes on with an earlier one, mends what a crash left, and minds that no
other window is at work on it. Nothing here stops the conversation: what cannot be written is told in one line.
"""

from __future__ import annotations

import contextlib
import errno
import os
import stat
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from interview.files import records
from interview.files.kept import FORMAT, Kept
from interview.files.paths import PRIVATE_FILE, PRIVATE_FOLDER, file_name, free_name, why_not

SUFFIX = ".jsonl"
_LARGEST = 8_000_000  # bytes; a long conversation takes some tens of thousands


class Busy(Exception):
    """Another window is at work on this piece."""


class NotKept(Exception):
    """There is no such conversation, or it cannot be read. The message is one line for the person."""


def cannot_keep(error: OSError) -> str:
    return f"This cannot be kept on disk: {why_not(error)}. We can go on; do not close this window."


@dataclass(slots=True)
class Journal:
    """An open file and what it holds. Only `keep` changes it."""

    path: Path
    kept: Kept
    _handle: int | None
    _chain: int = 0
    _good: int = 0  # bytes known to be whole on disk
    _owed: bytes = b""  # lines not on disk yet
    _told: bool = False

    def keep(self, new: Kept) -> str:
        """Write what changed and make it last. Gives a line for the person where that fails or works again, else ""."""
        record = records.step(self.kept, new)
        if not record:
            return ""
        line, self._chain = records.write_line(record, self._chain)
        self._owed += line
        self.kept = replace(new, steps=self.kept.steps + 1)
        return self._settle()

    def flush(self) -> None:
        """Put what is owed on disk. Raises OSError, and then tries again with the next record."""
        if self._handle is None:
            raise OSError(0, "the file is closed")
        os.ftruncate(self._handle, self._good)  # takes away a line that was cut short before
        os.lseek(self._handle, self._good, os.SEEK_SET)
        _write_all(self._handle, self._owed)
        os.fsync(self._handle)
        self._good += len(self._owed)
        self._owed = b""

    def _settle(self) -> str:
        try:
            self.flush()
        except OSError as error:
            first, self._told = not self._told, True
            return cannot_keep(error) if first else ""
        again, self._told = self._told, False
        return "All is kept on disk again." if again else ""

    @property
    def safe(self) -> bool:
        """Whether everything said so far is on disk."""
        return not self._owed and self._handle is not None

    def close(self) -> None:
        if self._handle is not None:
            with contextlib.suppress(OSError):
                os.close(self._handle)
            self._handle = None


def begin(folder: Path, name: str, pace: str, knowledge: str) -> Journal:
    """A new journal under a free name. Raises OSError."""
    folder.mkdir(mode=PRIVATE_FOLDER, parents=True, exist_ok=True)
    wanted = file_name(name)
    while True:
        free = free_name(wanted, folder, SUFFIX)
        path = folder / f"{free}{SUFFIX}"
        try:
            handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_EXCL | _FLAGS, PRIVATE_FILE)
        except FileExistsError:
            continue  # taken in this very moment
        break
    _lock(handle)
    line, chain = records.write_line(records.header(free, pace, knowledge), 0)
    journal = Journal(path, Kept(free, pace, knowledge), handle, chain, 0, line)
    try:
        journal.flush()
    except OSError:
        journal.close()
        with contextlib.suppress(OSError):
            path.unlink()
        raise
    _make_last(folder)
    return journal


def find(folder: Path, name: str) -> Path:
    """The journal of this name. Raises NotKept with the nearest names."""
    path = folder / f"{file_name(name)}{SUFFIX}"
    if os.path.lexists(path):
        return path
    from rapidfuzz import process

    names = [p.stem for p in listing(folder)]
    near = process.extractOne(file_name(name), names, score_cutoff=60)
    hint = f"Did you mean {near[0]}?" if near else "beforepour list shows what is kept."
    raise NotKept(f'Nothing is kept under "{name}". {hint}')


def listing(folder: Path) -> list[Path]:
    """All journals, the one worked on last first. Empty where the folder cannot be read."""
    try:
        found = [(e.stat().st_mtime, e.name) for e in os.scandir(folder) if e.name.endswith(SUFFIX) and e.is_file()]
    except OSError:
        return []
    return [folder / name for _, name in sorted(found, reverse=True)]


def read(path: Path) -> Kept:
    """What the journal holds, up to the last whole record. Changes nothing. Raises NotKept."""
    try:
        handle = os.open(path, os.O_RDONLY | _FLAGS)
    except OSError as error:
        raise NotKept(f"{path} cannot be read: {why_not(error)}.") from None
    try:
        return _recover(_read_all(handle)).kept
    except OSError as error:
        raise NotKept(f"{path} cannot be read: {why_not(error)}.") from None
    finally:
        os.close(handle)


def reopen(path: Path) -> tuple[Journal, str]:
    """Go on with a conversation: the journal, and a line to tell where something had to be mended, else "".

    Raises Busy where another window has it, NotKept where it cannot be read.
    """
    try:
        handle = os.open(path, os.O_RDWR | _FLAGS)
    except OSError as error:
        raise NotKept(f"{path} cannot be opened: {why_not(error)}.") from None
    try:
        _lock(handle)
        data = _read_all(handle)
    except OSError as error:
        os.close(handle)
        raise NotKept(f"{path} cannot be read: {why_not(error)}.") from None
    except Busy:
        os.close(handle)
        raise
    found = _recover(data)
    if found.kept.format > FORMAT:
        os.close(handle)
        return _copy_of_newer(path, found.kept)
    journal = Journal(path, found.kept, handle, found.chain, found.good)
    return journal, _mend(journal, data) if found.good < len(data) or not found.good else ""


def copy(path: Path) -> Journal:
    """A new journal that begins where this one stands. Raises NotKept, OSError."""
    return _copy(path.parent, read(path))


def _copy(folder: Path, kept: Kept) -> Journal:
    new = begin(folder, kept.name or "piece", kept.pace, kept.knowledge)
    new.keep(replace(kept, name=new.kept.name, knowledge=new.kept.knowledge, format=FORMAT))
    return new


def _copy_of_newer(path: Path, kept: Kept) -> tuple[Journal, str]:
    try:
        new = _copy(path.parent, replace(kept, name=path.stem))
    except OSError as error:
        raise NotKept(f"{path} is from a newer beforepour, and no copy can be made: {why_not(error)}.") from None
    told = (
        f"{path.name} is from a newer beforepour. It stays as it is; "
        f"we go on in {new.path.name}, from answer {kept.steps}."
    )
    return new, told


@dataclass(frozen=True, slots=True)
class _Found:
    kept: Kept
    chain: int
    good: int


def _recover(data: bytes) -> _Found:
    found = _Found(Kept(), 0, 0)
    for number, (record, chain, good) in enumerate(records.read_lines(data)):
        if (number == 0) != ("beforepour" in record):
            break
        try:
            found = _Found(records.apply(found.kept, record), chain, good)
        except (ValueError, RecursionError):
            break
    return found


def _mend(journal: Journal, data: bytes) -> str:
    """Put the damaged file aside, then cut the damage off."""
    aside = journal.path.parent / free_name(f"{journal.path.stem}.damaged", journal.path.parent, "")
    try:
        _write_aside(aside, data)
    except OSError as error:
        journal.close()
        raise NotKept(f"{journal.path} is damaged and cannot be put aside: {why_not(error)}.") from None
    if not journal._good:
        line, journal._chain = records.write_line(records.header(journal.path.stem, "full", ""), 0)
        journal.kept, journal._owed = Kept(journal.path.stem), line
    trouble = journal._settle()
    steps = journal.kept.steps
    what = f"everything up to answer {steps} was recovered" if steps else "nothing of it could be recovered"
    told = f"{journal.path.name} was damaged; {what}. The damaged file is kept as {aside.name}."
    return f"{told} {trouble}".strip()


def _write_aside(path: Path, data: bytes) -> None:
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _FLAGS, PRIVATE_FILE)
    try:
        _write_all(handle, data)
        os.fsync(handle)
    finally:
        os.close(handle)


def _write_all(handle: int, data: bytes) -> None:
    while data:
        data = data[os.write(handle, data) :]


def _read_all(handle: int) -> bytes:
    there = os.fstat(handle)
    if stat.S_ISDIR(there.st_mode):
        raise IsADirectoryError(errno.EISDIR, "a folder")
    if not stat.S_ISREG(there.st_mode) or there.st_size > _LARGEST:
        raise OSError(0, "it is no conversation of ours")
    return b"".join(_blocks(handle))


def _blocks(handle: int) -> Iterator[bytes]:
    left = _LARGEST
    while left > 0 and (block := os.read(handle, min(left, 1 << 20))):
        left -= len(block)
        yield block


def _make_last(folder: Path) -> None:
    """The new name in the folder, too, survives a power cut (where folders can be flushed)."""
    with contextlib.suppress(OSError, AttributeError):
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


# no links followed, no waiting for the other end of a pipe, no line ends changed
_FLAGS = 0
for _flag in ("O_NOFOLLOW", "O_NONBLOCK", "O_BINARY", "O_CLOEXEC"):
    _FLAGS |= getattr(os, _flag, 0)


def _lock(handle: int) -> None:
    """Hold the file until it is closed, however that comes about. Raises Busy. Where there are no locks, does without."""
    try:
        import fcntl
    except ImportError:
        _lock_on_windows(handle)
        return
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        raise Busy from None
    except OSError:
        pass


def _lock_on_windows(handle: int) -> None:
    import msvcrt

    os.lseek(handle, 1 << 30, os.SEEK_SET)  # far behind the text, so that others can still read that
    try:
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined]
    except OSError:
        raise Busy from None
    finally:
        os.lseek(handle, 0, os.SEEK_SET)
