"""The three consoles show the same content and hand over the same lines."""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from hypothesis import given
from hypothesis import strategies as st
from prompt_toolkit.data_structures import Size
from prompt_toolkit.input import PipeInput, create_pipe_input
from prompt_toolkit.output import ColorDepth
from prompt_toolkit.output.vt100 import Vt100_Output

from interview.terminal.choice import choose_console, wants_plain
from interview.terminal.layout import columns, list_options, prompt_lines, wrap
from interview.terminal.plain_console import PlainConsole
from interview.terminal.prompt import EndOfInput, Interrupted, Option, Prompt
from interview.terminal.prompt_console import PromptConsole
from interview.terminal.scripted_console import INTERRUPT, ScriptedConsole
from interview.terminal.style import STYLE, colour_depth
from interview.terminal.toolbar import foot_line, shorten
from interview.text.harmless import harmless, legible

PLACES = tuple(Option(n, n) for n in ("outdoors", "in a booth with a fan", "only indoors", "not sure"))
PROMPT = Prompt("Where could you spray?", PLACES, hint="Type a number.", status="question 1", words=("back", "why"))


def only_numbers(text: str) -> str | None:
    return None if text.strip().isdecimal() else "Type a number."


# ------------------------------------------------------------------ layout


def test_few_short_options_stand_on_one_line_and_long_lists_in_columns_where_they_fit() -> None:
    assert list_options(PLACES, 80) == ["  1 outdoors   2 in a booth with a fan   3 only indoors   4 not sure"]
    assert list_options(PLACES, 40) == [
        "  1 outdoors", "  2 in a booth with a fan", "  3 only indoors", "  4 not sure",
    ]  # fmt: skip
    many = [Option(str(n), f"paper {n}") for n in range(12)]
    assert list_options(many, 30)[:2] == ["   1 paper 0     7 paper 6", "   2 paper 1     8 paper 7"]
    assert list_options([], 80) == []


@given(st.text(max_size=300), st.integers(16, 100))
def test_no_line_is_wider_than_the_window_and_no_word_is_lost(text: str, width: int) -> None:
    lines = wrap(text, width)
    assert all(columns(line) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join(harmless(text).split())


@given(st.lists(st.text(max_size=40), max_size=30), st.integers(16, 120))
def test_every_option_is_shown_with_its_number(texts: list[str], width: int) -> None:
    shown = "".join("".join(list_options([Option(t, t) for t in texts], width)).split())
    for number, text in enumerate(texts, 1):
        assert "".join(f"{number}{harmless(text)}".split()) in shown


def test_indents_numbers_and_dashes_hang() -> None:
    assert wrap("  1 one two three four five", 16) == ["  1 one two", "    three four", "    five"]
    assert wrap("a\n\n  b", 20) == ["a", "", "  b"]


HARMFUL = [
    ("\x1b[31mred\x1b[0m", "red"), ("\x1b]0;title\x07x", "x"), ("\x1b]8;;http://x\x1b\\link", "link"),
    ("a\x00b", "ab"),
    ("\u202egpj.exe", "gpj.exe"), ("a\u200bb", "ab"), ("\u2066x\u2069", "x"),
    ("e" + "\u0301" * 50, "e" + "\u0301" * 3),
    ("\x9b31mred", "red"), ("a\rb", "a\nb"), ("tab\there", "tab here"), ("\ud800", "\ufffd"),
    ("\x1bPq#0\x1b\\y", "y"),
    ("{{ 7*7 }} {% x %} <b>", "{{ 7*7 }} {% x %} <b>"), ("naïve ÷ 日本 🎨", "naïve ÷ 日本 🎨"),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "shown"), HARMFUL)
def test_what_was_typed_is_shown_harmlessly(typed: str, shown: str) -> None:
    assert harmless(typed) == shown


@given(st.text(max_size=100))
def test_harmless_text_holds_no_controls_and_is_harmless_already(text: str) -> None:
    safe = harmless(text)
    assert not any(c in "\x1b\x07\x08\x00\x9b\u202e\u2066" for c in safe)
    assert harmless(safe) == safe


