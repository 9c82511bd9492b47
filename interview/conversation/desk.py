"""The counter: one customer after the other, each ended by a slip of one page. Nothing of a customer is written down.

A customer is about to pour, holds something up ("will this do?"), has poured already, or should not pour at all; which
of these it is, is heard from the first line.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, Protocol

from interview.conversation.dialogue import converse
from interview.conversation.rescuing import is_trouble, rescue
from interview.conversation.talk import Talk
from interview.files.kept import Kept
from interview.files.recorder import Nobody
from interview.plan.answers import Answers
from interview.reading.trouble_words import may_be_trouble
from interview.terminal.prompt import Console, EndOfInput, Interrupted, Prompt, Tone
from interview.text.harmless import harmless
from interview.text.wording import lowered as uncapital
from knowledge.troubles import load_troubles

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from interview.conversation.adviser import Adviser, Later
    from interview.files.stock import Shelf as ShelfRead
    from interview.reading.turn import Turn

KEPT_SLIPS = 5
DONE, INTERRUPTED = 0, 130
_NEXT = Prompt(
    "Next customer: what do they say?",
    hint="Their piece; what they hold up; what went wrong; or who it is for. Also: slip, print, again, back, help, stop.",
)
_HELP = (
    "About to pour: type the piece, in their words. At most six questions; size is always one of them.",
    'Will this do: "hairspray on a photo", or two tins: "the blue tin or white glue, on a tile".',
    'Already poured: "it is still sticky". Should I at all: "she is pregnant", "for a child", "only a bedroom".',
    "slip: the last slip from its top. print: to the printer, or print to FILE.txt or FILE.pdf. again: one of the last five.",
    "back: the last customer once more. stop: end the counter. Nothing of a customer is kept on disk, so resume finds nothing.",
)


class Setting(Protocol):
    """What the counter stands in: sessions.Setting."""

    @property
    def console(self) -> Console: ...
    @property
    def stock(self) -> Path | None: ...
    @property
    def now(self) -> Callable[[], datetime]: ...
    def adviser(self) -> Later[Adviser]: ...


@dataclass(frozen=True, slots=True)
class Slip:
    """One page to hand over. `title`: the customer's first words."""

    title: str
    text: str


class Overheard:
    """A console that also notes what is said, so that it can be handed over."""

    def __init__(self, console: Console, wishes: Callable[[str], bool]) -> None:
        """`wishes`: takes a line that is a wish of the clerk's, such as slip or print, and says so."""
        self._console = console
        self._wishes = wishes
        self.heard: list[str] = []

    @property
    def width(self) -> int:
        return self._console.width

    def say(self, text: str, tone: Tone = "plain") -> None:
        self.heard.append(text)
        self._console.say(text, tone)

    def ask(self, prompt: Prompt) -> str:
        while True:
            typed = self._console.ask(prompt)
            if not self._wishes(typed):
                return typed
            prompt = replace(prompt, again=True)

    def meanwhile(self, work: Callable[[], None]) -> None:
        self._console.meanwhile(work)

    def page(self, text: str) -> None:
        self._console.page(text)

    def fresh(self) -> None:
        self._console.fresh()


@dataclass(slots=True)
class Desk:
    setting: Setting
    shelf: ShelfRead | None = None
    slips: list[Slip] = field(default_factory=list)
    last: Talk | None = None
    serving: str = ""  # the first words of the customer in hand

    @property
    def console(self) -> Console:
        return self.setting.console

    def talk(self, console: Console | None = None) -> Talk:
        later = self.setting.adviser()
        kept = Kept(pace="counter")
        return Talk(console or self.console, later, Nobody(), "counter", kept, now=self.setting.now)


def hold(setting: Setting) -> int:
    """Until the clerk stops. Ctrl-C asks first. Gives the exit status."""
    desk = Desk(setting, _shelf(setting))
    while True:
        try:
            if not _customer(desk, desk.console.ask(_NEXT)):
                return DONE
        except EndOfInput:
            return DONE
        except Interrupted:
            if _leaves(desk):
                return INTERRUPTED
            _back(desk)


def _shelf(setting: Setting) -> ShelfRead | None:
    """The shelf is read, and its faults told, before anybody is greeted."""
    adviser = setting.adviser().get()
    if setting.stock is None:
        return None
    from interview.files.stock import read_shelf

    return read_shelf(adviser.knowledge, setting.stock)


def _leaves(desk: Desk) -> bool:
    try:
        return desk.console.ask(Prompt("Leave the counter? The slips are forgotten.", hint="Yes or no.")).strip().casefold() in (
            "yes", "y", "1",
        )  # fmt: skip
    except (EndOfInput, Interrupted):
        return True


