"""What was said is on disk after each answer, and comes back from whatever a crash leaves."""

from __future__ import annotations

import os
import resource
import signal
import stat
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from interview.files import records
from interview.files.disk import Busy
from interview.files.journal import Journal, NotKept, begin, copy, read, reopen
from interview.files.paths import pieces_folder
from interview.files.pieces import NotExact, find, listing
from interview.files.recorder import OnDisk, name_for
from interview.files.records import Kept
from interview.plan.answers import NOT_SURE, Answers

STEPS = [
    ("piece", "collage", "1"),
    ("support", frozenset({"tissue", "kraft"}), "tissue and kraft"),
    ("size", {"shape": "rectangle", "width": 304.8, "height": 406.4}, "12 x 16 in"),
    ("hollow", NOT_SURE, "not sure"),
    ("ratio", (2.0, 1.0, "volume"), "2:1"),
    ("count", 30, "30"),
]


def fill(journal: Journal) -> list[Answers]:
    """Say STEPS one by one; the answers after each record, the header first."""
    states = [Answers()]
    for question, value, words in STEPS:
        answers = states[-1].say(question, value, words=words)
        assert journal.keep(replace(journal.kept, answers=answers, trail=(*journal.kept.trail, question))) == ""
        states.append(answers)
    return states


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    made = begin(tmp_path / "pieces", "Tissue collage", "full", "k1")
    yield made
    made.close()


def test_what_was_said_comes_back_value_origin_words_and_order(journal: Journal) -> None:
    states = fill(journal)
    kept = read(journal.path)
    assert kept.answers == states[-1]
    assert kept.trail == tuple(q for q, _, _ in STEPS)
    assert (kept.name, kept.pace, kept.knowledge, kept.done) == ("Tissue collage", "full", "k1", False)
    assert len(kept.id) == 8 and kept.lost == ""


def test_an_answer_changed_taken_back_or_made_stale_comes_back_so(journal: Journal) -> None:
    answers = fill(journal)[-1].say("piece", "jigsaw").withdraw("hollow").make_stale("support")
    journal.keep(replace(journal.kept, answers=answers, done=True, opening="a jigsaw"))
    kept = read(journal.path)
    assert (kept.answers, kept.done, kept.opening) == (answers, True, "a jigsaw")


def test_file_and_folder_are_private(journal: Journal) -> None:
    assert stat.S_IMODE(journal.path.stat().st_mode) == 0o600
    assert stat.S_IMODE(journal.path.parent.stat().st_mode) == 0o700


def test_nothing_is_written_where_nothing_changed(journal: Journal) -> None:
    size = journal.path.stat().st_size
    assert journal.keep(journal.kept) == ""
    assert journal.path.stat().st_size == size


def test_cut_at_every_byte_the_whole_records_before_the_cut_come_back(journal: Journal, tmp_path: Path) -> None:
    states = fill(journal)
    data = journal.path.read_bytes()
    ends = [n + 1 for n, byte in enumerate(data) if byte == 10]
    cut_path = tmp_path / "cut.jsonl"
    for cut in range(len(data) + 1):
        cut_path.write_bytes(data[:cut])
        whole = sum(end <= cut for end in ends[:-1])  # the last line is the mark that it is the last
        kept = read(cut_path)
        assert kept.answers == (states[whole - 1] if whole else Answers()), cut
        assert bool(kept.lost) == (cut < len(data)), cut


