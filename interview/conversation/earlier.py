"""Pieces that were kept: listed, picked, found by name, opened."""

from __future__ import annotations

from typing import TYPE_CHECKING

from interview.terminal.prompt import Console, Option, Prompt

if TYPE_CHECKING:
    from pathlib import Path

    from interview.files.journal import Journal
    from interview.files.kept import Kept


def pieces() -> Path:
    """The folder. Raises NoPlace."""
    from interview.files.paths import pieces_folder

    return pieces_folder()


def agreed(console: Console, text: str, yes: str = "yes", no: str = "no", more: str = "") -> bool:
    """Whether the first of two answers is given; Enter is the second. `more`: the first one at length."""
    said = {"1": True, yes: True, "y": True, "yes": True, "2": False, no: False, "n": False, "no": False, "": False}

    def check(typed: str) -> str | None:
        return None if typed.casefold().strip() in said else f"Type {yes} or {no}."

    options = (Option(yes, more or yes, word=yes), Option(no, no, word=no))
    return said[console.ask(Prompt(text, options, check=check)).casefold().strip()]


def kept_pieces() -> list[tuple[Path, Kept]]:
    """Every readable conversation, the one worked on last first."""
    from interview.files.journal import NotKept, read
    from interview.files.pieces import listing

    found = []
    try:
        for path in listing(pieces()):
            try:
                found.append((path, read(path)))
            except NotKept:
                continue
    except OSError:
        return []
    return found


def described() -> list[str]:
    """A line for everything in the folder, what cannot be read among it."""
    from interview.files.journal import NotKept, read
    from interview.files.pieces import listing

    lines = []
    try:
        for path in listing(pieces()):
            try:
                lines.append(describe(path.stem, read(path)))
            except NotKept as error:
                lines.append(str(error))
    except OSError:
        return []
    return lines


def read_earlier(name: str) -> Kept:
    """A kept conversation by name, or the last finished one for "last time". Raises NotKept."""
    from interview.files.journal import NotKept, read
    from interview.files.paths import NoPlace
    from interview.files.pieces import NotExact, find

    plain = name.casefold().strip(" .")
    if plain in ("last", "last time", "last one", "before", "the last one", "last piece"):
        done = [kept for _, kept in kept_pieces() if kept.done]
        if not done:
            raise NotKept("No finished piece is kept yet.")
        return done[0]
    try:
        return read(find(pieces(), name))
    except NotExact as error:  # it is read back before anything comes of it
        return read(error.path)
    except NoPlace as error:
        raise NotKept(f"Nothing is kept: {error}.") from None


def is_first_time() -> bool:
    """Whether no conversation has been brought to its end here."""
    return not any(kept.done for _, kept in kept_pieces())


def which(console: Console, name: str) -> Path:
    """The piece of this name; where no name is exactly that, the one that is agreed to. Raises NotKept."""
    from interview.files.journal import NotKept
    from interview.files.paths import NoPlace
    from interview.files.pieces import NotExact, find

    try:
        return find(pieces(), name)
    except NotExact as error:
        if agreed(console, str(error)):
            return error.path
        raise NotKept("beforepour list shows what is kept.") from None
    except NoPlace as error:
        raise NotKept(f"Nothing is kept: {error}.") from None


def find_open(console: Console, name: str) -> Path | None:
    if name:
        return which(console, name)
    open_ones = [(path, kept) for path, kept in kept_pieces() if not kept.done]
    if not open_ones:
        console.say("There is no unfinished conversation. beforepour list shows the finished ones.")
        return None
    if len(open_ones) == 1:
        return open_ones[0][0]
    return _pick(console, open_ones)


def find_planned(console: Console, name: str) -> Path | None:
    if name:
        return which(console, name)
    planned = [(path, kept) for path, kept in kept_pieces() if kept.done and kept.outcome is None]
    if not planned:
        console.say("There is no finished plan to work on. beforepour begins one.")
        return None
    return planned[0][0] if len(planned) == 1 else _pick(console, planned)


def _pick(console: Console, pieces: list[tuple[Path, Kept]]) -> Path | None:
    from interview.reading.measures import Unclear
    from interview.reading.menu import one_named
    from knowledge.shape import Choice

    choices = tuple(Choice(path.stem, path.stem) for path, _ in pieces)

    def check(typed: str) -> str | None:
        if typed.casefold().strip() in ("stop", ""):
            return None
        got = one_named(typed, choices)
        return got.says if isinstance(got, Unclear) else None

    options = tuple(Option(path.stem, describe(path.stem, kept), word=path.stem) for path, kept in pieces)
    typed = console.ask(Prompt("Which one?", options, hint="Press Enter for none.", words=("stop",), check=check))
    if typed.casefold().strip() in ("stop", ""):
        return None
    got = one_named(typed, choices)
    return None if isinstance(got, Unclear) else next(path for path, _ in pieces if path.stem == got)


def describe(name: str, kept: Kept) -> str:
    """One line of the list."""
    said = f": {kept.opening[:60]}" if kept.opening else ""
    state = "planned" if kept.done else f"{len(kept.answers)} answers so far"
    if kept.did:
        state = f"{len(kept.did)} steps done, the last on {kept.did[-1].at:%d %b %Y}"
    came = f" The file is damaged: {kept.lost}." if kept.lost else ""
    if kept.outcome is not None:
        state = f"finished {kept.outcome.at:%d %b %Y}"
        came += f" Right: {kept.outcome.right or 'nothing told'}. Wrong: {kept.outcome.wrong or 'nothing'}."
    full = f'"{kept.name}", ' if kept.name not in ("", name) else ""
    return f"{name} ({full}{state}){said}{came}"


def open_piece(console: Console, path: Path) -> Journal | None:
    """Open the journal; where another window has it, offer a copy."""
    from interview.files.disk import Busy
    from interview.files.journal import NotKept, copy, reopen
    from interview.files.paths import why_not

    try:
        journal, told = reopen(path)
    except Busy:
        if not agreed(console, f'Another window is at work on "{path.stem}".', "copy", "stop", "work on a copy"):
            return None
        try:
            journal = copy(path)
        except OSError as error:
            raise NotKept(f"No copy can be made: {why_not(error)}.") from None
        told = f'This is a copy: "{journal.path.stem}".'
    if told:
        console.say(told, "warning")
    return journal
