"""A batch that is kept: begun from its kinds, gone on with a line on the command line or several at the prompt."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from datetime import datetime

from interview.commands import output
from interview.commands.batch_forms import Row
from interview.commands.context import adviser_of, setting_of
from interview.commands.output import OK, Fault
from interview.commands.times import wishes_of
from interview.conversation.stall import HINT, said
from interview.conversation.stall_page import overview
from interview.conversation.stall_state import stand
from interview.conversation.timing import TimingError, Wishes
from interview.files.batches import KeptBatch, KeptKind, NoBatch, is_kept, load, save
from interview.reading.hours_told import HoursError, read_when
from interview.terminal.prompt import EndOfInput, Interrupted, Prompt

TELLING = ("hours", "begin", "ready_by", "days_off", "hands", "spray_places", "table", "rack", "pot")


def keep(options: argparse.Namespace, rows: Sequence[Row], now: datetime) -> None:
    """Write a new batch down. Days are kept as dates, so that "saturday" stays that Saturday."""
    if is_kept(options.name) and not options.overwrite:
        raise Fault(f'A batch "{options.name}" is kept already. Choose another name, or add --overwrite.')
    wishes = _told(wishes_of(options), now)
    version = load(options.name).version if is_kept(options.name) else 0
    kinds = tuple(KeptKind(row.name, row.count, row.answers, row.sells) for row in rows)
    try:
        begun = ((f"{now:%Y-%m-%d %H:%M}", "begun"),)
        save(KeptBatch(options.name, kinds, wishes, said=begun, version=version))
    except NoBatch as error:
        raise Fault(str(error)) from None
    output.put(f'Kept as "{options.name}". beforepour batch {options.name} tonight shows what to do.')


def _told(wishes: Wishes, now: datetime) -> dict[str, object]:
    plain = Wishes()
    told = {name: getattr(wishes, name) for name in TELLING if getattr(wishes, name) != getattr(plain, name)}
    try:
        for name in ("begin", "ready_by"):
            if name in told:
                told[name] = f"{read_when(str(told[name]), now):%Y-%m-%d %H:%M}"
    except HoursError as error:
        raise Fault(str(error)) from None
    return told


def go_on(options: argparse.Namespace) -> int:
    """Take one line from the command line, or, where somebody sits there, as many as are typed."""
    adviser = adviser_of(options)
    name, *words = options.kinds
    try:
        kept = load(name)
        if words:
            kept, lines = said(adviser, kept, " ".join(words), datetime.now())
            output.put("\n".join(lines))
            return OK
        output.put("\n".join(overview(stand(adviser, kept, datetime.now()))))
        return _at_the_prompt(options, kept)
    except (NoBatch, TimingError) as error:
        raise Fault(str(error)) from None


def _at_the_prompt(options: argparse.Namespace, kept: KeptBatch) -> int:
    setting = setting_of(options)
    adviser = adviser_of(options)
    console = setting.console
    prompt = Prompt("What now?", hint=HINT)
    while True:
        try:
            typed = console.ask(prompt).strip()
        except (EndOfInput, Interrupted):
            return OK
        if typed.casefold() in ("", "stop", "quit", "bye"):
            return OK
        try:
            kept, lines = said(adviser, load(kept.name), typed, datetime.now())
        except (NoBatch, TimingError) as error:
            lines = [str(error)]
        for line in lines:
            console.say(line)
        prompt = Prompt("What now?")