@settings(max_examples=300, deadline=None)
@given(data=st.data())
def test_noise_anywhere_never_gives_what_was_not_said(
    data: st.DataObject, tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder = tmp_path_factory.mktemp("noise")
    journal = begin(folder, "x", "full", "k")
    states = fill(journal)
    journal.close()
    whole = journal.path.read_bytes()
    raw = bytearray(whole)
    at = data.draw(st.integers(0, len(raw) - 1))
    noise = data.draw(st.binary(min_size=1, max_size=40))
    mode = data.draw(st.sampled_from(["over", "into", "instead"]))
    raw[at : at if mode == "into" else at + len(noise) if mode == "over" else len(raw)] = noise
    journal.path.write_bytes(raw)
    kept = read(journal.path)
    assert kept.answers in states
    assert kept.lost or raw == whole


def test_a_line_left_out_or_moved_ends_the_reading_there(journal: Journal) -> None:
    states = fill(journal)
    lines = journal.path.read_bytes().splitlines(keepends=True)
    journal.path.write_bytes(b"".join(lines[:3] + lines[4:]))
    assert read(journal.path).answers == states[2]
    journal.path.write_bytes(b"".join([*lines[:3], lines[4], lines[3], *lines[5:]]))
    assert read(journal.path).answers == states[2]


def test_reopened_after_damage_it_goes_on_and_the_damaged_file_is_kept(journal: Journal) -> None:
    states = fill(journal)
    journal.close()
    damaged = journal.path.read_bytes()[: -len(records.end_mark(0)) - 9]
    journal.path.write_bytes(damaged)
    again, told = reopen(journal.path)
    assert again.kept.answers == states[-2]
    assert "damaged" in told and "answer 5" in told and "\n" not in told
    aside = journal.path.parent / "tissue-collage.damaged"
    assert aside.read_bytes() == damaged and stat.S_IMODE(aside.stat().st_mode) == 0o600
    again.keep(replace(again.kept, answers=states[-1]))
    again.close()
    assert read(journal.path).answers == states[-1]
    assert listing(journal.path.parent) == [journal.path]


@pytest.mark.parametrize("data", [b"", b"\0" * 300, b"hello\n", b'{"a":1}\n', b"{" * 5000, b"[" * 100_000 + b"\n"])
def test_a_file_with_nothing_to_recover_is_told_kept_aside_and_begun_anew(data: bytes, tmp_path: Path) -> None:
    path = tmp_path / "x.jsonl"
    path.write_bytes(data)
    journal, told = reopen(path)
    assert "nothing of it could be recovered" in told
    assert (tmp_path / "x.damaged").read_bytes() == data
    journal.keep(replace(journal.kept, answers=Answers().say("piece", "wood")))
    journal.close()
    assert read(path).answers.value("piece") == "wood"


def test_a_newer_format_is_left_as_it_is_and_gone_on_with_in_a_copy(tmp_path: Path) -> None:
    header = {**records.header("x", "full", "k"), "format": records.FORMAT + 1}
    first, chain = records.write_line(header, 0)
    second, chain = records.write_line({"set": [["piece", "wood", "said", "wood"]]}, chain)
    third, chain = records.write_line({"mood": "new"}, chain)
    path = tmp_path / "x.jsonl"
    path.write_bytes(first + second + third)
    journal, told = reopen(path)
    assert "newer" in told and journal.path.name == "x-2.jsonl"
    assert journal.kept.answers.value("piece") == "wood"
    assert path.read_bytes() == first + second + third
    journal.close()


def test_a_second_window_is_told_and_may_copy(journal: Journal) -> None:
    states = fill(journal)
    with pytest.raises(Busy):
        reopen(journal.path)
    other = copy(journal.path)
    assert other.path.name == "tissue-collage-2.jsonl" and other.kept.answers == states[-1]
    other.close()
    journal.close()
    again, told = reopen(journal.path)
    assert told == ""
    again.close()


def test_a_full_disk_is_told_once_and_all_is_caught_up_when_there_is_room(journal: Journal) -> None:
    """RLIMIT_FSIZE stands for the full disk: the system refuses to let the file grow."""
    before = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    answers = Answers().say("piece", "wood")
    try:
        resource.setrlimit(resource.RLIMIT_FSIZE, (journal.path.stat().st_size + 10, hard))
        told = journal.keep(replace(journal.kept, answers=answers))
        more = journal.keep(replace(journal.kept, answers=answers.say("count", 2)))
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
        signal.signal(signal.SIGXFSZ, before)
    assert "cannot be kept on disk: the file would grow too large" in told and more == "" and not journal.safe
    assert read(journal.path).answers == Answers()
    assert "again" in journal.keep(replace(journal.kept, answers=answers.say("count", 3)))
    assert read(journal.path).answers == answers.say("count", 3) and journal.safe


def test_no_space_left_on_a_real_full_device() -> None:
    """/dev/full refuses every write with ENOSPC, as a full disk does."""
    if not Path("/dev/full").exists():
        pytest.skip("no /dev/full here")
    journal = Journal(Path("/dev/full"), Kept("x"), os.open("/dev/full", os.O_RDWR))
    told = journal.keep(replace(journal.kept, answers=Answers().say("piece", "wood")))
    assert told.startswith("This cannot be kept on disk: ")
    journal.close()


@pytest.mark.parametrize("place", ["file/pieces", "file", "link-to-nowhere/pieces"])
def test_where_nothing_can_be_kept_it_is_told_once_and_the_conversation_may_go_on(place: str, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    (tmp_path / "link-to-nowhere").symlink_to("/proc/nothing")
    keeper = OnDisk(lambda: tmp_path / place, "", lambda: "k")
    told = [keeper.keep(Kept(answers=Answers().say("piece", "wood").say("count", n))) for n in range(3)]
    assert told[0].startswith("This cannot be kept on disk: ") and told[1:] == ["", ""]
    assert keeper.name == "" and not keeper.safe


def test_without_a_home_it_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """No HOME, and a user the system has no entry for, as in a bare container."""
    import pwd

    def nobody(_: int) -> None:
        raise KeyError("uid not found")

    monkeypatch.setattr(pwd, "getpwuid", nobody)
    for name in ("BEFOREPOUR_DATA", "HOME", "XDG_DATA_HOME"):
        monkeypatch.delenv(name, raising=False)
    keeper = OnDisk(pieces_folder, "", lambda: "k")
    told = keeper.keep(Kept(answers=Answers().say("piece", "wood")))
    assert told.startswith("This cannot be kept on disk: there is no home folder.")


def test_a_folder_a_link_or_a_pipe_in_place_of_the_file_is_told(tmp_path: Path) -> None:
    (tmp_path / "folder.jsonl").mkdir()
    (tmp_path / "real.jsonl").write_text("x")
    (tmp_path / "link.jsonl").symlink_to(tmp_path / "real.jsonl")
    os.mkfifo(tmp_path / "pipe.jsonl")
    for name in ("folder", "link", "pipe"):
        with pytest.raises(NotKept) as told:
            read(tmp_path / f"{name}.jsonl")
        with pytest.raises(NotKept):
            reopen(tmp_path / f"{name}.jsonl")
        assert "\n" not in str(told.value)


def test_an_unknown_name_brings_the_nearest(journal: Journal) -> None:
    for name in ("tissue-collage", "Tissue collage", journal.kept.id):
        assert find(journal.path.parent, name) == journal.path
    with pytest.raises(NotExact, match=r'Did you mean tissue-collage \("Tissue collage"\)'):
        find(journal.path.parent, "Tissue Collage")
    with pytest.raises(NotKept, match="Did you mean tissue-collage"):
        find(journal.path.parent, "tisue colage")


def test_killed_in_the_middle_of_writing_nothing_confirmed_is_lost(tmp_path: Path) -> None:
    """A process that says how far it got, killed with SIGKILL: all it had said is on disk."""
    script = (
        "import sys\nfrom dataclasses import replace\nfrom pathlib import Path\n"
        "from interview.plan.answers import Answers\nfrom interview.files.journal import begin\n"
        "journal = begin(Path(sys.argv[1]), 'x', 'full', 'k')\n"
        "for n in range(100000):\n"
        "    journal.keep(replace(journal.kept, answers=Answers().say('count', n)))\n"
        "    print(n, flush=True)\n"
    )
    child = subprocess.Popen([sys.executable, "-c", script, str(tmp_path)], stdout=subprocess.PIPE, text=True)
    assert child.stdout
    for _ in range(50):
        said = int(child.stdout.readline())
    child.kill()
    said = int((child.stdout.read().split() or [said])[-1])
    child.wait()
    child.stdout.close()
    kept = read(tmp_path / "x.jsonl").answers.value("count")
    assert said <= kept <= said + 1


def test_names_are_made_of_what_was_said() -> None:
    assert name_for("It's a torn tissue collage on a wood panel, 12 x 16 in") == "torn-tissue-collage-wood"
    assert name_for("../../etc/passwd") == "etc-passwd"
    assert name_for("CON") == "con-piece"
    assert name_for("12") == "piece"
