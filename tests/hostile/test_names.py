"""Names that would harm elsewhere: shown as what they are in every form, and never run as anything.

Markdown is read back by markdown-it (CommonMark 0.31), HTML by the standard library's parser, calendars by
icalendar (RFC 5545), CSV by the csv module (RFC 4180). Formulas in CSV: OWASP, "CSV Injection".
"""

from __future__ import annotations

import csv
import io
import json
import unicodedata
from collections import Counter
from datetime import UTC, datetime, timedelta
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

import icalendar
import pytest
from markdown_it import MarkdownIt

from interview.brief.calendar_file import calendar_file
from interview.brief.csv_form import MARK
from interview.brief.file_names import safe
from interview.commands.entry import main
from interview.files.answers_file import read_answers
from interview.files.journal import begin
from interview.files.paths import file_name
from interview.files.stock import put_on_shelf
from interview.plan.answers import Answers
from interview.plan.model import Plan
from interview.reasoning.planner import make_plan
from interview.reasoning.timetable import Doing, Timeline
from interview.text.harmless import harmless
from knowledge.loading import Knowledge
from tests.brief.reading import text_of
from tests.hostile.common import known
from tests.test_cli import GOOD

NAMES = {
    "escape": "gull\x1b[2J\x1b[31m red",
    "title": "gull\x1b]0;pwned\x07",
    "clipboard": "\x1b]52;c;aGk=\x1b\\gull",
    "8-bit": "gull\x9b31m",
    "bidi": "gull \u202egnp.exe\u202c",
    "isolate": "\u2066gull\u2069",
    "zero width": "g\u200bu\u200dl\ufeffl",
    "soft hyphen": "gu\u00adll",
    "piled marks": "gull" + "\u0301" * 60,
    "nul": "gu\x00ll",
    "bell": "gull\x07\x08",
    "tags": "gull\U000e0041\U000e0042",
    "separator": "gull\u2028gull\u2029gull\x85",
    "surrogate": "gull\ud800",
    "very long": "gull" * 2000,
    "wide": "鷗" * 300,
    "template": "{{ 7*7 }} gull",
    "block": "{% for x in range(9) %}gull{% endfor %}",
    "comment": "{# gull #}",
    "dollar": "${7*7} gull",
    "percent": "%s %(name)s {0} {name} gull",
    "script": "<script>alert(1)</script> gull",
    "attribute": '" onload="alert(1)" x=\'gull',
    "image": "![gull](http://example.invalid/x.png)",
    "link": "[gull](javascript:alert(1))",
    "autolink": "<http://example.invalid>",
    "fence": "```\ngull\n```",
    "heading": "# gull\n\n- gull",
    "table": "a | b\n--|--\ngull | x",
    "entity": "&lt;b&gt; &#x3c;gull",
    "cdata": "]]> gull <!-- x",
    "formula": "=cmd|' /C calc'!A0",
    "sum": "@SUM(1+1)*cmd|' /C calc'!A0",
    "plus": "+1+1 gull",
    "minus": "-2+3 gull",
    "wide formula": "＝1+1",
    "wide at": "＠SUM(1+1)",
    "tab": "\t=1+1",
    "quote": '"=1+1"',
    "path": "../../../etc/passwd",
    "home": "~/gull",
    "device": "CON",
    "windows": "C:\\gull\\..\\x",
    "hidden": ".gull",
    "option": "--gull",
    "shell": "$(touch /tmp/gull) `id`; rm -rf *",
    "calendar": "gull\r\nATTACH:http://example.invalid\r\nBEGIN:VALARM",
    "nothing": "\x1b[0m\u200b",
}
each_name = pytest.mark.parametrize("name", NAMES.values(), ids=NAMES)


@cache
def stocked(tin: str) -> tuple[Knowledge, Answers]:
    """The knowledge with a tin of this name at hand."""
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "shelf.toml"
        quoted = json.dumps(harmless(tin, one_line=True)[:80] or "x", ensure_ascii=False).replace("\x7f", "")
        path.write_text(f'[[tin]]\nname = {quoted}\nclass = "spray_acrylic"\n', encoding="utf-8")
        knowledge = put_on_shelf(known(), path)
    return knowledge, read_answers(GOOD.encode(), knowledge)


@cache
def plan_of(name: str) -> Plan:
    """A plan of this name, with a tin of this name in it."""
    knowledge, answers = stocked(name)
    return make_plan(knowledge, answers, name)


def harmless_throughout(text: str) -> bool:
    kinds = {unicodedata.category(letter) for letter in set(text) - {"\n"}}
    return not kinds & {"Cc", "Cs"} and not any(
        letter in text for letter in "\u202e\u2066\u200b\ufeff\u2028\u00ad\U000e0041"
    )


@each_name
def test_in_the_terminal(name: str) -> None:
    text = text_of(plan_of(name), "terminal")
    assert harmless_throughout(text)
    wanted = "".join(harmless(name, one_line=True).split())
    assert wanted[:200].casefold() in "".join(text.split()).casefold()


