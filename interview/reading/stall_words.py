"""What a line typed about a batch does: tonight's page, lines done, a day lost, another count, other means, a result."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Literal

from rapidfuzz import fuzz, process

from interview.reading.hours_told import HoursError, read_days, read_when
from interview.reading.past_times import read_past

Does = Literal["page", "done", "late", "count", "wish", "offers", "show", "undo", "stop", "result", "unknown"]
NUMBERS = {
    "no": 0, "zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "fifteen": 15, "twenty": 20, "thirty": 30, "forty": 40,
    "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90, "hundred": 100, "dozen": 12,
}  # fmt: skip
_NUMBER = rf"(?:\d{{1,4}}|{'|'.join(NUMBERS)})"
_PAGE = re.compile(
    r"(?:what(?:s| is)? )?(?:tonight|today|now what|next|tomorrow|whats next|what now|what do i do (?:tonight|now))"
)
_OFFERS = re.compile(r".*\b(?:offers?|what can i (?:bring|take|have)|in time|make it|best set)\b.*")
_SHOW = re.compile(r"(?:show(?: me)?(?: all)?|list|all|overview|everything|plan|so far)")
_STOP = re.compile(r"(?:stop|quit|exit|bye|thats (?:it|all).*|enough.*)")
_LOST = re.compile(r"\b(?:missed|lost|late|no time|cant|cannot|busy|away|off|ill|skipped|slipped|not)\b")
_RUN = re.compile(r"(\d+)(?: ?(?:-|–|to|till|until) ?(\d+))?")
_HANDS = re.compile(
    rf"\b({_NUMBER}) (?:pairs? of )?(?:hands|people|of us|persons)\b|\b(?:a friend|somebody|someone|my \w+) (?:can )?helps?\b"
)


@dataclass(frozen=True, slots=True)
class StallLine:
    """`lines`: numbers of the page; empty with "done" means all of it. `kind` and `count`: pieces of one kind.

    `days`: days lost. `wish`: field and value of the means. `at`: when it was done.
    """

    does: Does
    lines: tuple[int, ...] = ()
    kind: str = ""
    count: int = 0
    days: frozenset[date] = frozenset()
    wish: tuple[str, str | int] | None = None
    at: datetime | None = None
    says: str = ""


def read_stall(text: str, kinds: Sequence[str], now: datetime) -> StallLine:
    """Read one line. Never raises."""
    plain = " ".join(re.sub(r"[’']", "", text.casefold()).split()).strip(" .!")
    for does, pattern in (
        ("page", _PAGE),
        ("show", _SHOW),
        ("stop", _STOP),
        ("undo", re.compile("undo|back|take (?:that|it) back")),
    ):
        if pattern.fullmatch(plain.rstrip("?")):
            return StallLine(does, says="tomorrow" if "tomorrow" in plain else "")  # type: ignore[arg-type]
    if re.match(r"(?:all )?(?:done|did|finished)\b|.*\b(?:is|are) done\b|[\d ,-]+(?:to \d+ )?done\b", plain):
        return _done(plain, text, now)
    for try_ in (_count, _late, _wish):
        got = try_(plain, kinds, now)
        if got is not None:
            return got
    if _OFFERS.fullmatch(plain):
        return StallLine("offers")
    near = _kind_of(plain, kinds)
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
        left = re.match(r"(?:drop|leave out|without|forget)(?: the)? ([a-z][\w -]+)", plain)
        kind = _kind_of(left[1], kinds) if left else ""
        return StallLine("count", kind=kind, count=0) if kind else None
    kind = _kind_of(found[2].split(",")[0].split(" not ")[0], kinds)
    word = found[1]
    return StallLine("count", kind=kind, count=NUMBERS[word] if word in NUMBERS else int(word)) if kind else None


def _late(plain: str, kinds: Sequence[str], now: datetime) -> StallLine | None:  # noqa: ARG001
    if not _LOST.search(plain):
        return None
    days: set[date] = set()
    for word in re.findall(r"[a-z]+day|tonight|today|tomorrow|\d{1,2}(?:st|nd|rd|th)? [a-z]{3,9}", plain):
        try:
            days |= read_days(word, now.date() if _ahead(plain) else now.date() - timedelta(days=7))
        except HoursError:
            continue
    if not days:
        return None
    days = {now.date() if d == now.date() - timedelta(days=7) else d for d in days}
    return StallLine("late", days=frozenset(days))


def _ahead(plain: str) -> bool:
    """Whether the day lost is still to come: "no time on thursday", not "thursday missed"."""
    return (
        not re.search(r"\b(?:missed|lost|was|slipped|skipped|didnt|did not|couldnt)\b", plain)
        or "tomorrow" in plain
        or "tonight" in plain
    )


def _wish(plain: str, kinds: Sequence[str], now: datetime) -> StallLine | None:  # noqa: ARG001
    hands = _HANDS.search(plain)
    if hands:
        word = hands[1] or "two"
        return StallLine("wish", wish=("hands", max(1, NUMBERS[word] if word in NUMBERS else int(word))))
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


def _kind_of(words: str, kinds: Sequence[str]) -> str:
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
