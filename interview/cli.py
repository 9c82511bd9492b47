"""The commands. Each is a small function; what one needs is imported when it is called.

Exit status: 0 done, 1 cut short or the system refused, 2 something typed or in a file will not do, 130
Ctrl-C.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from interview import output
from interview.output import OK, REFUSED, Fault

if TYPE_CHECKING:
    import argparse
    from pathlib import Path

    from interview.answers import Answers
    from interview.conversation.adviser import Adviser
    from interview.conversation.sessions import Setting

INTERRUPTED = 130


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give the exit status. Never raises for what a person did."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    output.open_what_is_closed()
    try:
        if not given:  # the usual way; nothing to parse
            return start_interview(setting_of(None), "full", "")
        options = _parse(given)
        return int(options.run(options))
    except Fault as fault:
        for line in fault.lines:
            output.complain(line)
        return fault.status
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        output.drop()
        return OK


def _parse(given: list[str]) -> argparse.Namespace:
    from interview.command_line import make_parser

    return make_parser(COMMANDS).parse_args(given)


# ------------------------------------------------------------------ conversations


def setting_of(options: argparse.Namespace | None) -> Setting:
    from interview.conversation.sessions import Setting
    from interview.terminal.choice import choose_console

    return Setting(choose_console(plain=bool(options and options.plain)), _extra(options), _stock(options))


def _extra(options: argparse.Namespace | None) -> Path | None:
    """A shop's own additions to the knowledge: --knowledge FOLDER or BEFOREPOUR_KNOWLEDGE."""
    given = (options and options.knowledge) or os.environ.get("BEFOREPOUR_KNOWLEDGE")
    if not given:
        return None
    if not _path(given).is_dir():
        raise Fault(f"{given}: there is no such folder of knowledge.")
    return _path(given)


def _stock(options: argparse.Namespace | None) -> Path | None:
    """The maker's list of what is at hand: --stock FILE or BEFOREPOUR_STOCK."""
    given = (options and options.stock) or os.environ.get("BEFOREPOUR_STOCK")
    return _path(given) if given else None


def start_interview(setting: Setting, pace: Any, name: str) -> int:
    from interview.conversation.sessions import start

    return _all_shown(setting, start(setting, pace, name))


def _all_shown(setting: Setting, status: int) -> int:
    """The status, where the whole conversation could be shown. Raises Fault where it could not."""
    refused = getattr(setting.console, "refused", None)  # only plain lines go where a disk can be full
    if refused is not None:
        raise output.unshown(refused)
    return status


def new(options: argparse.Namespace) -> int:
    return start_interview(setting_of(options), options.pace, options.name)


def resume(options: argparse.Namespace) -> int:
    from interview.conversation.sessions import resume as go_on

    setting = setting_of(options)
    return _all_shown(setting, go_on(setting, options.name))


def list_pieces(_: argparse.Namespace) -> int:
    from interview.conversation.sessions import describe, kept_pieces

    pieces = kept_pieces()
    output.put("\n".join(describe(path.stem, kept) for path, kept in pieces) or "Nothing is kept yet.")
    return OK


def forget(options: argparse.Namespace) -> int:
    from interview.conversation.places import why_not

    path, _ = kept_piece(options.name)
    try:
        path.unlink()
    except OSError as error:
        raise Fault(f"{path} cannot be removed: {why_not(error)}.", status=REFUSED) from None
    output.put(f'"{path.stem}" is removed.')
    return OK


# ------------------------------------------------------------------ plans


def plan(options: argparse.Namespace) -> int:
    adviser = adviser_of(options)
    answers = _answers_of(options.answers, adviser)
    if options.assume:
        answers = assume_the_rest(adviser, answers)
    _refuse_contradictions(adviser, answers)
    made = adviser.plan(answers, _path(options.answers).stem if options.answers != "-" else "")
    if made.missing:
        lines = (missing_line(adviser, answers, id) for id in made.missing)
        raise Fault("These answers are missing (not sure is one, and --assume takes it for all of them):", *lines)
    return _show(adviser, made, [answer.words for answer in answers.values()], options)


