"""A conversation begun, taken up again, or held at a counter: the dialogue together with what is kept on disk."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from interview.conversation.adviser import Adviser, Later, knowledge_version, load_adviser
from interview.conversation.earlier import (
    find_open,
    find_planned,
    is_first_time,
    open_piece,
    pieces,
    read_earlier,
    which,
)
from interview.conversation.greeting import first_words
from interview.conversation.talk import Talk, machine_clock
from interview.files.kept import Kept
from interview.files.recorder import Keeper, Nobody, OnDisk
from interview.terminal.prompt import Console, EndOfInput, Interrupted

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import datetime
    from pathlib import Path

    from interview.files.journal import Journal
    from interview.reasoning.agenda import Pace

DONE, CUT_SHORT, WRONG, INTERRUPTED = 0, 1, 2, 130


def _warmed(extra: Path | None, stock: Path | None) -> Adviser:
    """The adviser, and the stages that the first answer needs already imported."""
    from interview.conversation import dialogue  # noqa: F401
    from knowledge.troubles import load_troubles

    adviser = load_adviser(extra, stock)
    load_troubles()  # any line may be about trouble
    return adviser


@dataclass(frozen=True, slots=True)
class Setting:
    """What holds for all commands: the console, the maker's own additions to the knowledge, what is at hand, the clock."""

    console: Console
    extra: Path | None = None
    stock: Path | None = None
    now: Callable[[], datetime] = machine_clock
    greeted: bool = False  # the first question stands on the screen already

    def adviser(self) -> Later[Adviser]:
        return Later(lambda: _warmed(self.extra, self.stock))


def start(setting: Setting, pace: Pace = "full", name: str = "") -> int:
    """A new conversation, or the counter. Gives the exit status."""
    if pace == "counter":
        return _counter(setting)
    keeper = OnDisk(pieces, name, lambda: knowledge_version(setting.extra))
    talk = Talk(
        setting.console, setting.adviser(), keeper, pace, Kept(pace=pace), first_time=is_first_time,
        earlier=read_earlier, now=setting.now,
    )  # fmt: skip
    return _hold(talk, first=lambda: first_words(talk, greeted=setting.greeted))[0]


def _counter(setting: Setting) -> int:
    """The shelf and the knowledge are read, and their faults told, before anybody is greeted."""
    from interview.conversation.desk import hold
    from interview.files.stock import StockError
    from knowledge.loading import KnowledgeError

    try:
        return hold(setting)
    except (StockError, KnowledgeError) as error:
        for line in str(error).splitlines():
            setting.console.say(line, "warning")
        return WRONG


def resume(setting: Setting, name: str = "") -> int:
    """Go on with an earlier conversation; without a name, the only open one, or the one the person picks."""
    opened = _taken_up(setting, lambda: find_open(setting.console, name))
    return opened if isinstance(opened, int) else _resume(setting, opened)


def work(setting: Setting, name: str = "") -> int:
    """Do a finished plan step by step; without a name, the one worked on last, or the one the person picks."""
    opened = _taken_up(setting, lambda: find_planned(setting.console, name))
    if isinstance(opened, int):
        return opened
    if opened.kept.done:
        return _resume(setting, opened, along=True)
    name = opened.path.stem
    setting.console.say(f"The plan is not finished yet. beforepour resume {name} goes on with the questions.")
    opened.close()
    return DONE


def _taken_up(setting: Setting, found: Callable[[], Path | None]) -> Journal | int:
    """The journal that is found, opened; or the exit status, where there is none to go on with."""
    from interview.files.journal import NotKept

    try:
        path = found()
        return (open_piece(setting.console, path) if path else None) or DONE
    except NotKept as error:
        setting.console.say(str(error), "warning")
        return WRONG
    except (EndOfInput, Interrupted):
        return INTERRUPTED


