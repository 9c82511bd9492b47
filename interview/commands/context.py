"""What the commands share: the setting, the adviser, kept pieces, files to read and to write.

What a command needs is imported when it is called; each error of a file or of the knowledge becomes a Fault here.
"""

from __future__ import annotations

import os
import sys

from interview.commands import output
from interview.commands.output import REFUSED, Fault

TYPE_CHECKING = False  # so called by `typing`, which loads after the first question
if TYPE_CHECKING:
    import argparse
    from pathlib import Path
    from typing import Any

    from interview.conversation.adviser import Adviser
    from interview.conversation.sessions import Setting
    from interview.files.kept import Kept
    from interview.plan.answers import Answers
    from interview.terminal.prompt import Console


def setting_of(options: argparse.Namespace | None, *, greet: bool = False) -> Setting:
    """`greet`: with the first question, which then stands on the screen before the rest is loaded."""
    from interview.terminal.choice import choose_console

    extra, stock = extra_folder(options), stock_file(options)
    console = choose_console(plain=bool(options and options.plain))
    greeted = greet and _greeted(console)
    from interview.conversation.sessions import Setting

    return Setting(console, extra, stock, greeted=greeted)


def _greeted(console: Console) -> bool:
    from interview.conversation.greeting import greet

    try:
        return greet(console)
    except Exception as error:
        from interview.terminal.prompt import EndOfInput

        if not isinstance(error, EndOfInput):
            raise
        refused = getattr(console, "refused", None)
        raise output.unshown(refused) if refused else Fault(status=REFUSED) from None


def extra_folder(options: argparse.Namespace | None) -> Path | None:
    """A shop's own additions to the knowledge: --knowledge FOLDER or BEFOREPOUR_KNOWLEDGE."""
    given = (options and options.knowledge) or os.environ.get("BEFOREPOUR_KNOWLEDGE")
    if not given:
        return None
    if not path_of(given).is_dir():
        raise Fault(f"{given}: there is no such folder of knowledge.")
    return path_of(given)


def stock_file(options: argparse.Namespace | None) -> Path | None:
    """The maker's list of what is at hand: --stock FILE or BEFOREPOUR_STOCK."""
    given = (options and options.stock) or os.environ.get("BEFOREPOUR_STOCK")
    return path_of(given) if given else None


def start_interview(setting: Setting, pace: Any, name: str) -> int:
    from interview.conversation.sessions import start

    return all_shown(setting, start(setting, pace, name))


def all_shown(setting: Setting, status: int) -> int:
    """The status, where the whole conversation could be shown. Raises Fault where it could not."""
    refused = getattr(setting.console, "refused", None)  # only plain lines go where a disk can be full
    if refused is not None:
        raise output.unshown(refused)
    return status


def adviser_of(options: argparse.Namespace) -> Adviser:
    from interview.conversation.adviser import load_adviser
    from interview.files.stock import StockError
    from knowledge.loading import KnowledgeError

    try:
        return load_adviser(extra_folder(options), stock_file(options))
    except KnowledgeError as error:
        raise Fault(*map(str, error.faults)) from None
    except StockError as error:
        raise Fault(*str(error).splitlines()) from None


def piece_named(name: str, options: argparse.Namespace) -> Path:
    """The journal of this name; somebody who sits there is asked where it is not exact. Raises Fault."""
    from interview.files.journal import NotKept
    from interview.files.paths import NoPlace, pieces_folder
    from interview.files.pieces import find

    try:
        if sys.stdin.isatty():
            from interview.conversation.earlier import which

            return which(setting_of(options).console, name)
        return find(pieces_folder(), name)
    except NotKept as error:
        raise Fault(str(error)) from None
    except NoPlace as error:
        raise Fault(f"Nothing is kept: {error}.") from None


def kept_piece(name: str, options: argparse.Namespace) -> Kept:
    """What is kept of a piece to plan from. Its damage is told at once. Raises Fault where it holds no answer."""
    from interview.files.journal import NotKept, read

    path = piece_named(name, options)
    try:
        kept = read(path)
    except NotKept as error:
        raise Fault(str(error)) from None
    if kept.lost:
        output.complain(damaged(kept, path.stem))
    if not kept.answers:
        more = "" if kept.lost else f" beforepour resume {path.stem} goes on with it."
        raise Fault(f"{path.stem} holds no answer, so there is nothing to plan from.{more}")
    return kept


