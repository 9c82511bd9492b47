"""The whole program as people use it: typed into a real pseudo-terminal, looked at as a screen."""

from __future__ import annotations

import signal
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from interview.files.journal import read
from tests.terminal.screen import Terminal

Open = Callable[..., Terminal]


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Open]:
    """Opens windows on one folder of data, and closes them."""
    opened: list[Terminal] = []

    def open_one(*arguments: str, columns: int = 80, lines: int = 24, **environment: str) -> Terminal:
        opened.append(Terminal(tmp_path, *arguments, columns=columns, lines=lines, **environment))
        return opened[-1]

    yield open_one
    for one in opened:
        one.kill()


def tell(
    screen: Terminal, text: str = "a torn tissue paper collage on plywood", at: str = "Tell me about the piece"
) -> None:
    """Answer the first question and confirm."""
    screen.see(at)
    screen.ready()
    screen.enter(text)
    screen.see("Is that right?", "Yes, or what is different.")
    screen.ready()
    screen.enter("yes")


def answer(screen: Terminal, question: str, reply: str) -> None:
    screen.come_to(question)
    screen.enter(reply)


GLUE, HOLLOW, MEDIA = "What holds it there?", "Does any spot sound hollow", "What is the image"


@pytest.mark.parametrize(("columns", "lines"), [(80, 24), (60, 20)])
def test_a_conversation_in_a_window(terminal: Open, columns: int, lines: int) -> None:
    """One conversation through everything a line can do: why, a slip, completion, history, back, change, resize."""
    screen = terminal(columns=columns, lines=lines)
    tell(screen)
    answer(screen, GLUE, "why")
    screen.see("Some glues let go under resin")
    screen.ready()

    screen.enter("xyzzy")
    screen.see("I did not understand that.")
    screen.ready()
    screen.type("rub")  # completion
    screen.see("> rub rubber cement")
    screen.type("\t")
    screen.see("> rubber cement", "= rubber cement")
    screen.type("\x15\x1b[A")  # history
    screen.see("> why")
    screen.type("\x15va\x1b[D\x1b[Dp\x1b[C")  # arrow keys in the line
    screen.see("> pva", "= white glue")
    assert all(len(line) <= columns for line in screen.display.split("\n"))
    screen.type("\r")
    screen.see(HOLLOW)

    answer(screen, HOLLOW, "back")
    screen.see("Until now: white glue. Enter keeps it.")
    screen.ready()
    screen.enter("pva")
    screen.come_to(HOLLOW)
    screen.see("the piece, question", "back")
    screen.enter("none")
    screen.come_to(MEDIA)
    screen.enter("change what holds it down")
    screen.see("Until now: white glue. Enter keeps it.")
    screen.ready()
    screen.enter("rubber cement")
    screen.see(MEDIA)
    screen.ready()

    screen.type("acr")
    for size in ((20, 5), (60, 20), (10, 3), (80, 24)):
        screen.resize(*size)
        screen.see("> acr")
    screen.type("\x15not sure\r")
    screen.see("> not sure")
    screen.ready()


@pytest.mark.parametrize("pace", ["--quick", "--counter"])
def test_the_other_paces_begin_and_end(terminal: Open, tmp_path: Path, pace: str) -> None:
    screen = terminal("new", pace)
    tile = "a glazed tile, nothing on it, no inclusions"
    if pace == "--counter":  # what was understood is told, and no yes is waited for
        screen.see("Next customer")
        screen.ready()
        screen.enter(tile)
    else:
        tell(screen, tile, at="Tell me")
    end = "Anything the customer" if pace == "--counter" else "Anything to change"
    for _ in range(12):
        screen.ready()
        screen.read(0.2)
        if screen.shows(end):
            break
        screen.enter("not sure")
    screen.see(end)
    screen.ready()
    screen.type("\r")
    if pace == "--counter":
        screen.see("slip: the page")
        screen.ready()
        screen.type("stop\r")
        screen.see("Leave the counter?")
        screen.ready()
        screen.type("yes\r")
    assert screen.end() == 0
    assert bool(list(tmp_path.rglob("*.jsonl"))) is (pace == "--quick")


NAME = "collage-torn-tissue-paper"