@pytest.mark.parametrize(
    ("text", "encoding", "shown"),
    [("30 × 41 cm", "ascii", "30 x 41 cm"), ("½ in", "latin-1", "½ in"), ("½ in", "ascii", " 1/2 in"),
    ("20 °C – 25 °C", "ascii", "20  deg C - 25  deg C"),
     ("café", "ascii", "cafe"), ("日", "ascii", "?"), ("≤ 3", "latin-1", "<= 3"),
     ("x", "no-such-encoding", "x")],
)  # fmt: skip
def test_signs_the_terminal_lacks_are_spelled_out(text: str, encoding: str, shown: str) -> None:
    assert legible(text, encoding) == shown


# ------------------------------------------------------------------ plain lines


def plain(typed: bytes, encoding: str = "utf-8") -> tuple[PlainConsole, io.TextIOWrapper]:
    sink = io.TextIOWrapper(io.BytesIO(), encoding=encoding)
    return PlainConsole(io.BytesIO(typed), sink, echo=True), sink


def written(sink: io.TextIOWrapper) -> str:
    sink.flush()
    return sink.buffer.getvalue().decode(sink.encoding)  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("raw", "read"),
    [(b"outdoors\n", "outdoors"), (b"outdoors\r\n", "outdoors"), (b"\xef\xbb\xbfoutdoors\r\n", "outdoors"),
    (b"no newline", "no newline"),
     (b"caf\xe9\n", "café"), ("café\n".encode(), "café"), (b"o\x00u\x00t\x00\n", "out"),
     (b"a\x1b[31mb\n", "ab"),
     (b"x" * 5_000_000 + b"\nnext\n", "x" * 4000)],
    ids=["unix", "windows", "byte order mark", "no newline", "latin-1", "utf-8", "utf-16", "escape", "endless"],
)  # fmt: skip
def test_plain_lines_take_any_line_end_and_encoding(raw: bytes, read: str) -> None:
    console, _ = plain(raw)
    assert console.ask(PROMPT) == read


def test_plain_lines_end_with_the_input() -> None:
    console, _ = plain(b"one\n")
    assert console.ask(PROMPT) == "one"
    with pytest.raises(EndOfInput):
        console.ask(PROMPT)


def test_plain_lines_ask_on_until_the_check_passes_and_take_what_is_offered() -> None:
    console, sink = plain(b"x\n7\n\n")
    assert console.ask(Prompt("How many?", check=only_numbers)) == "7"
    assert console.ask(Prompt("How many?", offered="12")) == "12"
    assert written(sink) == "\nHow many?\n> x\n  Type a number.\n> 7\n\nHow many?\n(Enter for: 12) > \n"


def test_a_reader_that_went_away_ends_the_conversation() -> None:
    class Gone(io.StringIO):
        encoding = "utf-8"

        def write(self, text: str) -> int:
            raise BrokenPipeError

    with pytest.raises(EndOfInput):
        PlainConsole(io.BytesIO(b""), Gone(), echo=False).say("hello")


# ------------------------------------------------------------------ the script


def test_a_script_is_a_conversation_to_read() -> None:
    console = ScriptedConsole(["x", "2"])
    console.say("Hello.")
    assert console.ask(Prompt("How many?", check=only_numbers)) == "2"
    assert console.transcript == "Hello.\n\nHow many?\n> x\n  Type a number.\n> 2\n"
    with pytest.raises(EndOfInput):
        console.ask(PROMPT)
    with pytest.raises(Interrupted):
        ScriptedConsole([INTERRUPT]).ask(PROMPT)


# ------------------------------------------------------------------ prompt_toolkit


@contextmanager
def prompting(width: int = 80) -> Iterator[tuple[PromptConsole, PipeInput, io.StringIO]]:
    shown = io.StringIO()
    output = Vt100_Output(
        shown,
        lambda: Size(rows=24, columns=width),
        enable_cpr=False,
        default_color_depth=ColorDepth.DEPTH_1_BIT,
    )
    with create_pipe_input() as keys:
        yield PromptConsole(keys, output), keys, shown