class _Page(HTMLParser):
    """Which elements a page has, with their attributes, and its text."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: Counter[tuple[str, tuple[str, ...]]] = Counter()
        self.text = ""
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements[tag, tuple(sorted(key for key, _ in attrs))] += 1

    def handle_data(self, data: str) -> None:
        self.text += data


@cache
def _plain_page(form: str) -> _Page:
    return _Page(text_of(plan_of("gull"), form))


@each_name
def test_in_html_it_is_text_and_adds_no_element(name: str) -> None:
    text = text_of(plan_of(name), "html")
    page, plain = _Page(text), _plain_page("html")
    assert harmless_throughout(text)
    assert {tag for tag, _ in page.elements} <= {tag for tag, _ in plain.elements}
    assert page.elements.keys() <= plain.elements.keys()
    assert "".join(harmless(name, one_line=True).split())[:200] in "".join(page.text.split())


@each_name
def test_in_markdown_it_is_text(name: str) -> None:
    text = text_of(plan_of(name), "markdown")
    assert harmless_throughout(text)
    tokens = [t for block in MarkdownIt("commonmark").parse(text) for t in (block, *(block.children or ()))]
    assert not {t.type for t in tokens} & {
        "html_inline",
        "html_block",
        "image",
        "link_open",
        "fence",
        "code_block",
        "code_inline",
    }
    shown = "".join("".join(t.content for t in tokens if t.type in ("text", "text_special")).split())
    assert "".join(harmless(name, one_line=True).split())[:200] in shown


@each_name
def test_in_csv_no_cell_is_a_formula(name: str) -> None:
    form = "csv-steps" if len(name) % 4 == 0 else "csv-shopping"
    rows = list(csv.reader(io.StringIO(text_of(plan_of(name), form).removeprefix(MARK), newline=""), strict=True))
    assert len({len(row) for row in rows}) == 1
    for cell in (cell for row in rows for cell in row):
        assert harmless_throughout(cell)
        assert (
            not cell.startswith(("=", "+", "-", "@", "＝", "＋", "－", "＠", "\t", "\r"))
            or cell.lstrip("-").replace(".", "", 1).isdigit()
        )


@each_name
def test_in_json_it_comes_back_as_it_was_and_harms_no_screen(name: str) -> None:
    text = text_of(plan_of(name), "json")
    assert harmless_throughout(text)
    assert json.loads(text)["name"] == name


@each_name
def test_in_a_calendar_it_is_the_summary_and_no_line_of_its_own(name: str) -> None:
    begins = datetime(2026, 6, 1, 18)
    doing = Doing("pour", "pour", name, begins, begins + timedelta(minutes=30), begins + timedelta(hours=12), who=name)
    over = begins + timedelta(hours=12)
    time = Timeline((doing,), begins, over, over, over, None, 1, 1)
    made = calendar_file(time, [], name, datetime(2026, 5, 1, tzinfo=UTC))
    assert all(len(line.encode()) <= 75 for line in made.split("\r\n")) and "\n" not in made.replace("\r\n", "")
    calendar = icalendar.Calendar.from_ical(made)
    event, ready = calendar.walk("VEVENT")
    assert not calendar.errors and not event.errors and not ready.errors
    assert len(event.walk("VALARM")) == len(ready.walk("VALARM")) == 1
    assert set(event) == {"UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY"} | (
        {"DESCRIPTION"} if "DESCRIPTION" in event else set()
    )
    shown = "".join(str(event["SUMMARY"]).split())
    assert harmless_throughout(str(event["SUMMARY"])) and "".join(harmless(name).split()) in shown


def test_templates_are_not_run() -> None:
    for form in ("terminal", "markdown", "html", "screen", "json"):
        text = text_of(plan_of("{{ 7*7 }}{% if 1 %}{{ 12345679*9 }}{% endif %}"), form)
        assert "111111111" not in text and "12345679*9" in text.replace("\\", "")


@each_name
def test_as_a_file_name_it_stays_in_its_folder(name: str, tmp_path: Path) -> None:
    journal = begin(tmp_path / "pieces", name, "full", "k")
    journal.close()
    assert [p.resolve().parent for p in (tmp_path / "pieces").iterdir()] == [(tmp_path / "pieces").resolve()]
    for made in (safe(name), file_name(name)):
        assert (tmp_path / f"{made}.md").resolve().parent == tmp_path.resolve()
        assert made[0] not in ".-~" and len(made.encode()) < 200
        (tmp_path / f"{made}.md").write_text("x")
    assert not (Path("/tmp") / "gull").exists()


def test_no_brief_takes_the_file_of_another(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Names that would make one file on some system get files of their own, and stay in the folder."""
    table = tmp_path / "kinds.csv"
    names = ("gull/a", "Gull A", "../../gull a", "CON")
    rows = "".join(f"{name},1,hard,glazed_tile\n" for name in names)
    table.write_text(f"name,count,piece,support\n{rows}")
    assert main(["batch", str(table), "--assume", "--folder", str(tmp_path / "out")]) == 0
    made = {path.name for path in (tmp_path / "out").iterdir()}
    assert {"gull-a.md", "Gull-A-2.md", "gull-a-3.md", "CON-piece.md"} <= made
    assert {path.name for path in tmp_path.iterdir()} == {"kinds.csv", "out"}
    (tmp_path / "file").write_text("mine")
    capsys.readouterr()
    assert main(["batch", str(table), "--assume", "--folder", str(tmp_path / "file")]) == 1
    assert "a file stands where a folder is needed" in capsys.readouterr().err
