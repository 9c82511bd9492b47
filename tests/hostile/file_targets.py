"""What comes in files: answers, a batch, a shelf, the knowledge."""

from __future__ import annotations

import json
import re
import shutil
from datetime import date

from interview.text.harmless import harmless
from knowledge.loading import HOME
from knowledge.word_files import FOLDER, NAMES, word_faults
from tests.hostile.common import ROOT, in_memory, known, near, now_and_then, one_line, planned, questions

TODAY = date(2026, 11, 25)


def answers_file(data: bytes) -> str:
    """What is read can be written and is then read the same."""
    from interview.files.answers_file import AnswersError, read_answers, write_answers

    try:
        answers = read_answers(data, known())
    except AnswersError as error:
        return " / ".join(sorted(one_line(fault) for fault in error.faults))
    again = read_answers(write_answers(answers, known()).encode(), known())
    assert list(again) == sorted(answers, key=list(known().questions).index)
    for id, answer in again.items():
        assert answer.origin == answers[id].origin and near(answer.value, answers[id].value), (
            id,
            answer,
            answers[id],
        )
    return planned(answers, data, "x") if now_and_then(data, 8) else f"read {len(answers)}"


def answers_seeds() -> list[bytes]:
    from tests.test_cli import GOOD

    lines = []
    for question, choices in questions():
        first = next((c.id for c in choices), "")
        plain = (
            json.dumps([first] if question.kind == "several" else first)
            if choices
            else json.dumps(question.example or "3")
        )
        lines.append(f"{question.id} = {plain}")
    split = [lines[n::5] for n in range(5)]
    return [
        GOOD.encode(),
        *("\n".join(part).encode() for part in split),
        *(line.encode() for line in lines),
        b'piece = "sheet"\nsize = "30 x 40 cm"\n[origin]\nsize = "label"\n',
    ]


def table(data: bytes) -> str:
    """A batch from a spreadsheet."""
    from interview.files.batch_file import BatchError, read_batch

    try:
        kinds = read_batch(data, known())
    except BatchError as error:
        return " / ".join(sorted({one_line(fault) for fault in error.faults})[:4])
    for kind in kinds:
        one_line(kind.name)
    return planned(kinds[0].answers, data, kinds[0].name) if now_and_then(data, 16) else f"read {len(kinds)}"


def table_seeds() -> list[bytes]:
    good = (
        "name;count;piece;support;opened;size\ngull collage;12;collage;tissue_paper;torn;30 x 40 cm\n"
        'shells;3;hard;slate;whole;"20 cm round"\n'
    )
    comma = good.replace(";", ",")
    return [
        good.encode(),
        comma.encode(),
        good.replace(";", "\t").encode("utf-16"),
        f"sep=|\n{good.replace(';', '|')}".encode(),
        comma.replace("\n", "\r\n").encode("utf-8-sig"),
        b"name,count,media\n\xe9t\xe9,2,charcoal+graphite\n",
    ]


def _stock(data: bytes, ending: str) -> str:
    from interview.files.stock import StockError, put_on_shelf

    path = in_memory() / f"shelf.{ending}"
    path.write_bytes(data)
    try:
        stocked = put_on_shelf(known(), path)
    except StockError as error:
        return " / ".join(sorted({one_line(line) for line in str(error).splitlines()})[:4])
    if not now_and_then(data, 16):
        return "read"
    from interview.brief.forms import render
    from interview.files.answers_file import read_answers
    from interview.reasoning.planner import make_plan
    from tests.test_cli import GOOD

    plan = make_plan(stocked, read_answers(GOOD.encode(), stocked))
    assert (text := str(render(plan, "markdown"))) == harmless(text)
    return "planned"


def stock_csv(data: bytes) -> str:
    return _stock(data, "csv")


def stock_toml(data: bytes) -> str:
    return _stock(data, "toml")


def stock_seeds() -> list[bytes]:
    from tests.test_stock import TINS

    row = "name,class,carrier,dries_clear,non_yellowing,made_for,spread,recoat,ready,pack,price\n"
    row += "the red can,spray_acrylic,water,yes,no,acrylic_paint charcoal,"
    row += "9 m2/L,2 to 3 hours,24 hours,400 mL,7.50\n"
    return [
        TINS.encode(),
        row.encode(),
        row.replace(",", ";").encode(),
        b'[[tin]]\nname = "a"\nclass = "spray_acrylic"\nmade_for = ["charcoal"]\n',
    ]


def rows_file(data: bytes) -> str:
    """A file of the knowledge: all faults as lines, none as a traceback."""
    from knowledge.checking import check

    home = in_memory() / "rows"
    home.mkdir(exist_ok=True)
    (home / "x.toml").write_bytes(data)
    faults = [one_line(str(fault)) for fault in check(None, home, TODAY)]
    return " / ".join(sorted({fault.split(":", 1)[1] for fault in faults})[:3]) or "sound"


def rows_seeds() -> list[bytes]:
    made = [path.read_bytes() for path in sorted((ROOT / "tests" / "broken_knowledge").glob("*.toml"))]
    for path in sorted(HOME.rglob("*.toml")):
        if "words" not in path.parts and path.name not in ("solvents.toml", "allowances.toml"):
            tables = re.split(rb"\n(?=\[\[\w+\]\]\n)", path.read_bytes())[1:]
            made += [b"\n".join(tables[n : n + 3]) for n in range(0, len(tables), max(4, len(tables) // 8))]
    return made


def words_file(data: bytes) -> str:
    """One of the word files; the first line tells which, the others are as they should be."""
    head, _, body = data.partition(b"\n")
    name = next((n for n in NAMES if n.encode() == head), NAMES[len(head) % len(NAMES)])
    words = in_memory() / "words"
    if not words.exists():
        shutil.copytree(FOLDER, words)
    path = words / f"{name}.toml"
    path.write_bytes(body)
    faults = [one_line(str(fault)) for fault in word_faults(known(), words, (name,))]
    assert all(fault.startswith(f"{path.name}: ") for fault in faults)
    return " / ".join(sorted(set(faults))[:3]) or "sound"


def words_seeds() -> list[bytes]:
    made = []
    for name in NAMES:
        data = (FOLDER / f"{name}.toml").read_bytes()
        tables = re.split(rb"\n(?=\[\[?\w+\]\]?\n)", data)
        short = data if len(tables) < 5 else b"\n".join([*tables[1:3], *(t for t in tables if b"doing" in t)])
        made += [name.encode() + b"\n" + part for part in (short, tables[-1])]
    return made