def test_cut_off_in_every_way_nothing_confirmed_is_lost(terminal: Open, tmp_path: Path) -> None:
    """Ctrl-C, Ctrl-D, a closed window and kill -9, each after one more answer, and taken up again each time."""
    journal = tmp_path / "pieces" / f"{NAME}.jsonl"
    screen = terminal()
    tell(screen)
    screen.come_to(GLUE)
    screen.type("\x03")
    screen.see(f"beforepour resume {NAME}")
    assert screen.end() == 130

    screen = terminal("resume")
    screen.see("Going on with")
    answer(screen, GLUE, "pva")
    screen.see(HOLLOW)
    second = terminal("resume", NAME)
    second.see("Another window is at work", "1 work on a copy")
    second.ready()
    second.type("copy\r")
    second.see("This is a copy", HOLLOW)
    assert read(journal.with_name(f"{NAME}-2.jsonl")).answers == read(journal).answers
    second.kill()
    screen.kill()  # SIGKILL

    screen = terminal("resume", NAME)
    answer(screen, HOLLOW, "none")
    screen.come_to(MEDIA)
    screen.child.kill(signal.SIGHUP)  # what a program gets when its window is closed
    screen.end()

    screen = terminal("resume", NAME)
    screen.come_to(MEDIA)
    screen.type("\x04")
    screen.see("is kept as")
    assert screen.end() == 1
    answers = read(journal).answers
    assert [answers.value(id) for id in ("mounted", "adhesive", "hollow")] == ["plywood", "pva", "none"]


def test_no_color_gives_no_colours_and_the_others_are_the_terminals_own(terminal: Open) -> None:
    for environment in ({"NO_COLOR": "1"}, {}):
        screen = terminal(**environment)
        screen.see("Tell me about the piece")
        screen.ready()
        screen.type("same as nothing\r")
        screen.see("Nothing is kept")
        assert b"38;5" not in screen.raw and b"38;2" not in screen.raw
        assert (b"\x1b[0;31;1m" in screen.raw) is not bool(environment)


def test_a_long_text_pasted_is_one_reply(terminal: Open) -> None:
    screen = terminal()
    screen.see("Tell me about the piece")
    screen.ready()
    text = "a torn tissue paper collage\r\non plywood,\nmade over " + "many, many evenings, " * 300
    screen.type(f"\x1b[200~{text}\x1b[201~\r")
    screen.see("Is that right?")
    screen.ready()
    screen.type("yes\r")
    screen.come_to(GLUE)


def test_a_dumb_terminal_gets_plain_lines_with_the_same_words(terminal: Open) -> None:
    screen = terminal(TERM="dumb")
    screen.see("Tell me about the piece", ">")
    screen.type("a torn tissue paper collage on plywood\r")
    screen.see("Is that right?")
    screen.type("yes\r")
    screen.see("not sure", "> yes")
    screen.ready()
    screen.type("back\r")
    screen.see("This is where we began", "A collage of torn tissue paper on plywood")
    assert b"\x1b" not in screen.raw
    screen.type("\x03")
    assert screen.end() == 130


def test_without_utf_8_signs_are_spelled_out(terminal: Open) -> None:
    screen = terminal("new", "--plain", LC_ALL="C", PYTHONUTF8="0", PYTHONCOERCECLOCALE="0")
    screen.see("Tell me about the piece")
    screen.type("a café sign, 12 x 16 in, on plywood\r")
    screen.see("Is that right?")
    assert screen.raw.replace("café".encode(), b"").isascii()


def test_where_nothing_can_be_written_the_conversation_goes_on_and_ends_with_its_answers_on_screen(
    tmp_path: Path,
) -> None:
    (tmp_path / "file").write_text("in the way")
    screen = Terminal(tmp_path / "file")
    tell(screen)
    screen.see("This cannot be kept on disk: a file stands where a folder is needed.")
    screen.ready()
    screen.type("\x03")
    screen.see('piece = "collage"', "Copy these lines into a file")
    assert screen.end() == 130


def test_escapes_that_are_typed_do_nothing(terminal: Open) -> None:
    screen = terminal("new", "--plain")
    screen.see("Tell me about the piece")
    screen.type("a \x16\x1b[2J\x16\x1b]0;title\x07 torn \u202etissue paper collage on plywood\r")
    screen.see("Is that right?")
    time.sleep(0.05)
    assert b"\x1b" not in screen.raw.replace(b"^[", b"")
    assert screen.shows("Tell me about the piece")
