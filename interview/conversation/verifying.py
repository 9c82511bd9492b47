"""Whether a brief is still what it was, and what it would be today: made again from its seal, and compared."""

from __future__ import annotations

import difflib
import html
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields
from datetime import datetime
from typing import TYPE_CHECKING, Any

from interview.brief import seal as seals
from interview.brief.seal import BrokenSeal, Seal

if TYPE_CHECKING:
    from interview.conversation.adviser import Adviser
    from interview.plan.model import Plan

MOST = 20  # lines that are shown
_TEXTS = ("terminal", "slip", "screen", "markdown", "csv-shopping", "csv-steps", "timeline")
_TAGS = re.compile(r"<[^>]*>")


@dataclass(frozen=True, slots=True)
class Verified:
    """`same`: as it was made, and as it would be made now."""

    says: tuple[str, ...]
    same: bool = False


def verify(data: bytes, adviser: Adviser) -> Verified:
    """What is to be said of a file, whatever is in it."""
    pdf = data.startswith(b"%PDF-")
    text = data.decode("latin-1" if pdf else "utf-8", "replace")
    try:
        seal = seals.whole_in(text)
    except BrokenSeal:
        return Verified(("The whole seal in this file was cut short or changed. Nothing of the file can be trusted.",))
    if seal is not None:
        return _by_seal(seal, text, data if pdf else b"", adviser)
    letters = seals.short_in(text)
    if not letters:
        return Verified(("There is no seal in this file, so it cannot be compared with anything.",))
    return _by_letters(letters, text, adviser)


def _by_seal(seal: Seal, text: str, pdf: bytes, adviser: Adviser) -> Verified:
    from interview.conversation.sealing import made_again

    try:
        plan, misfits = made_again(seal.made_from, adviser)
        now = str(_text_again(plan, {**seal.asked, "form": "html"} if pdf else seal.asked))
    except (ValueError, KeyError, TypeError):
        return Verified(("The seal in this file is none that can be read here. Was it made by a newer beforepour?",))
    says = [f"Made from a damaged piece. {plan.damage}"] if plan.damage else []
    same_rules = dict(seal.made_from["rules"]) == dict(adviser.rules)
    harmed = _harmed(seal, text, pdf)
    says += harmed
    if pdf:
        return _of_pdf(says, same_rules=same_rules, harmed=bool(harmed))
    if misfits:
        says.append(f"Answers that today's rules have no place for: {', '.join(misfits)}.")
    different = [] if harmed and same_rules else list(_different(text, now))
    if not different and not harmed:
        more = "" if same_rules else " The rules are newer, and change nothing in it."
        says.append(f"The same: these answers make this brief, letter for letter.{more}")
    elif different:
        head = "Same answers, newer rules. What would be different today:"
        says += [head if not same_rules else "Same answers and rules, told otherwise by this program:", *different]
    return Verified(tuple(says), same=not (different or harmed or misfits or plan.damage))


def _harmed(seal: Seal, text: str, pdf: bytes) -> list[str]:
    if pdf:
        return [] if seals.pdf_is_whole(pdf, seal) else ["Changed since it was made: the file is not as it was sealed."]
    shown = [t for t in map(_readable, seals.changed_by_hand(text, seal)) if t]
    if seals.short_in(text) not in ("", seal.letters):
        shown.append(f"the seal that can be read; it was {seal.letters}")
    return ["Changed by hand here:", *_few(shown)] if shown else []


def _of_pdf(says: list[str], *, same_rules: bool, harmed: bool) -> Verified:
    if not harmed:
        more = "The rules are the same today." if same_rules else "The rules are newer today: verify the HTML form."
        says.append(f"The same: the file is as it was sealed, byte for byte. {more}")
    return Verified(tuple(says), same=same_rules and not harmed and len(says) == 1)


