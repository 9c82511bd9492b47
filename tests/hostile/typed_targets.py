"""What is typed: replies, opening words, names, hours, and whole conversations."""

from __future__ import annotations

import io
import json
import tomllib
import zlib
from collections.abc import Callable, Iterable
from datetime import date, datetime
from functools import cache
from typing import Any

from interview.files.kept import Kept
from interview.reading.opening import lexicon_of
from interview.text.harmless import harmless
from knowledge.shape import Question
from tests.hostile.common import ROOT, as_typed, known, near, one_line, questions
from tests.hostile.nasty import NASTY

TODAY = date(2026, 11, 25)


def reply(data: bytes) -> str:
    """The first line tells the question, the rest is what is typed."""
    from interview.plan.answers import NOT_SURE
    from interview.reading.fitting import fits
    from interview.reading.menu import PICKED
    from interview.reading.turn import Focus, read_turn
    from interview.reasoning.agenda import Asked

    head, _, body = data.partition(b"\n")
    place = next(
        (n for n, (q, _) in enumerate(questions()) if q.id.encode() == head),
        zlib.crc32(head) % len(questions()),
    )
    question, choices = questions()[place]
    text = as_typed(body)
    acts: list[str] = []
    for imperial in (False, True):
        asked = Asked(question, question.text, question.why, tuple(choices))
        turn = read_turn(text, Focus(question.id, asked, imperial=imperial), known())
        acts = sorted(turn.acts)
        assert acts
        if turn.pick and turn.pick.says:
            one_line(turn.pick.says)
        for fact in turn.facts:
            other = known().questions.get(fact.question)
            assert other is None or fact.value is NOT_SURE or fits(fact.value, other, known()), fact
        value = turn.value(question.id)
        if value is not None and question.kind not in PICKED:
            _comes_back(value, question, imperial=imperial)
    return f"{question.id} {' '.join(acts)}"


def _comes_back(value: Any, question: Question, *, imperial: bool) -> None:
    """What was read, offered again to be changed, is read as the same."""
    from interview.plan.answers import NOT_SURE
    from interview.reading.measures import Value, measure_text, read_measure

    if value is NOT_SURE:
        return
    text = measure_text(value, question, imperial=imperial)
    again = read_measure(text, question)
    assert isinstance(again, Value), (question.id, value, text, again)
    assert near(again.value, value), (question.id, value, text, again.value)


def reply_seeds() -> list[bytes]:
    texts = {
        "size": (
            "12 x 16 in",
            "30 by 40 cm",
            "20 cm round",
            "A4",
            "3' 2 1/2\" x 4 ft",
            "oval 30 x 20 cm",
            "L-shaped 40 x 30, arms 10 cm",
        ),
        "length": ('1/8"', "2.5 mm", "6 ft 2 in", "3 mil"),
        "volume": ("12oz", "1.5 l", "250 mL"),
        "ratio": ("2:1", "100:45 by weight"),
        "duration": ("40 minutes", "2 hours", "an hour and a half", "1 week"),
        "temperature": ("70 F", "21 C", "-3"),
        "percent": ("55 %", "50"),
        "money": ("18.50", "$1,200.50", "12 €"),
        "count": ("12", "a dozen", "30 pieces"),
        "text": ("anything",),
        "date": ("saturday",),
    }
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
    for question, choices in questions():
        typed = [*texts.get(question.kind, ("12", "3.5 mm")), *shared, *(c.text for c in choices[:12])]
        typed += [a for c in choices[:40] for a in c.also[:2]]
        made += [f"{question.id}\n{text}".encode() for text in typed]
    return made


def opening(data: bytes) -> str:
    """Words about a piece; what they propose is always possible."""
    from interview.reading.opening import understand
    from tests.opening.test_robustness import check

    got = understand(as_typed(data), known())
    check(got)
    open_ones = " ".join(sorted(each.question for each in got.open))
    told = f"{len(got.not_understood)} {got.coatable} {bool(got.same_as)}"
    return f"{' '.join(sorted(got.proposed))} | {open_ones} | {told}"