def save_it(setting: Setting, name: str = "") -> int:
    """Something went wrong, with a kept piece or with one that nobody planned here."""
    from interview.files.journal import NotKept

    keeper: Keeper = Nobody()
    kept = Kept()
    if name:
        try:
            journal = open_piece(setting.console, which(setting.console, name))
        except NotKept as error:
            setting.console.say(str(error), "warning")
            return WRONG
        if journal is None:
            return DONE
        keeper, kept = OnDisk(pieces, "", lambda: knowledge_version(setting.extra), journal), journal.kept
    talk = Talk(setting.console, setting.adviser(), keeper, "full", kept, earlier=read_earlier, now=setting.now)

    def go_on() -> None:
        from interview.conversation.rescuing import rescue

        rescue(talk)

    return _hold(talk, go_on)[0]


def _resume(setting: Setting, journal: Journal, *, along: bool = False) -> int:
    from interview.reading.fitting import keep_fitting

    later = setting.adviser()
    keeper = OnDisk(pieces, "", lambda: knowledge_version(setting.extra), journal)
    kept = journal.kept
    pace: Pace = kept.pace if kept.pace in ("quick", "exact") else "full"  # type: ignore[assignment]
    talk = Talk(
        setting.console, later, keeper, pace, kept, first_time=is_first_time, earlier=read_earlier, now=setting.now
    )
    answers, misfits = keep_fitting(kept.answers, talk.adviser.knowledge)
    try:
        if answers:
            talk.say(f'Going on with "{keeper.name}". {talk.adviser.plan(answers).summary}')
        if misfits:
            talk.say(
                f"The knowledge has changed; these answers no longer fit and are asked again: {', '.join(misfits)}."
            )
    except EndOfInput:  # nobody reads; what is kept stays as it was
        keeper.close()
        return CUT_SHORT
    if misfits:
        trail = tuple(id for id in kept.trail if id in answers)
        talk.save(replace(kept, answers=answers, trail=trail, done=False))
    if along or kept.did:  # the questions are behind; the work goes on
        from interview.conversation.working_along import work_along

        return _hold(talk, lambda: work_along(talk))[0]
    return _hold(talk)[0]


def _hold(
    talk: Talk, along: Callable[[], None] | None = None, first: Callable[[], str] | None = None
) -> tuple[int, str]:
    """Converse, or work `along`, to the end, however it comes, and close the journal."""
    try:
        if along is not None:
            along()
            return DONE, "done"
        typed = first() if first else None
        from interview.conversation.dialogue import converse  # only now: the first question stands

        return DONE, converse(talk, typed)
    except Interrupted:
        _part(talk)
        return INTERRUPTED, "stopped"
    except EndOfInput:
        _part(talk)
        return DONE if talk.kept.done else CUT_SHORT, "stopped"
    except Exception as error:
        if not _is_knowledge_fault(talk, error):
            raise
        return WRONG, "stopped"
    finally:
        talk.keeper.close()


def _is_knowledge_fault(talk: Talk, error: Exception) -> bool:
    """Whether the data files, or the list of what is at hand, do not load; then that is told."""
    from interview.files.stock import StockError
    from knowledge.loading import KnowledgeError

    if isinstance(error, StockError):
        talk.say(str(error), "warning")
        return True
    if not isinstance(error, KnowledgeError):
        return False
    talk.say(f"The knowledge does not load: {error.faults[0]}", "warning")
    more = len(error.faults) - 1
    if more:
        talk.say(f"There are {more} more faults. beforepour knowledge lists them all.", "warning")
    return True


def _part(talk: Talk) -> None:
    """The last words where input ended. What is not on disk is put on the screen, to be copied from there."""
    from interview.conversation.talk import where_kept

    try:
        talk.say("")
        talk.say(where_kept(talk))
        if talk.answers and not talk.keeper.safe:
            from interview.files.answers_file import write_answers

            talk.say("Copy these lines into a file, and beforepour plan FILE goes on from them:")
            talk.say(write_answers(talk.answers, talk.adviser.knowledge, talk.console.width), "verbatim")
    except (EndOfInput, Interrupted):
        pass  # nobody is listening any more
