"""Small turns of phrase that every form of the brief shares."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from interview.text.minutes import in_words


def listed(words: Iterable[str], last: str = "and") -> str:
    """ "a", "a and b", "a, b and c". Nothing twice."""
    kept = list(dict.fromkeys(words))
    if len(kept) < 2:
        return "".join(kept)
    return f"{', '.join(kept[:-1])} {last} {kept[-1]}"


def capital(text: str) -> str:
    """The text with its first letter large, the rest as it was."""
    return text[:1].upper() + text[1:]


def lowered(text: str) -> str:
    """With a small first letter, to follow a colon. "I" and words all in capitals stay."""
    word = text.split(" ", 1)[0]
    return text if word == "I" or (len(word) > 1 and word.isupper()) else text[:1].lower() + text[1:]


def sentence(text: str) -> str:
    """With a capital at the start and an end mark."""
    text = capital(text.strip())
    return text if not text or text[-1] in ".:;?" else text + "."


def sentences(text: str) -> list[str]:
    """One after the other, each with its end mark."""
    parts = text.split(". ")
    return [part if part is parts[-1] else f"{part}." for part in parts]


def span(low: float, high: float) -> str:
    """Minutes as people say them: "30 to 60 minutes", "1 to 2 days". Empty if there is nothing to wait for."""
    if high <= 0:
        return ""
    if low == high or low > 0:
        return in_words(low, high)
    return f"up to {in_words(high, high)}"


def letter(place: int) -> str:
    """0 -> "A", 25 -> "Z", 26 -> "AA"."""
    text = ""
    place += 1
    while place:
        place, rest = divmod(place - 1, 26)
        text = chr(ord("A") + rest) + text
    return text


def marked(numbers: Sequence[int]) -> str:
    """ "[1, 3]", or nothing."""
    return f"[{', '.join(str(n) for n in sorted(set(numbers)))}]" if numbers else ""
