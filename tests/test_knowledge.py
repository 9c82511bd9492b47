"""The data files: sound as they are, and every defect named with file, row and cure."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest

from interview.quantities.units import line_reader
from knowledge.checking import check
from knowledge.loading import HOME, Knowledge, KnowledgeError, load
from knowledge.unit_file import unit_faults

FOLDER = Path(__file__).parent / "broken_knowledge"
BROKEN = sorted(FOLDER.glob("*.toml"))
BROKEN_UNITS = sorted(FOLDER.glob("units_*.txt"))
TODAY = date(2026, 11, 25)


def test_our_own_files_have_no_fault() -> None:
    assert [str(f) for f in check(today=TODAY, reads=line_reader())] == []


@pytest.mark.parametrize("path", BROKEN, ids=lambda p: p.stem)
def test_each_defect_is_named(path: Path, tmp_path: Path) -> None:
    """The first line of each file holds the words its faults must contain; sound files have none."""
    wanted = _wanted(path)
    shutil.copy(path, tmp_path / path.name)
    said = "\n".join(str(f) for f in check(extra=tmp_path, today=TODAY))
    for words in wanted:
        assert words in said, said
    if wanted:
        assert path.name in said
    else:
        assert said == ""


def _wanted(path: Path) -> list[str]:
    told = path.read_bytes().split(b"\n")[0].decode().removeprefix("# must say:").strip()
    return [words for words in told.split(" | ") if words]


@pytest.mark.parametrize("path", BROKEN_UNITS, ids=lambda p: p.stem)
def test_each_defect_of_units_is_named_with_its_line(path: Path) -> None:
    said = [str(f) for f in unit_faults(path, ("um", "week"), line_reader())]
    wanted = _wanted(path)
    assert wanted and all(any(words in line for line in said) for words in wanted), said
    assert all(line.startswith(f"{path.name}: ") for line in said)


def test_what_the_reader_of_units_refuses_is_told(tmp_path: Path) -> None:
    """Also where our own look at the line finds nothing; what may be read cannot be left to chance."""
    (tmp_path / "units.txt").write_text("millimetre = [length] = mm\n\ninch = 25.4 * millimetre\n")
    said = unit_faults(tmp_path / "units.txt", (), lambda line: "is odd" if line.startswith("inch") else "")
    assert [str(f) for f in said][:1] == [
        "units.txt: line 3: cannot be read: is odd; write name = 12 * unit above = symbol = other names"
    ]
    read = line_reader()
    assert read("millimetre = [length] = mm") == "" and read("inch = 25.4 * milimetre") and read("yard 3 foot")


def test_the_check_of_all_files_reads_the_units(tmp_path: Path) -> None:
    text = (HOME / "units.txt").read_text(encoding="utf-8")
    home = tmp_path / "knowledge"
    shutil.copytree(HOME, home, ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    (home / "units.txt").write_text(text.replace("foot = 12 * inch", "foot = 12 * inhc"), encoding="utf-8")
    said = [str(f) for f in check(home=home, today=TODAY, reads=line_reader())]
    assert said[0].startswith("units.txt: line 5") and "'inhc'" in said[0], said
    (home / "units.txt").write_text(text.replace("week = ", "fortnight = "), encoding="utf-8")
    assert [str(f) for f in check(home=home, today=TODAY) if "'week' is missing" in str(f)]


def test_units_of_a_shop_are_told_to_be_passed_over(tmp_path: Path) -> None:
    (tmp_path / "units.txt").write_text("cubit = 18 * inch\n")
    assert ["is not read from a folder of additions" in str(f) for f in check(extra=tmp_path, today=TODAY)] == [True]


def test_all_faults_of_a_folder_are_listed_at_once(tmp_path: Path) -> None:
    names = ("no_basis", "wrong_type", "unknown_fact", "not_toml")
    for path in BROKEN:
        if path.stem in names:
            shutil.copy(path, tmp_path / path.name)
    said = "\n".join(str(f) for f in check(extra=tmp_path, today=TODAY))
    assert all(f"{name}.toml" in said for name in names), said


def test_a_shop_may_override_a_row_and_it_is_told(tmp_path: Path, knowledge: Knowledge) -> None:
    text = (Path(__file__).parent / "broken_knowledge" / "sound_row.toml").read_text()
    (tmp_path / "stock.toml").write_text(text.replace("stall_paper", "cardstock"))
    mine = load(tmp_path).materials["cardstock"]
    assert mine.face == "open"
    assert "stock.toml, in place of" in mine.origin
    assert knowledge.materials["cardstock"].face == "tight"


def test_faulty_files_do_not_load(tmp_path: Path) -> None:
    shutil.copy(next(p for p in BROKEN if p.stem == "no_basis"), tmp_path)
    with pytest.raises(KnowledgeError, match="'basis' is missing"):
        load(tmp_path)


def test_every_file_opens_with_a_comment_that_shows_its_shape() -> None:
    home = Path(__file__).parent.parent / "knowledge"
    for path in home.rglob("*.toml"):
        assert path.read_text(encoding="utf-8").startswith("#"), path
