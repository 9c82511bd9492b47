"""Tables that would harm a spreadsheet, or are not what they seem. Formulas: OWASP, "CSV Injection"."""

from __future__ import annotations

import csv
import io

import pytest

from interview.brief.csv_form import inert
from interview.files.batch_file import BatchError, read_batch
from interview.text.harmless import like_a_formula
from tests.hostile.common import known

FORMULAS = (
    "=1+1", "+1+1", "-1+1", "@SUM(A1)", "＝1+1", "＋1+1", "－1+1", "＠SUM(A1)", "﹦1", "﹢1", "﹣1", "﹫A1", "\t=1+1", "\t1",
    "\r=1+1", "\n=1+1", "=", "＝",
)  # fmt: skip


@pytest.mark.parametrize("cell", FORMULAS)
def test_what_is_written_is_set_off(cell: str) -> None:
    assert like_a_formula(cell) and inert(cell) == f"'{cell}"
    out = io.StringIO()
    csv.writer(out).writerow([inert(cell), inert("gull")])
    assert next(csv.reader(io.StringIO(out.getvalue(), newline=""))) == [f"'{cell}", "gull"]


@pytest.mark.parametrize("cell", ["", "gull", "1+1", "a=b", "'=1", "½ @ 3", "鷗", "e\u0301", "–"])
def test_what_is_no_formula_stays(cell: str) -> None:
    assert not like_a_formula(cell) and inert(cell) == cell


@pytest.mark.parametrize("cell", [c for c in FORMULAS if c != "\t1"])  # a tab before plain words is a blank
@pytest.mark.parametrize("row", ["{},1,photo", "gull,1,{}"], ids=["name", "answer"])
def test_what_is_read_is_refused(cell: str, row: str) -> None:
    quoted = '"' + cell + '"'
    with pytest.raises(BatchError, match="looks like a formula; write what it should show"):
        read_batch(f"name,count,piece\n{row.format(quoted)}\n".encode(), known())


@pytest.mark.parametrize("mark", [",", ";", "\t", "|"])
@pytest.mark.parametrize("after", ["", " ", ";;", ",,"])
def test_a_hint_that_names_one_of_the_four_marks(mark: str, after: str) -> None:
    data = f"sep={mark}{after}\nname{mark}count{mark}piece\ngull{mark}2{mark}photo\n"
    assert [(k.name, k.count) for k in read_batch(data.encode(), known())] == [("gull", 2)]


@pytest.mark.parametrize("said", ["x", "n", '"', "\0", "é", " ", "", ":", "a;", ";x", "=", "\\", "\x1b[2J", "ab"])
def test_a_hint_that_names_another_is_told(said: str) -> None:
    with pytest.raises(BatchError) as told:
        read_batch(f"sep={said}\nname;count\ngull;1\n".encode(), known())
    (line,) = told.value.faults
    wanted = "is not text" if said == "\0" else "write sep= and a comma, a semicolon, a tab or a bar (|)"
    assert wanted in line and "\x1b" not in line and len(line) < 200
