"""No home, one that cannot be written, no room, something in the way: a clear line, and the brief as ever.

Each case is the program in a process of its own, given a whole conversation through a pipe: forked from this
one where nothing hangs on how it starts, else started anew.
"""

from __future__ import annotations

import ctypes
import os
import pwd
import resource
import shutil
import stat
import subprocess
import sys
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import NoReturn

import pytest

from interview.commands.entry import main
from tests.hostile.forked import nothing_more, run_forked

ROOT = Path(__file__).parent.parent.parent
OUTSIDER = 54321  # a user no system knows
CONVERSATION = b"a glazed tile, nothing on it, no inclusions\nyes\n" + b"not sure\n" * 11
ONE_BLOCK = 4096


PYTHON = (sys.executable, "-m", "interview")
# root without the right to pass over permissions: like anybody else in a folder of another's
POWERLESS = ("setpriv", "--bounding-set", "-dac_override,-dac_read_search,-fowner", *PYTHON)
BASE = {
    "PATH": os.environ["PATH"], "BEFOREPOUR_TRACEBACK": "1", "LC_ALL": "C.UTF-8", "COLUMNS": "80", "PYTHONPATH": str(ROOT),
    "PYTHONDONTWRITEBYTECODE": "1",
}  # fmt: skip
powerless = pytest.mark.skipif(
    os.geteuid() != 0 or not shutil.which("setpriv"), reason="needs root, and setpriv to give its powers up"
)


def run(
    *arguments: str,
    typed: bytes = CONVERSATION,
    env: dict[str, str],
    prepare: Callable[[], None] = nothing_more,
    program: Sequence[str] = (),
) -> subprocess.CompletedProcess[str]:
    """`program`: started anew with this instead of forked."""
    if program:
        done = subprocess.run(
            [*program, *arguments],
            input=typed,
            capture_output=True,
            check=False,
            timeout=120,
            env=BASE | env,
            cwd=ROOT,
        )
    else:
        done = run_forked(arguments, typed, BASE | env, prepare, ROOT)
    out = " ".join(done.stdout.decode().split())
    err = done.stderr.decode()
    assert "Traceback" not in out + err, out + err
    return subprocess.CompletedProcess(done.args, done.returncode, out, err)


def goes_on(out: str, why: str) -> None:
    """Told once, in one line; the interview came to its brief; the answers stand there to be copied."""
    assert out.count("This cannot be kept on disk:") == 1 and why in out, out[-1500:]
    assert "First: " in out and 'piece = "hard"' in out, out[-1500:]


def small_files(most: int) -> Callable[[], None]:
    return lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))


def test_a_full_disk(tmp_path: Path) -> None:
    """No file may grow beyond 300 bytes: the journal begins, and is cut off within a record."""
    done = run(env={"BEFOREPOUR_DATA": str(tmp_path)}, prepare=small_files(300))
    goes_on(done.stdout, "the file would grow too large")
    again = run("list", typed=b"", env={"BEFOREPOUR_DATA": str(tmp_path)})
    assert again.returncode == 0 and "glazed-tile" in again.stdout
    (left,) = (tmp_path / "pieces").iterdir()
    assert left.stat().st_size <= 300 and stat.S_IMODE(left.stat().st_mode) == 0o600


@pytest.fixture
def tiny_disk(tmp_path: Path) -> Iterator[Path]:
    """A file system of one block, already full."""
    place = tmp_path / "disk"
    place.mkdir()
    command = ["mount", "-t", "tmpfs", "-o", f"size={2 * ONE_BLOCK}", "none", str(place)]
    if subprocess.run(command, capture_output=True, check=False).returncode:
        pytest.skip("no file system can be mounted here")
    (place / "filling").write_bytes(b"x" * 2 * ONE_BLOCK)
    yield place
    subprocess.run(["umount", str(place)], check=True)


def test_a_disk_that_is_really_full(tiny_disk: Path) -> None:
    done = run(env={"BEFOREPOUR_DATA": str(tiny_disk)})
    goes_on(done.stdout, "the disk is full")
    assert [p for p in tiny_disk.rglob("*") if p.is_file()] == [tiny_disk / "filling"]


def in_the_way(tmp_path: Path, place: str) -> dict[str, str]:
    """Something wrong where the data would go. Gives the environment."""
    match place:
        case "a file for the folder":
            (tmp_path / "data").write_text("in the way")
        case "a file for the pieces":
            (tmp_path / "data").mkdir()
            (tmp_path / "data" / "pieces").write_text("in the way")
        case "a link to nowhere":
            (tmp_path / "data").symlink_to("/proc/no/such/place")
        case "a name far too long":
            return {"BEFOREPOUR_DATA": str(tmp_path / ("x" * 300))}
        case "a device":
            return {"BEFOREPOUR_DATA": "/dev/null"}
    return {"BEFOREPOUR_DATA": str(tmp_path / "data")}


def test_the_wrong_thing_in_the_way(tmp_path: Path) -> None:
    goes_on(
        run(env=in_the_way(tmp_path, "a file for the folder")).stdout,
        "a file stands where a folder is needed",
    )