def brief(options: argparse.Namespace) -> int:
    if options.name.casefold().endswith(".json"):
        return _show(adviser_of(options), _written_plan(options.name), [], options)
    _, kept = kept_piece(options.name)
    adviser = adviser_of(options)
    answers = fitting_answers(kept.answers, adviser)
    words = [kept.opening, *(answer.words for answer in answers.values())]
    return _show(adviser, adviser.plan(answers, kept.name), words, options)


def _written_plan(name: str) -> Any:
    """A plan that was written out as JSON, as it was."""
    from interview.brief.json_form import UnreadablePlan, read
    from interview.conversation.places import why_not

    try:
        return read(_path(name).read_text(encoding="utf-8"))
    except UnreadablePlan as error:
        raise Fault(f"{name}: {error}") from None
    except UnicodeDecodeError:
        raise Fault(f"{name}: is not UTF-8 text.") from None
    except OSError as error:
        raise Fault(f"{name} cannot be read: {why_not(error)}.") from None


def answers(options: argparse.Namespace) -> int:
    from interview.conversation.answers_file import write_answers

    _, kept = kept_piece(options.name)
    adviser = adviser_of(options)
    _deliver(write_answers(fitting_answers(kept.answers, adviser), adviser.knowledge), options)
    return OK


def explain(options: argparse.Namespace) -> int:
    from interview.working import figure_list, figure_working

    _, kept = kept_piece(options.name)
    adviser = adviser_of(options)
    fitting = fitting_answers(kept.answers, adviser)
    made = adviser.plan(fitting, kept.name)
    asked = " ".join(options.figure)
    if not asked:
        output.put(figure_list(made))
        return OK
    told = figure_working(made, asked) or adviser.explain(asked, made, fitting)
    if told is None:
        from interview.nearest import did_you_mean

        ids = [figure.id for figure in made.figures]
        raise Fault(
            f'There is no figure "{asked}" in this plan.{did_you_mean(asked, ids)} Without one, all are listed.'
        )
    output.put(told)
    return OK


def _show(adviser: Adviser, made: Any, words: Sequence[str], options: argparse.Namespace) -> int:
    from interview.conversation.measures import thinks_in_inches

    if options.form in ("timeline", "calendar"):
        from interview.cli_times import timetable_text

        _deliver(timetable_text(made, options), options)
        return OK
    how: dict[str, Any] = {"units": "imperial" if options.inches or thinks_in_inches(words) else "metric"}
    if options.form == "pdf":
        return _print_pdf(made, str(how["units"]), options)
    screen = options.form == "terminal" and not options.to and output.is_terminal()
    if options.form in ("terminal", "markdown", "sheet"):
        how |= {"width": output.width(), "full": options.full}
    if screen:
        how["colour"] = not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    from interview.cli_times import brief_text

    text = brief_text(lambda plan: adviser.brief(plan, options.form, **how), made, options)
    if screen:
        page(text)
    else:
        _deliver(text, options)
    return OK


def batch(options: argparse.Namespace) -> int:
    from interview.cli_batch import run

    return run(options)


def _print_pdf(made: Any, units: str, options: argparse.Namespace) -> int:
    """By the system's browser, to a file; named after the piece where no name is given."""
    from interview.brief.file_names import safe
    from interview.brief.pdf import NoPdf, printed
    from interview.brief.rendering import pages

    try:
        data = printed(pages([made], "html", units=units, paper=options.paper))  # type: ignore[arg-type]
    except NoPdf as error:
        raise Fault(str(error), status=REFUSED) from None
    options.to = options.to or f"{safe(made.name)}.pdf"
    _deliver(data, options)
    return OK


def page(text: str) -> None:
    """Through a pager where the text is longer than the window."""
    import shutil

    if text.count("\n") < shutil.get_terminal_size().lines - 1 or os.environ.get("TERM") == "dumb":
        output.write(text)
        return
    import pydoc

    os.environ.setdefault("LESS", "-RFX")  # colours as they are, and no pager for what fits
    pydoc.pager(text)


