"""Tokens -> items: the longest known phrase at each place, with cautious correction of slips.

A slip is only ever corrected if the word itself is unknown, is not short, and one known word alone is near.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from interview.reading.lexicon import SHORTEST_SLIP, Lexicon, Sense, marked
from interview.reading.tokens import Token

SWAP_FROM = 8  # letters; from here on a wrong letter is mended too, below only a lost, doubled or swapped one
TWO_SLIPS_FROM = 9  # letters
CACHE_LIMIT = 20_000
_ORDER = ("row", "kind", "state", "uncoated", "thing", "piece_word", "grammar", "number", "plain")


@dataclass(frozen=True, slots=True)
class Item:
    """One phrase of the sentence. `meant`: what an unknown word was read as, if it was corrected."""

    role: str  # noun, state, thing, uncoated, piece_word, number, mark, unknown, plain, or one of grammar.toml
    typed: str
    words: tuple[str, ...]
    senses: tuple[Sense, ...]
    start: int
    capital: bool = False
    tight: bool = False
    meant: str = ""

    def of(self, question: str) -> tuple[Sense, ...]:
        return tuple(s for s in self.senses if s.question == question)

    @property
    def answers(self) -> bool:
        """Whether it answers a question by itself."""
        return self.role in ("noun", "state")


def read_items(tokens: tuple[Token, ...], lexicon: Lexicon) -> tuple[Item, ...]:
    """All tokens as items, in order. Linear in the number of tokens."""
    known = [_known(t, lexicon) for t in tokens]
    items = _undecided(tuple(_items(tokens, [w for w, _ in known], [m for _, m in known], lexicon)))
    marks = marked("verb_mark")
    return tuple(
        replace(item, role="plain", senses=())
        if _verb(items[place - 1] if place else None, item, marks, lexicon)
        else item
        for place, item in enumerate(items)
    )


def _undecided(items: tuple[Item, ...]) -> tuple[Item, ...]:
    """ "not decided between canvas and plywood": canvas or plywood."""
    read, doubt, between = list(items), False, False
    for place, item in enumerate(items):
        if item.role == "mark" and item.typed != ",":
            doubt = between = False
        elif item.role == "unsure":
            doubt = True
        elif doubt and item.words == ("between",):
            read[place], between = replace(item, role="plain", senses=()), True
        elif between and item.role == "and":
            read[place], between = replace(item, role="or", words=("or",)), False
    return tuple(read)


def _verb(before: Item | None, item: Item, marks: frozenset[str], lexicon: Lexicon) -> bool:
    """ "I want to stick it": a word that names a thing elsewhere, and here something done."""
    if before is None or item.role not in ("noun", "thing") or len(item.words) > 1 or before.words[-1] not in marks:
        return False
    return item.words[0] in lexicon.verbs and not any(s.sort == "state" for s in item.senses)


def _known(token: Token, lexicon: Lexicon) -> tuple[str, str]:
    """The word to look up, and what it was corrected to if it was."""
    if token.kind != "word" or token.word in lexicon.vocabulary:
        return token.word, ""
    meant = correct(token.word, lexicon)
    return (meant, meant) if meant else (token.word, "")


def _items(tokens: tuple[Token, ...], words: list[str], meant: list[str], lexicon: Lexicon) -> Iterator[Item]:
    place = 0
    while place < len(tokens):
        token = tokens[place]
        if token.kind == "mark":
            yield Item("mark", token.typed, (token.word,), (), token.start, tight=token.tight)
            place += 1
            continue
        length, senses = _longest(tokens, words, place, lexicon)
        if length == 0:
            yield from _unknown(token, lexicon)
            place += 1
            continue
        last = tokens[place + length - 1]
        typed = " ".join(t.typed for t in tokens[place : place + length])
        corrected = " ".join(m or t.typed for m, t in zip(meant[place : place + length], tokens[place:], strict=False))
        yield Item(
            _role(senses), typed, tuple(words[place : place + length]), senses, token.start, token.capital,
            token.tight and last.kind == "word", corrected if any(meant[place : place + length]) else "",
        )  # fmt: skip
        place += length


def _longest(
    tokens: tuple[Token, ...], words: list[str], place: int, lexicon: Lexicon
) -> tuple[int, tuple[Sense, ...]]:
    for length in range(min(lexicon.reach.get(words[place], 0), len(tokens) - place), 0, -1):
        senses = _with_its_state(tuple(words[place : place + length]), lexicon)
        if (
            senses
            and all(t.kind != "mark" for t in tokens[place : place + length])
            and not (length > 1 and _cuts_a_noun(tokens, words, place, length, senses, lexicon))
        ):
            return _joined(tokens, words, place, length, senses, lexicon)
    if tokens[place].kind == "number":
        return 1, (Sense("number"),)
    return _joined(tokens, words, place, 0, (), lexicon)


def _with_its_state(words: tuple[str, ...], lexicon: Lexicon) -> tuple[Sense, ...]:
    """The senses of a phrase. "fresh petals" also says that they are fresh, "torn map" that it is torn."""
    senses = lexicon.phrases.get(words, ())
    made_for = words[0].endswith("ing")  # a cutting board is not cut
    if len(words) > 1 and not made_for and any(s.sort in ("row", "kind") for s in senses):
        first = lexicon.phrases.get(words[:1], ())
        senses += tuple(s for s in first if s.sort == "state" and (s.question == "opened" or s.value == "fresh"))
    return senses


def _cuts_a_noun(
    tokens: tuple[Token, ...],
    words: list[str],
    place: int,
    length: int,
    senses: tuple[Sense, ...],
    lexicon: Lexicon,
) -> bool:
    """ "no drawing" must not cut "no drawing pins": a noun that begins inside and ends outside wins."""
    if not all(s.sort in ("state", "grammar") for s in senses):
        return False
    end = place + length
    for start in range(place + 1, end):
        for reach in range(min(lexicon.reach.get(words[start], 0), len(tokens) - start), end - start, -1):
            found = lexicon.phrases.get(tuple(words[start : start + reach]), ())
            if any(s.sort in ("row", "kind") for s in found):
                return all(t.kind != "mark" for t in tokens[start : start + reach])
    return False


def _joined(
    tokens: tuple[Token, ...],
    words: list[str],
    place: int,
    length: int,
    senses: tuple[Sense, ...],
    lexicon: Lexicon,
) -> tuple[int, tuple[Sense, ...]]:
    """Two words that are one in the data ("card stock"), where no phrase of two or more was found."""
    if length < 2 and place + 1 < len(tokens) and tokens[place + 1].kind == tokens[place].kind == "word":
        first, second = words[place], words[place + 1]
        if min(len(first), len(second)) >= 3:
            together = lexicon.phrases.get((first + second,))
            if together and any(s.sort in ("row", "kind") for s in together):
                return 2, together
    return length, senses


def _role(senses: tuple[Sense, ...]) -> str:
    if any(s.sort == "grammar" and s.value == "mounted_on" for s in senses):
        return "mounted_on"
    first = min(senses, key=lambda s: _ORDER.index(s.sort))
    if first.sort in ("row", "kind"):
        return "noun"
    return first.value if first.sort == "grammar" else first.sort


def _unknown(token: Token, lexicon: Lexicon) -> Iterator[Item]:
    """An unknown word: two known ones run together, a denied one ("unglued"), or one to be named."""
    word = token.word
    parts = _split(word, lexicon)
    if not parts:
        yield Item("unknown", token.typed, (word,), (), token.start, token.capital, token.tight)
        return
    for part in parts:
        senses = lexicon.phrases[(part,)]
        yield Item(_role(senses), token.typed, (part,), senses, token.start, token.capital, token.tight)


def _split(word: str, lexicon: Lexicon) -> tuple[str, ...]:
    if word.startswith("un") and len(word) >= 6 and _content(word[2:], lexicon, ("state", "kind", "row")):
        return ("un", word[2:])
    for ending, role in (("less", "no"), ("free", "no")):
        if word.endswith(ending) and _content(word[: -len(ending)], lexicon, ("state", "kind", "row", "thing")):
            return (role, word[: -len(ending)])
    for cut in range(4, len(word) - 1):
        left, right = word[:cut], word[cut:]
        if _content(left, lexicon, ("row", "kind")) and (
            right in ("on", "and", "with") or (len(right) >= 4 and _content(right, lexicon, ("row", "kind")))
        ):
            return (left, right)
    return ()


def _content(word: str, lexicon: Lexicon, sorts: tuple[str, ...]) -> bool:
    return any(s.sort in sorts for s in lexicon.phrases.get((word,), ()))


def correct(word: str, lexicon: Lexicon) -> str | None:
    """The one known word that an unknown one was meant to be, or None."""
    if len(word) < SHORTEST_SLIP or not word.isalpha():
        return None
    if word not in lexicon.cache:
        if len(lexicon.cache) >= CACHE_LIMIT:
            lexicon.cache.clear()
        lexicon.cache[word] = _nearest(word, lexicon)
    return lexicon.cache[word]


def _nearest(word: str, lexicon: Lexicon) -> str | None:
    from rapidfuzz.distance import OSA

    allowed = 2 if len(word) >= TWO_SLIPS_FROM else 1
    letters = {word[0], word[1]}
    best: dict[float, set[str]] = {}
    for letter in letters:
        for known in lexicon.correctable.get(letter, ()):
            if abs(len(known) - len(word)) > allowed or (letter != word[0] and known[1] != word[0]):
                continue
            distance = OSA.distance(word, known, score_cutoff=allowed)
            if distance <= allowed and not _mere_swap(word, known, distance):
                wrong_letter = len(word) == len(known) and sorted(word) != sorted(known)
                best.setdefault(distance + 0.5 * wrong_letter, set()).add(known)  # a lost letter is the likelier slip
    nearest = best.get(min(best), set()) if best else set()
    return nearest.pop() if len(nearest) == 1 else None


def _mere_swap(word: str, known: str, distance: int) -> bool:
    """A short word with one letter replaced by another: as often as not another word."""
    return len(word) < SWAP_FROM and len(word) == len(known) and distance == 1 and sorted(word) != sorted(known)


def with_photographs(items: tuple[Item, ...], lexicon: Lexicon, persons: frozenset[str]) -> tuple[Item, ...]:
    """ "pictures of the kids": a picture of people one knows is a photograph."""
    photograph = lexicon.phrases.get(("photo",), ())
    read = list(items)
    for place, item in enumerate(items[:-1]):
        if item.words[-1] == "picture" and item.role != "noun" and items[place + 1].role == "of" and photograph:
            shown = [w for i in items[place + 2 : place + 6] for w in i.words]
            if persons & set(shown):
                read[place] = replace(item, role="noun", senses=photograph)
    return _printed_photographs(tuple(read), lexicon)


def _printed_photographs(items: tuple[Item, ...], lexicon: Lexicon) -> tuple[Item, ...]:
    """ "a photo of the dog printed on canvas": if a row is called "photo on canvas", it is meant."""
    read = list(items)
    photograph = False
    for place, item in enumerate(items):
        if item.role == "mark" and item.typed in ".;!?\n":
            photograph = False
        photograph = photograph or (item.role == "noun" and any(s.beside for s in item.senses))
        before = [i for i in items[max(place - 2, 0) : place] if i.role != "article"]
        if photograph and item.role == "noun" and before and before[-1].role == "on":
            whole = lexicon.phrases.get(("photo", "on", *item.words), ())
            if any(s.question == "support" for s in whole):
                read[place] = replace(item, senses=whole)
    return tuple(read)
