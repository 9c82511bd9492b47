"""The handle of a kept piece's file: opened, locked, read and written whole. No trade, no records."""

from __future__ import annotations

import contextlib
import os
import stat
from pathlib import Path

from interview.files.paths import FLAGS, NotAFile

LARGEST = 8_000_000  # bytes; a long conversation takes some tens of thousands
NO_LINK = FLAGS | getattr(os, "O_NOFOLLOW", 0)


class Busy(Exception):
    """Another window is at work on this piece."""


def read_all(handle: int) -> bytes:
    """Every byte. Raises OSError, too, where it is no plain file or far too large."""
    there = os.fstat(handle)
    if stat.S_ISDIR(there.st_mode):
        raise IsADirectoryError(21, "a folder")
    if not stat.S_ISREG(there.st_mode):
        raise NotAFile
    if there.st_size > LARGEST:
        raise OSError(0, "it is no conversation of ours")
    os.lseek(handle, 0, os.SEEK_SET)
    blocks = []
    while block := os.read(handle, 1 << 20):
        blocks.append(block)
    return b"".join(blocks)


def write_at(handle: int, place: int, data: bytes) -> None:
    """From this byte on, over whatever is there, and nothing behind it. Raises OSError."""
    os.lseek(handle, place, os.SEEK_SET)
    left = data
    while left:
        left = left[os.write(handle, left) :]
    os.ftruncate(handle, place + len(data))
    os.fsync(handle)


def leads_to(path: Path, handle: int) -> bool:
    """Whether the file of this name is still the one that is open."""
    try:
        there, ours = os.lstat(path), os.fstat(handle)
    except OSError:
        return False
    return (there.st_dev, there.st_ino) == (ours.st_dev, ours.st_ino)


def make_last(folder: Path) -> None:
    """The new name in the folder, too, survives a power cut (where folders can be flushed)."""
    with contextlib.suppress(OSError, AttributeError):
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def lock(handle: int) -> None:
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
