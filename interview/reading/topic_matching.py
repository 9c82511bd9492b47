"""A question as typed -> what it is about: topics, terms and stand-ins, each with its share, the likeliest first.

Which topic, a model tells that has learned from the lines of tests/lines (see `learned`); what is named in it, the names
of our own rows. The question on the screen and what was asked before lend weight.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from math import log
from typing import Any

from interview.reading.learned import Features, in_a_row, in_parts, model, shares
from interview.reading.lexicon import read_spelling
from interview.reading.tokens import Spelling, clean, tokenise
from knowledge.loading import Knowledge
from knowledge.topics import Topics, load_topics

MODEL = "topics"
SAID = ("fact", "remark")  # labels of what is no question, in whatever shape
AT, LAST, NAMED = log(4), log(2), log(3)  # what a question on the screen, the topic before, and a name add
APART = 4  # words, of two that are taken together
NAMERS = {"a_term": "term", "a_stand_in": "stand_in", "two_tins": "stand_in"}  # topics of what they name
COMPARES = frozenset(
    ("or", "difference", "different", "versus", "vs", "same", "compare", "compared", "better", "than", "both")
)
SHELVES = {"materials": ("support", "mounted"), "media": ("media",), "inclusions": ("laid_on",), "sealers": ("ways",)}
_SORTS = {
    "materials": "<support>", "media": "<medium>", "inclusions": "<thing>", "sealers": "<sealer>", "adhesive": "<glue>",
    "classes": "<support>",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Meant:
    """One thing a line may be about. kind: topic, term, stand_in or said (no question).

    `id`: of terms ("shelf.id") and stand-ins all that are named, with spaces between.
    """

    kind: str
    id: str
    share: float


@dataclass(frozen=True, slots=True)
class Words:
    """A line's words; `sorts`: the same with each name as its sort; `names`: what each may be ("term:.dammed"), words."""

    plain: tuple[str, ...]
    sorts: tuple[str, ...]
    names: tuple[tuple[tuple[str, ...], int], ...] = ()


def meant_by(text: str, knowledge: Knowledge, at: str = "", last: str = "") -> list[Meant]:
    """What it may be about, the likeliest first."""
    read = _read(text, knowledge)
    scores = model(MODEL).scores(_features(read))
    topics = load_topics().topics
    named = {label: _named(read, kind, at, knowledge) for label, kind in NAMERS.items()}
    for id in scores:
        here = id in topics and at in topics[id].at
        scores[id] += AT * here + LAST * (id == last) + NAMED * bool(named.get(id))
    found: dict[tuple[str, str], float] = {}
    for id, share in shares(scores).items():
        ids = named.get(id)
        meant = ("said", SAID[0]) if id in SAID else (NAMERS[id], " ".join(ids)) if ids else ("topic", id)
        found[meant] = found.get(meant, 0.0) + share
    return sorted((Meant(kind, id, share) for (kind, id), share in found.items()), key=lambda m: -m.share)


def why_meant(text: str, topic: str, knowledge: Knowledge) -> tuple[str, ...]:
    """The words that speak most for a topic."""
    return model(MODEL).why(_features(_read(text, knowledge)), topic)


def features(text: str, knowledge: Knowledge) -> Features:
    """What the model sees of a line."""
    return _features(_read(text, knowledge))


def named_in(text: str, knowledge: Knowledge) -> tuple[tuple[str, str], ...]:
    """(kind, id) of every term and stand-in that is named, in the order of the text."""
    names = (name.partition(":") for names, _ in _read(text, knowledge).names for name in names)
    return tuple((kind, id) for kind, _, id in names)


def _features(read: Words) -> Features:
    named = (row for row in in_a_row(read.sorts) if "<" in row)
    words = dict.fromkeys((*in_a_row(read.plain), *named, *_pairs(read.plain)))
    return Features(parts=(*words, *in_parts(read.plain)))


def _pairs(words: Sequence[str]) -> Iterator[str]:
    """Two words not far apart, in their order."""
    yield from (f"{a}..{b}" for (i, a), (j, b) in combinations(enumerate(words), 2) if j - i <= APART)


def _named(read: Words, kind: str, at: str, knowledge: Knowledge) -> tuple[str, ...]:
    """The ids of a kind that are named: those of what stands on the screen first, then the most exact; two to compare."""
    only = index_of(knowledge).at_only
    found = []
    for place, (names, length) in enumerate(read.names):
        for k, _, id in (name.partition(":") for name in names):
            shelf = id.partition(".")[0] if kind == "term" else ""
            if k == kind and (shelf not in only or shelf == at):
                found.append((shelf != at, bool(shelf), at not in SHELVES.get(shelf, ()), -length, place, id))
    ids = [(place, id) for *_, place, id in sorted(found)]
    others = [id for place, id in ids if ids and place != ids[0][0] and COMPARES.intersection(read.plain)]
    return tuple(dict.fromkeys((*(id for _, id in ids[:1]), *others[:1])))


# ------------------------------------------------------------ words


