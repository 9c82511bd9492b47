"""What is fuzzed: each target takes bytes as they come from outside, and checks what must hold of the result.

A target gives in a few words how it came out. The only exceptions it may catch are those with lines for the person;
anything else, and any assertion, is a find.
"""

from __future__ import annotations

import io
import json
import tempfile
import zlib
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, datetime
from functools import cache
from pathlib import Path
from typing import Any

from interview.answers import Answers
from interview.conversation.kept import Kept
from interview.conversation.opening import lexicon_of
from interview.harmless import harmless
from knowledge.loading import HOME, Knowledge, load
from knowledge.shape import Choice, Question

ROOT = Path(__file__).parent.parent.parent
TODAY = date(2026, 11, 25)
_FORMS = ("terminal", "markdown", "html", "handout", "json", "csv-shopping", "csv-steps")


@dataclass(frozen=True, slots=True)
class Target:
    """`share`: how many of a million inputs. `sample`: how many in the test run."""

    name: str
    share: int
    sample: int
    run: Callable[[bytes], str]
    seeds: Callable[[], list[bytes]]


@cache
def known() -> Knowledge:
    return load()


@cache
def _folder() -> Path:
    """A folder in memory, where there is one: files are made by the hundred thousand."""
    memory = Path("/dev/shm")
    return Path(tempfile.mkdtemp(prefix="hostile-", dir=memory if memory.is_dir() else None))


def _now_and_then(data: bytes, often: int) -> bool:
    """True for one input in `often`, and for the same input always."""
    return zlib.crc32(data) % often == 0


def as_typed(data: bytes) -> str:
    """As a console hands over a line."""
    from interview.terminal.plain_console import _decode
    from interview.terminal.prompt import LONGEST_LINE

    return harmless(_decode(data), one_line=True)[:LONGEST_LINE]


def one_line(text: str) -> str:
    """The text as it is shown; it has to be one line of bearable length."""
    assert text and "\n" not in text and len(text) < 700, repr(text)[:300]
    return harmless(text, one_line=True)


# ------------------------------------------------------------------ replies and opening words


@cache
def _questions() -> tuple[tuple[Question, tuple[Choice, ...]], ...]:
    from interview.conversation.fitting import all_choices

    return tuple((q, all_choices(q, known())) for q in known().questions.values())


def reply(data: bytes) -> str:
    """The first line tells the question, the rest is what is typed."""
    from interview.conversation.choosing import Unclear
    from interview.conversation.commands import Command
    from interview.conversation.fitting import fits
    from interview.conversation.replies import PICKED, read_reply, typed_for

    head, _, body = data.partition(b"\n")
    place = next(
        (n for n, (q, _) in enumerate(_questions()) if q.id.encode() == head),
        zlib.crc32(head) % len(_questions()),
    )
    question, choices = _questions()[place]
    text = as_typed(body)
    value: Any = None
    for imperial in (False, True):
        got = read_reply(text, question, choices, imperial=imperial)
        if isinstance(got, Unclear):
            return f"{question.id} {one_line(got.says)}"
        if isinstance(got, Command):
            return f"command {got.name}"
        value = got.value
        assert fits(value, question, known()), (question.id, got)
        if got.said:
            one_line(got.said)
        if question.kind in PICKED and isinstance(value, (str, frozenset)):
            typed_for(value, choices, several=question.kind == "several")
        else:
            _comes_back(value, question, imperial=imperial)
    return f"{question.id} read {type(value).__name__}"


def _comes_back(value: Any, question: Question, *, imperial: bool) -> None:
    """What was read, offered again to be changed, is read as the same."""
    from interview.answers import NOT_SURE
    from interview.conversation.measures import measure_text, read_measure
    from interview.conversation.replies import Value

    if value is NOT_SURE:
        return
    text = measure_text(value, question, imperial=imperial)
    again = read_measure(text, question)
    assert isinstance(again, Value), (question.id, value, text, again)
    assert _near(again.value, value), (question.id, value, text, again.value)


def _near(one: Any, other: Any) -> bool:
    """Equal, numbers as near as they are written."""
    if isinstance(one, dict):
        return set(one) == set(other) and all(_near(one[k], other[k]) for k in one)
    if isinstance(one, tuple):
        return len(one) == len(other) and all(map(_near, one, other))
    if isinstance(one, float):
        return bool(abs(one - other) <= 1e-6 * max(abs(one), abs(other), 1))
    return bool(one == other)


