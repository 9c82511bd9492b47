"""Amounts in running text: "about an eighth of an inch", "six plus two spares", "14 quid", "80 by 60 ish, centimetres".

A question's amount is looked for by its kind; elsewhere in a line an amount counts only beside a word that tells what
it measures. Every amount found is read by `interview.quantities.units`, so that there is one way to read it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from interview.plan.answers import Answers
from interview.reading.matching_choices import Unclear
from interview.reading.measures import read_measure
from interview.reading.sizes import read_sizes
from knowledge.shape import Question

Span = tuple[int, int]
_ONES = "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen"
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety"
_WORTH = {
    **{w: n for n, w in enumerate(_ONES.split(), 1)}, **{w: 10 * n for n, w in enumerate(_TENS.split(), 2)},
    "a": 1, "an": 1, "couple": 2, "pair": 2, "dozen": 12, "hundred": 100, "thousand": 1000, "half": 0.5,
}  # fmt: skip
_COUNT_WORD = "|".join(sorted(_WORTH, key=len, reverse=True))
_DIGITS = r"\d+(?:[.,]\d+)?(?:[ -]\d{1,2}/\d{1,2}|\s?[½¼¾⅛⅜⅝⅞])?|\d{1,2}/\d{1,2}|[½¼¾⅛⅜⅝⅞]"
_FRACTION = r"(?:(?:an?|one|three|two|five) )?(?:half|quarters?|eighths?|thirds?)(?: (?:of )?(?:an?))?"
SPELT = rf"(?:(?:{_COUNT_WORD})(?:[ -](?:and )?(?:{_COUNT_WORD}))*)(?: and an? (?:half|quarter))?"
_AMOUNT = rf"(?:{_DIGITS}|{_FRACTION}|{SPELT})"
UNITS = {
    "mm": r"mm|millimet(?:re|er)s?|mils?\b|cms?|centimet(?:re|er)s?|m|met(?:re|er)s?|inch(?:es)?|ins?|\"|''|″|ft|feet|foot",
    "degC": r"°\s*[cf]?|degrees?(?: (?:c|f|celsius|fahrenheit))?|degs?|[cf]|celsius|fahrenheit",
    "minutes": r"min(?:ute)?s?|h|hrs?|hours?|days?|weeks?|months?|seconds?|secs?",
    "%": r"%|per ?cent|percent|pc",
    "mL": r"ml|millilit(?:re|er)s?|l|lit(?:re|er)s?|fl\.? ?oz|ounces?|oz|gallons?|gal|quarts?|qt|pints?|pt|cl",
    "g": r"g|gr|grams?|grammes?|gms?|kg|kgs|kilos?|kilograms?|oz|ounces?|lbs?|pounds?",
    "m2/L": (
        r"(?:m2|m²|sqm|sq\.? ?m(?:et(?:re|er)s?)?|square met(?:re|er)s?|sq\.? ?ft|square (?:foot|feet))"
        r"\s*(?:/|per|an?|to (?:the|an?)|for (?:each|an?|every))\s*(?:l\b|lit(?:re|er)s?|gal(?:lon)?s?|quarts?)"
    ),
    "money": r"quid|pounds?|euros?|eur|bucks?|dollars?|usd|gbp|€|£|\$|francs?",
}  # fmt: skip
_BEFORE = {"money": r"[€£$]\s*"}
_CAN = re.compile(
    rf"({_AMOUNT})\s*(?:m2|m²|sqm|sq\.? ?m\w*|square met\w+)\b.*?\b(?:can|tin|bottle)\b\D*?({_DIGITS})\s*(ml|l|cl)\b",
    re.IGNORECASE,
)
_RATIO = re.compile(
    rf"({_AMOUNT})\s*(?:parts?|g|grams?|ml)?\s*(?:of )?(?:resin|a\b)?\s*(?::|to|/|,|and)?\s*"
    rf"(?<![\w.])({_AMOUNT})\s*(?:parts?|g\b|grams?|ml)?\s*(?:of )?(?:hardener|b\b)?",
    re.IGNORECASE,
)
_EVEN = re.compile(
    r"\b(?:equal parts|half and half|fifty fifty|50[ /]50|same of (?:each|both)|equal amounts|one to one)\b",
    re.IGNORECASE,
)
_MONTHS = (
    "jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|"
    "nov(?:ember)?|dec(?:ember)?"
)
_WEEKDAYS = "mon(?:day)?|tues?(?:day)?|wed(?:nesday)?|thur?s?(?:day)?|fri(?:day)?|sat(?:urday)?|sun(?:day)?"
_NTH = r"\d{1,2}(?:st|nd|rd|th)?"
_DATE = re.compile(
    rf"\b(?:\d{{4}}-\d\d-\d\d|\d{{1,2}}/\d{{1,2}}(?:/\d{{2,4}})?|{_NTH}(?: of)? (?:{_MONTHS})\b(?: \d{{4}})?|"
    rf"(?:{_MONTHS}) (?:the )?{_NTH}\b(?: \d{{4}})?|"
    rf"(?:next |this |coming )?(?:{_WEEKDAYS})\b(?: week)?|tomorrow|tonight|today|in (?:{_AMOUNT}) (?:days?|weeks?|months?)|"
    rf"(?:{_AMOUNT}) (?:days?|weeks?|months?)(?: from now| time|'s? time)|\d{{1,2}}\.\d{{1,2}}\.\d{{4}}|"
    r"next week(?:end)?|the weekend|end of (?:the |this )?(?:week|month)|christmas(?: eve)?)"
    r"(?:,? (?:at )?(?:\d{1,2}[:h]\d{2}(?: ?[ap]m)?|\d{1,2} ?[ap]m|noon))?",
    re.IGNORECASE,
)
_CLOCK = r"(?:\d{1,2}(?:[:.h]\d\d)? ?(?:am|pm)?|noon|midnight)"
_HOURS_WORD = re.compile(
    rf"\b(?:{_WEEKDAYS})s?\b|\b(?:weekdays?|workdays?|weekends?|daily|every day|all days|any day|evenings?|mornings?|"
    r"afternoons?|all day|daytime|any time|round the clock)\b|"
    rf"\b(?:from )?{_CLOCK} ?(?:-|–|to|till|until) ?{_CLOCK}\b|(?<=\w)(?: to |-)(?=\w)|,| and ",
    re.IGNORECASE,
)
_LENGTHS = r"(?:foot|feet|ft|inch|in\b|cm|m\b|mm|metre|meter|by\b|x\b|$|\W)"


@dataclass(frozen=True, slots=True)
class Asking:
    """A question of amount, the text it is looked for in, and what is known."""

    question: Question
    text: str
    answers: Answers
    now: datetime
    imperial: bool = False


@dataclass(frozen=True, slots=True)
class Told:
    """An amount found: in the question's own form, and where it stands."""

    value: Any
    span: Span


