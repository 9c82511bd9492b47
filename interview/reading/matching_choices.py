"""A line -> the choices it names: by number, by first letters, by words, roughly typed, several at once.

Careful rather than clever: what is denied ("no glitter") is never taken, and where two readings are possible
the
person is asked which.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from interview.reading.commands import says_unsure
from interview.reading.menu import MARKS, Menu, Tokens, menu_of, plain_tokens, stem, tokens_of
from knowledge.shape import Choice

_NUMBERS = re.compile(r"^(?:(?:no\.?|nr\.?|number|#)\s*)?\d+[.)]?(?:\s*(?:,|;|/|&|\+|and|-|to|\s)\s*#?\d+[.)]?)*$")
_PARTS = re.compile(r"\s*(?:[,;&+/|]|\band\b)\s*")


def _words(text: str) -> frozenset[str]:
    return frozenset(map(stem, text.split()))


_DENIALS = _words(
    "no not non never without neither nor none nothing hardly barely except minus cannot isnt arent wasnt werent "
    "dont doesnt didnt hasnt havent wont cant aint"
)
_HEDGES = _words("nearly almost partly partially half quite maybe perhaps probably possibly might could sometimes")
_ENDS_CLAUSE = _words("and but just only with some also plus though instead") | MARKS
_TURNS = _words("but just only with some instead is its has have it")
_FILLING = _words(
    "a an the it its is are was be there this that these those on in of at to for from by as i we you my our your "
    "think guess would say mostly mainly bit little lot very really so all has have had got been one kind sort type "
    "made yes ok okay please well um er with some and also plus but just only both or too them they were"
)
_MOST_NAMED = 8  # choices named in one line; the list itself stands above
_UNTOLD = _FILLING | _DENIALS | _ENDS_CLAUSE | {"-", "free"}


@dataclass(frozen=True, slots=True)
class Picked:
    """What was named. `leftover`: words that were not understood. `rough`: read out of less than was typed or
    through a slip of the keys, so it is worth saying back."""

    ids: tuple[str, ...]
    leftover: tuple[str, ...] = ()
    rough: bool = False


@dataclass(frozen=True, slots=True)
class Value:
    """An answer. `said`: how it was read, where that is worth saying back. `leftover`: words not
    understood.
    """

    value: Any
    said: str = ""
    leftover: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Unclear:
    """The line to show: what is wrong and what to type instead."""

    says: str


@dataclass(frozen=True, slots=True)
class _Match:
    """Tokens start..end name these choices (more than one: the words fit each)."""

    start: int
    end: int
    choices: frozenset[int]


def pick(text: str, choices: Sequence[Choice], *, several: bool, alone: Iterable[str] = ()) -> Picked | Unclear:
    """Read the line as one choice, or as several."""
    if not choices:
        return Unclear("There is nothing to choose here. Type not sure.")
    line = " ".join(text.split())
    got = _by_numbers(line, choices) if _NUMBERS.match(line.casefold()) else _by_words(line, choices, several=several)
    return got if isinstance(got, Unclear) else _agree(got, choices, several=several, alone=frozenset(alone))


def _agree(got: Picked, choices: Sequence[Choice], *, several: bool, alone: frozenset[str]) -> Picked | Unclear:
    if len(got.ids) == 1:
        return got
    names = dict(zip((choice.id for choice in choices), menu_of(choices).names, strict=True))
    if not several:
        return Unclear(f"Pick one: {_or_list(names[i] for i in got.ids)}. If you cannot tell, type not sure.")
    single = next((i for i in got.ids if i in alone), None)
    if single is not None:
        rest = _and_list(names[i] for i in got.ids if i != single)
        return Unclear(f'"{names[single]}" leaves no room for {rest}. Name either the one or the other.')
    return got


def _by_numbers(line: str, choices: Sequence[Choice]) -> Picked | Unclear:
    numbers: list[int] = []
    spread = re.sub(r"(\d+)\s*(?:-|\bto\b)\s*(\d+)", _spell_range, line.casefold())
    for digits in re.findall(r"\d+", spread):
        number = int(digits[:6])
        if not 1 <= number <= len(choices):
            return Unclear(f"There is no {digits[:12]} in the list. Type a number from 1 to {len(choices)}, or a word.")
        numbers.append(number)
    return Picked(tuple(dict.fromkeys(choices[n - 1].id for n in numbers)))


def _spell_range(found: re.Match[str]) -> str:
    first, last = int(found[1][:4]), int(found[2][:4])
    return " ".join(map(str, range(first, min(last, first + 99) + 1))) if first <= last else f"{first} {last}"


def _by_words(line: str, choices: Sequence[Choice], *, several: bool) -> Picked | Unclear:
    menu = menu_of(choices)
    tokens = tokens_of(line)
    if not plain_tokens(line):
        return Unclear(_how_to(choices, several=several))
    whole = menu.phrases.get(plain_tokens(line))
    if whole:
        return _settle([_Match(0, len(tokens), whole)], tokens, choices)
    by_start = _by_first_letters(line, choices, several=several)
    if by_start is not None:
        return by_start
    mended = _mend(tokens, menu.known)
    rough, tokens = mended != tokens, mended
    matches = list(_scan(tokens, menu))
    numbered = _numbers_among(tokens, matches, choices) if several else []
    matches = sorted([*matches, *numbered], key=lambda m: m.start)
    if not matches:
        return Unclear(_unknown(line, choices, several=several))
    got = _weigh(line, matches, tokens, choices, several=several)
    return got if isinstance(got, Unclear) else Picked(got.ids, got.leftover, rough or bool(got.leftover))


def _weigh(
    line: str, matches: list[_Match], tokens: Tokens, choices: Sequence[Choice], *, several: bool
) -> Picked | Unclear:
    """Leave out what is denied; ask where it is doubtful."""
    named: list[_Match] = []
    denied: set[int] = set()
    for match in matches:
        clause = _clause_before(tokens, match.start)
        if any(t in _HEDGES for t in clause) or says_unsure(line):
            words = _or_list(menu_of(choices).names[i] for i in sorted(match.choices))
            return Unclear(f"If you are certain, type {words}; if not, type not sure.")
        if any(t in _DENIALS for t in clause) or _is_free(tokens, match):
            denied |= match.choices
            continue
        if denied and not any(t in _TURNS for t in clause) and not _turned(tokens, match.start):
            return Unclear("I cannot tell which of these are there and which are not. Name only what is there.")
        named.append(match)
    if not named and len(choices) == 2 and len(denied) == 1 and not several:
        return Picked((choices[1 - denied.pop()].id,))
    if not named:
        return Unclear("You said what it is not. Type what it is, or not sure.")
    either = dict.fromkeys(menu_of(choices).names[min(m.choices)] for m in named)
    if len(either) > 1 and any(tokens[a.end : b.start] == ("or",) for a, b in pairwise(named)):
        return Unclear(f"Which is it: {_or_list(either)}? If you cannot tell, type not sure.")
    return _settle(named, tokens, choices, matches)


def _settle(
    named: Sequence[_Match], tokens: Tokens, choices: Sequence[Choice], seen: Sequence[_Match] = ()
) -> Picked | Unclear:
    sure = {i for match in named if len(match.choices) == 1 for i in match.choices}
    for match in named:
        if len(match.choices) > 1 and not match.choices & sure:
            return Unclear(f"Which of them: {_numbered(sorted(match.choices), choices)}? Type its number.")
    order = [next(iter(match.choices & sure or match.choices)) for match in named]
    used = {n for match in (*named, *seen) for n in range(match.start, match.end)}
    leftover = tuple(token for n, token in enumerate(tokens) if n not in used and token not in _UNTOLD)
    return Picked(tuple(dict.fromkeys(choices[i].id for i in order)), leftover)


def _clause_before(tokens: Tokens, start: int) -> tuple[str, ...]:
    """The tokens of the same clause before `start`: back to a mark or a word that begins anew."""
    begin = start
    while begin > 0 and tokens[begin - 1] not in _ENDS_CLAUSE:
        begin -= 1
    return tokens[begin:start]


def _turned(tokens: Tokens, start: int) -> bool:
    """Whether a word just before the clause says that what follows is there: "no glitter but sand"."""
    before = len(_clause_before(tokens, start))
    at = start - before - 1
    return at >= 0 and (tokens[at] in _TURNS or tokens[at] in (".", ";"))


def _is_free(tokens: Tokens, match: _Match) -> bool:
    """ "glitter-free" and "free of glitter"."""
    after = [t for t in tokens[match.end : match.end + 2] if t != "-"]
    before = tokens[max(0, match.start - 2) : match.start]
    return after[:1] == ["free"] or before in (("free", "of"), ("free", "from"))


def _scan(tokens: Tokens, menu: Menu) -> Iterator[_Match]:
    at = 0
    while at < len(tokens):
        for length in range(min(menu.longest, len(tokens) - at), 0, -1):
            found = menu.phrases.get(tokens[at : at + length])
            if found and not _denies_on(tokens, at, length):
                yield _Match(at, at + length, found)
                at += length
                break
        else:
            at += 1


def _denies_on(tokens: Tokens, at: int, length: int) -> bool:
    """A lone "no" or "nothing" is an answer only where nothing follows it in its clause: "no glitter" is
    none.
    """
    after = tokens[at + length : at + length + 1]
    return length == 1 and tokens[at] in _DENIALS and bool(after) and after[0] not in MARKS


def _numbers_among(tokens: Tokens, matches: list[_Match], choices: Sequence[Choice]) -> list[_Match]:
    """Numbers between the words, each alone between marks: "1, 3 and tissue"."""
    used = {n for m in matches for n in range(m.start, m.end)}
    found = []
    for n, token in enumerate(tokens):
        free = (n == 0 or tokens[n - 1] in _ENDS_CLAUSE) and (n + 1 == len(tokens) or tokens[n + 1] in _ENDS_CLAUSE)
        if n not in used and free and token.isdecimal() and 1 <= int(token[:6]) <= len(choices):
            found.append(_Match(n, n + 1, frozenset((int(token) - 1,))))
    return found


def _by_first_letters(line: str, choices: Sequence[Choice], *, several: bool) -> Picked | Unclear | None:
    """Each part the beginning of a choice or of one of its words; None where some part is not."""
    parts = [p for p in _PARTS.split(line) if p] if several else [line]
    ids: list[str] = []
    rough = False
    for part in parts:
        fits = _beginning_with(part, choices)
        if not fits:
            return None
        if len(fits) > 1:
            if len(parts) > 1 or len(" ".join(tokens_of(part))) > 3:
                return None  # longer words go the way of whole words, which may tell them apart
            return Unclear(f"Several begin so: {_numbered(fits[:6], choices)}. Type a number or more letters.")
        ids.append(choices[fits[0]].id)
        rough = rough or " ".join(plain_tokens(part)) not in menu_of(choices).plain[fits[0]]
    return Picked(tuple(dict.fromkeys(ids)), rough=rough) if ids else None


def _beginning_with(part: str, choices: Sequence[Choice]) -> list[int]:
    start = " ".join(plain_tokens(part))
    if not start or start in _DENIALS or (start in _FILLING and len(start) > 1):
        return []
    plain = menu_of(choices).plain
    tiers = (
        [n for n, phrases in enumerate(plain) if start in phrases],
        [n for n, phrases in enumerate(plain) if phrases and phrases[0].startswith(start)],
        [n for n, phrases in enumerate(plain) if any(p.startswith(start) for p in phrases)],
    )
    return next((tier for tier in tiers if tier), [])


def _mend(tokens: Tokens, known: frozenset[str]) -> Tokens:
    """Each word that is not known, but a slip away from one that is, in its place."""
    common = _FILLING | _DENIALS | _HEDGES | _ENDS_CLAUSE
    return tuple(t if t in known or t in common or len(t) < 4 else _nearest(t, known) for t in tokens)


def _nearest(word: str, known: frozenset[str]) -> str:
    """The one known word a slip or two away, or the word as it is."""
    from rapidfuzz.distance import OSA

    most = 2 if len(word) >= 8 else 1
    near: dict[int, list[str]] = {}
    for other in known:
        if len(other) < 4 or (min(len(word), len(other)) < 5 and word[0] != other[0]):
            continue
        distance = OSA.distance(word, other, score_cutoff=most)
        if distance <= most:
            near.setdefault(distance, []).append(other)
    if not near:
        return word
    closest = near[min(near)]
    return closest[0] if len(closest) == 1 else word


def _unknown(line: str, choices: Sequence[Choice], *, several: bool) -> str:
    from rapidfuzz import fuzz, process

    shown = line if len(line) <= 40 else f"{line[:37]}..."
    phrases = {phrase: n for n, phrases in enumerate(menu_of(choices).plain) for phrase in phrases}
    near = process.extract(" ".join(tokens_of(line[:200])), list(phrases), scorer=fuzz.ratio, limit=3, score_cutoff=76)
    if near:
        found = dict.fromkeys(phrases[name] for name, _, _ in near)
        return f'"{shown}" is not in the list. Did you mean {_numbered(list(found), choices)}?'
    return f'I did not understand "{shown}". {_how_to(choices, several=several)}'


def _how_to(choices: Sequence[Choice], *, several: bool) -> str:
    if several:
        return f"Type numbers from 1 to {len(choices)}, such as 1 3, or words; or not sure."
    return f"Type a number from 1 to {len(choices)}, a word of the list, or not sure."


def _numbered(which: Sequence[int], choices: Sequence[Choice]) -> str:
    return _or_list(f"{n + 1} {menu_of(choices).names[n]}" for n in which)


def _or_list(names: Iterable[str]) -> str:
    return _join(list(names), "or")


def _and_list(names: Iterable[str]) -> str:
    return _join(list(names), "and")


def _join(names: list[str], word: str) -> str:
    if len(names) > _MOST_NAMED + 1:
        names = [*names[:_MOST_NAMED], f"{len(names) - _MOST_NAMED} more"]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} {word} {names[-1]}"
