"""What a line typed about a batch does: tonight's page, lines done, a day lost or won, other counts, means, a result."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from rapidfuzz import fuzz, process

from interview.reading.hours_told import HoursError, day_named, read_hours, read_when
from interview.reading.past_times import read_past

Does = Literal[
    "page", "done", "late", "rain", "extra", "count", "sells", "leave_out", "wish", "offers", "money", "show", "undo",
    "stop", "result", "unknown",
]  # fmt: skip
NUMBERS = {
    "no": 0, "zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "fifteen": 15, "twenty": 20, "thirty": 30, "forty": 40,
    "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90, "hundred": 100, "dozen": 12,
}  # fmt: skip
_NUMBER = rf"(?:\d{{1,4}}|{'|'.join(NUMBERS)})"
_WHOLE: tuple[tuple[Does, str], ...] = (
    ("page", r"(?:what(?:s| is)? )?(?:tonight|today|now what|next|tomorrow|whats next|what now|what do i do (?:tonight|now))"),
    ("show", r"(?:show(?: me)?(?: all)?|list|all|overview|everything|plan|so far|how (?:does it|do things) stand|where are we)"),
    ("money", r"(?:money|costs?|margins?|profit|hours|how many hours.*|what does it (?:cost|bring).*|what do i (?:earn|make).*)"),
    ("stop", r"(?:stop|quit|exit|bye|thats (?:it|all).*|enough.*)"),
    ("undo", r"undo|back|take (?:that|it) back"),
)  # fmt: skip
_OFFERS = re.compile(r".*\b(?:offers?|what can i (?:bring|take|have)|in time|make it|best set)\b.*")
_LOST = re.compile(
    r"\b(?:missed|lost|late|no time|cant|cannot|busy|away|off|ill|sick|skipped|slipped|not|gone|nothing|didnt|fell through|"
    r"out|no work|wont|couldnt|lose)\b"
)
_PAST = re.compile(
    r"\b(?:missed|lost|was|were|slipped|skipped|didnt|did not|couldnt|fell through|nothing|rained|snowed|poured down)\b"
)
_RAIN = re.compile(
    r"\b(?:rain\w*|snow\w*|storm\w*|poured down|too (?:wet|windy|cold) (?:to spray|outside|outdoors)|wind|windy)\b"
)
_MORE = re.compile(
    r"\b(?:more|extra|another|also|as well|additional|free|can work|could work|will work|ill work|have (?:the )?time|have)\b"
)
_PART = re.compile(r"\b(?:evenings?|nights?|mornings?|afternoons?|days?|all day)\b")
_SPAN = re.compile(
    r"(?:from )?\d{1,2}(?:[:.]\d\d)? ?(?:am|pm)? ?(?:-|–|to|till|until) ?\d{1,2}(?:[:.]\d\d)? ?(?:am|pm)?"
)
_WEEKDAY = r"(?:mon|tues?|wed(?:nes)?|thu(?:rs?)?|fri|sat(?:ur)?|sun)(?:day)?s?"
_DAYS = re.compile(
    rf"\b(?:(?:this |next )?{_WEEKDAY}|tonight|today|tomorrow|yesterday|\d{{1,2}}(?:st|nd|rd|th)? [a-z]{{3,9}})\b"
)
_SELLS = re.compile(r"(?:sells?|selling|sold|price[ds]?|get|charge|ask)\b")
_AMOUNT = re.compile(r"\b(\d{1,5}(?:[.,]\d{1,2})?)\b")
_NONE = re.compile(r"\b(?:no|without|leave (?:out|off)|skip|drop|forget|leave)\b")
_EXTRA = re.compile(r"\b(backs?|extras?|sides?|edges?)\b")
_RUN = re.compile(r"(\d+)(?: ?(?:-|–|to|till|until) ?(\d+))?")
_HANDS = re.compile(
    rf"\b({_NUMBER}) (?:pairs? of )?(?:hands|people|of us|persons)\b|\b(?:a friend|somebody|someone|my \w+) (?:can )?helps?\b"
)


@dataclass(frozen=True, slots=True)
class StallLine:
    """`lines`: numbers of the page; empty with "done" means all of it. `kind` and `count`: pieces of one kind.

    `days`: days lost or won. `wish`: field and value of the means. `at`: when it was done. `says`: what to answer to a
    line that is not clear, or the word that matters. `sells`: money a piece.
    """

    does: Does
    lines: tuple[int, ...] = ()
    kind: str = ""
    count: int = 0
    days: frozenset[date] = frozenset()
    wish: tuple[str, str | int] | None = None
    at: datetime | None = None
    says: str = ""
    sells: float = 0.0


def read_stall(text: str, kinds: Sequence[str], now: datetime, counts: Sequence[int] = ()) -> StallLine:
    """Read one line. `counts`: of the kinds, so that "sixty, not forty" finds the one of forty. Never raises."""
    plain = " ".join(re.sub(r"[’']", "", text.casefold()).split()).strip(" .!")
    for does, pattern in _WHOLE:
        if re.fullmatch(pattern, plain.rstrip("?")):
            return StallLine(does, says="tomorrow" if "tomorrow" in plain else "")
    if re.match(r"(?:all )?(?:done|did|finished)\b|.*\b(?:is|are) done\b|[\d ,-]+(?:to \d+ )?done\b", plain):
        return _done(plain, text, now)
    if ":" not in plain or _near(plain.split(":")[0], kinds) == "":
        for try_ in _TRIED:
            got = try_(plain, kinds, now)
            if got is not None:
                return got
        if (got := _corrected(plain, kinds, counts)) is not None:
            return got
    if _OFFERS.fullmatch(plain):
        return StallLine("offers")
    near = _near(plain, kinds)
    return StallLine("result", kind=near) if near else StallLine("unknown")


def _done(plain: str, text: str, now: datetime) -> StallLine:
    at = read_past(text, now)
    plain = re.sub(
        r"\b(?:at|by|around) [\w:.]+(?: ?[ap]m)?|\b\d{1,2}:\d{2}\b|\byesterday\b|\btoday\b.*|\b\w+ (?:minutes?|hours?) ago",
        " ",
        plain,
    )
    numbers: list[int] = []
    for first, last in _RUN.findall(plain):
        numbers += range(int(first), min(int(last or first), int(first) + 999) + 1)
    return StallLine("done", tuple(dict.fromkeys(numbers)), at=at)


def _count(plain: str, kinds: Sequence[str], now: datetime) -> StallLine | None:  # noqa: ARG001
    found = re.search(rf"\b({_NUMBER})\b(?: (?:of the|of|more))? ([a-z][\w -]+)", plain)
    if not found or not re.match(
        r"(?:now|make(?: it| that)?|only|just|instead|change|its|we want|i want|lets (?:do|make)|no|drop|leave out|\d)",
        plain,
    ):
        left = re.match(r"(?:drop|leave out|without|forget|no|skip)(?: the)? ([a-z][\w -]+)", plain)
        kind = _near(left[1], kinds) if left else ""
        return StallLine("count", kind=kind, count=0) if kind else None
    kind = _near(found[2].split(",")[0].split(" not ")[0], kinds)
    return StallLine("count", kind=kind, count=_number(found[1])) if kind else None


def _number(word: str) -> int:
    return NUMBERS[word] if word in NUMBERS else int(word)


def _corrected(plain: str, kinds: Sequence[str], counts: Sequence[int]) -> StallLine | None:
    """ "sixty, not forty": of the one kind of forty, or the only kind."""
    found = re.search(rf"\b({_NUMBER})\b[^\d]*?\b(?:not|instead of|rather than)\b (?:the )?({_NUMBER})\b", plain)
    if not found:
        return None
    new, old = _number(found[1]), _number(found[2])
    named = _near(plain, kinds)
    meant = (
        [named]
        if named
        else [k for k, n in zip(kinds, counts, strict=False) if n == old] or list(kinds[:1][len(kinds) > 1 :])
    )
    if len(meant) == 1:
        return StallLine("count", kind=meant[0], count=new)
    which = f"Several kinds are {old}" if meant else f"No kind is {old}"
    return StallLine("unknown", says=f'{which}. Say which: "{new} {kinds[0] if kinds else "coasters"}".')


def _days(plain: str, now: datetime) -> frozenset[date]:
    """The days named: the last such day in a line about what is past, else the next, today among them."""
    past = bool(_PAST.search(plain)) and not re.search(r"\b(?:will|tomorrow|tonight)\b", plain)
    found = (day_named(word, now.date(), past=past) for word in _DAYS.findall(plain))
    return frozenset(day for day in found if day is not None)


def _late(plain: str, kinds: Sequence[str], now: datetime) -> StallLine | None:  # noqa: ARG001
    days = _days(plain, now)
    return StallLine("late", days=days) if days and _LOST.search(plain) else None


def _rain(plain: str, kinds: Sequence[str], now: datetime) -> StallLine | None:  # noqa: ARG001
    return StallLine("rain", days=_days(plain, now) or frozenset((now.date(),))) if _RAIN.search(plain) else None


def _more(plain: str, kinds: Sequence[str], now: datetime) -> StallLine | None:
    """An evening or a day more: which, and from when to when."""
    days, span, part = _days(plain, now), _SPAN.search(plain), _PART.search(plain)
    if (
        not _MORE.search(plain)
        or _LOST.search(plain)
        or not (span or part or days)
        or (_near(plain, kinds) and not days)
    ):
        return None
    if re.search(rf"\b{_WEEKDAY[:-2]}s\b", plain) or (not days and not re.search(r"\b(?:more|extra|another)\b", plain)):
        return None  # hours of every week
    if not days:
        return StallLine("unknown", says='Which day, and from when to when? Say "i can work on sunday 18-22".')
    try:
        hours = span[0] if span else part[0] if part else "all day"
        hours = {"day": "all day", "days": "all day", "night": "evening", "nights": "evening"}.get(hours, hours)
        week = read_hours(hours)
    except HoursError as error:
        return StallLine("unknown", says=str(error))
    opens, closes = week[0][0].opens, week[0][0].closes
    return StallLine("extra", days=days, says=f"{opens // 60}:{opens % 60:02}-{closes // 60}:{closes % 60:02}")


def _sells(plain: str, kinds: Sequence[str], now: datetime) -> StallLine | None:  # noqa: ARG001
    money = _AMOUNT.search(plain)
    if not money or not (_SELLS.search(plain) or re.search(r"\b(?:each|apiece|a piece)\b", plain)):
        return None
    amount = float(money[1].replace(",", "."))
    kind = _near(plain, kinds) or (kinds[0] if len(kinds) == 1 else "")
    if not kind:
        return StallLine("unknown", says=f'Which kind sells at {amount:g}? Say "coasters sell at {amount:g}".')
    return StallLine("sells", kind=kind, sells=amount)


def _left_out(plain: str, kinds: Sequence[str], now: datetime) -> StallLine | None:  # noqa: ARG001
    part = _EXTRA.search(plain)
    return (
        StallLine("leave_out", says=part[1].removesuffix("s"), kind=_near(plain, kinds))
        if part and _NONE.search(plain)
        else None
    )


def _wish(plain: str, kinds: Sequence[str], now: datetime) -> StallLine | None:  # noqa: ARG001
    hands = _HANDS.search(plain)
    if hands:
        return StallLine("wish", wish=("hands", max(1, _number(hands[1] or "two"))))
    by = re.match(r"(?:ready |must be ready |the fair is |fair is |needed )(?:by |on )?(.+)", plain)
    if by:
        try:
            return StallLine("wish", wish=("ready_by", f"{read_when(by[1], now):%Y-%m-%d %H:%M}"))
        except HoursError as error:
            return StallLine("unknown", says=str(error))
    hours = re.match(r"(?:hours|i can work|we can work|working)[: ]+(.+)", plain)
    if hours:
        return StallLine("wish", wish=("hours", hours[1]))
    return None


def _near(words: str, kinds: Sequence[str]) -> str:
    """The kind these words name, "" where none is near."""
    if not kinds:
        return ""
    best = process.extractOne(words, list(kinds), scorer=fuzz.token_set_ratio, processor=_singular, score_cutoff=75)
    if best:
        return str(best[0])
    said = set(_singular(words).split())
    named = [kind for kind in kinds if said & set(_singular(kind).split())]
    return named[0] if len(named) == 1 else ""


def _singular(text: str) -> str:
    words = re.sub(r"[^\w ]", " ", text.casefold()).split()
    return " ".join(w.removesuffix("s") if len(w) > 3 else w for w in words)


_TRIED: tuple[Callable[[str, Sequence[str], datetime], StallLine | None], ...] = (
    _left_out, _sells, _count, _rain, _more, _wish, _late,
)  # fmt: skip
