"""`beforepour batch`: kinds from a CSV file, from kept conversations or told now, planned together."""

from __future__ import annotations

import errno
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from interview.brief.batch_sheet import batch_text, shopping_csv
from interview.brief.calendar_file import calendar_file
from interview.brief.file_names import safe
from interview.conversation.timing import TimingError, Wishes, means_of, poured, sentence, where_kinds_differ
from interview.reasoning.batch import Batch, make_batch
from interview.reasoning.lots import Kind
from interview.reasoning.planner import make_plan
from interview.reasoning.scheduling.tasks import CannotSchedule

if TYPE_CHECKING:
    from interview.conversation.adviser import Adviser
    from interview.plan.answers import Answers


@dataclass(frozen=True, slots=True)
class Row:
    """One kind of piece: its name, how many, and the answers."""

    name: str
    count: int
    answers: Answers
    sells: float | None = None  # one's own price of a piece


def _kind(adviser: Adviser, row: Row) -> Kind:
    return Kind(row.name, make_plan(adviser.knowledge, _counted(row.answers, row.count), row.name), row.count)


def _counted(answers: Answers, count: int) -> Answers:
    """The count is an answer like any other, so the amounts are for all of them."""
    have = answers.value("have") or frozenset()
    return answers.say("have", (frozenset(have) | {"count"}) - {"none"}).say("count", count)


def plan_batch(adviser: Adviser, rows: Sequence[Row], wishes: Wishes, now: datetime) -> Batch:
    """All kinds planned for their whole counts and put on one timetable. Raises TimingError with one line."""
    kinds = tuple(_kind(adviser, row) for row in rows)
    held = tuple(kind for kind in kinds if not poured(kind.plan))
    if len(held) == len(kinds):
        raise TimingError(f"{kinds[0].name}: {kinds[0].plan.headline} Change its answers, or the ways you have.")
    rows = [row for row, kind in zip(rows, kinds, strict=True) if kind not in held]
    kinds = tuple(kind for kind in kinds if kind not in held)
    means = means_of([kind.plan for kind in kinds], wishes, now)
    try:
        made = make_batch(
            kinds,
            means,
            backward=wishes.latest,
            others=partial(_otherwise, adviser, rows, kinds),
            progress=_bar(),
            sells={row.name: row.sells for row in rows if row.sells is not None},
        )
    except CannotSchedule as error:
        raise TimingError(sentence(str(error))) from None
    left_out = tuple(f"Not poured as it is, so on no day: {k.count} x {k.name}. {k.plan.headline}" for k in held)
    return replace(made, notes=(*left_out, *where_kinds_differ(kinds, wishes)))


def _otherwise(
    adviser: Adviser, rows: Sequence[Row], kinds: Sequence[Kind]
) -> tuple[tuple[str, tuple[Kind, ...]], ...]:
    """The same pieces brushed instead of sprayed, where a brush serves all of them."""
    brush = frozenset(("brush",))
    brushed = [_kind(adviser, replace(row, answers=row.answers.say("ways", brush))) for row in rows]
    if any(not poured(b.plan) or b.plan.outlets for b in brushed):
        return ()
    same = all(b.plan.treatments == k.plan.treatments for b, k in zip(brushed, kinds, strict=True))
    return () if same else (("brush instead of spraying", tuple(brushed)),)


def _bar() -> Callable[[float], None] | None:
    """A bar on the terminal while the best order is looked for; nothing where nobody watches."""
    if not sys.stderr.isatty():
        return None

    def show(share: float) -> None:
        done = round(20 * min(max(share, 0.0), 1.0))
        end = "\r" if share < 1 else "\r" + " " * 50 + "\r"
        text = f"Looking for the best order [{'#' * done}{'.' * (20 - done)}]"
        sys.stderr.write(f"\r{text}{end}" if share < 1 else end)
        sys.stderr.flush()

    return show


def _apart(names: list[str]) -> list[str]:
    """The names with numbers where two would be one file: "gull", "gull-2". Case makes no difference."""
    made: list[str] = []
    for name in names:
        told, number = name, 1
        while told.casefold() in (other.casefold() for other in made):
            number += 1
            told = f"{name}-{number}"
        made.append(told)
    return made


def write_folder(
    batch: Batch, folder: Path, width: int, now: datetime, *, overwrite: bool, paper: str = "A4"
) -> list[Path]:
    """The wall sheet with its slips, the same as text, the combined list, the calendar, and a brief a kind. Raises OSError."""
    from interview.brief.batch_page import wall_sheet
    from interview.brief.forms import render
    from interview.files.paths import write_whole
    from interview.reasoning.timetable import as_timed, of_kind

    plans = [as_timed(kind.plan, batch.timeline, number) for number, kind in enumerate(batch.kinds)]
    title = folder.name or "batch"
    files = {
        "batch.html": wall_sheet(batch, title, paper),
        "batch.txt": batch_text(batch, width),
        "shopping.csv": shopping_csv(batch),
        "calendar.ics": calendar_file(batch.timeline, plans, title, now.astimezone()),
    }
    for number, (name, plan) in enumerate(zip(_apart([safe(kind.name) for kind in batch.kinds]), plans, strict=True)):
        files[f"{name}.md"] = str(render(plan, "markdown", time=of_kind(batch.timeline, number)))
    if folder.exists() and not folder.is_dir():
        raise NotADirectoryError(errno.ENOTDIR, "a file is in the way")
    folder.mkdir(parents=True, exist_ok=True)
    taken = [folder / name for name in files if (folder / name).exists()]
    if taken and not overwrite:
        raise FileExistsError(str(taken[0]))
    for name, text in files.items():
        write_whole(folder / name, text, overwrite=overwrite)
    return [folder / name for name in files]
