"""Which unknown words matter: those that stand where a thing would stand. The rest is passed over."""

from __future__ import annotations

from collections.abc import Container

from interview.reading.lexicon import marked
from interview.reading.matching import Item

_SHORTEST = 3  # letters
_MOST = 12  # names; more of them help no one


def unknown_words(items: tuple[Item, ...], shown: Container[int] = ()) -> tuple[str, ...]:
    """Unknown words that matter, as typed, each once. `shown`: places of what is only in a picture."""
    helpers = marked("verb_after")
    found: dict[str, None] = {}
    for place, item in enumerate(items):
        if item.role == "unknown" and place not in shown and _matters(items, place, helpers):
            found[item.typed] = None
    return tuple(found)[:_MOST]


def _matters(items: tuple[Item, ...], place: int, helpers: frozenset[str]) -> bool:
    item = items[place]
    if len(item.words[0]) < _SHORTEST or not item.words[0].isalpha():
        return False
    if _names_a_sort(items, place) or _is_a_name(items, place):
        return False
    before = items[place - 1] if place else None
    if before is not None and before.role not in ("mark", "unknown") and before.words[-1] in helpers:
        return False  # "I frobbed it": something done
    return not item.words[0].endswith("ly")


def _names_a_sort(items: tuple[Item, ...], place: int) -> bool:
    after = place + 1
    while after < len(items) and items[after].role == "unknown" and after - place < 3:
        after += 1
    return after < len(items) and any(s.takes_sort for s in items[after].senses)


def _is_a_name(items: tuple[Item, ...], place: int) -> bool:
    """A person's name: two words with capitals after "; with" or "by"."""
    item = items[place]
    if not item.capital:
        return False
    first = place
    while first and items[first - 1].capital and items[first - 1].role in ("unknown", "plain", "noun", "thing"):
        first -= 1
    last = place
    while (
        last + 1 < len(items)
        and items[last + 1].capital
        and items[last + 1].role in ("unknown", "plain", "noun", "thing")
    ):
        last += 1
    before = items[first - 1] if first else None
    introduced = before is not None and (
        before.words[-1] == "by" or (before.role == "with" and first > 1 and items[first - 2].typed in ";,")
    )
    return introduced and last > first
