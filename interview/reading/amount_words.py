"""Amounts in running text: "about an eighth of an inch", "six plus two spares", "14 quid", "80 by 60 ish, centimetres".

A question's amount is looked for by its kind; elsewhere in a line an amount counts only beside a word that tells what
it measures. Every amount found is read by `interview.quantities.units`, so that there is one way to read it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from interview.reading.amount_numbers import AMOUNT, DIGITS, SPELT, in_digits, share_of, spelt_number
from interview.reading.amount_types import Asking, Span, Told
from interview.reading.measures import Unclear, read_measure
from interview.reading.sizes import read_sizes
from interview.reading.told_days import read_date, read_hours_told
from knowledge.shape import Question

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
    rf"({AMOUNT})\s*(?:m2|m²|sqm|sq\.? ?m\w*|square met\w+)\b.*?\b(?:can|tin|bottle)\b\D*?({DIGITS})\s*(ml|l|cl)\b",
    re.IGNORECASE,
)
_RATIO = re.compile(
    rf"({AMOUNT})\s*(?:parts?|g|grams?|ml)?\s*(?:of )?(?:resin|a\b)?\s*(?::|to|/|,|and)?\s*"
    rf"(?<![\w.])({AMOUNT})\s*(?:parts?|g\b|grams?|ml)?\s*(?:of )?(?:hardener|b\b)?",
    re.IGNORECASE,
)
_EVEN = re.compile(
    r"\b(?:equal parts|half and half|fifty fifty|50[ /]50|same of (?:each|both)|equal amounts|one to one)\b",
    re.IGNORECASE,
)
_LENGTHS = r"(?:foot|feet|ft|inch|in\b|cm|m\b|mm|metre|meter|by\b|x\b|$|\W)"


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
            for match in re.finditer(rf"{before}({DIGITS})", text, re.IGNORECASE):
                yield match[1], match.span()
        compound = (
            rf"(?<![\w.,/])({AMOUNT})\s*-?\s*({units})(?!\w)(?:\s*(?:and )?(a half|{DIGITS}\s*(?:{units})(?!\w)))?"
        )
        for match in re.finditer(compound, text, re.IGNORECASE):
            yield _readable(match, unit), match.span()
    for match in re.finditer(rf"(?<![\w.,/])(?:{AMOUNT})(?![\w/]){_NO_UNIT}", text, re.IGNORECASE):
        number = spelt_number(match[0])
        if unit == "%" and (share := share_of(match[0])):
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
    plain = in_digits(amount)
    if more.lower() == "a half":
        plain = f"{(spelt_number(plain) or 1) + 0.5:g}"
        more = ""
    word = {"kilos": "kg", "kilo": "kg", "gr": "g", "gms": "g", "gm": "g", "grammes": "g", "degs": "degrees"}.get(
        word.lower(), word
    )
    return f"{plain} {word} {more}".strip()


# ------------------------------------------------------------------ kinds with a way of their own


_SIDE = re.compile(
    rf"({AMOUNT})\s*({UNITS['mm']})?\s*(?:in )?(?:wide|width|broad|long|length|high|height|tall|deep|thick|ceiling)\b",
    re.IGNORECASE,
)
_FEET = re.compile(r"\b(\d+)\s*(?:foot|feet|ft)\s*(\d+)(?=\s*(?:by|x|$|,))", re.IGNORECASE)
_UNIT_WORD = re.compile(
    r"\b(centimet\w+|cms?|millimet\w+|mm|inch(?:es)?|ins?|feet|ft|met(?:re|er)s?|m)\b", re.IGNORECASE
)


def _size(told: Asking) -> Told | Unclear | None:
    digits = re.sub(rf"\b(?:{SPELT})\b(?=\s*{_LENGTHS})", lambda m: in_digits(m[0]), told.text)
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
    parts = [f"{in_digits(m[1])} {m[2] or ''}" for m in named]
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
    "ratio": _ratio, "date": read_date, "hours": read_hours_told, "sealer_spread": _spread, "working_time": _working_time,
    "surface_temperature": _like_the_room, "weighing_hours": _between_weighings, "pack_resin": _of_each,
}  # fmt: skip