def _answers_of(path: str, adviser: Adviser) -> Answers:
    from interview.conversation.answers_file import LARGEST, AnswersError, read_answers
    from interview.conversation.places import why_not

    try:
        if path == "-":
            data = sys.stdin.buffer.read(LARGEST + 1)
        else:
            with _path(path).open("rb") as file:
                data = file.read(LARGEST + 1)
        return read_answers(data, adviser.knowledge)
    except OSError as error:
        raise Fault(f"{path} cannot be read: {why_not(error)}.") from None
    except AnswersError as error:
        raise Fault(*error.faults) from None


def assume_the_rest(adviser: Adviser, answers: Answers) -> Answers:
    from interview.answers import NOT_SURE

    for _ in adviser.knowledge.questions:  # each round answers one question, so it ends
        missing = adviser.plan(answers).missing
        if not missing:
            break
        answers = answers.say(missing[0], NOT_SURE)
    return answers


def _refuse_contradictions(adviser: Adviser, answers: Answers) -> None:
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


# ------------------------------------------------------------------ the knowledge


def questions(options: argparse.Namespace) -> int:
    from interview.conversation.questionnaire import describe_question

    knowledge = adviser_of(options).knowledge
    if options.id and options.id not in knowledge.questions:
        from interview.nearest import did_you_mean

        raise Fault(f'There is no question "{options.id}".{did_you_mean(options.id, knowledge.questions)}')
    chosen = [knowledge.questions[options.id]] if options.id else list(knowledge.questions.values())
    text = "\n\n".join("\n".join(describe_question(q, knowledge, whole=bool(options.id))) for q in chosen)
    output.put(text)
    return OK


def knowledge(options: argparse.Namespace) -> int:
    from datetime import date

    from interview.quantities import line_reader
    from knowledge.checking import check

    folder = _path(options.folder) if options.folder else _extra(options)
    faults = check(folder, today=date.today(), reads=line_reader())
    if faults:
        raise Fault(*map(str, faults), f"{len(faults)} faults.")
    output.put("The knowledge is sound: no faults found.")
    return OK


# ------------------------------------------------------------------ shared


def adviser_of(options: argparse.Namespace) -> Adviser:
    from interview.conversation.adviser import load_adviser
    from interview.stock import StockError
    from knowledge.loading import KnowledgeError

    try:
        return load_adviser(_extra(options), _stock(options))
    except KnowledgeError as error:
        raise Fault(*map(str, error.faults)) from None
    except StockError as error:
        raise Fault(*str(error).splitlines()) from None


def kept_piece(name: str) -> tuple[Path, Any]:
    from interview.conversation.journal import NotKept, find, read
    from interview.conversation.places import NoPlace, pieces_folder

    try:
        path = find(pieces_folder(), name)
        return path, read(path)
    except NotKept as error:
        raise Fault(str(error)) from None
    except NoPlace as error:
        raise Fault(f"Nothing is kept: {error}.") from None


def fitting_answers(answers: Answers, adviser: Adviser) -> Answers:
    from interview.conversation.fitting import keep_fitting

    kept, misfits = keep_fitting(answers, adviser.knowledge)
    for id in misfits:
        output.complain(f"{id}: this answer no longer fits the knowledge and is left out.")
    return kept


def _deliver(content: str | bytes, options: argparse.Namespace) -> None:
    """To the screen, or to a private file, whole or not at all."""
    if isinstance(content, str):
        content = content if content.endswith("\n") else f"{content}\n"
        if not options.to:
            output.write(content)
            return
    from interview.conversation.places import why_not, write_whole

    path = _path(options.to)
    try:
        write_whole(path, content, overwrite=options.overwrite)
    except FileExistsError:
        raise Fault(f"{path} is already there. Choose another name, or add --overwrite.") from None
    except OSError as error:
        raise Fault(f"{path} cannot be written: {why_not(error)}.", status=REFUSED) from None
    output.put(f"Written to {path}.")


def _path(given: str) -> Path:
    from pathlib import Path  # not loaded before the first question stands

    return Path(given)


COMMANDS = {
    "new": new,
    "resume": resume,
    "list": list_pieces,
    "forget": forget,
    "plan": plan,
    "brief": brief,
    "batch": batch,
    "answers": answers,
    "explain": explain,
    "questions": questions,
    "knowledge": knowledge,
}
