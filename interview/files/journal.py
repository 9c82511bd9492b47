"""Everything said, kept on disk after each answer: one private file a piece, only ever added to.

`Journal` writes; `read` only looks, and tells what is damaged; `reopen` goes on with an earlier one, mends what a crash
left, and minds that no other window is at work on it. Nothing here stops the conversation: what cannot be written is
told in one line.
"""

from __future__ import annotations

import contextlib
import os
import tempfile
from dataclasses import dataclass, replace
from pathlib import Path

from interview.files import records
from interview.files.disk import NO_LINK, Busy, leads_to, lock, make_last, read_all, write_at
from interview.files.kept import FORMAT, Kept
from interview.files.paths import PRIVATE_FILE, file_name, free_name, make_private, put_in_place, why_not

SUFFIX = ".jsonl"


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
    _good: int = 0  # bytes known to be whole on disk, but for the mark behind them
    _mark: bytes = b""  # which stands there
    _owed: bytes = b""  # lines not on disk yet
    _told: bool = False

    def keep(self, new: Kept) -> str:
        """Write what changed and make it last. Gives a line for the person where that fails or works again, else ""."""
        record = records.step(self.kept, new)
        if record:
            line, self._chain = records.write_line(record, self._chain)
            self._owed += line
            self.kept = replace(new, id=self.kept.id, format=FORMAT, lost="", steps=self.kept.steps + 1)
        return "" if self.safe else self._settle()

    def flush(self) -> None:
        """Put what is owed on disk. Raises OSError, and then tries again with the next record."""
        if self._handle is None:
            raise OSError(0, "the file is closed")
        mark = records.end_mark(self._chain)
        try:
            write_at(self._handle, self._good, self._owed + mark)
        except OSError:
            with contextlib.suppress(OSError):  # what was whole stays whole
                write_at(self._handle, self._good, self._mark)
            raise
        self._good, self._owed, self._mark = self._good + len(self._owed), b"", mark

    def _settle(self) -> str:
        try:
            moved = "" if self._is_there() else self._write_anew()
            self.flush()
        except OSError as error:
            first, self._told = not self._told, True
            return cannot_keep(error) if first else ""
        again, self._told = self._told, False
        return moved or ("All is kept on disk again." if again else "")

    def _is_there(self) -> bool:
        """Whether the name still leads to the open file, and that is as it was left."""
        if self._handle is None:
            return True  # closed by us
        return leads_to(self.path, self._handle) and os.fstat(self._handle).st_size == self._good + len(self._mark)

    def _write_anew(self) -> str:
        """It was removed, moved or replaced behind us: all of it once more, under its name or the next free one."""
        assert self._handle is not None
        old, folder = self._handle, self.path.parent
        ours = leads_to(self.path, old)
        path = self.path if ours else folder / f"{free_name(self.path.stem, folder, SUFFIX)}{SUFFIX}"
        make_private(folder)
        data, chain = records.whole(self.kept)
        new, temporary = tempfile.mkstemp(prefix=".beforepour-", dir=folder)
        try:
            write_at(new, 0, data + records.end_mark(chain))
            lock(new)
            put_in_place(Path(temporary), path, overwrite=ours)
        except BaseException:
            os.close(new)
            with contextlib.suppress(OSError):
                Path(temporary).unlink()
            raise
        os.close(old)
        self.path, self._handle, self._chain = path, new, chain
        self._good, self._owed, self._mark = len(data), b"", records.end_mark(chain)
        make_last(folder)
        return "" if ours else f"Its file was moved or removed meanwhile. All you said is written anew, as {path.stem}."

    @property
    def safe(self) -> bool:
        """Whether everything said so far is on disk, under its name."""
        return not self._owed and self._handle is not None and self._is_there()

    def close(self) -> None:
        if self._handle is not None:
            with contextlib.suppress(OSError):
                os.close(self._handle)
            self._handle = None


def begin(folder: Path, name: str, pace: str, knowledge: str) -> Journal:
    """A new journal under a free name. Raises OSError."""
    make_private(folder)
    wanted = file_name(name)
    while True:
        free = free_name(wanted, folder, SUFFIX)
        path = folder / f"{free}{SUFFIX}"
        try:
            handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_EXCL | NO_LINK, PRIVATE_FILE)
        except FileExistsError:
            continue  # taken in this very moment
        break
    lock(handle)
    kept = Kept(full_name(name, wanted, free), pace, knowledge, id=records.new_id())
    line, chain = records.write_line(records.header(kept.name, pace, knowledge, kept.id), 0)
    journal = Journal(path, kept, handle, chain, 0, b"", line)
    try:
        journal.flush()
    except OSError:
        journal.close()
        with contextlib.suppress(OSError):
            path.unlink()
        raise
    make_last(folder)
    return journal


