"""A batch from a CSV file: one row a kind, with its name, how many, and answers under question ids.

    name;count;sells;piece;support;opened;size
    gull collage;12;24.50;collage;tissue_paper;torn;30 x 40 cm

Several choices in one cell are parted by "+", ";" or "|". Read are UTF-8, UTF-16 with its mark, and the Western encoding of
older spreadsheets; parted by comma, semicolon, tab or bar. All faults are found at once, nothing is half read.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from interview.plan.answers import Answers
from interview.text.harmless import harmless, like_a_formula
from interview.text.nearest import did_you_mean
from knowledge.reach import leaves
from knowledge.shape import Question

if TYPE_CHECKING:
    from knowledge.loading import Knowledge

LARGEST = 1_000_000  # bytes
MOST_PIECES = 2000
MOST_ROWS = 500
NAME, COUNT, SELLS = "name", "count", "sells"
_MARKS = ",;\t|"
_BETWEEN = re.compile(r"[+;|]")
# what is still wrong with a row's answers as a whole: pairs of a question id and what to say
Check = Callable[[Answers], Iterable[tuple[str, str]]]


class BatchError(Exception):
    """The file will not do. `faults`: one line each, with row and column as a spreadsheet shows them."""

    def __init__(self, *faults: str) -> None:
        self.faults = faults
        super().__init__("\n".join(faults))


@dataclass(frozen=True, slots=True)
class KindRow:
    """One kind of piece, as its row says. `row` as a spreadsheet counts."""

    name: str
    count: int
    answers: Answers
    row: int
    sells: float | None = None


def read_batch(data: bytes, knowledge: Knowledge, check: Check | None = None) -> tuple[KindRow, ...]:
    """The kinds of a file. `check`: asked about each row's answers once they are read.

    Raises BatchError with every fault of the file.
    """
    rows = _rows(data)
    heads, faults = _heads(rows[0], knowledge)
    kinds: list[KindRow] = []
    names: dict[str, int] = {}
    filled = [(number, cells) for number, cells in enumerate(rows[1:], 2) if any(c.strip() for c in cells)]
    if not filled:
        faults.append("There is no row under the first one; each kind of piece is a row.")
    if len(filled) > MOST_ROWS:
        faults.append(f"There are {len(filled)} rows; at most {MOST_ROWS} are read.")
    for number, cells in filled[:MOST_ROWS]:
        kind, wrong = _kind(number, cells, heads, knowledge)
        faults += wrong or _as_a_whole(kind, names, check)
        kinds.append(kind)
    total = sum(k.count for k in kinds)
    if total > MOST_PIECES:
        faults.append(f"There are {total} pieces in all; at most {MOST_PIECES} are planned at once.")
    if faults:
        raise BatchError(*faults)
    return tuple(kinds)


# ------------------------------------------------------------ bytes to cells


def _rows(data: bytes) -> list[list[str]]:
    if len(data) > LARGEST:
        raise BatchError(f"The file is larger than {LARGEST // 1_000_000} MB; a batch has a few rows.")
    text = _text(data)
    if not text.strip():
        raise BatchError("The file is empty. Its first row names the columns: name, count and question ids.")
    first = text.split("\n", 1)[0]
    mark = max(_MARKS, key=first.count)
    if first.casefold().startswith("sep="):  # a spreadsheet's own hint
        mark, text = _hinted(first[4:]), text.split("\n", 1)[1] if "\n" in text else ""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True)
    rows: list[list[str]] = []
    try:
        rows += reader
    except csv.Error as error:
        raise BatchError(f"row {len(rows) + 1}: {_csv_fault(str(error))}") from None
    if not rows:
        raise BatchError("The file is empty. Its first row names the columns: name, count and question ids.")
    return rows


def _hinted(said: str) -> str:
    """The mark that a line such as "sep=;" names. Blanks and the other cells' marks may stand after it."""
    mark = said[:1]
    if mark not in _MARKS or not mark or said[1:].strip(f" {_MARKS}"):
        raise BatchError(
            f'row 1: "sep=" names {_shown(said) if said.strip() else "no mark"}; write sep= and a comma, a semicolon, '
            "a tab or a bar (|), or leave the row out."
        )
    return mark


def _csv_fault(says: str) -> str:
    if "field larger" in says:
        return "a cell is longer than any answer."
    return 'a quotation mark is not closed, or stands inside a cell; write "" for one inside a quoted cell.'


def _text(data: bytes) -> str:
    """Decoded, line ends as \\n."""
    for mark, encoding in (
        (b"\xff\xfe", "utf-16"),
        (b"\xfe\xff", "utf-16"),
        (b"", "utf-8-sig"),
        (b"", "cp1252"),
    ):
        if data.startswith(mark):
            try:
                text = data.decode(encoding)
            except UnicodeDecodeError:
                continue
            if "\0" not in text:
                return text.replace("\r\n", "\n").replace("\r", "\n")
    raise BatchError("The file is not text. Save it from the spreadsheet as CSV, in UTF-8.")


# ------------------------------------------------------------ the first row