def opening_seeds() -> list[bytes]:
    table = tomllib.loads((ROOT / "tests" / "opening" / "sentences.toml").read_text(encoding="utf-8"))
    texts = [text for rows in table.values() if isinstance(rows, list) for text in _texts_of(rows)]
    words = [" ".join(words) for words in lexicon_of(known()).phrases]
    return [text.encode() for text in (*texts, *words[::7])]


def _texts_of(rows: Iterable[Any]) -> list[str]:
    return [max((v for v in row.values() if isinstance(v, str)), key=len) for row in rows if isinstance(row, dict)]


def shown(data: bytes) -> str:
    """Any text in every place where a name can stand."""
    from interview.brief.file_names import safe
    from interview.files.paths import file_name
    from interview.terminal.layout import columns, wrap

    text = data.decode("utf-8", "surrogateescape")
    once = harmless(text)
    assert once == harmless(once)
    lines = wrap(text, 16 + len(text) % 60)
    assert all(columns(line) <= 16 + len(text) % 60 for line in lines)
    for name in (safe(text), file_name(text)):
        assert name and len(name.encode()) <= 200 and not set(name) & set('/\\:*?"<>|\0\n') and name[0] not in ".-", (
            name
        )
    line = harmless(text, one_line=True)
    assert "\n" not in line and line == harmless(line, one_line=True)
    return f"{len(lines) > 1} {line.isascii()} {len(line) == len(text)} {safe(text) == text}"


def shown_seeds() -> list[bytes]:
    return [*NASTY, b"gull collage", "caf\u00e9 sign no. 3".encode(), b"CON", b"a/b\\c", b"x" * 500]


def hours(data: bytes) -> str:
    """Hours and days as typed for the timeline."""
    from interview.reading.hours_told import HoursError, read_days, read_hours, read_when, week_words

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
    texts = (
        "weekdays 18-22, sat 9-17",
        "13 June 9:00",
        "saturday",
        "2026-12-24",
        "every day from 9 am till noon",
        "tomorrow 18:30",
        "24 December and 31 December",
        "mon to fri 8:00-12:00 and 13-17; sunday all day",
        "evenings",
        "next monday",
        "22-2",
    )
    return [text.encode() for text in texts]


@cache
def _adviser() -> Any:
    from interview.conversation.adviser import load_adviser

    return load_adviser()


def conversation(data: bytes) -> str:
    """Whole conversations through a pipe: every line is a reply; what was said is kept."""
    from interview.conversation.adviser import Later
    from interview.conversation.greeting import first_words
    from interview.conversation.sessions import _hold
    from interview.conversation.talk import Talk
    from interview.terminal.plain_console import PlainConsole

    sink = io.TextIOWrapper(io.BytesIO(), "ascii" if len(data) % 2 else "utf-8", newline="")
    console = PlainConsole(io.BytesIO(b"\n".join(data.split(b"\n")[:25])), sink, echo=True)
    pace: Any = ("full", "quick", "counter")[zlib.crc32(data) % 3]
    keeper = _Remembers()
    later = Later(_adviser)
    talk = Talk(console, later, keeper, pace, Kept(pace=pace))
    status, ending = _hold(talk, first=lambda: first_words(talk))
    sink.seek(0)
    text = sink.buffer.read().decode(sink.encoding)
    assert text == harmless(text) and "{{" not in text.replace("{{", "", data.count(b"{{") * 9)
    return f"{status} {ending} {len(keeper.states)} {sorted(keeper.states[-1].answers) if keeper.states else ''}"


class _Remembers:
    """Keeps every state in memory, as records, and reads them back."""

    name, title, safe = "x", "x", True

    def __init__(self) -> None:
        self.states: list[Kept] = []

    def keep(self, state: Kept, called: str = "") -> str:
        from interview.files import records

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
    wishes = "a torn tissue collage on plywood\nyes\nwhy\nback\nchange glue\nshow me\nshow me all\n"
    wishes += "help\nlist\n1\n2 3\nnot sure\nwhat if I spray?\nstop"
    return [
        *made,
        wishes.encode(),
        b"\n".join([b"pressed flowers in a mould", b"yes", *[b"not sure"] * 22]),
        b"no\n" * 20,
        b"\n" * 25,
        b"1\n" * 25,
    ]
