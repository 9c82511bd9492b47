"""How many pieces: "thirty of them", "a set of 8", "a dozen coasters". Other numbers count for nothing."""

from __future__ import annotations

from interview.conversation.sentence.lexicon import Lexicon
from interview.conversation.sentence.matching import Item
from interview.conversation.sentence.scope import Stance

MOST = 100_000


def read_count(items: tuple[Item, ...], found: list[Stance], lexicon: Lexicon) -> int | None:
    """The number of pieces, or None where none is said or two numbers disagree."""
    counts = []
    first_noun = next((i for i, item in enumerate(items) if _countable(item)), len(items))
    for place, item in enumerate(items):
        if item.role != "number" or found[place] is not Stance.SAID:
            continue
        value = _value(items, place, lexicon)
        if value is None:
            continue
        after, before = _at(items, place + 1), _at(items, place - 1)
        if (after and after.role == "of_them") or (before and before.role == "set"):
            counts.insert(0, value)
        elif place < first_noun and _counts_first(items, place, first_noun):
            counts.append(value)
    return counts[0] if counts else None


def _at(items: tuple[Item, ...], place: int) -> Item | None:
    return items[place] if 0 <= place < len(items) else None


def _countable(item: Item) -> bool:
    return any(s.sort == "piece_word" for s in item.senses)


def _counts_first(items: tuple[Item, ...], place: int, noun: int) -> bool:
    """Between the number and the first countable thing stand only words that tell what it is like."""
    between = items[place + 1 : noun]
    return noun < len(items) and len(between) <= 3 and all(i.role in ("plain", "noun", "state", "of") for i in between)


def _value(items: tuple[Item, ...], place: int, lexicon: Lexicon) -> int | None:
    item = items[place]
    if item.words in lexicon.numbers:
        value = lexicon.numbers[item.words]
        before = _at(items, place - 1)
        if before and before.role == "number" and before.words in lexicon.numbers and before.words != item.words:
            value = _together(lexicon.numbers[before.words], value)
    else:
        try:
            value = float(item.words[0])
        except ValueError:
            return None
    return int(value) if value == int(value) and 1 <= value <= MOST else None


def _together(first: float, second: float) -> float:
    """ "two dozen", "three hundred", "twenty four"."""
    return first * second if second in (12, 20, 100) else first + second
