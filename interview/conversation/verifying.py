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
    letters, check = seals.short_in(text)
    if not letters:
        return Verified(("There is no seal in this file, so it cannot be compared with anything.",))
    return _by_letters(letters, check, text, adviser)


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
    different = [] if harmed and same_rules else list(_different(text.replace(seal.letters, plan.seal), now))
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
    if seals.short_in(text)[0] not in ("", seal.letters):
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
    """Lines that a person reads, as they were and as they would be."""
    old, new = ([t for line in seals.lines_of(text) if (t := _readable(line))] for text in (then, now))
    changed = [line for line in difflib.unified_diff(old, new, n=0, lineterm="") if line[:1] in "+-"]
    shown = [f"{'was' if line[0] == '-' else 'now'}: {line[1:]}" for line in changed if line[:3] not in ("+++", "---")]
    yield from _few(shown)


def _readable(line: str) -> str:
    """What a person sees of a line; "" for what only holds a page together."""
    return " ".join(html.unescape(_TAGS.sub(" ", line)).split()) if "<" in line else line.strip()


def _few(lines: Sequence[str]) -> list[str]:
    shown = [f"  {line[:200]}" for line in lines[:MOST]]
    return shown if len(lines) <= MOST else [*shown, f"  ... and {len(lines) - MOST} more lines."]


# ------------------------------------------------------------------ eight letters and four


def _by_letters(letters: str, check: str, text: str, adviser: Adviser) -> Verified:
    """The four tell whether the words are as they were; only what is kept here can be made again, to tell where not."""
    if not check:
        return Verified(
            ("The whole seal was taken out of this file, or its last letters. Nothing of it can be trusted.",)
        )
    whole = check == seals.check_of(text)
    found, hint = _kept_with(letters, text, adviser)
    if found is None:
        head = "Not one word was changed since it was made." if whole else "Changed by hand since it was made."
        more = "" if whole else " Where, its HTML or JSON would tell."
        return Verified((f"{head}{more}", f"No piece that is kept here has the seal {letters} today.{hint}"))
    name, plan, imperial = found
    says = [f"Made from a damaged piece. {plan.damage}"] if plan.damage else []
    if whole:
        says.append(f"The same: it is the brief of {name}, as it is made today.")
        return Verified(tuple(says), same=not plan.damage)
    words = seals.words_of(seals.without_letters(text))
    near = min((_off(words, each) for each in _in_every_form(plan, imperial=imperial)), key=len)
    return Verified(
        (*says, f"It has the seal of {name}, and was changed by hand here (or has days of its own):", *_few(near))
    )


def _kept_with(letters: str, text: str, adviser: Adviser) -> tuple[tuple[str, Plan, bool] | None, str]:
    """The kept piece with this seal: its name, its plan, whether in inches. Else what may be said of one by its name."""
    from interview.conversation.earlier import kept_pieces
    from interview.conversation.sealing import sealed_piece

    named = ""
    for path, kept in kept_pieces():
        for inches in (False, True) if kept.answers else ():
            plan, imperial = sealed_piece(kept, adviser, imperial=inches)
            if plan.seal == letters:
                return (path.stem, plan, imperial), ""
        if kept.answers and (kept.name or path.stem).casefold() in text.casefold():
            named = named or path.stem
    return None, f' The piece called "{named}" has another: other answers, or newer rules.' if named else ""


def _in_every_form(plan: Plan, *, imperial: bool) -> Iterator[list[str]]:
    from interview.brief.forms import FORMS, render

    for form in _TEXTS:
        if FORMS[form].needs_time:
            continue
        for full in (False, True) if "full" in FORMS[form].options else (False,):
            look: dict[str, Any] = {"imperial": imperial, "full": full, "width": 80}
            made = str(render(plan, form, **{k: v for k, v in look.items() if k in FORMS[form].options}))
            yield seals.words_of(seals.without_letters(made))


def _off(words: Sequence[str], made: Sequence[str]) -> list[str]:
    """Where the words of the file are not those of the form."""
    found = []
    for kind, a, b, c, d in difflib.SequenceMatcher(None, made, words, autojunk=False).get_opcodes():
        if kind != "equal":
            found.append(f"was: {' '.join(made[a:b]) or 'nothing'}; is: {' '.join(words[c:d]) or 'nothing'}")
    return found
