"""The names of choices on a list: as they are said, as they can be typed, and which one of a list is named."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from functools import lru_cache

from interview.reading.choices import by_number, head
from interview.reading.clauses import spoken_words
from interview.reading.measures import Unclear
from knowledge.shape import Choice

PICKED = ("one", "several")
_MOST_NAMED = 8  # choices named in one line; the list itself stands above
_MARKS = frozenset(",;:()/&+")
_LONGEST = 40  # letters of a name that is quick to type


def names_of(choices: Sequence[Choice]) -> tuple[str, ...]:
    """Each text's head where that tells it apart, else the whole text: "the front" beside "the front only" does not."""
    heads = [head(choice.text) for choice in choices]
    like = Counter(short for short in heads for other in heads if other == short or other.startswith(f"{short} "))
    return tuple(short if like[short] == 1 else c.text for short, c in zip(heads, choices, strict=True))


def choice_words(value: str | frozenset[str], choices: Sequence[Choice]) -> str:
    """The names of what was chosen, in the order of the list."""
    ids = (value,) if isinstance(value, str) else value
    texts = [name for name, choice in zip(names_of(choices), choices, strict=True) if choice.id in ids]
    texts += sorted(id.replace("_", " ") for id in ids if id not in {choice.id for choice in choices})
    return ", ".join(texts)


def typed_for_choice(number: int, choices: tuple[Choice, ...]) -> str:
    """The shortest telling words for one choice that no other choice has; its number where there are none."""
    choice, owners = choices[number], _owners(choices)
    for words in (choice.text, head(choice.text), *choice.also):
        plain = words and len(words) <= _LONGEST and not _MARKS & set(words) and " and " not in words
        if plain and owners.get(spoken_words(words)) == 1:
            return words
    return str(number + 1)


@lru_cache(maxsize=64)
def _owners(choices: tuple[Choice, ...]) -> Counter[tuple[str, ...]]:
    """How many choices go by each name."""
    return Counter(words for c in choices for words in {spoken_words(w) for w in (c.text, head(c.text), *c.also)})


def one_named(text: str, choices: Sequence[Choice]) -> str | Unclear:
    """The id of the one choice of a list that is named: by number, by its words, by its first letters."""
    if not choices:
        return Unclear("There is nothing to choose here.")
    numbered = by_number(text.strip(), choices, several=False)
    if numbered is not None:
        return numbered.ids[0]
    words, typed = spoken_words(text), text.strip().casefold()
    named = [[spoken_words(w) for w in (c.text, head(c.text), c.id.replace("_", " "), *c.also)] for c in choices]
    tiers = (
        [c for c, all_ in zip(choices, named, strict=True) if words in all_],
        [c for c in choices if typed and any(w.casefold().startswith(typed) for w in (c.text, *c.also))],
        [c for c, all_ in zip(choices, named, strict=True) if words and any(set(words) <= set(w) for w in all_)],
    )
    fitting = next((tier for tier in tiers if tier), [])
    if len(fitting) == 1:
        return fitting[0].id
    if fitting:
        return Unclear(f"Which of them: {_or_list(head(c.text) for c in fitting)}?")
    return Unclear(f"Type a number from 1 to {len(choices)}, or a word of the list.")


def _or_list(names: Iterable[str]) -> str:
    listed = list(names)
    if len(listed) > _MOST_NAMED + 1:
        listed = [*listed[:_MOST_NAMED], f"{len(listed) - _MOST_NAMED} more"]
    return f"{', '.join(listed[:-1])} or {listed[-1]}" if len(listed) > 1 else "".join(listed)
