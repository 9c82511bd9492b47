"""Numbers as people write and spell them: "a dozen", "three quarter", "two and a half", "1/4"."""

from __future__ import annotations

import re

_ONES = "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen"
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety"
_WORTH = {
    **{w: n for n, w in enumerate(_ONES.split(), 1)}, **{w: 10 * n for n, w in enumerate(_TENS.split(), 2)},
    "a": 1, "an": 1, "couple": 2, "pair": 2, "dozen": 12, "hundred": 100, "thousand": 1000, "half": 0.5,
}  # fmt: skip
_COUNT_WORD = "|".join(sorted(_WORTH, key=len, reverse=True))
DIGITS = r"\d+(?:[.,]\d+)?(?:[ -]\d{1,2}/\d{1,2}|\s?[½¼¾⅛⅜⅝⅞])?|\d{1,2}/\d{1,2}|[½¼¾⅛⅜⅝⅞]"
FRACTION = r"(?:(?:an?|one|three|two|five) )?(?:half|quarters?|eighths?|thirds?)(?: (?:of )?(?:an?))?"
SPELT = rf"(?:(?:{_COUNT_WORD})(?:[ -](?:and )?(?:{_COUNT_WORD}))*)(?: and an? (?:half|quarter))?"
AMOUNT = rf"(?:{DIGITS}|{FRACTION}|{SPELT})"


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


def in_digits(amount: str) -> str:
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


def share_of(words: str) -> str:
    """ "a third" -> "33 %"."""
    plain = in_digits(words)
    if "/" not in plain:
        return ""
    top, below = plain.split("/")
    return f"{100 * int(top) // int(below)} %"