@pytest.mark.parametrize(
    "place",
    [
        "a file for the folder",
        "a file for the pieces",
        "a link to nowhere",
        "a name far too long",
        "a device",
    ],
)
@pytest.mark.parametrize(
    "command", [("list",), ("brief", "x"), ("resume", "x", "--plain"), ("forget", "x"), ("explain", "x")]
)
def test_each_command_says_one_line(
    tmp_path: Path,
    place: str,
    command: tuple[str, ...],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    for name, value in in_the_way(tmp_path, place).items():
        monkeypatch.setenv(name, value)
    monkeypatch.setenv("COLUMNS", "200")
    status = main(command)
    out, err = capsys.readouterr()
    assert len((out + err).splitlines()) == 1 and status == (0 if command == ("list",) else 2)


def give_powers_up() -> None:
    """As setpriv does for a program that is started anew; numbers as in linux/capability.h."""
    libc = ctypes.CDLL(None, use_errno=True)
    header, sets = (ctypes.c_uint32 * 2)(0x20080522, 0), (ctypes.c_uint32 * 6)()
    assert libc.capget(header, sets) == 0
    sets[0] &= ~0b1110  # of the effective ones: dac_override, dac_read_search, fowner
    assert libc.capset(header, sets) == 0


@powerless
def test_a_home_without_permission_to_write(tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir(mode=0o555)
    os.chown(home, OUTSIDER, OUTSIDER)
    env = {"HOME": str(home)}
    goes_on(run(env=env, prepare=give_powers_up).stdout, "permission is denied")
    assert list(home.iterdir()) == []
    done = run("questions", "piece", env=env, program=POWERLESS)
    assert done.returncode == 0 and done.stderr == ""


def nobody() -> None:
    def unknown(_: int) -> NoReturn:
        raise KeyError("no such user")

    pwd.getpwuid = unknown


def test_no_home_at_all() -> None:
    """No HOME, and a user the system has no entry for, as in a bare container."""
    goes_on(run(env={}, prepare=nobody).stdout, "there is no home folder")
    done = run("brief", "x", env={}, prepare=nobody)
    assert done.stderr == "beforepour: Nothing is kept: there is no home folder.\n"


@pytest.mark.parametrize("limit", [0, 1, 1000, 4096])
def test_a_file_is_written_whole_or_not_at_all(tmp_path: Path, limit: int) -> None:
    """In a process of its own, whose files may not grow beyond the limit."""
    path = tmp_path / "x.html"
    script = "import sys; from pathlib import Path; from interview.files.paths import write_whole; "
    script += "write_whole(Path(sys.argv[1]), 'x' * 5000, overwrite=len(sys.argv) > 2)"
    for more in ([], ["overwrite"]):
        if more:
            path.write_text("mine")
        done = subprocess.run(
            [sys.executable, "-B", "-c", script, str(path), *more],
            capture_output=True,
            check=False,
            cwd=ROOT,
            preexec_fn=small_files(limit),
        )
        assert b"File too large" in done.stderr
        assert [p.read_text() for p in tmp_path.iterdir()] == (["mine"] if more else [])


def test_killed_while_it_writes_the_old_file_is_whole(tmp_path: Path) -> None:
    path = tmp_path / "x.md"
    script = "import sys; from pathlib import Path; from interview.files.paths import write_whole\n"
    script += "for n in range(99):\n    write_whole(Path(sys.argv[1]), str(n % 10) * 300000, overwrite=True)"
    script += "\n    print(n, flush=True)"
    for _ in range(4):
        child = subprocess.Popen([sys.executable, "-B", "-c", script, str(path)], stdout=subprocess.PIPE, cwd=ROOT)
        assert child.stdout
        for _ in range(5):
            child.stdout.readline()
        child.kill()
        child.communicate()
        text = path.read_text()
        assert len(text) == 300000 and len(set(text)) == 1
        assert stat.S_IMODE(path.stat().st_mode) == 0o600


@pytest.mark.parametrize(
    ("command", "closed"),
    [("new", "<&-"), ("list", ">&-"), ("brief x", "2>&-"), ("new", "<&- >&- 2>&-"), ("list", ">/dev/full")],
)
def test_streams_that_are_closed_or_full(tmp_path: Path, command: str, closed: str) -> None:
    done = subprocess.run(
        ["sh", "-c", f'"{sys.executable}" -m interview {command} {closed}'],
        input=CONVERSATION,
        capture_output=True,
        check=False,
        env={**os.environ, "BEFOREPOUR_DATA": str(tmp_path), "PYTHONDONTWRITEBYTECODE": "1"},
        cwd=ROOT,
        timeout=60,
    )
    assert b"Traceback" not in done.stdout + done.stderr, done.stderr
    assert done.returncode in (0, 1, 2)
    assert (b"the disk is full" in done.stderr) is (closed == ">/dev/full")


def test_a_working_folder_that_is_gone(tmp_path: Path) -> None:
    def go_where_nothing_is() -> None:
        os.chdir(tmp_path / "gone")
        (tmp_path / "gone").rmdir()

    (tmp_path / "gone").mkdir()
    done = run(env={"BEFOREPOUR_DATA": "relative"}, prepare=go_where_nothing_is)
    assert "First: " in done.stdout and not list(tmp_path.iterdir())


def test_a_start_in_a_folder_that_is_gone(tmp_path: Path) -> None:
    (tmp_path / "gone").mkdir()
    away = ("sh", "-c", f'cd "{tmp_path}/gone" && rmdir "{tmp_path}/gone" && exec "$@"', "sh", *PYTHON)
    done = run("list", typed=b"", env={"BEFOREPOUR_DATA": "relative"}, program=away)
    assert done.returncode == 0 and done.stdout == "Nothing is kept yet." and done.stderr == ""