def damaged(kept: Kept, name: str = "") -> str:
    """One line that says what of a damaged piece is lost; "" where it is whole."""
    return f"The file of {name or kept.name or 'this piece'} is damaged: {kept.lost}." if kept.lost else ""


def fitting_answers(answers: Answers, adviser: Adviser) -> Answers:
    from interview.reading.fitting import keep_fitting

    kept, misfits = keep_fitting(answers, adviser.knowledge)
    for id in misfits:
        output.complain(f"{id}: this answer no longer fits the knowledge and is left out.")
    return kept


def answers_in(path: str, adviser: Adviser) -> Answers:
    from interview.files.answers_file import LARGEST, AnswersError, read_answers
    from interview.files.paths import read_file, why_not

    try:
        data = sys.stdin.buffer.read(LARGEST + 1) if path == "-" else read_file(path_of(path), LARGEST)
        return read_answers(data, adviser.knowledge)
    except OSError as error:
        raise Fault(f"{path} cannot be read: {why_not(error)}.") from None
    except AnswersError as error:
        raise Fault(*error.faults) from None


def assume_the_rest(adviser: Adviser, answers: Answers) -> Answers:
    from interview.plan.answers import NOT_SURE

    while missing := adviser.plan(answers).missing:  # each round answers questions, so it ends
        for question in missing:
            answers = answers.say(question, NOT_SURE)
    return answers


def refuse_contradictions(adviser: Adviser, answers: Answers) -> None:
    found = adviser.contradictions(answers)
    if found:
        raise Fault(*(f"{', '.join(row.questions)}: {row.says} Change one of them." for row in found))


def missing_line(adviser: Adviser, answers: Answers, id: str) -> str:
    """A question in its words and what it takes: for a file, where nobody asks it."""
    asked = adviser.wording(adviser.question(id), answers)
    ids = [choice.id for choice in asked.choices]
    ids.sort(key=lambda id: id not in asked.question.alone)  # nothing at all first
    takes = ", ".join(ids) if len(ids) <= 12 else f"{', '.join(ids[:8])} ... (beforepour questions {id})"
    return f"{id}: {asked.text} [{takes if ids else asked.question.example}]"


LETTER = ("US", "CA", "MX", "PH", "CL", "CO", "VE", "GT", "CR", "SV", "DO", "PA", "PR", "NI")  # CLDR, paper sizes


def paper_of(told: str | None) -> str:
    """ "A4" or "Letter": as told, else by the locale's country."""
    if told:
        return told
    names = (os.environ.get(name, "") for name in ("LC_ALL", "LC_PAPER", "LANG"))
    country = next((name for name in names if name), "").partition(".")[0].partition("_")[2]
    return "Letter" if country in LETTER else "A4"


def page(text: str) -> None:
    """Through a pager that says its keys, where the text is longer than the window."""
    import shutil

    if text.count("\n") < shutil.get_terminal_size().lines - 1 or os.environ.get("TERM") == "dumb":
        output.write(text)
        return
    from interview.terminal.pager import show

    show(text)


def deliver(content: str | bytes, options: argparse.Namespace) -> None:
    """To the screen ("-"), or to a private file, whole or not at all."""
    if isinstance(content, str):
        content = content if content.endswith("\n") else f"{content}\n"
    if not options.to or options.to == "-":
        output.write(content) if isinstance(content, str) else output.write_bytes(content)
        return
    from interview.files.paths import why_not, write_whole

    path = path_of(options.to)
    try:
        write_whole(path, content, overwrite=options.overwrite)
    except FileExistsError:
        raise Fault(f"{path} is already there. Choose another name, or add --overwrite.") from None
    except OSError as error:
        raise Fault(f"{path} cannot be written: {why_not(error)}.", status=REFUSED) from None
    output.put(f"Written to {path}.")


def path_of(given: str) -> Path:
    from pathlib import Path  # not loaded before the first question stands

    return Path(given)