def _customer(desk: Desk, typed: str) -> bool:
    """One line at the counter. Whether the counter goes on."""
    plain = _plain(typed)
    if plain in ("stop", "quit", "exit", "bye", "close"):
        return bool(desk.slips) and not _leaves(desk)
    if plain in ("", "next"):
        desk.console.fresh()
        return True
    if _wish(desk, typed):
        return True
    if plain == "help":
        for line in _HELP:
            desk.console.say(f"  {line}")
    elif plain == "back":
        _back(desk)
    else:
        desk.console.fresh()
        desk.console.say(f"> {typed}", "quiet")
        return _serve(desk, typed) or not _leaves(desk)
    return True


def _plain(typed: str) -> str:
    return typed.strip().casefold().rstrip(".!")


def _wish(desk: Desk, typed: str) -> bool:
    """The clerk's own words, at any prompt: the slip in hand, a print, one of the last five."""
    plain = _plain(typed)
    if plain in ("slip", "the slip", "show slip"):
        mine = _in_hand(desk)
        _show(desk, [mine] if mine else desk.slips[-1:])
    elif re.fullmatch(r"again(?: \d)?", plain):
        _again(desk, plain)
    elif re.fullmatch(r"print(?: (?:it|slip|the slip))?(?: to \S+)?", plain):
        where = re.search(r"(?i)\bto (\S+)", typed)
        _print(desk, where[1] if where else "")
    else:
        return False
    return True


def _in_hand(desk: Desk) -> Slip | None:
    """The slip of the customer who stands there now, as far as it is."""
    if not desk.serving or desk.last is None or not desk.last.answers:
        return None
    return Slip(desk.serving, _plan_slip(desk, desk.last))


# ------------------------------------------------------------------ the four customers


def _serve(desk: Desk, typed: str) -> bool:
    """Whether the counter goes on without a word."""
    from interview.reading.turn import Focus, read_turn

    heard = Overheard(desk.console, lambda line: _wish(desk, line))
    desk.serving = harmless(typed, one_line=True)[:60]
    talk = desk.talk(heard)
    desk.last = talk
    told, bare = _in_known_words(desk, talk, typed)
    if is_trouble(typed) or may_be_trouble(typed, load_troubles()):
        rescue(talk, typed)
        _handed(desk, typed, _said_slip(desk, heard))
        return True
    turn = read_turn(bare, Focus("opening", now=talk.now()), talk.adviser.knowledge)
    asks = talk.questions_in(told, turn, None, "opening")
    if _held_up(talk, told):
        _will_it_do(desk, talk, heard, typed, told, turn)
    elif turn.worries and not _of_the_piece(turn):
        return _should_i(desk, talk, heard, typed, turn)
    elif asks and not _of_the_piece(turn):
        for asked in asks:
            talk.explain(asked, None, "opening")
        _handed(desk, typed, _said_slip(desk, heard))
    else:
        return _about_to_pour(desk, talk, typed)
    return True


def _of_the_piece(turn: Turn) -> bool:
    return any(fact.question not in ("worries", "ways") for fact in turn.facts)


def _held_up(talk: Talk, text: str) -> bool:
    """Whether something is held up that is no piece: a stand-in or a tin by its name, asked about."""
    from interview.reading.topic_matching import named_in

    named = any(kind == "stand_in" for kind, _ in named_in(text, talk.adviser.knowledge))
    asks = re.search(
        r"\?|\b(?:can|could|will|would|is|use|do|does|instead|or|good enough|ok|okay|seal)\b", text.casefold()
    )
    return named and asks is not None


def _about_to_pour(desk: Desk, talk: Talk, typed: str, title: str = "") -> bool:
    ending = converse(talk, typed)
    if talk.answers:
        text = _plan_slip(desk, talk)
        desk.console.fresh()
        _handed(desk, title or typed, text)
    return ending == "next"


def _will_it_do(desk: Desk, talk: Talk, heard: Overheard, typed: str, told: str, turn: Turn) -> None:
    """One thing, or two, against the piece: asked for where it was not named."""
    from interview.reading.turn import Focus, read_turn

    answers = _answers(turn)
    if not _of_the_piece(turn):
        piece = desk.console.ask(Prompt("On what?", hint="The piece in a few words; Enter: not told."))
        answers = _answers(read_turn(piece, Focus("opening", now=talk.now()), talk.adviser.knowledge))
        typed = f"{typed} on {piece}" if piece.strip() else typed
    talk.kept = replace(talk.kept, answers=answers)
    if answers:
        talk.say(f"  On {uncapital(talk.adviser.describe(answers))}:", "quiet")
    talk.explain(_as_question(told))
    _tell_taken(desk, talk, typed)
    _handed(desk, typed, _said_slip(desk, heard))


