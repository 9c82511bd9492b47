"""`beforepour batch` on the command line: kinds from CSV files, kept pieces, or told one after the other."""

from __future__ import annotations

import argparse
from datetime import datetime
from pathlib import Path
from typing import Any

from interview.brief.batch_sheet import batch_text
from interview.commands import output
from interview.commands.batch_forms import Row, plan_batch, write_folder
from interview.commands.context import (
    adviser_of,
    assume_the_rest,
    fitting_answers,
    kept_piece,
    missing_line,
    page,
    paper_of,
    setting_of,
    start_interview,
)
from interview.commands.output import OK, REFUSED, Fault
from interview.commands.times import wishes_of
from interview.conversation.adviser import Adviser
from interview.conversation.earlier import kept_pieces
from interview.conversation.sessions import Setting
from interview.conversation.timing import TimingError
from interview.files.batch_file import LARGEST, BatchError, read_batch
from interview.files.paths import read_file, why_not
from interview.plan.answers import Answers
from interview.quantities.written import size_words
from interview.reading.kinds_told import kinds_told
from interview.reading.measures import count_of
from interview.terminal.prompt import EndOfInput, Option, Prompt


def plan_kinds(options: argparse.Namespace) -> int:
    adviser = adviser_of(options)
    rows = _rows(adviser, options)
    if not rows:
        raise Fault("There is no kind to plan. Name a CSV file or kept pieces.")
    now = datetime.now()
    try:
        made = plan_batch(adviser, rows, wishes_of(options), now)
    except TimingError as error:
        raise Fault(str(error)) from None
    if options.name:
        from interview.commands.batch_kept import keep

        keep(options, rows, now)
    if not options.folder:
        show = page if output.is_terminal() else output.write
        show(batch_text(made, output.width()))
        return OK
    try:
        written = write_folder(
            made, Path(options.folder), 80, now, overwrite=options.overwrite, paper=paper_of(options.paper)
        )
    except FileExistsError as error:
        raise Fault(f"{error} is already there. Choose another folder, or add --overwrite.") from None
    except OSError as error:
        raise Fault(f"{options.folder} cannot be written: {why_not(error)}.", status=REFUSED) from None
    for path in written:
        output.put(f"Written to {path}.")
    return OK


def _rows(adviser: Adviser, options: argparse.Namespace) -> list[Any]:
    """Kinds from CSV files, kept pieces, or told now."""
    rows: list[Any] = []
    for given in options.kinds:
        if Path(given).suffix.casefold() in (".csv", ".tsv", ".txt"):
            rows += _csv_rows(given, adviser, assume=options.assume)
        elif " " in given.strip():
            rows += _rows_in_words(given, adviser)
        else:
            kept = kept_piece(given, options)
            fitting = fitting_answers(kept.answers, adviser)
            rows.append(Row(kept.name, fitting.value("count") or 1, fitting))
    return rows if options.kinds else _told_kinds(options)


def _rows_in_words(text: str, adviser: Adviser) -> list[Row]:
    """ "12 gull tiles 4 x 4 in on glazed tile and 10 leaf trays of plywood": a row a kind, said back as a table."""
    kinds = kinds_told(text, adviser.knowledge)
    if not kinds:
        raise Fault(
            f'"{text[:60]}" names no kind with a number. Write it like "12 slate coasters, 10 leaf trays of plywood".'
        )
    rows = [Row(k.name, k.count, assume_the_rest(adviser, _nothing_more(k.answers))) for k in kinds]
    for row in rows:
        size = row.answers.value("size")
        told = size_words(size) if size else "size not told, so taken as 30 x 40 cm"
        output.put(f"{row.count:>4} x {row.name}: {adviser.plan(row.answers).summary.removesuffix('.')}; {told}.")
    output.put(
        "Nothing more is taken to be on them, and a spoiled one can be made again. The rest is taken as not sure.\n"
    )
    return rows


def _nothing_more(answers: Answers) -> Answers:
    """Of several made alike for a stall, a thing that is not named is not there, and none is the only one."""
    for question, value in (
        ("laid_on", frozenset(("none",))),
        ("media", frozenset(("no_medium",))),
        ("only_one", "replaceable"),
    ):
        answers = answers if question in answers else answers.say(question, value)
    return answers


_NOT_SURE_TOO = "Not sure is an answer too; --assume takes it for all. Several answers in one cell are parted by +."


def _csv_rows(given: str, adviser: Adviser, *, assume: bool) -> list[Row]:
    """The kinds of a file, whole: each fault and each missing answer is told with its row and column."""
    asked: list[str] = []

    def check(answers: Answers) -> list[tuple[str, str]]:
        wrong = [(row.questions[0], row.says) for row in adviser.contradictions(answers)]
        missing = () if assume else adviser.plan(answers).missing
        asked.extend(missing)
        says = (missing_line(adviser, answers, id).removeprefix(f"{id}: ") for id in missing)
        return wrong + [(id, f"is missing. {line}") for id, line in zip(missing, says, strict=True)]

    try:
        kinds = read_batch(read_file(Path(given), LARGEST), adviser.knowledge, check)
    except OSError as error:
        raise Fault(f"{given} cannot be read: {why_not(error)}.") from None
    except BatchError as error:
        lines = (f"{given}: {line}" for line in error.faults)
        raise Fault(*lines, *((_NOT_SURE_TOO,) if asked else ())) from None
    filled = (assume_the_rest(adviser, k.answers) if assume else k.answers for k in kinds)
    return [Row(k.name, k.count, answers, k.sells) for k, answers in zip(kinds, filled, strict=True)]


def _told_kinds(options: argparse.Namespace) -> list[Any]:
    """One interview a kind, until there is no other."""
    setting = setting_of(options)
    before = {path for path, _ in kept_pieces()}
    more = Prompt("Another kind?", (Option("yes", "yes", word="yes"), Option("no", "no, plan the batch", word="no")))
    try:
        while start_interview(setting, "quick", "") == OK:
            if setting.console.ask(more).strip().casefold() not in ("1", "y", "yes"):
                break
    except EndOfInput:
        pass
    new_ones = [(path, kept) for path, kept in kept_pieces() if path not in before and kept.done]
    return [
        Row(path.stem, _how_many(setting, path.stem, kept.answers), kept.answers) for path, kept in reversed(new_ones)
    ]


def _how_many(setting: Setting, name: str, answers: Answers) -> int:
    if answers.value("count"):
        return int(answers.value("count"))
    ask = Prompt(
        f"How many of {name}?",
        hint="A whole number, such as 12.",
        check=lambda t: None if count_of(t) else "Type a whole number.",
    )
    try:
        return count_of(setting.console.ask(ask)) or 1
    except EndOfInput:
        return 1