def spelt_number(text: str) -> float | None:
    """ "a dozen", "two dozen", "a hundred and twenty", "twenty five", "12" -> a number."""
    plain = text.casefold().replace("-", " ").replace(",", ".")
    if re.fullmatch(r"\d+(?:\.\d+)?", plain):
        return float(plain)
    total = part = 0.0
    for word in plain.split():
        if word == "and" or word == "of":
            continue
        worth = _WORTH.get(word)
        if worth is None:
            return None
        if worth in (12, 100, 1000):
            part = (part or 1) * worth
            total, part = total + part, 0
        else:
            part = part * worth if worth == 0.5 and part == 0 else part + worth
            part = part or worth
    return total + part if total + part else None


def special_for(told: Asking) -> Told | Unclear | None:
    """What a question with a way of its own of being answered gets from the text."""
    special = _SPECIAL.get(told.question.id) or _SPECIAL.get(told.question.kind)
    return special(told) if special else None


def is_special(question: Question) -> bool:
    return question.id in _SPECIAL or question.kind in _SPECIAL


_RANGE = re.compile(
    rf"\b(?:between\s+)?(?<![/:.\d])(?:\d[\d.,]*|{SPELT})\s*(?:mm|cm|min\w*|hours?|days?|in|g)?\s*(?:-|–|\bor\b|\bto\b|(?<=\d )and\b)\s*"
    rf"(?:\d[\d.,]*|{SPELT})\s*(?:mm|cm|min|hour|day|week|inch|in\b|degree|c\b|f\b|%|percent|gram|g\b|kg|ml|litre|$)|"
    rf"\bbetween\s+(?:\d[\d.,]*|{SPELT})\s+and\s+(?:\d[\d.,]*|{SPELT})",
    re.IGNORECASE,
)


