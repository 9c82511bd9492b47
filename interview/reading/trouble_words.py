"""What somebody in trouble says -> hazards, signs and finds. The signs as our own lines taught (signs_heard); hazards,
finds and marks by the phrases of knowledge/signs, word by word.

A phrase counts where its words stand in order, in one clause, with at most two others between. A longer phrase
takes the words of a shorter one within it. "No", "not" and their kin before it take it away.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from functools import lru_cache

from interview.reading.signs_heard import NONE, signs_of
from interview.reading.tokens import clean, fold
from knowledge.troubles import Hazard, HazardKind, Troubles, signs_as_told, since_of
from knowledge.word_files import read_words

MOST_SIGNS, NEXT = 4, 0.1  # signs that are kept; share of the first's from which on one is
LEAST = 0.03  # share of all that was said, below which nothing is heard of a trouble
FAINT, DOUBT = 0.22, 0.45  # the chief sign below this share: none is heard; below that one: it is in doubt
SPEAKS, WITH_HELP, MAY_BE = (
    0.85,
    0.3,
    0.4,
)  # shares of trouble in a line: it is, it is where help is called for, it may be
GAP = 2  # words that may stand between two words of a phrase
SHORT = 20  # words; who describes a piece at length has not come for help
NEAR = 3  # words before a phrase within which a denial counts
SHORTEST_SLIP, LIKE = 5, 85.0  # letters; share of likeness in %
_DENIES = frozenset(
    [
        "no",
        "not",
        "isnt",
        "arent",
        "never",
        "without",
        "wasnt",
        "nothing",
        "none",
        "dont",
        "doesnt",
        "didnt",
        "nor",
        "hardly",
    ]
)
_NOT_YET = _DENIES | {"havent", "hasnt", "yet", "pour"}  # with one of these it is plain that nothing is poured
_WORD = re.compile(r"[^\W_]+(?:'[^\W_]+)*|[.,;:!?\n]")
_BREAKS = frozenset(".;:!?\n") | {"but", "and", ","}
_AGO = re.compile(
    r"\b(?P<n>\d+(?:[.,]\d+)?|a couple of|a few|half an|half a|an|a|one|two|three|four|five|six|seven|eight|nine|ten|twelve)"
    r"\s*(?P<u>min(?:ute)?s?|h(?:ou)?rs?|h|days?|weeks?|months?|years?)\b(?=\s+(?:ago|old|now|since))",
    re.IGNORECASE,
)
_NUMBERS = {
    "a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9, "ten": 10, "twelve": 12, "a couple of": 2, "a few": 3, "half an": 0.5, "half a": 0.5,
}  # fmt: skip
_ON = ("on", "onto", "in", "into", "down", "over", "up")
_WHOSE = ("my", "his", "her", "our", "their")
_NOW = frozenset(("is", "its", "are", "keeps", "getting", "gets", "still", "now"))
_CRY = re.compile(
    r"\boh no\b|\b(?:oh|ah|argh?|god|gosh|help)?[\s,]*no+(?=[\s,]*(?:!|no\b|its\b|it's\b|the\b|my\b|i\b))",
    re.IGNORECASE,
)  # a cry denies nothing
_IT = re.compile(
    r"(?:it|its|it's|it’s)\b(?:\W+\w+){1,4}\W*$", re.IGNORECASE
)  # "it's sticky": short, and no piece in it
_HOURS = {"m": 1 / 60, "h": 1.0, "d": 24.0, "w": 168.0, "y": 8766.0}


@dataclass(frozen=True, slots=True)
class Alarm:
    """Somebody is hurt, or is about to be."""

    id: str
    cause: str
    kinds: tuple[HazardKind, ...] = ()


@dataclass(frozen=True, slots=True)
class Heard:
    """hazards: the worst first. signs: each with its share, the chief one first. trouble: how likely it is about one.

    finds: look -> find. hours: since mixing. marks: what the line is about, see marks.toml.
    """

    hazards: tuple[Alarm, ...] = ()
    signs: tuple[tuple[str, float], ...] = ()
    finds: dict[str, str] = field(default_factory=dict)
    hours: float | None = None
    marks: frozenset[str] = frozenset()
    trouble: float = 0.0

    @property
    def doubtful(self) -> bool:
        """Whether the chief sign is unsure: where several may be meant, one is then picked."""
        return bool(self.signs) and self.signs[0][1] < DOUBT


@dataclass(frozen=True, slots=True)
class _Hit:
    kind: str  # hazard, mark, or a look's id
    id: str
    places: frozenset[int]
    score: float


def read_trouble(text: str, troubles: Troubles, at: str = "") -> Heard:
    """Read one line. Never raises; takes time in proportion to its length. `at`: the look it answers."""
    words = _words(text, troubles)
    hits = _longest([hit for hit in _hits(words, troubles) if not _denied(words, hit)])
    hours = hours_in(text)
    finds = _finds(hits)
    marks = frozenset(hit.id for hit in hits if hit.kind == "mark")
    if finds.get("begun") == "not yet" and not _unpoured(hits, words) and marks & {"resin", "poured"}:
        del finds["begun"]  # "sealed it before I poured": resin is on it
    if hours is not None:
        finds["since"] = since_of(hours)
    trouble, signs = _signs(text, finds, marks, troubles)
    told = {sign for sign, _ in signs}
    finds = {k: find for k, find in finds.items() if k == at or not (of := troubles.looks[k].of) or told & set(of)}
    return Heard(tuple(_hazards(hits, words, troubles)), signs, finds, hours, marks, trouble)


def _unpoured(hits: list[_Hit], words: list[str]) -> bool:
    unpoured = [hit for hit in hits if (hit.kind, hit.id) == ("begun", "not yet")]
    return any(words[place] in _NOT_YET for hit in unpoured for place in hit.places)


def speaks_of_trouble(text: str, troubles: Troubles) -> bool:
    """Whether a line said elsewhere is about something gone wrong, and not about a piece or an answer."""
    heard = read_trouble(text, troubles)
    if heard.hazards and heard.marks:
        return True
    called = heard.marks & {"poured", "wrong"} or _IT.match(text.strip())
    return heard.trouble >= (WITH_HELP if called else SPEAKS) or {"poured", "wrong"} <= heard.marks


def may_be_trouble(text: str, troubles: Troubles) -> bool:
    """Whether a first sentence could be either: it is then asked."""
    return read_trouble(text, troubles).trouble >= MAY_BE and len(text.split()) <= SHORT


def hours_in(text: str, *, asked: bool = False) -> float | None:
    """Hours since mixing, where the line tells: "3 hours ago". `asked`: the bare time is enough."""
    plain = " ".join(fold(text).split())
    found = _AGO.search(f"{plain} ago" if asked else plain)
    if found is None:
        return None
    number = found["n"].replace(",", ".")
    unit = "h" if found["u"][0] == "h" else found["u"][:2]
    each = 730.5 if unit == "mo" else _HOURS[unit[0]]
    return (_NUMBERS[number] if number in _NUMBERS else float(number)) * each


# ------------------------------------------------------------------ words


def stem(word: str) -> str:
    """One form for cracked, cracking, cracks; for a phrase of several words, where the others keep it in bounds."""
    for end in ("ing", "ed", "es", "s", "e"):
        if len(word) > len(end) + 2 and word.endswith(end) and not word.endswith(("ss", "us")):
            word = word[: -len(end)]
            break
    return word[:-1] if len(word) > 3 and word[-1] == word[-2] else word


def _plural(word: str) -> str:
    """One form for one and many: for a phrase of one word, and for all that tells of a hurt person."""
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")) else word


def _words(text: str, troubles: Troubles) -> list[str]:
    known = _indexed(troubles).vocabulary
    ordinary = _ordinary()
    text = _CRY.sub(" ", clean(text).replace("-", " ").replace("/", " "))
    found = [fold(w).replace("'", "") for w in _WORD.findall(text)]
    return [w if w in _BREAKS or w in known or w in ordinary else _mended(w, known) for w in found]


@lru_cache(maxsize=1)
def _ordinary() -> frozenset[str]:
    """Everyday words, which are no slips for others."""
    return frozenset(word for theme in read_words("plain")["plain"] for word in theme["say"].split())


def _mended(word: str, known: frozenset[str]) -> str:
    if len(word) < SHORTEST_SLIP or not word.isalpha():
        return word
    from rapidfuzz import fuzz, process

    near = process.extractOne(word, known, scorer=fuzz.ratio, score_cutoff=LIKE)
    return near[0] if near else word


@dataclass(frozen=True, slots=True)
class _Index:
    """The phrases by their first word, folded for phrases of several words and of one, and every word in them."""

    several: dict[str, list[tuple[tuple[str, ...], str, str]]]
    single: dict[str, list[tuple[tuple[str, ...], str, str]]]
    vocabulary: frozenset[str]


@lru_cache(maxsize=2)
def _indexed(troubles: Troubles) -> _Index:
    index = _Index({}, {}, frozenset())
    words: set[str] = set()
    for phrase, kind, id in _phrases(troubles):
        parts = phrase.split()
        words |= set(parts)
        exact = len(parts) == 1 or kind == "hazard"
        folded = tuple(map(_plural if exact else stem, parts))
        (index.single if exact else index.several).setdefault(folded[0], []).append((folded, kind, id))
    return replace(index, vocabulary=frozenset(words))


def _phrases(troubles: Troubles) -> Iterator[tuple[str, str, str]]:
    for hazard in troubles.hazards.values():
        yield from ((phrase, "hazard", hazard.id) for phrase in hazard.say)
        yield from (
            (f"{on} {whose} {part}", "hazard", hazard.id) for part in hazard.body for on in _ON for whose in _WHOSE
        )
    for mark in troubles.marks.values():
        yield from ((phrase, "mark", mark.id) for phrase in mark.say)
    for look in troubles.looks.values():
        for find in look.finds:
            yield from ((phrase, look.id, find.id) for phrase in find.say)


# ------------------------------------------------------------------ matching


def _hits(words: list[str], troubles: Troubles) -> Iterator[_Hit]:
    index = _indexed(troubles)
    for phrases, fold_ in ((index.several, stem), (index.single, _plural)):
        folded = [fold_(word) for word in words]
        for start, word in enumerate(folded):
            for phrase, kind, id in phrases.get(word, ()):
                places = _match(folded, words, start, phrase)
                if places:
                    spread = places[-1] - places[0] + 1 - len(places)
                    yield _Hit(kind, id, frozenset(places), len(places) - 0.3 * spread)


def _match(stems: list[str], words: list[str], start: int, phrase: tuple[str, ...]) -> list[int]:
    places = [start]
    for wanted in phrase[1:]:
        at = places[-1] + 1
        for next_ in range(at, min(at + GAP + 1, len(stems))):
            if stems[next_] == wanted:
                places.append(next_)
                break
            if words[next_] in _BREAKS:
                return []
        else:
            return []
    return places


def _denied(words: list[str], hit: _Hit) -> bool:
    first = min(hit.places)
    for place in range(first - 1, max(-1, first - 1 - NEAR), -1):
        if words[place] in _BREAKS:
            return False
        if words[place] in _DENIES:
            return True
    return False


def _longest(hits: list[_Hit]) -> list[_Hit]:
    """Without those whose words all lie within a longer phrase of the same kind, or a look's within a longer one's."""
    return [hit for hit in hits if not any(_takes(other, hit) for other in hits)]


def _takes(long: _Hit, short: _Hit) -> bool:
    if "mark" in (long.kind, short.kind) or not short.places < long.places:
        return False
    return long.kind == short.kind or (short.kind == "touch" and long.kind != "under")


def _hazards(hits: list[_Hit], words: list[str], troubles: Troubles) -> Iterator[Alarm]:
    stuff = any(hit.kind == "mark" and hit.id == "stuff" for hit in hits)
    plain = " ".join(words)
    for hazard in sorted(troubles.hazards.values(), key=lambda h: h.order):
        named = [hit for hit in hits if hit.kind == "hazard" and hit.id == hazard.id]
        if not named or _no_hazard(hazard, named, words, stuff=stuff):
            continue
        kinds = tuple(k for k in hazard.kinds if _says(plain, k.say))
        yield Alarm(hazard.id, next((k.cause for k in kinds if k.cause), hazard.cause), kinds)


def _no_hazard(hazard: Hazard, named: list[_Hit], words: list[str], *, stuff: bool) -> bool:
    """It is wood that drank, a jigsaw's piece that the dog ate, a cup that was hot yesterday."""
    plain = " ".join(words)
    if set(words) & set(hazard.unless) and not _says(plain, hazard.who):
        return True
    if set(words) & set(hazard.other) and not stuff:
        return True
    return _says(plain, hazard.over) and not any(_is_now(words, hit) for hit in named)