def _tell_taken(desk: Desk, talk: Talk, typed: str) -> None:
    """What each tin that was named is taken as, and why the plan would not take it, by its own name."""
    from interview.brief.slip import Tin

    shelf = desk.shelf
    tins: list[tuple[Any, str]] = []
    if shelf is not None:
        tins = [*((t, t.at_hand) for t in shelf.sealers.values()), *((t, t.kind) for t in shelf.others)]
    for tin, kind in tins:
        if tin.name.casefold() in typed.casefold():
            made = _tin(Tin, tin)
            price = f"{made.price:.2f}" if made.price is not None else ""
            told = "".join(f", {part}" for part in (made.pack, f"{made.left} left" if made.left else "", price) if part)
            talk.say(f'  "{tin.name}"{told}: taken as {kind.replace("_", " ")}; its label comes first.', "quiet")


def _as_question(text: str) -> str:
    if re.match(r"(?:can|could|will|is|are|would|does|do|what|which|how)\b", text.casefold()):
        return text
    return f"can I use {text.rstrip(' ?.!')}?"


def _should_i(desk: Desk, talk: Talk, heard: Overheard, typed: str, turn: Turn) -> bool:
    """Not you, or who does it: firm and kind; and which part of it a child may do."""
    worries = turn.value("worries") or frozenset(turn.worries)
    talk.kept = replace(talk.kept, answers=Answers().say("worries", frozenset(worries), words=typed))
    for worry in sorted(worries):
        talk.explain(_WORRIES.get(worry, worry.replace("_", " ")))
    piece = desk.console.ask(
        Prompt("What is the piece?", hint="In a few words, for who may do it; Enter: no more is wanted.")
    )
    if piece.strip():
        return _about_to_pour(desk, talk, piece, typed)
    _handed(desk, typed, _said_slip(desk, heard))
    return True


_HOLDS = r"(?:tins?|cans?|bottles?|jars?|tubs?|tubes?|pots?)"

_WORRIES = {
    "pregnant": "is it safe in pregnancy?", "asthma": "i have asthma, is it safe?", "allergy": "i am allergic to epoxy, is it safe?",
    "child_helps": "can my child help?", "bedroom_only": "i only have a bedroom, can i do it there?",
    "pets": "is it safe for my pets?", "neighbours": "does it smell, for the neighbours?",
}  # fmt: skip


def _answers(turn: Turn) -> Answers:
    answers = Answers()
    for fact in turn.facts:
        answers = answers.say(fact.question, fact.value, words=fact.words)
    return answers


def _in_known_words(desk: Desk, talk: Talk, text: str) -> tuple[str, str]:
    """The line with the shop's own tins as what they are, and the line without them: what is left tells of the piece."""
    from knowledge.topics import load_topics

    told = bare = text
    like = {row.sealer: row.name for row in load_topics().stand_ins.values() if row.sealer}
    tins = [(tin.name, tin.kind.replace("_", " ")) for tin in (desk.shelf.others if desk.shelf else ())]
    tins += [
        (s.name, like.get(s.at_hand, s.at_hand.replace("_", " ")))
        for s in talk.adviser.knowledge.sealers.values() if s.at_hand
    ]  # fmt: skip
    held_up = {
        name for row in load_topics().stand_ins.values() for name in (row.name, row.id.replace("_", " "), *row.also)
    }
    for name in sorted(
        held_up, key=len, reverse=True
    ):  # what is held up, and what it comes in, is no part of the piece
        if name in bare.casefold():
            bare = re.sub(
                rf"(?i)\b(?:(?:an?|the|some|this) )?(?:{_HOLDS} (?:of )?)?(?:clear )?{re.escape(name)}\b", " ", bare
            )
    bare = re.sub(rf"(?i)\b{_HOLDS} of \w+", " ", bare)
    for name, words in tins:
        told = re.sub(re.escape(name), words, told, flags=re.IGNORECASE)
        bare = re.sub(rf"\b(?:the |an? )?{re.escape(name)}", " ", bare, flags=re.IGNORECASE)
    return told, bare


# ------------------------------------------------------------------ slips


def _plan_slip(desk: Desk, talk: Talk) -> str:
    from interview.brief.slip import WIDTH
    from interview.conversation.saying import told_lines

    lines = {trial.id: trial.line for trial in talk.adviser.knowledge.trials.values()}
    shown = {"shelf": _on_shelf(desk), "told": told_lines(talk), "lines": lines, "day": _day(desk)}
    return talk.brief(form="slip", width=WIDTH, **shown)