def _heads(cells: Sequence[str], knowledge: Knowledge) -> tuple[list[str], list[str]]:
    """The column names, "" for those that are not read, and what is wrong with them."""
    heads = [cell.strip().casefold().replace(" ", "_") for cell in cells]
    faults: list[str] = []
    known = [NAME, COUNT, SELLS, *knowledge.questions]
    for number, head in enumerate(heads):
        where = f"row 1, column {number + 1}"
        if not head:
            continue
        if head not in known:
            faults.append(f"{where}: {_shown(cells[number])} is no question.{did_you_mean(head, known)}")
            heads[number] = ""
        elif head in heads[:number]:
            faults.append(f"{where}: there is another column {head}; keep one.")
            heads[number] = ""
    faults += [f"row 1: there is no column {need}." for need in (NAME, COUNT) if need not in heads]
    return heads, faults


# ------------------------------------------------------------ one row


def _kind(number: int, cells: Sequence[str], heads: Sequence[str], knowledge: Knowledge) -> tuple[KindRow, list[str]]:
    faults: list[str] = []
    answers = Answers()
    name, count, sells = "", 0, None
    if len(cells) > len(heads) and any(c.strip() for c in cells[len(heads) :]):
        faults.append(f"row {number}: has {len(cells)} cells; the first row names {len(heads)} columns.")
    for head, raw in zip(heads, cells, strict=False):
        cell = harmless(raw, one_line=True).strip()
        if not head:
            continue
        try:
            if head == NAME:
                name = _name(cell)
            elif head == COUNT:
                count = _count(cell)
            elif head == SELLS:
                sells = _price(cell)
            elif cell:
                answers = _said(answers, knowledge.questions[head], cell, knowledge)
        except ValueError as error:
            faults += [f"row {number}, {head}: {line}" for line in str(error).splitlines()]
    answers = _with_what_is_at_hand(answers, knowledge)
    if COUNT in knowledge.questions and count:
        answers = answers.say(COUNT, count, words=str(count))
    return KindRow(name, count, answers, number, sells), faults


def _with_what_is_at_hand(answers: Answers, knowledge: Knowledge) -> Answers:
    """Who tells a number in a cell has it at hand, so that it is read; where "have" is a column, that says it."""
    having = {
        leaf.value
        for id in answers
        if "have" in knowledge.questions and "have" not in answers
        for leaf in leaves(knowledge.questions[id].when)
        if leaf.of == "have" and leaf.test == "is"
    }
    return answers.say("have", frozenset(having)) if having else answers


def _name(cell: str) -> str:
    if not cell:
        raise ValueError("is empty; give each kind a name.")
    _no_formula(cell)
    if len(cell) > 80:
        raise ValueError("is longer than 80 letters.")
    return cell


def _count(cell: str) -> int:
    if not cell:
        raise ValueError("is empty; write how many pieces there are.")
    _no_formula(cell)
    plain = cell.removesuffix(".0")
    if not plain.isascii() or not plain.isdigit():
        raise ValueError(f"{_shown(cell)} is no whole number.")
    if not int(plain[:9]):
        raise ValueError("0 pieces; leave the row out, or write 1 or more.")
    if len(plain) > 9 or int(plain) > MOST_PIECES:
        raise ValueError(f"{_shown(cell)} pieces; at most {MOST_PIECES} are planned at once.")
    return int(plain)


def _price(cell: str) -> float | None:
    """What a piece sells at: "12", "12.50", "12,50"."""
    plain = cell.replace(",", ".").strip()
    if not plain:
        return None
    if not re.fullmatch(r"\d{1,6}(\.\d{1,2})?", plain):
        raise ValueError(f"{_shown(cell)} is no price of a piece; write it like 12 or 12.50.")
    return float(plain)


def _no_formula(cell: str) -> None:
    signed = cell[0] in "+-" and cell[1:].replace(".", "", 1).isdigit()
    if like_a_formula(cell) and not signed:
        raise ValueError(f"{_shown(cell)} looks like a formula; write what it should show.")


def _said(answers: Answers, question: Question, cell: str, knowledge: Knowledge) -> Answers:
    from interview.files.answers_file import AnswersError, read_value

    _no_formula(cell)
    plain = _named(cell) if question.kind == "several" else cell
    try:
        value = read_value(plain, question, knowledge)
    except AnswersError as error:
        lines = (fault.removeprefix(f"{question.id}: ") for fault in error.faults)
        raise ValueError("\n".join(lines)) from None
    return answers.say(question.id, value, "trial" if question.part == "trials" else "said", cell)


def _named(cell: str) -> str | list[str]:
    """What a cell names: "brush + spray_outdoors", with ; or | as well."""
    parts = [part.strip() for part in _BETWEEN.split(cell) if part.strip()]
    return parts if len(parts) > 1 else cell


def _as_a_whole(kind: KindRow, names: dict[str, int], check: Check | None) -> list[str]:
    faults = []
    before = names.setdefault(kind.name.casefold(), kind.row)
    if before != kind.row:
        faults.append(f"row {kind.row}, {NAME}: row {before} has the same name; give each kind its own.")
    if check is not None:
        faults += [f"row {kind.row}, {question}: {says}" for question, says in check(kind.answers)]
    return faults


def _shown(cell: str) -> str:
    plain = harmless(cell, one_line=True)
    return f'"{plain if len(plain) <= 40 else plain[:37] + "..."}"'
