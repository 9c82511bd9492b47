"""Every file the maker names, to read or to write, whatever stands under that name: one line, no wait, nothing replaced
that is no file."""

from __future__ import annotations

import os
import random
import stat
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from interview.brief import json_form
from interview.brief.forms import FORMS, render
from interview.commands.entry import main
from tests.test_cli import GOOD

KINDS: dict[str, Callable[[Path], object]] = {
    "a pipe": os.mkfifo,
    "a folder": Path.mkdir,
    "a link to a pipe": lambda path: (os.mkfifo(f"{path}.pipe"), path.symlink_to(f"{path}.pipe")),
    "an endless device": lambda path: path.symlink_to("/dev/zero"),
    "a link to itself": lambda path: path.symlink_to(path.name),
    "a link that leads nowhere": lambda path: path.symlink_to("nowhere"),
}
READERS = {
    "plan": ("x.toml", ["plan"]),
    "brief": ("x.json", ["brief"]),
    "batch": ("x.csv", ["batch"]),
    "stock": ("x.csv", ["stock"]),
    "a shelf": ("x.csv", ["questions", "piece", "--stock"]),
}


@pytest.fixture(autouse=True)
def _data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BEFOREPOUR_DATA", str(tmp_path / "data"))


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("reader", READERS)
def test_what_is_no_file_is_not_read(tmp_path: Path, kind: str, reader: str, capsys: Any) -> None:
    name, words = READERS[reader]
    path = tmp_path / name
    KINDS[kind](path)
    if reader == "a shelf":
        words, path_last = ["plan", "-", *words[2:]], path
        assert main([*words, str(path_last)]) == 2
    else:
        assert main([*words, str(path)]) == 2
    said = capsys.readouterr().err
    assert "cannot be read" in said.splitlines()[0] and name in said


@pytest.mark.parametrize("more", [[], ["--overwrite"]])
@pytest.mark.parametrize("kind", KINDS)
def test_only_a_file_is_written_over(tmp_path: Path, kind: str, more: list[str], capsys: Any) -> None:
    told, path = tmp_path / "told.toml", tmp_path / "x.md"
    told.write_text(GOOD)
    KINDS[kind](path)
    before = [(entry.name, entry.lstat().st_mode) for entry in sorted(tmp_path.iterdir())]
    status = main(["plan", str(told), "--as", "slip", "--to", str(path), *more])
    after = [(entry.name, entry.lstat().st_mode) for entry in sorted(tmp_path.iterdir())]
    if kind == "a link that leads nowhere" and more:
        assert status == 0 and path.is_symlink() and "SEAL" in (tmp_path / "nowhere").read_text()
        return
    assert status in (1, 2) and capsys.readouterr().err.count("\n") == 1
    assert [each for each in after if each[0] != "data"] == before


def test_a_link_stays_and_what_it_leads_to_is_written(tmp_path: Path) -> None:
    told, path = tmp_path / "told.toml", tmp_path / "x.md"
    told.write_text(GOOD)
    (tmp_path / "kept.md").write_text("old")
    path.symlink_to("kept.md")
    assert main(["plan", str(told), "--as", "slip", "--to", str(path), "--overwrite"]) == 0
    assert path.is_symlink() and "SEAL" in (tmp_path / "kept.md").read_text()
    assert stat.S_IMODE((tmp_path / "kept.md").stat().st_mode) == 0o600


@pytest.mark.parametrize("form", ["slip", "json", "csv-steps"])
def test_a_dash_is_standard_output(tmp_path: Path, form: str, capsys: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    told = tmp_path / "told.toml"
    told.write_text(GOOD)
    monkeypatch.chdir(tmp_path)
    assert main(["plan", str(told), "--as", form, "--to", "-"]) == 0
    assert "pray" in capsys.readouterr().out and not (tmp_path / "-").exists()


NUMBERS = ["9" * 5000, "-" + "9" * 5000, "1e999", "-1e999", "NaN", "Infinity", "1e13"]


@pytest.mark.parametrize("number", NUMBERS, ids=lambda text: text[:8])
def test_a_number_that_no_plan_holds_is_one_line(tmp_path: Path, number: str, capsys: Any) -> None:
    told, made = tmp_path / "told.toml", tmp_path / "plan.json"
    told.write_text(GOOD)
    assert main(["plan", str(told), "--as", "json", "--to", str(made)]) == 0
    whole = made.read_text()
    capsys.readouterr()
    for place in ('"format": 1', '"hands_on": 5'):
        assert place in whole
        made.write_text(whole.replace(place, f"{place.partition(':')[0]}: {number}", 1))
        assert main(["brief", str(made)]) == 2
        said = capsys.readouterr().err
        assert said.count("\n") == 1 and "is no number of a plan" in said and len(said) < 300
    made.write_text(f"\ufeff{whole}")
    assert main(["brief", str(made)]) == 0


def test_a_written_plan_changed_anywhere_is_refused_or_shown_never_a_traceback(tmp_path: Path) -> None:
    """Random leaves left out or replaced; every form that needs no days is made of what is still read."""
    import json

    told, made = tmp_path / "told.toml", tmp_path / "plan.json"
    told.write_text(GOOD)
    assert main(["plan", str(told), "--as", "json", "--to", str(made)]) == 0
    whole = made.read_text()
    places = list(_places(json.loads(whole)))
    odds = random.Random(17)
    forms = [name for name, form in FORMS.items() if not form.needs_time and name != "pdf"]
    for number in range(250):
        data = json.loads(whole)
        *path, last = odds.choice(places)
        at = data
        for step in path:
            at = at[step]
        if odds.random() < 0.3:
            del at[last]
        else:
            at[last] = odds.choice(
                [None, 0, -1, 1e11, "", "nowhere", "\x1b[2J", [], {}, True, [["x"]], {"all of": [1]}]
            )
        try:
            plan = json_form.read(json.dumps(data).encode())
        except json_form.UnreadablePlan as error:
            assert "\n" not in str(error)
            continue
        render(plan, forms[number % len(forms)])


def _places(data: Any, at: tuple[Any, ...] = ()) -> Any:
    for key, inner in data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ():
        yield (*at, key)
        yield from _places(inner, (*at, key))


DAYS = ["9999-12-31", "0001-01-01", "31.12.9999", "1 january 0001", "2036-01-01", "9999-12-31 24:00", "13 june 9999"]


@pytest.mark.parametrize("option", ["--from", "--ready-by", "--days-off"])
@pytest.mark.parametrize("day", DAYS)
def test_days_at_the_edges_are_one_line(tmp_path: Path, option: str, day: str, capsys: Any) -> None:
    told = tmp_path / "told.toml"
    told.write_text(GOOD)
    more = ["--latest"] if option == "--ready-by" else []
    assert main(["plan", str(told), "--hours", "evenings", option, day, *more]) == 2
    said = capsys.readouterr().err
    assert said.count("\n") == 1 and ("too far away" in said or "is no day" in said)
