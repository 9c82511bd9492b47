"""CSV files of batches, good and bad: every fault at once, with row and column."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from interview.commands.entry import main
from interview.files.batch_file import BatchError, read_batch
from interview.plan.answers import Answers
from knowledge.loading import Knowledge

GOOD = '''name,count,piece,support,opened,laid_on,size
gull collage,12,collage,tissue_paper,torn,glitter+shells,30 x 40 cm
"tern, ""small""",8,collage,tissue paper,torn,not sure,12 x 16 in

slate,3,hard,,,,
'''


def faults(data: str | bytes, knowledge: Knowledge) -> list[str]:
    with pytest.raises(BatchError) as caught:
        read_batch(data.encode() if isinstance(data, str) else data, knowledge)
    return list(caught.value.faults)


@pytest.mark.parametrize("between", [" + ", "+", "; ", " | "])
def test_a_good_file(knowledge: Knowledge, between: str) -> None:
    ids = list(knowledge.inclusions)
    text = GOOD.replace("glitter+shells", f"{ids[0]}{between}{ids[1]}")
    kinds = read_batch(text.encode(), knowledge)
    assert [(k.name, k.count, k.row) for k in kinds] == [
        ("gull collage", 12, 2),
        ('tern, "small"', 8, 3),
        ("slate", 3, 5),
    ]
    assert kinds[0].answers.value("laid_on") == frozenset(ids[:2])
    assert kinds[0].answers.value("size") == {"shape": "rectangle", "width": 300.0, "height": 400.0}
    assert kinds[0].answers.value("count") == 12
    assert kinds[1].answers["laid_on"].unsure
    assert "support" not in kinds[2].answers


@pytest.mark.parametrize("mark", [",", ";", "\t", "|"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_delimiters_and_encodings(mark: str, encoding: str, end: str, knowledge: Knowledge) -> None:
    rows = [["name", "count", "piece"], ["Möwe", "2", "photo"], ["", "", ""], ["Seeigel", "1", "hard"]]
    data = end.join(mark.join(row) for row in rows).encode(encoding)
    assert [(k.name, k.count) for k in read_batch(data, knowledge)] == [("Möwe", 2), ("Seeigel", 1)]


def test_a_spreadsheets_own_hint(knowledge: Knowledge) -> None:
    data = 'sep=;\nname;count;piece\n"a;b";2;photo\n'
    assert read_batch(data.encode(), knowledge)[0].name == "a;b"


def test_all_faults_are_listed_at_once(knowledge: Knowledge) -> None:
    text = "name,count,pice,support\ngull,0,photo,tissue_paper\n,1000000,photo,velvt\n=1+1,two,photo,tissue_paper\ngull,1,x,y,z\n"
    found = faults(text, knowledge)
    told = [
        'row 1, column 3: "pice" is no question. Did you mean "piece"?',
        "row 2, count: 0 pieces; leave the row out, or write 1 or more.",
        "row 3, name: is empty; give each kind a name.",
        'row 3, count: "1000000" pieces; at most 2000 are planned at once.',
        "row 3, support:",
        'row 4, name: "=1+1" looks like a formula; write what it should show.',
        'row 4, count: "two" is no whole number.',
        "row 5: has 5 cells; the first row names 4 columns.",
        "row 5, support:",
    ]
    assert len(found) == len(told)
    for line, begins in zip(found, told, strict=True):
        assert line.startswith(begins)


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "The file is empty."),
        (b" \n\n", "The file is empty."),
        (b"name,count\n", "no row under the first one"),
        (b"piece\nphoto\n", "row 1: there is no column name."),
        (b"name,piece\na,photo\n", "row 1: there is no column count."),
        (b"name,count,count\na,1,2\n", "row 1, column 3: there is another column count"),
        (b'name,count\n"a,1\nb,2\n', "row 2: a quotation mark is not closed"),
        (b"name,count\na,1\nA,2\n", "row 3, name: row 2 has the same name"),
        (b"name,count,piece\na,1,@SUM(A1)\n", 'row 2, piece: "@SUM(A1)" looks like a formula'),
        (b"name,count\na,-3\n", 'row 2, count: "-3" is no whole number.'),
        (b"name,count\na,1.5\n", 'row 2, count: "1.5" is no whole number.'),
        (b"name,count\na,1e3\n", 'row 2, count: "1e3" is no whole number.'),
        ("name,count\na,²\n".encode(), "is no whole number"),
        (b"name,count\na," + b"9" * 5000 + b"\n", "pieces; at most 2000"),
        (b"name,count\n" + b"".join(b"k%d,900\n" % n for n in range(3)), "There are 2700 pieces in all"),
        (b"name,count\n" + b"".join(b"k%d,1\n" % n for n in range(501)), "There are 501 rows; at most 500"),
        (b"PK\x03\x04\x00\x00\x00\x81", "The file is not text."),
        (b"\xff\xfe\x00", "The file is not text."),
        (b"x" * 1_000_001, "larger than 1 MB"),
        (b"name,count,size\na,1,big\n", "row 2, size:"),
        (b"name,count,opened\na,1,whole+torn\n", "row 2, opened:"),
    ],
)
def test_what_is_wrong_is_said_with_its_place(data: bytes, says: str, knowledge: Knowledge) -> None:
    assert any(says in fault for fault in faults(data, knowledge))


def test_answers_as_a_whole_are_checked_too(knowledge: Knowledge) -> None:
    def check(answers: Answers) -> list[tuple[str, str]]:
        return [("piece", "needs an answer.")] if "piece" not in answers else []

    with pytest.raises(BatchError) as caught:
        read_batch(b"name,count,piece\na,1,\nb,2,photo\nc,1,\n", knowledge, check)
    assert caught.value.faults == ("row 2, piece: needs an answer.", "row 4, piece: needs an answer.")


def test_what_is_missing_is_listed_in_the_questions_words(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Every row and column at once, beside what is wrong; not sure is an answer, and --assume says it for all."""
    file = tmp_path / "kinds.csv"
    file.write_text(
        "name,count,piece,laid_on,ways\nslate,3,hard,,brush\npetals,8,cast,pressed flowers,\ntern,x,cast,coin,brush\n"
    )
    assert main(["batch", str(file)]) == 2
    told = capsys.readouterr().err.splitlines()
    for line in (
        "row 2, laid_on: is missing. Is anything loose or laid on it, or stuck on top? [none, ",
        "row 2, resin_on: is missing. Which faces will the resin cover? [front, sides, all]",
        "row 3, natural_dry: is missing. Are the natural things dried right through? [dry, fresh]",
        'row 4, count: "x" is no whole number.',
    ):
        assert sum(line in said for said in told) == 1, line
    assert not any("row 2, ways" in said or "row 3, laid_on" in said for said in told)
    assert "--assume" in told[-1]
    file.write_text("name,count,piece,laid_on,ways\npetals,1,cast,pressed flowers,\n")
    assert main(["batch", str(file), "--assume"]) == 0
    assert "1 x petals" in capsys.readouterr().out


def test_what_is_shown_of_a_cell_is_harmless(knowledge: Knowledge) -> None:
    found = faults("name,count\n=\x1b[31mx\u202e,1\n", knowledge)
    assert "\x1b" not in found[0] and "\u202e" not in found[0]


@given(st.one_of(st.binary(max_size=300), st.text(alphabet='name,count;"\n\t=+-@ 1éx', max_size=200).map(str.encode)))
def test_any_bytes_are_read_or_refused(knowledge: Knowledge, data: bytes) -> None:
    try:
        read_batch(data, knowledge)
    except BatchError as error:
        assert error.faults and all("\n" not in fault for fault in error.faults)