def _text_again(plan: Plan, asked: Any) -> str | bytes:
    """The form as it was asked for, at the moment it was asked for."""
    from interview.brief.forms import FORMS, Look, render
    from interview.conversation.timing import Wishes, timed_brief

    form, told = str(asked["form"]), dict(asked.get("wishes", {}))
    now = datetime.fromisoformat(told.pop("now", "2000-01-01T12:00"))
    look = {f.name: asked["look"][f.name] for f in fields(Look) if f.name in asked["look"]}
    look = {key: value for key, value in look.items() if key in FORMS[form].options}
    if "stamp" in look:
        look["stamp"] = datetime.fromisoformat(look["stamp"])
    if not told and "wishes" not in asked:
        return render(plan, form, **look)

    def show(made: Plan, time: Any, trouble: str) -> str | bytes:
        return render(made, form, time=time, trouble=trouble, wishes=asked.get("wishes"), **look)

    return timed_brief(show, plan, Wishes(**told), now, always=FORMS[form].needs_time)


def _different(then: str, now: str) -> Iterator[str]:
    """Lines that a person reads, as they were and as they would be; the seal's letters, which always differ, apart."""
    old, new = (
        [t for line in seals.lines_of(text) if (t := _readable(seals.without_letters(line)))] for text in (then, now)
    )
    changed = [line for line in difflib.unified_diff(old, new, n=0, lineterm="") if line[:1] in "+-"]
    shown = [f"{'was' if line[0] == '-' else 'now'}: {line[1:]}" for line in changed if line[:3] not in ("+++", "---")]
    yield from _few(shown)


def _readable(line: str) -> str:
    """What a person sees of a line; "" for what only holds a page together."""
    return " ".join(html.unescape(_TAGS.sub(" ", line)).split()) if "<" in line else line.strip()


def _few(lines: Sequence[str]) -> list[str]:
    shown = [f"  {line[:200]}" for line in lines[:MOST]]
    return shown if len(lines) <= MOST else [*shown, f"  ... and {len(lines) - MOST} more lines."]


# ------------------------------------------------------------------ eight letters alone


def _by_letters(letters: str, text: str, adviser: Adviser) -> Verified:
    """Only what is kept here can be made again; then it is compared in every form, by words."""
    from interview.conversation.earlier import kept_pieces
    from interview.conversation.sealing import sealed_piece

    words = _words(text)
    named = ""
    for path, kept in kept_pieces():
        if not kept.answers:
            continue
        plan, imperial = sealed_piece(kept, adviser)
        if plan.seal != letters:
            named = named or (path.stem if (kept.name or path.stem).casefold() in text.casefold() else "")
            continue
        near = min((_off(words, each) for each in _in_every_form(plan, imperial=imperial)), key=len)
        if near:
            return Verified((f"It has the seal of {path.stem}, and was changed by hand here:", *_few(near)))
        return Verified((f"The same: it is the brief of {path.stem}, as it is made today.",), same=True)
    hint = f' The piece called "{named}" has another seal today: other answers, or newer rules.' if named else ""
    return Verified((f"No piece that is kept here has the seal {letters} today.{hint} Its HTML or JSON tells more.",))


def _in_every_form(plan: Plan, *, imperial: bool) -> Iterator[list[str]]:
    from interview.brief.forms import FORMS, render

    for form in _TEXTS:
        if FORMS[form].needs_time:
            continue
        for full in (False, True) if "full" in FORMS[form].options else (False,):
            look: dict[str, Any] = {"imperial": imperial, "full": full, "width": 80}
            yield _words(str(render(plan, form, **{k: v for k, v in look.items() if k in FORMS[form].options})))


def _words(text: str) -> list[str]:
    """Line breaks make no difference, nor colours, nor how a screen spells a sign."""
    from interview.text.harmless import harmless, legible

    plain = legible(harmless(text.removeprefix("\ufeff")), "ascii")
    return re.sub(r"[-=*_#>|]+", " ", plain).split()


def _off(words: Sequence[str], made: Sequence[str]) -> list[str]:
    """Where the words of the file are not those of the form."""
    found = []
    for kind, a, b, c, d in difflib.SequenceMatcher(None, made, words, autojunk=False).get_opcodes():
        if kind != "equal":
            found.append(f"was: {' '.join(made[a:b]) or 'nothing'}; is: {' '.join(words[c:d]) or 'nothing'}")
    return found