def full_name(told: str, wanted: str, free: str) -> str:
    """The name as it was told, with the number where another has it: "Möwe", and for the second "Möwe-2"."""
    from interview.text.harmless import harmless

    plain = harmless(told, one_line=True)[:60].strip() or wanted
    return f"{plain}{free.removeprefix(wanted)}"


def read(path: Path) -> Kept:
    """What the journal holds, up to the last whole record; `lost` tells what is damaged. Changes nothing. Raises NotKept."""
    try:
        handle = os.open(path, os.O_RDONLY | NO_LINK)
    except OSError as error:
        raise NotKept(f"{path} cannot be read: {why_not(error)}.") from None
    try:
        return _recover(read_all(handle)).kept
    except OSError as error:
        raise NotKept(f"{path} cannot be read: {why_not(error)}.") from None
    finally:
        os.close(handle)


def head(path: Path) -> Kept:
    """Its first line alone: what it is called. Raises NotKept."""
    try:
        handle = os.open(path, os.O_RDONLY | NO_LINK)
        try:
            first = os.read(handle, 1 << 16)
        finally:
            os.close(handle)
    except OSError as error:
        raise NotKept(f"{path} cannot be read: {why_not(error)}.") from None
    return _recover(first[: first.find(b"\n") + 1]).kept


def reopen(path: Path) -> tuple[Journal, str]:
    """Go on with a conversation: the journal, and a line to tell where something had to be mended, else "".

    Raises Busy where another window has it, NotKept where it cannot be read.
    """
    try:
        handle = os.open(path, os.O_RDWR | NO_LINK)
    except OSError as error:
        raise NotKept(f"{path} cannot be opened: {why_not(error)}.") from None
    try:
        lock(handle)
        data = read_all(handle)
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
    journal = Journal(path, replace(found.kept, lost=""), handle, found.chain, found.good, found.mark)
    return journal, _mend(journal, data) if found.kept.lost else ""


def copy(path: Path) -> Journal:
    """A new journal that begins where this one stands. Raises NotKept, OSError."""
    return _copy(path.parent, read(path))


def _copy(folder: Path, kept: Kept) -> Journal:
    new = begin(folder, kept.name or "piece", kept.pace, kept.knowledge)
    new.keep(replace(kept, name=new.kept.name, knowledge=new.kept.knowledge))
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
    mark: bytes = b""


def _recover(data: bytes) -> _Found:
    """Every whole record, and in `kept.lost` what of the file cannot be read."""
    found = _Found(Kept(), 0, 0)
    for number, (record, chain, good) in enumerate(records.read_lines(data)):
        if (number == 0) != ("beforepour" in record):
            break
        try:
            found = _Found(records.apply(found.kept, record), chain, good)
        except (ValueError, RecursionError):
            break
    mark = records.end_mark(found.chain) if found.kept.format >= records.MARKED else b""
    rest = data[found.good :]
    if rest == mark and found.good:
        return replace(found, mark=mark)
    return replace(found, kept=replace(found.kept, lost=_lost(found.kept.steps, rest)))


def _lost(steps: int, rest: bytes) -> str:
    """What cannot be read any more, as the middle of a sentence."""
    if not steps:
        return "nothing of it can be read"
    lines = rest.rstrip(b"\n").count(b"\n")
    if lines > 1:
        return f"only what was said up to answer {steps} can be read, some {lines} lines behind it cannot"
    return f"only what was said up to answer {steps} can be read, what came last may be lost"


def _mend(journal: Journal, data: bytes) -> str:
    """Put the damaged file aside, then cut the damage off."""
    aside = journal.path.parent / free_name(f"{journal.path.stem}.damaged", journal.path.parent, "")
    try:
        _write_aside(aside, data)
    except OSError as error:
        journal.close()
        raise NotKept(f"{journal.path} is damaged and cannot be put aside: {why_not(error)}.") from None
    if not journal._good:
        journal.kept = Kept(journal.path.stem, id=records.new_id())
        journal._owed, journal._chain = records.whole(journal.kept)
    journal._mark = data[journal._good :]  # the damage, which is written over
    trouble = journal._settle()
    steps = journal.kept.steps
    what = f"everything up to answer {steps} was recovered" if steps else "nothing of it could be recovered"
    told = f"{journal.path.name} was damaged; {what}. The damaged file is kept as {aside.name}."
    return f"{told} {trouble}".strip()


def _write_aside(path: Path, data: bytes) -> None:
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | NO_LINK, PRIVATE_FILE)
    try:
        write_at(handle, 0, data)
    finally:
        os.close(handle)