def reply_seeds() -> list[bytes]:
    texts = {
        "size": ("12 x 16 in", "30 by 40 cm", "20 cm round", "A4", "3' 2 1/2\" x 4 ft", "oval 30 x 20 cm", "L-shaped 40 x 30, arms 10 cm"),
        "length": ('1/8"', "2.5 mm", "6 ft 2 in", "3 mil"), "volume": ("12oz", "1.5 l", "250 mL"), "ratio": ("2:1", "100:45 by weight"),
        "duration": ("40 minutes", "2 hours", "an hour and a half", "1 week"), "temperature": ("70 F", "21 C", "-3"), "percent": ("55 %", "50"),
        "money": ("18.50", "$1,200.50", "12 €"), "count": ("12", "a dozen", "30 pieces"), "text": ("anything",), "date": ("saturday",),
    }  # fmt: skip
    shared = (
        "1",
        "1 3",
        "2 and 4",
        "1-3",
        "not sure",
        "why",
        "back",
        "change size",
        "same as x",
        "nothing",
        "no glitter but sand",
        "?",
    )
    made = []
    for question, choices in _questions():
        typed = [*texts.get(question.kind, ("12", "3.5 mm")), *shared, *(c.text for c in choices[:12])]
        typed += [a for c in choices[:40] for a in c.also[:2]]
        made += [f"{question.id}\n{text}".encode() for text in typed]
    return made


def opening(data: bytes) -> str:
    """Words about a piece; what they propose is always possible."""
    from interview.conversation.opening import understand
    from tests.opening.test_robustness import check

    got = understand(as_typed(data), known())
    check(got)
    open_ones = " ".join(sorted(each.question for each in got.open))
    return f"{' '.join(sorted(got.proposed))} | {open_ones} | {len(got.not_understood)} {got.coatable} {bool(got.same_as)}"


def opening_seeds() -> list[bytes]:
    import tomllib

    table = tomllib.loads((ROOT / "tests" / "opening" / "sentences.toml").read_text(encoding="utf-8"))
    texts = [text for rows in table.values() if isinstance(rows, list) for text in _texts_of(rows)]
    words = [" ".join(words) for words in lexicon_of(known()).phrases]
    return [text.encode() for text in (*texts, *words[::7])]


def _texts_of(rows: Iterable[Any]) -> list[str]:
    return [
        max((v for v in row.values() if isinstance(v, str)), key=len) for row in rows if isinstance(row, dict)
    ]


# ------------------------------------------------------------------ files