def amount_for(told: Asking) -> Told | Unclear | None:
    """What the text gives for a question of amount; None where it gives none, Unclear where it cannot be read."""
    said = _RANGE.search(told.text) if told.question.kind not in ("ratio", "hours", "date", "size") else None
    if said:
        return Unclear(f'"{said[0].strip()}" is a range; one value will do, the one you trust most. Or type not sure.')
    found = special_for(told)
    if found is not None:
        return found
    question, text, imperial, now = told.question, told.text, told.imperial, told.now
    for words, span in candidates(unit_of(question), text):
        got = read_measure(words, question, imperial=imperial, now=now)
        if not isinstance(got, Unclear):
            return Told(got.value, span)
    whole = read_measure(_trimmed(text), question, imperial=imperial, now=now)
    return whole if isinstance(whole, Unclear) else Told(whole.value, (0, len(text)))


def unit_of(question: Question) -> str:
    if question.kind == "money":
        return "money"
    return question.unit or ("g" if question.id.startswith(("weigh", "thing_mass")) else "")


_AROUND = re.compile(
    r"\b(?:i think|i guess|i'?d say|id say|about|around|roughly|maybe|perhaps|probably|it'?s|its|it is|says?|it says|showing|or so|"
    r"ish|please|only|just|at most|max|exactly)\b",
    re.IGNORECASE,
)


def _trimmed(text: str) -> str:
    return " ".join(_AROUND.sub(" ", text).split()).strip(" .,;!")


def candidates(unit: str, text: str) -> Iterator[tuple[str, Span]]:
    """Amounts with a unit of this kind, as they can be read, then bare numbers; with their places."""
    units = UNITS.get(unit)
    if units:
        before = _BEFORE.get(unit)
        if before:
            for match in re.finditer(rf"{before}({_DIGITS})", text, re.IGNORECASE):
                yield match[1], match.span()
        compound = (
            rf"(?<![\w.,/])({_AMOUNT})\s*-?\s*({units})(?!\w)(?:\s*(?:and )?(a half|{_DIGITS}\s*(?:{units})(?!\w)))?"
        )
        for match in re.finditer(compound, text, re.IGNORECASE):
            yield _readable(match, unit), match.span()
    for match in re.finditer(rf"(?<![\w.,/])(?:{_AMOUNT})(?![\w/]){_NO_UNIT}", text, re.IGNORECASE):
        number = spelt_number(match[0])
        if unit == "%" and (share := _share(match[0])):
            yield share, match.span()
        elif number is not None and _counts(match[0], text) and _bare(text[match.end() :]):
            yield f"{number:g}", match.span()


_GOES_ON = frozenset(
    (
        "or",
        "i",
        "about",
        "maybe",
        "max",
        "at",
        "on",
        "in",
        "and",
        "a",
        "an",
        "per",
        "the",
        "so",
        "is",
        "it",
        "its",
        "by",
        "for",
        "of",
        "but",
        "then",
        "now",
    )
)


def _counts(words: str, text: str) -> bool:
    """Digits, or a number in words that is all that is said."""
    return words[0].isdigit() or (words.lower() not in ("a", "an", "half") and _trimmed(text).lower() == words.lower())


def _bare(after: str) -> bool:
    """Whether a number stands for itself: "7", "11.50 a can", but not "two fingers"."""
    word = re.match(r"\s*([^\W\d_]+)", after)
    return (
        word is None
        or word[1].lower() in _GOES_ON
        or word[1].lower().startswith(("prob", "think", "ish", "says", "please"))
    )


_NO_UNIT = rf"(?!\s*-?(?:{UNITS['mm']}|{UNITS['mL']}|{UNITS['g']}|{UNITS['minutes']}|%|m2|sq)(?!\w))"


