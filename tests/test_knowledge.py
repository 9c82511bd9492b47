"""The data files: sound as they are, and every defect named with file, row and cure."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest

from knowledge.checking import check
from knowledge.loading import Knowledge, KnowledgeError, load

BROKEN = sorted((Path(__file__).parent / "broken_knowledge").glob("*.toml"))
TODAY = date(2026, 11, 25)


def test_our_own_files_have_no_fault() -> None:
    assert [str(f) for f in check(today=TODAY)] == []


@pytest.mark.parametrize("path", BROKEN, ids=lambda p: p.stem)
def test_each_defect_is_named(path: Path, tmp_path: Path) -> None:
    """The first line of each file holds the words its faults must contain; sound files have none."""
    wanted = path.read_bytes().split(b"\n")[0].decode().removeprefix("# must say:").strip()
    shutil.copy(path, tmp_path / path.name)
    said = "\n".join(str(f) for f in check(extra=tmp_path, today=TODAY))
    for words in filter(None, wanted.split(" | ")):
        assert words in said, said
    if wanted:
        assert path.name in said
    else:
        assert said == ""


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