def _is_now(words: list[str], hit: _Hit) -> bool:
    first = min(hit.places)
    return any(words[place] in _NOW for place in (*hit.places, max(0, first - 1)))


def _says(plain: str, phrases: Iterable[str]) -> bool:
    return any(re.search(rf"\b{phrase}\b", plain) for phrase in phrases)


def _signs(
    text: str, finds: dict[str, str], marks: frozenset[str], troubles: Troubles
) -> tuple[float, tuple[tuple[str, float], ...]]:
    """How likely it is trouble at all, and its signs. Of the sealer, where that is spoken of, and no resin."""
    shares = signs_of(text)
    trouble = 1 - shares.pop(NONE)
    if trouble < LEAST:
        return trouble, ()
    listed = tuple((sign, share / trouble) for sign, share in shares.items() if sign in troubles.signs)
    told = signs_as_told(troubles, listed, finds, of_sealer="sealer" in marks and not marks & {"resin", "poured"})
    if not told or told[0][1] < FAINT:
        return trouble, ()
    return trouble, tuple((s, share) for s, share in told[:MOST_SIGNS] if share >= NEXT * told[0][1])


def _finds(hits: list[_Hit]) -> dict[str, str]:
    """The best matched find of each look."""
    best: dict[str, _Hit] = {}
    for hit in hits:
        if hit.kind not in ("hazard", "mark") and (hit.kind not in best or hit.score > best[hit.kind].score):
            best[hit.kind] = hit
    return {look: hit.id for look, hit in best.items()}