def _planned(answers: Answers, data: bytes, name: str) -> str:
    """Whatever was accepted can be planned, drawn, priced and written down."""
    from interview.brief.rendering import render
    from interview.planner import make_plan

    plan = make_plan(known(), answers, name)
    form = _FORMS[zlib.crc32(data) // 7 % len(_FORMS)]
    text = render(plan, form, units="imperial" if len(data) % 2 else "metric")  # type: ignore[arg-type]
    assert form.startswith("csv") or text == harmless(text), form
    return form


def answers_file(data: bytes) -> str:
    """What is read can be written and is then read the same."""
    from interview.conversation.answers_file import AnswersError, read_answers, write_answers

    try:
        answers = read_answers(data, known())
    except AnswersError as error:
        return " / ".join(sorted(one_line(fault) for fault in error.faults))
    again = read_answers(write_answers(answers, known()).encode(), known())
    assert list(again) == sorted(answers, key=list(known().questions).index)
    for id, answer in again.items():
        assert answer.origin == answers[id].origin and _near(answer.value, answers[id].value), (
            id,
            answer,
            answers[id],
        )
    return _planned(answers, data, "x") if _now_and_then(data, 8) else f"read {len(answers)}"


def answers_seeds() -> list[bytes]:
    from tests.test_cli import GOOD

    lines = []
    for question, choices in _questions():
        first = next((c.id for c in choices), "")
        plain = (
            json.dumps([first] if question.kind == "several" else first)
            if choices
            else json.dumps(question.example or "3")
        )
        lines.append(f"{question.id} = {plain}")
    split = [lines[n::5] for n in range(5)]
    return [GOOD.encode(), *("\n".join(part).encode() for part in split), *(line.encode() for line in lines),
            b'piece = "sheet"\nsize = "30 x 40 cm"\n[origin]\nsize = "label"\n']  # fmt: skip


def table(data: bytes) -> str:
    """A batch from a spreadsheet."""
    from interview.batch_files import BatchError, read_batch

    try:
        kinds = read_batch(data, known())
    except BatchError as error:
        return " / ".join(sorted({one_line(fault) for fault in error.faults})[:4])
    for kind in kinds:
        one_line(kind.name)
    return (
        _planned(kinds[0].answers, data, kinds[0].name) if _now_and_then(data, 16) else f"read {len(kinds)}"
    )


def table_seeds() -> list[bytes]:
    good = (
        "name;count;piece;support;opened;size\ngull collage;12;collage;tissue_paper;torn;30 x 40 cm\n"
        'shells;3;hard;slate;whole;"20 cm round"\n'
    )
    comma = good.replace(";", ",")
    return [good.encode(), comma.encode(), good.replace(";", "\t").encode("utf-16"), f"sep=|\n{good.replace(';', '|')}".encode(),
            comma.replace("\n", "\r\n").encode("utf-8-sig"), b"name,count,media\n\xe9t\xe9,2,charcoal+graphite\n"]  # fmt: skip


def _stock(data: bytes, ending: str) -> str:
    from interview.stock import StockError, put_on_shelf

    path = _folder() / f"shelf.{ending}"
    path.write_bytes(data)
    try:
        stocked = put_on_shelf(known(), path)
    except StockError as error:
        return " / ".join(sorted({one_line(line) for line in str(error).splitlines()})[:4])
    if not _now_and_then(data, 16):
        return "read"
    from interview.brief.rendering import render
    from interview.conversation.answers_file import read_answers
    from interview.planner import make_plan
    from tests.test_cli import GOOD

    plan = make_plan(stocked, read_answers(GOOD.encode(), stocked))
    assert (text := render(plan, "markdown")) == harmless(text)
    return "planned"


def stock_csv(data: bytes) -> str:
    return _stock(data, "csv")


def stock_toml(data: bytes) -> str:
    return _stock(data, "toml")


def stock_seeds() -> list[bytes]:
    from tests.test_stock import TINS

    row = "name,class,carrier,dries_clear,non_yellowing,made_for,spread,recoat,ready,pack,price\n"
    row += "the red can,spray_acrylic,water,yes,no,acrylic_paint charcoal,9 m2/L,2 to 3 hours,24 hours,400 mL,7.50\n"
    return [
        TINS.encode(),
        row.encode(),
        row.replace(",", ";").encode(),
        b'[[tin]]\nname = "a"\nclass = "spray_acrylic"\nmade_for = ["charcoal"]\n',
    ]


def rows_file(data: bytes) -> str:
    """A file of the knowledge: all faults as lines, none as a traceback."""
    from knowledge.checking import check

    home = _folder() / "rows"
    home.mkdir(exist_ok=True)
    (home / "x.toml").write_bytes(data)
    faults = [one_line(str(fault)) for fault in check(None, home, TODAY)]
    return " / ".join(sorted({fault.split(":", 1)[1] for fault in faults})[:3]) or "sound"


def rows_seeds() -> list[bytes]:
    import re

    made = [path.read_bytes() for path in sorted((ROOT / "tests" / "broken_knowledge").glob("*.toml"))]
    for path in sorted(HOME.rglob("*.toml")):
        if "words" not in path.parts and path.name not in ("solvents.toml", "allowances.toml"):
            tables = re.split(rb"\n(?=\[\[\w+\]\]\n)", path.read_bytes())[1:]
            made += [b"\n".join(tables[n : n + 3]) for n in range(0, len(tables), max(4, len(tables) // 8))]
    return made


def journal(data: bytes) -> str:
    """A journal as found on disk. Read twice: looked at, then opened and mended."""
    from interview.conversation.journal import NotKept, read, reopen

    folder = _folder() / "pieces"
    folder.mkdir(exist_ok=True)
    path = folder / "x.jsonl"
    path.write_bytes(data)
    kept = read(path)
    if not _now_and_then(data, 4):
        return f"{kept.steps} steps {kept.format}"
    try:
        opened, told = reopen(path)
    except NotKept as error:
        return one_line(str(error))
    opened.close()
    again = read(opened.path).answers
    for left in folder.iterdir():
        left.unlink()
    assert again == opened.kept.answers == kept.answers
    return harmless(told) or "whole"


def journal_seeds() -> list[bytes]:
    return [_seal(lines) for lines in _records()]


def _records() -> list[list[dict[str, Any]]]:
    from interview.conversation import records
    from tests.conversation.test_journal import STEPS

    header = records.header("x", "full", "k")
    made, kept = [header], Kept("x")
    for question, value, words in STEPS:
        after = Kept(
            "x", answers=kept.answers.say(question, value, words=words), trail=(*kept.trail, question)
        )
        made.append(records.step(kept, after))
        kept = after
    real: list[dict[str, Any]] = [{"set": [["piece", "sheet", "said", "a sheet"], ["size", records.encode({"shape": "oval", "width": 200.0, "height": 300.0}), "said", ""]]},
            {"set": [["support", {"several": ["copy_paper"]}, "said", ""], ["layers"]], "done": True, "pace": "quick", "opening": "a sheet"}]  # fmt: skip
    return [
        made,
        [header, *real],
        [{**header, "format": 2}, *real],
        [header, {"trail": ["piece"]}, {"done": True}],
    ]


def _seal(lines: Iterable[Any]) -> bytes:
    from interview.conversation import records

    chain, out = 0, b""
    for line in lines:
        sealed, chain = records.write_line(line, chain)
        out += sealed
    return out


def sealed_journal(data: bytes) -> str:
    """Records with right sums and any content, as another program or a later version might have written them."""
    from interview.conversation.answers_file import write_answers
    from interview.conversation.fitting import keep_fitting
    from interview.conversation.sessions import describe

    lines = []
    for line in data.split(b"\n")[:40]:
        try:
            found = json.loads(line)
            if isinstance(found, dict):
                found.pop("sum", None)
                lines.append(found)
        except (ValueError, RecursionError):
            continue
    try:
        sealed = _seal(lines)
    except (ValueError, RecursionError):  # no finite number, or nested too deep to be written
        return "cannot be sealed"
    path = _folder() / "sealed.jsonl"
    path.write_bytes(sealed)
    from interview.conversation.journal import read

    kept = read(path)
    describe("x", kept)
    fitting, misfits = keep_fitting(kept.answers, known())
    if not fitting:
        return f"{kept.steps} steps {len(misfits)} misfits"
    write_answers(fitting, known())
    return (
        _planned(fitting, data, kept.name)
        if _now_and_then(data, 12)
        else f"{len(fitting)} fit, {len(misfits)} do not"
    )


def sealed_seeds() -> list[bytes]:
    made = [b"\n".join(json.dumps(line).encode() for line in lines) for lines in _records()]
    header = made[0].split(b"\n")[0]
    for question, choices in _questions():
        value: Any = choices[0].id if choices else 3.5
        value = {"several": [value]} if question.kind == "several" else value
        value = {"parts": [2.0, 1.0, "volume"]} if question.kind == "ratio" else value
        value = {"table": {"shape": "circle", "width": 200.0}} if question.kind == "size" else value
        made.append(header + b"\n" + json.dumps({"set": [[question.id, value, "said", ""]]}).encode())
    return made


# ------------------------------------------------------------------ names, hours, whole conversations


def shown(data: bytes) -> str:
    """Any text in every place where a name can stand."""
    from interview.brief.file_names import safe
    from interview.conversation.places import file_name
    from interview.terminal.layout import columns, wrap

    text = data.decode("utf-8", "surrogateescape")
    once = harmless(text)
    assert once == harmless(once)
    lines = wrap(text, 16 + len(text) % 60)
    assert all(columns(line) <= 16 + len(text) % 60 for line in lines)
    for name in (safe(text), file_name(text)):
        assert (
            name
            and len(name.encode()) <= 200
            and not set(name) & set('/\\:*?"<>|\0\n')
            and name[0] not in ".-"
        ), name
    line = harmless(text, one_line=True)
    assert "\n" not in line and line == harmless(line, one_line=True)
    return f"{len(lines) > 1} {line.isascii()} {len(line) == len(text)} {safe(text) == text}"


def shown_seeds() -> list[bytes]:
    from tests.hostile.mutating import NASTY

    return [*NASTY, b"gull collage", "caf\u00e9 sign no. 3".encode(), b"CON", b"a/b\\c", b"x" * 500]


def hours(data: bytes) -> str:
    """Hours and days as typed for the timeline."""
    from interview.hours_text import HoursError, read_days, read_hours, read_when, week_words

    text = as_typed(data)
    now = datetime(2026, 11, 25, 9)
    readers: tuple[Callable[[], str], ...] = (
        lambda: week_words(read_hours(text)),
        lambda: str(len(read_days(text, TODAY))),
        lambda: str(read_when(text, now) > now),
    )
    out = []
    for read in readers:
        try:
            out.append(read())
        except HoursError as error:
            out.append(one_line(str(error)))
    return " / ".join(out)


def hours_seeds() -> list[bytes]:
    texts = ("weekdays 18-22, sat 9-17", "13 June 9:00", "saturday", "2026-12-24", "every day from 9 am till noon", "tomorrow 18:30",
             "24 December and 31 December", "mon to fri 8:00-12:00 and 13-17; sunday all day", "evenings", "next monday", "22-2")  # fmt: skip
    return [text.encode() for text in texts]


@cache
def _adviser() -> Any:
    from interview.conversation.adviser import load_adviser

    return load_adviser()


def conversation(data: bytes) -> str:
    """Whole conversations through a pipe: every line is a reply; at its end everything said is still there."""
    from interview.conversation.adviser import Later
    from interview.conversation.sessions import _hold
    from interview.conversation.talk import Talk
    from interview.terminal.plain_console import PlainConsole

    sink = io.TextIOWrapper(io.BytesIO(), "ascii" if len(data) % 2 else "utf-8", newline="")
    console = PlainConsole(io.BytesIO(b"\n".join(data.split(b"\n")[:25])), sink, echo=True)
    pace: Any = ("full", "quick", "counter")[zlib.crc32(data) % 3]
    keeper = _Remembers()
    later = Later(_adviser)
    status, ending = _hold(Talk(console, later, keeper, pace, Kept(pace=pace)), new=True)
    sink.seek(0)
    text = sink.buffer.read().decode(sink.encoding)
    assert text == harmless(text) and "{{" not in text.replace("{{", "", data.count(b"{{") * 9)
    return (
        f"{status} {ending} {len(keeper.states)} {sorted(keeper.states[-1].answers) if keeper.states else ''}"
    )


class _Remembers:
    """Keeps every state in memory, as records, and reads them back."""

    name, safe = "x", True

    def __init__(self) -> None:
        self.states: list[Kept] = []

    def keep(self, state: Kept) -> str:
        from interview.conversation import records

        before = self.states[-1] if self.states else Kept(pace=state.pace)
        line = json.loads(json.dumps(records.step(before, state), allow_nan=False))
        assert records.apply(before, line).answers == state.answers
        self.states.append(state)
        return ""

    def close(self) -> None:
        pass


def conversation_seeds() -> list[bytes]:
    from tests.demo import SCENES

    made = ["\n".join(reply for _, reply in scene["replies"]).encode() for scene in SCENES]
    wishes = "a torn tissue collage on plywood\nyes\nwhy\nback\nchange glue\nshow me\nshow me all\nhelp\nlist\n1\n2 3\nnot sure\nwhat if I spray?\nstop"
    return [
        *made,
        wishes.encode(),
        b"\n".join([b"pressed flowers in a mould", b"yes", *[b"not sure"] * 22]),
        b"no\n" * 20,
        b"\n" * 25,
        b"1\n" * 25,
    ]


TARGETS = (
    Target("replies", 220_000, 600, reply, reply_seeds),
    Target("opening", 140_000, 250, opening, opening_seeds),
    Target("answers", 130_000, 300, answers_file, answers_seeds),
    Target("batch", 90_000, 250, table, table_seeds),
    Target("stock_csv", 60_000, 120, stock_csv, stock_seeds),
    Target("stock_toml", 60_000, 150, stock_toml, stock_seeds),
    Target("knowledge", 90_000, 120, rows_file, rows_seeds),
    Target("journal", 90_000, 300, journal, journal_seeds),
    Target("sealed_journal", 70_000, 300, sealed_journal, sealed_seeds),
    Target("names", 40_000, 200, shown, shown_seeds),
    Target("hours", 20_000, 200, hours, hours_seeds),
    Target("conversation", 4_000, 12, conversation, conversation_seeds),
)
BY_NAME = {target.name: target for target in TARGETS}