def _said_slip(desk: Desk, heard: Overheard) -> str:
    from interview.brief.slip import told_slip

    return told_slip(heard.heard, _day(desk))


def _day(desk: Desk) -> str:
    return f"{desk.setting.now():%d %B %Y}".lstrip("0")


def _on_shelf(desk: Desk) -> Any:
    """The tins as a basket names them: sealers by their id, the resin, and glue by the name of what it is."""
    from interview.brief.slip import Shelf, Tin

    if desk.shelf is None:
        return None
    tins = {f"sealer.{id}": _tin(Tin, sealer) for id, sealer in desk.shelf.sealers.items()}
    for other in desk.shelf.others:
        key = "resin" if other.kind == "resin" else "white glue" if "glue" in other.kind else ""
        if key:
            tins.setdefault(key, _tin(Tin, other))
    return Shelf(tins)


def _tin(made: type[Any], tin: Any) -> Any:
    if tin.pack is None:
        return made(tin.name, price=tin.price)
    whole = tin.pack.high * (1000 if tin.pack.unit in ("L", "kg") else 1)
    unit = "mL" if tin.pack.unit in ("mL", "L") else "g"
    left = f"{whole * tin.left:.0f} {unit}" if tin.left < 1 else ""
    return made(tin.name, f"{tin.pack.high:g} {tin.pack.unit}", whole, left, tin.price)


def _handed(desk: Desk, typed: str, text: str) -> None:
    title = harmless(typed, one_line=True)[:60]
    desk.slips = [*desk.slips, Slip(title, text)][-KEPT_SLIPS:]
    desk.serving = ""
    desk.console.say("slip: the page from its top. print: print it. Then the next customer.", "quiet")


def _back(desk: Desk) -> None:
    if desk.last is None or not desk.last.answers:
        return
    desk.serving = desk.serving or (desk.slips[-1].title if desk.slips else "back")
    converse(desk.last)
    desk.serving = ""
    if desk.last.answers:
        title = desk.slips[-1].title if desk.slips else "back"
        desk.slips = [*desk.slips[:-1], Slip(title, _plan_slip(desk, desk.last))]
        desk.console.fresh()


def _show(desk: Desk, slips: Sequence[Slip]) -> None:
    if not slips:
        desk.console.say("  There is no slip yet.", "quiet")
    for slip in slips:
        desk.console.page(slip.text)


def _again(desk: Desk, plain: str) -> None:
    """The last five, to pick from; or the one that was numbered."""
    number = plain.removeprefix("again").strip()
    slips = desk.slips[::-1]
    if number and 1 <= int(number) <= len(slips):
        _show(desk, [slips[int(number) - 1]])
        return
    if not slips:
        desk.console.say("  There is no slip yet.", "quiet")
    for place, slip in enumerate(slips, 1):
        desk.console.say(f"  again {place}: {slip.title}")


def _print(desk: Desk, where: str) -> None:
    if not desk.slips and _in_hand(desk) is None:
        desk.console.say("  There is no slip yet.", "quiet")
        return
    slip = _in_hand(desk) or desk.slips[-1]
    desk.console.say(f"  {_printed(slip, where) if where else _to_printer(slip)}")


def _to_printer(slip: Slip) -> str:
    import shutil
    import subprocess

    command = shutil.which("lp") or shutil.which("lpr")
    if command is None:
        return "No printer is set up here. print to slip.txt, or print to slip.pdf, writes a file."
    try:
        done = subprocess.run([command], input=slip.text.encode(), capture_output=True, timeout=20, check=False)
    except (OSError, subprocess.SubprocessError):
        return "The printer does not take it. print to slip.txt writes a file."
    return (
        "Printed."
        if done.returncode == 0
        else f"The printer refused: {done.stderr.decode(errors='replace').strip()[:120]}."
    )


def _printed(slip: Slip, where: str) -> str:
    """To a file of the clerk's own wish, as text or PDF by its name."""
    from pathlib import Path

    from interview.brief.pdf import NoPdf, printed
    from interview.brief.slip import as_page
    from interview.files.paths import why_not, write_whole

    path = Path(where)
    content: str | bytes = slip.text
    if path.suffix.casefold() == ".pdf":
        try:
            content = printed(as_page(slip.text))
        except NoPdf as error:
            return str(error)
    try:
        write_whole(path, content)
    except FileExistsError:
        return f"{path} is already there. Choose another name."
    except OSError as error:
        return f"{path} cannot be written: {why_not(error)}."
    return f"Written to {path}."