KEYS = [
    ("outdoors\r", "outdoors"),
    ("outdors\x7f\x7f\x7fors\r", "outdors"),
    ("\x1b[200~a long\r\npasted\ttext\x1b[201~\r", "a long pasted text"),
    ("\x1b[200~" + "long " * 5000 + "\x1b[201~\r", ("long " * 800).strip()),
    ("a\x1b[Db\r", "ba"),
    ("\x1b[200~\x1b[31mred\x1b[201~\r", "red"),
]


@pytest.mark.parametrize(("keys", "line"), KEYS, ids=range(len(KEYS)))
def test_keys_make_a_line(keys: str, line: str) -> None:
    with prompting() as (console, pipe, _):
        pipe.send_text(keys)
        assert console.ask(PROMPT) == line


def test_the_arrow_keys_bring_earlier_replies() -> None:
    with prompting() as (console, pipe, _):
        pipe.send_text("first\r")
        console.ask(PROMPT)
        pipe.send_text("\x1b[A\r")
        assert console.ask(PROMPT) == "first"


def test_enter_waits_for_a_line_that_will_do() -> None:
    with prompting() as (console, pipe, _):
        pipe.send_text("x\r\x157\r")
        assert console.ask(Prompt("How many?", check=only_numbers)) == "7"


def test_what_is_offered_stands_in_the_line_to_be_mended() -> None:
    with prompting() as (console, pipe, _):
        pipe.send_text("3\r")
        assert console.ask(Prompt("How many?", offered="12")) == "123"


def test_control_c_and_control_d() -> None:
    with prompting() as (console, pipe, _):
        pipe.send_text("\x03")
        with pytest.raises(Interrupted):
            console.ask(PROMPT)
        pipe.send_text("\x04")
        with pytest.raises(EndOfInput):
            console.ask(PROMPT)


def test_work_started_meanwhile_runs_once() -> None:
    done: list[int] = []
    with prompting() as (console, pipe, _):
        console.meanwhile(lambda: done.append(1))
        pipe.send_text("a\r")
        console.ask(PROMPT)
        pipe.send_text("a\r")
        console.ask(PROMPT)
    assert done == [1]


def test_all_consoles_show_the_same_lines() -> None:
    asked = Prompt(
        "Which of these papers is it, or which come nearest?",
        tuple(Option(str(n), f"paper kind {n}") for n in range(14)),
        hint="Numbers.",
    )
    wanted = [line for _, line in prompt_lines(asked, 60)]
    script = ScriptedConsole(["1"], 60)
    script.ask(asked)
    with prompting(60) as (console, pipe, shown):
        pipe.send_text("1\r")
        console.ask(asked)
    for shown_text in (script.transcript, shown.getvalue()):
        lines = [line.strip() for line in shown_text.replace("\r", "").split("\n")]
        assert all(line.strip() in "\n".join(lines) for line in wanted)


# ------------------------------------------------------------------ colours, foot line, choice


def test_only_the_terminals_own_sixteen_colours_are_used() -> None:
    used = {
        word for _, style in STYLE.style_rules for word in style.split() if word.startswith(("#", "bg:", "fg:", "ansi"))
    }
    assert used <= {"ansired", "ansigreen"}
    assert colour_depth({}) is ColorDepth.DEPTH_4_BIT
    assert colour_depth({"NO_COLOR": "1"}) is ColorDepth.DEPTH_1_BIT


def test_the_foot_line_tells_how_the_text_would_be_read() -> None:
    prompt = Prompt("?", status="where we are", reads=lambda text: f"= {text}")
    assert foot_line(prompt, "", 80) == "where we are"
    assert foot_line(prompt, "torn", 80) == "= torn"
    assert columns(foot_line(prompt, "日本語" * 30, 20)) <= 19
    assert shorten("abcdef", 4) == "abc…" and shorten("abc", 0) == ""


def test_plain_lines_are_chosen_where_a_redrawn_line_cannot_work(monkeypatch: pytest.MonkeyPatch) -> None:
    assert wants_plain({"TERM": "dumb"}) and wants_plain({"TERM": "xterm", "BEFOREPOUR_PLAIN": "1"})
    assert not wants_plain({"TERM": "xterm-256color"})
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(b"")))
    assert isinstance(choose_console(), PlainConsole)
