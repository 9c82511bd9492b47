"""How many pieces: "thirty of them", "a set of 8", "a dozen coasters", and of how many a jigsaw is joined."""

from __future__ import annotations

from interview.reading.lexicon import Lexicon
from interview.reading.matching import Item
from interview.reading.scope import Stance

MOST = 100_000
_JIGSAWS = 50  # a larger number before a jigsaw counts its pieces
_PARTS = ("piece", "pc", "pcs")


def read_count(items: tuple[Item, ...], found: list[Stance], lexicon: Lexicon) -> int | None:
    """The number of pieces, or None where none is said."""
    said: list[int] = []  # "thirty of them", "a set of 8": beyond doubt
    counted: list[int] = []  # "12 coasters"
    jigsaw = any(s.value == "jigsaw" for item in items for s in item.senses)
    for place, item in enumerate(items):
        if item.role != "number" or found[place] is not Stance.SAID:
            continue
        value = _value(items, place, lexicon)
        after, before = _at(items, place + 1), _before(items, place)
        if value is None or (after and after.role == "number"):
            continue
        if before and before.role == "set":
            said.append(value)
        elif after and _says(after, "of_them"):
            if not (jigsaw and after.words[-1] in _PARTS):
                said.append(value)
        elif _alone(items, place) or (_counts_next(items, place, lexicon) and not (jigsaw and value > _JIGSAWS)):
            counted.append(value)
    if any(_one_base(items, place, lexicon) for place in range(1, len(items))):
        counted = []  # "2 posters and a map on one board" is one piece
    return next(iter((*said, *counted)), None)


def _one_base(items: tuple[Item, ...], place: int, lexicon: Lexicon) -> bool:
    item = items[place]
    return (
        item.role == "number"
        and items[place - 1].role in ("on", "mounted_on")
        and _value(items, place, lexicon) == 1
        and not (place + 1 < len(items) and items[place + 1].role in ("of", "mark"))
    )


def read_joined(items: tuple[Item, ...], found: list[Stance], lexicon: Lexicon) -> int | None:
    """The pieces of a jigsaw: "1000 pieces", "a 500 piece jigsaw"."""
    if not any(s.value == "jigsaw" for item in items for s in item.senses):
        return None
    for place, item in enumerate(items):
        if item.role != "number" or found[place] is not Stance.SAID:
            continue
        value, after = _value(items, place, lexicon), _at(items, place + 1)
        named = after is not None and after.words[0] in _PARTS
        if value is not None and (named or (value > _JIGSAWS and _counts_next(items, place, lexicon))):
            return value
    return None


def _at(items: tuple[Item, ...], place: int) -> Item | None:
    return items[place] if 0 <= place < len(items) else None


def _before(items: tuple[Item, ...], place: int) -> Item | None:
    """The item before, over articles and numbers."""
    place -= 1
    while place >= 0 and items[place].role in ("article", "number"):
        place -= 1
    return _at(items, place)


def _says(item: Item, role: str) -> bool:
    return any(s.sort == "grammar" and s.value == role for s in item.senses)


def _alone(items: tuple[Item, ...], place: int) -> bool:
    """A number in words, or "x 12", that is a clause of its own: "same again, a dozen"."""
    before, after = _before(items, place), _at(items, place + 1)
    ends = after is None or after.role == "mark"
    begins = before is None or before.role == "mark"
    return ends and begins and items[place].words[0].isalpha()


def _counts_next(items: tuple[Item, ...], place: int, lexicon: Lexicon) -> bool:
    """A countable thing follows, over a few words that tell what it is like; no preposition before."""
    before = _before(items, place)
    if before is not None and before.role in ("on", "mounted_on", "with", "of", "in", "aside"):
        return False
    for item in items[place + 1 : place + 5]:
        if _countable(item, lexicon):
            return True
        if item.role not in ("plain", "noun", "state", "thing", "unknown"):
            return False
    return False


def _countable(item: Item, lexicon: Lexicon) -> bool:
    """A thing counted as a piece: by its name ("ink DRAWINGS"), or a plural of what it is made on."""
    named = (*item.senses, *lexicon.phrases.get(item.words[-1:], ()))
    if any(s.sort == "piece_word" for s in named):
        return True
    plural = item.typed.lower().endswith("s") and not item.typed.lower().endswith("ss")
    return plural and bool(item.of("support"))


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
    return int(value) if 1 <= value <= MOST and value == int(value) else None


def _together(first: float, second: float) -> float:
    """ "two dozen", "three hundred", "twenty four"."""
    return first * second if second in (12, 20, 100) else first + second
