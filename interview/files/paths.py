"""Where things are kept: the platform's own folders, private files, names that every platform takes.

Here alone a file of the maker's is opened (`read_file`) and a target is written (`write_whole`): plain files only.
"""

from __future__ import annotations

import contextlib
import errno
import os
import re
import stat
import tempfile
import unicodedata
from pathlib import Path

PRIVATE_FILE = 0o600
PRIVATE_FOLDER = 0o700
_MOST_BYTES = 60
_RESERVED = frozenset(
    [
        "con",
        "prn",
        "aux",
        "nul",
        "conin",
        "conout",
        *(f"com{n}" for n in range(10)),
        *(f"lpt{n}" for n in range(10)),
    ]
)


class NoPlace(OSError):
    """There is nowhere to keep anything: no home folder."""


def data_folder() -> Path:
    """The folder for conversations: BEFOREPOUR_DATA, or the platform's place for a program's data. Not created."""
    chosen = os.environ.get("BEFOREPOUR_DATA")
    if chosen:
        return Path(chosen).absolute()
    from platformdirs import user_data_path

    try:
        folder = user_data_path("beforepour", appauthor=False)
    except (RuntimeError, KeyError) as error:
        raise NoPlace("there is no home folder") from error
    if not folder.is_absolute():  # "~" could not be resolved
        raise NoPlace("there is no home folder")
    return folder


def pieces_folder() -> Path:
    """The folder that holds one journal a piece. Not created."""
    return data_folder() / "pieces"


def make_private(folder: Path) -> None:
    """One of our folders in the data folder, closed to others, also where it was made open before. Raises OSError."""
    for each in (folder.parent, folder):
        if each.exists() and not each.is_dir():
            raise NotADirectoryError(errno.ENOTDIR, "a file is in the way")
        each.mkdir(mode=PRIVATE_FOLDER, parents=True, exist_ok=True)
    with contextlib.suppress(OSError):
        if folder.stat().st_mode & 0o077:
            folder.chmod(PRIVATE_FOLDER)


def batches_folder() -> Path:
    """The folder that holds one file a kept batch. Not created."""
    return data_folder() / "batches"


def file_name(name: str) -> str:
    """A file's name made of a piece's name: letters, digits and dashes; never reserved, hidden, empty or long."""
    folded = unicodedata.normalize("NFKD", name.casefold())
    plain = "".join(c for c in folded if not unicodedata.combining(c))
    ascii_only = _dashed(plain.encode("ascii", "ignore").decode())
    made = ascii_only if len(ascii_only) >= 3 else _dashed(unicodedata.normalize("NFC", plain))
    made = made.encode()[:_MOST_BYTES].decode("utf-8", "ignore").strip("-") or "piece"
    return f"{made}-piece" if made in _RESERVED else made


def _dashed(text: str) -> str:
    return re.sub(r"[\W_]+", "-", text).strip("-")


def free_name(wanted: str, folder: Path, suffix: str) -> str:
    """`wanted`, or with -2, -3 ... the first that is not there yet."""
    number = 1
    while os.path.lexists(folder / f"{_counted(wanted, number)}{suffix}"):
        number += 1
    return _counted(wanted, number)


def _counted(name: str, number: int) -> str:
    return name if number == 1 else f"{name}-{number}"


# no waiting for the other end of a pipe, no line ends changed
FLAGS = 0
for _flag in ("O_NONBLOCK", "O_BINARY", "O_CLOEXEC"):
    FLAGS |= getattr(os, _flag, 0)


class NotAFile(OSError):
    """A pipe or a device, where a file is needed."""

    def __init__(self) -> None:
        super().__init__(0, "it is a pipe or a device, not a file")


def read_file(path: Path, largest: int) -> bytes:
    """The bytes of a plain file; of a larger one, one more than `largest`, which tells. Raises OSError, for a pipe or
    a device too: nothing waits, and nothing is read without end."""
    with os.fdopen(os.open(path, os.O_RDONLY | FLAGS), "rb") as file:
        _refuse_other(os.fstat(file.fileno()).st_mode)
        return file.read(largest + 1)


def _refuse_other(mode: int) -> None:
    if stat.S_ISDIR(mode):
        raise IsADirectoryError(errno.EISDIR, "a folder")
    if not stat.S_ISREG(mode):
        raise NotAFile


def write_whole(path: Path, content: str | bytes, *, overwrite: bool = False) -> None:
    """Write a private file, whole or not at all; text as UTF-8. A link stays, and where it leads is written.

    Raises OSError: where it is there, unless `overwrite`; for a folder, a pipe or a device, always.
    """
    if os.path.lexists(path):
        path = Path(os.path.realpath(path))
        if path.is_symlink():  # it leads in a circle
            raise OSError(errno.ELOOP, "a link to itself")
        if path.exists():
            _refuse_other(path.stat().st_mode)
        if not overwrite:
            raise FileExistsError(errno.EEXIST, "it is there", str(path))
    handle, temporary = tempfile.mkstemp(prefix=".beforepour-", dir=path.parent or Path())  # made 0600
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content.encode() if isinstance(content, str) else content)
            file.flush()
            os.fsync(file.fileno())
        put_in_place(Path(temporary), path, overwrite=overwrite)
    except BaseException:
        with contextlib.suppress(OSError):
            Path(temporary).unlink()
        raise


def put_in_place(temporary: Path, path: Path, *, overwrite: bool) -> None:
    """A hard link fails where the name was taken meanwhile; a rename would take it over."""
    if overwrite:
        temporary.replace(path)
        return
    try:
        os.link(temporary, path)
    except FileExistsError:
        raise
    except OSError:  # a file system without hard links
        temporary.rename(path)
    else:
        temporary.unlink()


def why_not(error: OSError) -> str:
    """An operating system's refusal in a few plain words."""
    if isinstance(error, NoPlace):
        return str(error)
    known = {
        "ENOSPC": "the disk is full", "EDQUOT": "your share of the disk is full", "EROFS": "the disk is read-only",
        "EACCES": "permission is denied", "EPERM": "permission is denied",
        "ENOTDIR": "a file stands where a folder is needed",
        "EISDIR": "a folder stands where a file is needed", "EEXIST": "a file of that name is already there",
        "ENOENT": "there is no such file or folder", "ENAMETOOLONG": "the name is too long", "ELOOP": "it is a link that is not followed",
        "EFBIG": "the file would grow too large",
    }  # fmt: skip
    name = errno.errorcode.get(error.errno or 0, "")
    return known.get(name, (error.strerror or "the system refused").lower())