def _readable(match: re.Match[str], unit: str) -> str:
    amount, word, more = match[1], match[2], match[3] or ""
    if unit == "money":
        number = spelt_number(amount)
        return f"{number:g}" if number is not None else amount
    if unit == "%":
        number = spelt_number(amount)
        return f"{number:g} %" if number is not None else amount
    plain = _fraction(amount)
    if more.lower() == "a half":
        plain = f"{(spelt_number(plain) or 1) + 0.5:g}"
        more = ""
    word = {"kilos": "kg", "kilo": "kg", "gr": "g", "gms": "g", "gm": "g", "grammes": "g", "degs": "degrees"}.get(
        word.lower(), word
    )
    return f"{plain} {word} {more}".strip()


def _fraction(amount: str) -> str:
    """ "three quarter", "an eighth of an" -> "3/4", "1/8"; numbers in words -> digits."""
    match = re.fullmatch(
        r"(?:(an?|one|two|three|five) )?(half|quarters?|eighths?|thirds?)(?: (?:of )?an?)?", amount.lower()
    )
    if match:
        below = {"h": 2, "q": 4, "e": 8, "t": 3}[match[2][0]]
        return f"{int(_WORTH.get(match[1] or 'a', 1))}/{below}"
    halves = re.fullmatch(r"(.+) and an? (half|quarter)", amount.lower())
    if halves and (number := spelt_number(halves[1])) is not None:
        return f"{number + (0.5 if halves[2] == 'half' else 0.25):g}"
    number = spelt_number(amount)
    return amount if number is None else f"{number:g}"


def _share(words: str) -> str:
    """ "a third" -> "33 %"."""
    plain = _fraction(words)
    if "/" not in plain:
        return ""
    top, below = plain.split("/")
    return f"{100 * int(top) // int(below)} %"


# ------------------------------------------------------------------ kinds with a way of their own


_SIDE = re.compile(
    rf"({_AMOUNT})\s*({UNITS['mm']})?\s*(?:in )?(?:wide|width|broad|long|length|high|height|tall|deep|thick|ceiling)\b",
    re.IGNORECASE,
)
_FEET = re.compile(r"\b(\d+)\s*(?:foot|feet|ft)\s*(\d+)(?=\s*(?:by|x|$|,))", re.IGNORECASE)
_UNIT_WORD = re.compile(
    r"\b(centimet\w+|cms?|millimet\w+|mm|inch(?:es)?|ins?|feet|ft|met(?:re|er)s?|m)\b", re.IGNORECASE
)


def _size(told: Asking) -> Told | Unclear | None:
    digits = re.sub(rf"\b(?:{SPELT})\b(?=\s*{_LENGTHS})", lambda m: _fraction(m[0]), told.text)
    plain = re.sub(r"(?<=\d)\s*-?ish\b", "", digits, flags=re.IGNORECASE)
    plain = re.sub(r"\b(\d+(?:[.,]\d+)?)\s*(?:and|times)\s*(\d+)", r"\1 x \2", plain)
    plain = _FEET.sub(r"\1 ft \2 in", plain)
    sides = _by_sides(plain, told)
    if sides is not None:
        return sides
    found, _ = read_sizes(plain)
    if not found:
        return None
    size = found[0]
    unit = _UNIT_WORD.search(plain)
    if size.assumed and unit:
        again, _ = read_sizes(f"{size.words} {unit[1]}")
        size = again[0] if again else size
    return Told(size.size, (0, len(told.text)))


def _by_sides(text: str, told: Asking) -> Told | None:
    """ "30 wide and 40 high, cm", "4 by 5 metres, 2.5 high", "5 ft 6 in by 2 ft"."""
    named = list(_SIDE.finditer(text))
    parts = [f"{_fraction(m[1])} {m[2] or ''}" for m in named]
    pair = re.search(r"(\d[\d.,]*)\s*(?:by|x)\s*(\d[\d.,]*)\s*([a-z]+)?", text, re.IGNORECASE)
    if pair and len(named) == 1 and told.question.id != "size":
        parts = [pair[1], f"{pair[2]} {pair[3] or ''}", parts[0]]
    elif " ft " in text and " in" in text and re.search(r"\b(?:by|x)\b", text):
        parts = [text]
    elif len(named) < 2:
        return None
    joined = " x ".join(part.strip() for part in parts)
    unit = _UNIT_WORD.search(text)
    for words in (joined, f"{joined} {unit[1]}" if unit else ""):
        got = read_measure(words, told.question) if words else None
        if got is not None and not isinstance(got, Unclear):
            return Told(got.value, (0, len(told.text)))
    return None


