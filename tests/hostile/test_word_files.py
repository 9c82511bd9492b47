"""A broken word file, or another beside the rows, is told with its name and cure, and found by the check."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from interview.conversation import greeting
from interview.conversation.greeting import opening_words
from knowledge.allowances import load_allowances
from knowledge.checking import check
from knowledge.loading import HOME, Knowledge, KnowledgeError
from knowledge.solvents import load_solvents
from knowledge.word_files import NAMES, read_words, word_faults

BROKEN = [
    ("plain", "x = [", "is not TOML"),
    ("sorts", b"\xff\xfe", "is not UTF-8"),
    ("grammar", 'on = "on"', "'with' is missing"),
    ("grammar", "on = 3", "'on': needs text in quotes"),
    ("grammar", 'onn = "on"', "'onn' is no list"),
    ("kinds", '[[kind]]\nid = "a"\n', "'question' is missing"),
    ("kinds", "kind = 3\n", "with two brackets"),
    (
        "kinds",
        '[[kind]]\nid = "a"\nquestion = "colour"\nname = "a"\n',
        "'colour' is none of support, media, laid_on",
    ),
    (
        "kinds",
        '[[kind]]\nid = "a"\nquestion = "media"\nname = "a"\nsay = "a"\nrows = ["moon_dust"]\n',
        "a: names the row 'moon_dust'",
    ),
    ("kinds", '[[kind]]\nid = "a"\nquestion = "media"\nname = "a"\n', "give 'say' or 'vague'"),
    ("kinds", '[[kinds]]\nid = "a"\n', "did you mean 'kind'"),
    ("sorts", '[[sort]]\nquestion = "media"\nrow = "x"\nsay = "x"\n', "x: is no row"),
    ("states", '[[state]]\nquestion = "mood"\nvalue = "x"\nsay = "x"\n', "the question 'mood' is in no file"),
    ("states", '[[state]]\nquestion = "piece"\nvalue = "ship"\nsay = "ship"\n', "'ship' is no choice"),
    ("plain", '[[plain]]\ntheme = "people"\nsay = "aunt"\n', "the theme 'doing'"),
    ("numbers", 'again = "again"\n', "'values' is missing"),
    ("numbers", "again = 3\n", "needs text in quotes"),
    ("spelling", 'parts = [["color"]]\n[plurals]\n[slips]\n', "'parts': write each"),
    ("uncoated", 'always = "film"\n', "'alone' is missing"),
    ("things", None, "is missing"),
    ("numbers", "FOLDER", "is no file"),
]


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("home") / "knowledge"
    shutil.copytree(HOME, folder, ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    return folder


@pytest.mark.parametrize(("name", "text", "says"), BROKEN)
def test_a_broken_word_file_is_found_and_does_not_load(
    knowledge: Knowledge, home: Path, name: str, text: str | bytes | None, says: str
) -> None:
    path = home / "words" / f"{name}.toml"
    whole = path.read_bytes()
    try:
        path.unlink()
        if text == "FOLDER":
            path.mkdir()
        elif text is not None:
            path.write_bytes(text.encode() if isinstance(text, str) else text)
        said = [str(fault) for fault in word_faults(knowledge, home / "words")]
        assert said and all(line.startswith(f"{name}.toml: ") for line in said)
        assert any(says in line for line in said), said
        if not any(
            mark in says for mark in ("names the row", "is no row", "in no file", "no choice", "theme", "give 'say'")
        ):
            with pytest.raises(KnowledgeError, match=f"{name}.toml"):
                read_words.__wrapped__(name, home / "words")
    finally:
        path.rmdir() if path.is_dir() else path.unlink(missing_ok=True)
        path.write_bytes(whole)


def test_the_check_of_all_files_finds_them(home: Path) -> None:
    for name in ("words/plain.toml", "solvents.toml", "allowances.toml"):
        (home / name).write_text("x = [")
    said = [str(fault) for fault in check(None, home)]
    assert [line.split(":")[0] for line in said] == ["allowances.toml", "plain.toml", "solvents.toml"]


def test_every_word_file_is_checked() -> None:
    assert {path.stem for path in (HOME / "words").glob("*.toml")} == set(NAMES)


@pytest.mark.parametrize(
    "text",
    ["x = [", "[[solvent]]\n", "solvent = 3\n", "[[allowance]]\nid = 3\n", "allowance = [1]\n", "", "\0"],
)
def test_the_files_beside_the_rows(tmp_path: Path, text: str) -> None:
    for name, load in (("solvents.toml", load_solvents), ("allowances.toml", load_allowances)):
        (tmp_path / name).write_text(text)
        with pytest.raises(KnowledgeError, match=name):
            load.__wrapped__(tmp_path / name)
        (tmp_path / name).unlink()
        with pytest.raises(KnowledgeError, match="is missing"):
            load.__wrapped__(tmp_path / name)


def test_files_of_additions_that_would_be_passed_over_are_told(tmp_path: Path) -> None:
    (tmp_path / "words").mkdir()
    for name in ("words/plain.toml", "solvents.toml"):
        (tmp_path / name).write_text("")
    said = [str(fault) for fault in check(tmp_path)]
    assert len(said) == 2 and all("is not read from a folder of additions" in line for line in said)


@pytest.mark.parametrize("text", [None, "", "one\ntwo\n", "1\n2\n3\n4\n", b"\xff\n\xff\n\xff\n"])
def test_the_first_words_are_knowledge_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str | bytes | None
) -> None:
    import knowledge

    if text is not None:
        (tmp_path / "opening.txt").write_bytes(text.encode() if isinstance(text, str) else text)
    monkeypatch.setattr(knowledge, "__path__", [str(tmp_path)])
    with pytest.raises(KnowledgeError, match="needs three lines"):
        opening_words()
    assert greeting.opening_words is opening_words


def test_a_pipe_or_an_endless_file_among_the_rows_is_told(tmp_path: Path) -> None:
    import os

    os.mkfifo(tmp_path / "pipe.toml")
    (tmp_path / "endless.toml").symlink_to("/dev/zero")
    (tmp_path / "folder.toml").mkdir()
    (tmp_path / "long.toml").write_bytes(b"#" * 5_000_001)
    said = "\n".join(str(fault) for fault in check(tmp_path))
    assert said.count("is no file") == 3 and "is larger than 5 MB" in said
