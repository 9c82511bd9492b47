"""The counter: which of four customers it is, a slip each, and nothing of a customer anywhere after."""

from __future__ import annotations

import tomllib
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from interview.brief.slip import PAGE, WIDTH, slip
from interview.conversation.desk import DONE, INTERRUPTED, hold
from interview.conversation.sessions import Setting
from interview.terminal.scripted_console import INTERRUPT, ScriptedConsole
from knowledge.loading import Knowledge
from tests.brief.real import CASES, real_plan

SHELF = (
    "name;class;pack;left;price\nblue tin;brush_water_borne;250 mL;half;11,50\nboat varnish;polyurethane;500 mL;;14\n"
    "Clear kit;resin;1,5 kg;;39,90\n"
)
CUSTOMERS = tomllib.loads(Path(__file__).with_name("desk.toml").read_text(encoding="utf-8"))["customer"]


def counter(lines: list[str], stock: Path | None = None) -> tuple[int, str]:
    console = ScriptedConsole(lines)
    status = hold(Setting(console, stock=stock, now=lambda: datetime(2026, 3, 26, 10, 0)))
    return status, console.transcript


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("BEFOREPOUR_DATA", str(tmp_path / "data"))
    return tmp_path


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    path = tmp_path / "shelf.csv"
    path.write_text(SHELF, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        (["can i use hairspray on a pastel drawing", "stop"], "No: hairspray"),
        (["hairspray?", "a pastel drawing", "stop"], "No: hairspray"),
        (["boat varnish or the blue tin on a slate coaster?", "stop"], "Of the two, take the acrylic medium"),
        (["she's pregnant, can she do it", "", "stop"], "let somebody else spray, mix and pour"),
        (["i only have my bedroom", "", "stop"], "Not where you sleep"),
        (["it is still sticky all over after two days", *["not sure"] * 6, "", "stop"], "First, for yourself"),
        (["resin in my eye!", "", "stop"], "water"),
    ],
)
def test_each_customer_gets_an_answer(lines: list[str], says: str, shelf: Path) -> None:
    status, screen = counter(lines, shelf)
    assert says in " ".join(screen.split()), screen
    assert status == DONE


@pytest.mark.parametrize("row", CUSTOMERS, ids=lambda row: row["name"])
def test_each_customer_of_the_table(row: dict[str, Any], shelf: Path, folder: Path) -> None:
    lines = [line.format(folder=folder) for line in row["lines"]]
    _, screen = counter([*lines, "slip", "stop", "yes"], shelf)
    shown, _, slip = screen.rpartition("Prep slip") if "Prep slip" in screen else (screen, "", "")
    one, page = " ".join(shown.split()), " ".join(slip.split("Next customer")[0].split())
    assert [words for words in row.get("said", ()) if words not in one] == [], screen
    assert [words for words in row.get("unsaid", ()) if words in one] == []
    assert [words for words in row.get("slip", ()) if words not in page] == [], slip
    assert [words for words in row.get("not_on_slip", ()) if words in page] == []
    assert not (folder / "data").exists(), "nothing of a customer on disk"
    if "replies" in row:
        before = one.partition("Short answer")[0]
        assert sum(f"> {line}" in before for line in lines) <= row["replies"], before


def test_at_most_six_questions_and_the_size_among_them() -> None:
    _, screen = counter(["a pastel drawing on pastel paper", *["not sure"] * 12, "next", "stop", "yes"])
    asked = {line for line in screen.splitlines() if line.rstrip().endswith("?")}
    asked -= {"Next customer: what do they say?", "Anything the customer wants to know?", "Leave the counter?"}
    assert len(asked) <= 6, asked
    assert any("How big" in line for line in asked)


@pytest.mark.parametrize("says", CASES[::9])
def test_a_slip_is_one_page(knowledge: Knowledge, says: str) -> None:
    lines = {trial.id: trial.line for trial in knowledge.trials.values()}
    text = slip(real_plan(says), lines=lines, told=("ways of sealing: brush", "where the resin goes: the front only"))
    assert text.count("\n") <= PAGE
    assert max(map(len, text.splitlines())) <= WIDTH


def test_the_verdict_is_the_last_thing_on_the_screen() -> None:
    _, screen = counter(["a pastel drawing on pastel paper", *["not sure"] * 6, "next", "stop"])
    before = screen.partition("Anything the customer wants to know?")[0]
    assert "Short answer" in " ".join(before.splitlines()[-6:])


def test_a_slip_is_shown_again_and_written_only_when_asked(folder: Path) -> None:
    lines = [
        "can i use milk on a drawing",
        "can i use wax on a board",
        "again",
        "again 2",
        f"print to {folder / 'slip.txt'}",
        "stop",
    ]
    _, screen = counter(lines)
    assert "again 2: can i use milk" in screen
    assert screen.count("No: milk") == 2
    assert "No: wax" in (folder / "slip.txt").read_text(encoding="utf-8")
    assert not (folder / "data").exists(), "nothing of a customer on disk"


def test_ctrl_c_asks_first() -> None:
    status, screen = counter([INTERRUPT, "no", INTERRUPT, "yes"])
    assert status == INTERRUPTED
    assert screen.count("Leave the counter?") == 2


def test_faults_of_the_shelf_are_told_before_anybody_is_greeted(tmp_path: Path) -> None:
    from interview.conversation.sessions import start

    path = tmp_path / "bad.csv"
    path.write_text("name;class\na;nonsense\n", encoding="utf-8")
    console = ScriptedConsole(["stop"])
    assert start(Setting(console, stock=path), "counter") == 2
    assert "nonsense" in console.transcript
    assert "Next customer" not in console.transcript