def _read(text: str, knowledge: Knowledge) -> Words:
    """Names found, amounts as one word each."""
    index = index_of(knowledge)
    tokens = [t for t in tokenise(_plain(text), index.spelling) if t.kind != "mark"]
    words = [_stem(t.word) for t in tokens]
    plain = ["0" if t.kind == "number" else t.typed for t in tokens]
    names: list[tuple[tuple[str, ...], int]] = []
    sorts: list[str] = []
    place = 0
    while place < len(words):
        length = _longest(words, place, index)
        if length:
            found = index.names[tuple(words[place : place + length])]
            names.append((found, length))
            sorts.append(_sort(found[0]))
        else:
            sorts.append(plain[place])
        place += length or 1
    return Words(tuple(plain), tuple(sorts), tuple(dict.fromkeys(names)))


def _sort(name: str) -> str:
    kind, _, id = name.partition(":")
    return "<stand_in>" if kind == "stand_in" else _SORTS.get(id.partition(".")[0], "<word>")


def _longest(words: Sequence[str], place: int, index: Index) -> int:
    for length in range(min(index.reach, len(words) - place), 0, -1):
        if tuple(words[place : place + length]) in index.names:
            return length
    return 0


_AMOUNTS = (
    (re.compile(r"\d+(?:[.,]\d+)? ?(?:cm|mm|in|inch(?:es)?)? ?(?:x|by|×|\*) ?\d+(?:[.,]\d+)?(?: ?(?:cm|mm|in|inch(?:es)?|m)\b)?"), "asize"),
    (re.compile(r"\d+(?:[.,/]\d+)? ?(?:mm|cm|inch(?:es)?|in|\")(?!\w)"), "alength"),
    (re.compile(r"\d+ ?(?:%|percent|per cent)"), "apercentage"),
)  # fmt: skip
_IS = re.compile(r"\b(what|how|where|who|when|which)'?s\b")  # "what's": two words
_DEGREES = re.compile(r"(\d+) ?(?:°|degrees?|celsius|fahrenheit)? ?(c|f|celsius|fahrenheit|degrees?|°)(?!\w)")
_USUAL_ROOM = 21  # degrees Celsius


def _plain(text: str) -> str:
    """Small letters; amounts with their unit as one word each: a size, a length, a percentage, a cold or a hot room."""
    text = _IS.sub(r"\1 is", clean(text).casefold())
    for pattern, word in _AMOUNTS:
        text = pattern.sub(f" {word} ", text)
    return _DEGREES.sub(_degrees, text).replace("'", "")


def _degrees(match: re.Match[str]) -> str:
    fahrenheit = match[2].startswith("f") or int(match[1]) > 45
    celsius = (int(match[1]) - 32) / 1.8 if fahrenheit else int(match[1])
    return " coldroom " if celsius < _USUAL_ROOM else " hotroom "


def _stem(word: str) -> str:
    """Without the endings of verbs: sealing, sealed and seals are seal."""
    for ending in ("ing", "ed", "er", "ly"):
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            word = word[: -len(ending)]
            if len(word) > 3 and word[-1] == word[-2] and word[-1] not in "lsz":
                word = word[:-1]
            break
    return word[:-1] if word.endswith("e") and len(word) > 4 else word


# ------------------------------------------------------------ names


@dataclass(frozen=True, slots=True)
class Index:
    """names: words, their endings cut -> what they name; `at_only`: questions whose choices are named only while asked."""

    spelling: Spelling
    names: Mapping[tuple[str, ...], tuple[str, ...]]
    reach: int
    at_only: frozenset[str]


@lru_cache(maxsize=4)
def index_of(knowledge: Knowledge) -> Index:
    """Made once for a knowledge; some hundredths of a second."""
    spelling = read_spelling()
    names: dict[tuple[str, ...], tuple[str, ...]] = {}
    for phrase, name in _names(load_topics(), knowledge):
        words = tuple(_stem(t.word) for t in tokenise(_plain(phrase), spelling) if t.kind != "mark")
        if words and name not in names.get(words, ()):
            names[words] = (*names.get(words, ()), name)
    at_only = frozenset(knowledge.questions) - {"adhesive", *_SORTS}
    return Index(spelling, names, max(map(len, names)), at_only)


def _names(topics: Topics, knowledge: Knowledge) -> Iterator[tuple[str, str]]:
    """Every phrase that names a term or a stand-in."""
    for row in topics.stand_ins.values():
        yield from ((phrase, f"stand_in:{row.id}") for phrase in (row.name, *row.also, row.id.replace("_", " ")))
    shelves: dict[str, Mapping[str, Any]] = {
        "materials": knowledge.materials, "media": knowledge.media, "inclusions": knowledge.inclusions,
    }  # fmt: skip
    for (shelf, id), term in topics.terms.items():
        if shelf in shelves and id in shelves[shelf]:
            row = shelves[shelf][id]
            yield from ((phrase, f"term:{shelf}.{id}") for phrase in (row.name, id.replace("_", " "), *row.also))
        elif shelf in knowledge.questions:
            choice = next((c for c in knowledge.questions[shelf].choices if c.id == id), None)
            said = (choice.text, *choice.also) if choice else ()
            yield from ((phrase, f"term:{shelf}.{id}") for phrase in said)
        else:
            yield id.replace("_", " "), f"term:.{id}"
        yield from ((phrase, f"term:{shelf}.{id}") for phrase in term.also)
    for sealer in knowledge.sealers.values():
        yield from ((phrase, f"term:sealers.{sealer.id}") for phrase in (sealer.name, *sealer.also))
    for each in knowledge.classes.values():
        yield from ((phrase, f"term:classes.{each.id}") for phrase in each.say)