_PACKS = re.compile(
    rf"\b({SPELT}|\d+)\s+(?:boxes|packs|packets|sets|bags|lots|trays|rows)\s+of\s+({SPELT}|\d+)\b", re.IGNORECASE
)


def _count(told: Asking) -> Told | Unclear | None:
    packs = _PACKS.search(told.text)
    if packs and (number := spelt_number(packs[1])) and (each := spelt_number(packs[2])):
        got = read_measure(f"{number * each:g}", told.question)
        return got if isinstance(got, Unclear) else Told(got.value, packs.span())
    numbers = [
        (number, match.span())
        for match in re.finditer(rf"(?<![\w.,/])(?:{SPELT}|\d+)(?![\w/])", told.text, re.IGNORECASE)
        if (number := spelt_number(match[0])) is not None
        and match[0].lower() not in ("a", "an", "one" if "not one" in told.text.lower() else "")
    ]
    numbers = [(n, s) for n, s in numbers if not re.search(r"\bnot\s*$", told.text[: s[0]], re.IGNORECASE)]
    if not numbers:
        return None
    total, span = numbers[0]
    for number, place in numbers[1:]:
        if (
            re.search(r"\b(?:plus|and another|and|\+)\s*$", told.text[span[1] : place[0]].strip(), re.IGNORECASE)
            and told.question.id == "count"
        ):
            total, span = total + number, (span[0], place[1])
    got = read_measure(f"{total:g}", told.question)
    return got if isinstance(got, Unclear) else Told(got.value, span)


def _second_weight(told: Asking) -> Told | Unclear | None:
    first = told.answers.value("weighing_first")
    if not isinstance(first, (int, float)):
        return None
    if re.search(r"\b(?:same|no change|unchanged|no difference|identical|not a gram)\b", told.text, re.IGNORECASE):
        return Told(float(first), (0, len(told.text)))
    change = re.search(r"\b(less|lighter|lost|down|more|heavier|gained)\b", told.text, re.IGNORECASE)
    if change is None:
        return None
    for words, span in candidates("g", told.text):
        got = read_measure(words, told.question)
        if not isinstance(got, Unclear):
            less = change[1].lower() in ("less", "lighter", "lost", "down")
            return Told(first - got.value if less else first + got.value, span)
    return None


def _ratio(told: Asking) -> Told | Unclear | None:
    weighed = re.search(r"\b(?:weight|mass|weigh|grams?|g)\b", told.text, re.IGNORECASE)
    poured = re.search(r"\b(?:volume|vol|cups?|ml)\b", told.text, re.IGNORECASE)
    by = "weight" if weighed else "volume" if poured else ""
    match = _EVEN.search(told.text) or _RATIO.search(told.text)
    if match is None:
        return None
    a, b = ("1", "1") if _EVEN.search(told.text) else (match[1], match[2])
    first, second = spelt_number(a), spelt_number(b)
    if first is None or second is None:
        return None
    got = read_measure(f"{first:g}:{second:g}{f' by {by}' if by else ''}", told.question)
    return got if isinstance(got, Unclear) else Told(got.value, match.span())


def _date(told: Asking) -> Told | Unclear | None:
    found = list(_DATE.finditer(told.text))
    if not found:
        return None
    match = found[0]
    words = _plain_date(match[0], told.now)
    got = read_measure(words, told.question, now=told.now)
    if isinstance(got, Unclear):
        return got
    value = got.value
    if re.search(r"\bday before\b", told.text, re.IGNORECASE):
        value = f"{datetime.strptime(value, '%Y-%m-%d %H:%M') - timedelta(days=1):%Y-%m-%d %H:%M}"
    return Told(value, match.span())


_MONTH_NAMES = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def _plain_date(words: str, now: datetime) -> str:
    """ "in two weeks", "next weekend", "end of the month" -> a day that can be read."""
    plain = words.casefold()
    if match := re.fullmatch(r"(\d{1,2})/(\d{1,2})(?:/\d{2,4})?", plain):
        day, month = int(match[1]), int(match[2])
        day, month = (month, day) if month > 12 else (day, month)
        return f"{day} {_MONTH_NAMES[month - 1]}" if max(day, month) > 12 and 1 <= month <= 12 else words
    if match := re.search(rf"({_AMOUNT}) (day|week|month)", plain):
        number = (spelt_number(match[1]) or 1) * {"day": 1, "week": 7, "month": 30}[match[2]]
        return f"{now + timedelta(days=number):%Y-%m-%d}"
    if "weekend" in plain:
        return "saturday"
    if plain == "next week":
        return f"{now + timedelta(days=7):%Y-%m-%d}"
    if plain.startswith("end of"):
        return (
            "friday"
            if "week" in plain
            else f"{(now.replace(day=28) + timedelta(days=4)).replace(day=1) - timedelta(days=1):%Y-%m-%d}"
        )
    return re.sub(r"^christmas(?: eve)?", "24 december", re.sub(r"\bthe (?=\d)", "", plain))


def _hours(told: Asking) -> Told | Unclear | None:
    text = told.text
    if _DATE.search(re.sub(rf"\b(?:{_WEEKDAYS})\b", "", text, flags=re.IGNORECASE)):
        text = text.split(",")[0]  # "weekends, the stall is on 13 june"
    parts = [m[0] for m in _HOURS_WORD.finditer(text)]
    words = " ".join(
        re.sub(
            r"\s*(to|-)\s*", "-", " ".join(p if p.strip() in (",", "-", "to", "and") else f" {p} " for p in parts)
        ).split()
    )
    words = re.sub(r"^(?:[,\s]|and\b)+|(?:[,\s-]|\band)+$", "", words).replace(" ,", ",")
    if not words:
        return None
    got = read_measure(words, told.question)
    return None if isinstance(got, Unclear) else Told(got.value, (0, len(text)))


def _spread(told: Asking) -> Told | Unclear | None:
    match = _CAN.search(told.text)
    if match is None:
        return None
    area, litres = spelt_number(match[1]), spelt_number(match[2])
    scale = {"ml": 0.001, "cl": 0.01, "l": 1.0}[match[3].lower()]
    return Told(area / (litres * scale), match.span()) if area and litres else None


def _working_time(told: Asking) -> Told | Unclear | None:
    if re.search(r"\b(?:dry|cures?|cured|hard|touch|set)\b", told.text, re.IGNORECASE) and not re.search(
        r"\bwork", told.text, re.IGNORECASE
    ):
        return Unclear(
            "That is how long it takes to harden. The label also gives a working time, or pot life. Or type not sure."
        )
    return None


def _like_the_room(told: Asking) -> Told | Unclear | None:
    room = told.answers.value("room_temperature")
    same = re.search(r"\b(?:same|as warm as|like the room|room temperature)\b", told.text, re.IGNORECASE)
    return Told(room, same.span()) if same and isinstance(room, (int, float)) else None


_NIGHT = re.compile(r"\b(?:over ?night|a night|one night)\b", re.IGNORECASE)


def _between_weighings(told: Asking) -> Told | Unclear | None:
    if night := _NIGHT.search(told.text):
        return Told(12 * 60.0, night.span())
    day = re.search(r"\b(?:since yesterday|the day before|from yesterday)\b", told.text, re.IGNORECASE)
    return Told(24 * 60.0, day.span()) if day else None


def _of_each(told: Asking) -> Told | Unclear | None:
    """ "500 ml of each": resin and hardener together."""
    if not re.search(r"\b(?:each|both|apiece)\b", told.text, re.IGNORECASE):
        return None
    for words, span in candidates("mL", told.text):
        got = read_measure(words, told.question)
        if not isinstance(got, Unclear):
            return Told(2 * got.value, span)
    return None


_SPECIAL = {
    "size": _size, "air_room": _size, "thing_size": _size, "count": _count, "pieces": _count, "weighing_second": _second_weight,
    "ratio": _ratio, "date": _date, "hours": _hours, "sealer_spread": _spread, "working_time": _working_time,
    "surface_temperature": _like_the_room, "weighing_hours": _between_weighings, "pack_resin": _of_each,
}  # fmt: skip
