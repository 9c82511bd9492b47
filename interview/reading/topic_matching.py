"""A question as typed -> what it is about: the topics, terms and stand-ins it may mean, the likeliest first.

Every topic lists how people ask it. A question is compared with each of these phrases: words in common count the
more, the fewer topics have them. The question on the screen and what was asked before lend a little weight.
"""

from __future__ import annotations

import math
import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from interview.reading.lexicon import read_spelling
from interview.reading.tokens import Spelling, clean, tokenise
from knowledge.loading import Knowledge
from knowledge.topics import Topics, load_topics

LEAST = 0.44  # below this, it is not known what is meant
SURE = 0.68  # from here on it is answered, if no other comes near
CLOSE = 0.14  # nearer than this, it is asked which of two is meant
MOST, UNKNOWN = 3.4, 2.6  # weights: of a rare word at most, and of one that no topic has
WEAK, WEAK_WORDS = 0.4, "weak"  # what weighs a word of everyday talk; the form that lists these
THIN = 1.5  # what a match of light words alone lacks
USUAL, FORM = (
    1.1,
    {
        "<talk>": 0.05,
        "<people>": 0.2,
        "<number>": 0.8,
        "<may_i>": 0.4,
        "<must_i>": 0.5,
        "<will_do>": 0.6,
        "<where>": 0.7,
        "<which>": 0.6,
        "<when>": 0.8,
        "<who>": 0.8,
        "<not>": 0.7,
        "<what>": 0.4,
        "<how>": 0.6,
        "<only>": 0.7,
        "<what_if>": 1.5,
        "<tell>": 1.4,
        "<meaning>": 1.4,
        "<why>": 1.4,
    },
)  # what weighs a form, by its sort
NAMED = 3.4  # weight of a name: a term, a stand-in
AT, LAST = 0.16, 0.08  # what the question on the screen, and the topic before, add
BEST, WHOLE = 0.72, 0.28  # shares of the nearest phrase and of all words of a topic
LIKELY, PRIOR = 0.4, 6.0  # share of how likely the words are in a topic; weight of what is usual in that
NAMERS = ("a_term", "a_stand_in", "two_tins")  # topics of how people ask about what they name
SEALING = ("ways", "tried", "end", "sealer_spread", "resin_on")  # prompts at which a tin is on one's mind
ASKED_OUT = 0.15  # for a term with it, and for a stand-in with "can I use"
HEAVY = 1.6  # of a word that tells what a question is about
LIGHT, STRANGE = (
    1.0,
    0.95,
)  # a word that is no part of asking for a meaning, or whether it will do, makes that less likely
MISFIT = 0.6  # of a term without "what is", of a stand-in with it
SHELVES = {"materials": ("support", "mounted"), "media": ("media",), "inclusions": ("laid_on",), "sealers": ("ways",)}
_SORTS = {
    "materials": "<support>", "media": "<medium>", "inclusions": "<thing>", "sealers": "<sealer>", "adhesive": "<glue>",
    "classes": "<support>",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Meant:
    """One thing a question may be about. kind: topic, term or stand_in; `id`: its id (a term's "shelf.id")."""

    kind: str
    id: str
    score: float


@dataclass(frozen=True, slots=True)
class Index:
    """Everything that can be asked about, as bags of words. By topic: `phrases`, all its `words`, `at`."""

    spelling: Spelling
    forms: Mapping[tuple[str, ...], str]
    names: Mapping[tuple[str, ...], tuple[str, ...]]  # words -> what they name: "term:.dammed", "stand_in:oil"
    weight: Mapping[str, float] = field(default_factory=dict)
    phrases: Mapping[str, tuple[frozenset[str], ...]] = field(default_factory=dict)
    words: Mapping[str, frozenset[str]] = field(default_factory=dict)
    at: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    known: frozenset[str] = frozenset()
    at_only: frozenset[str] = frozenset()  # questions whose choices are named only while they are asked
    reach: int = 1
    mended: dict[str, str] = field(default_factory=dict)
    sizes: dict[frozenset[str], float] = field(default_factory=dict)  # of phrases, as they are met
    weak: frozenset[str] = frozenset()  # words that say little, however rare here
    counts: Mapping[str, Mapping[str, int]] = field(default_factory=dict)  # topic -> word -> phrases that have it
    totals: Mapping[str, int] = field(default_factory=dict)
    overall: Mapping[str, int] = field(default_factory=dict)
    all_words: int = 0

    def weigh(self, token: str) -> float:
        if token.startswith(("term:", "stand_in:")):
            return NAMED
        weight = min(self.weight.get(token, UNKNOWN), MOST) * (WEAK if token in self.weak else 1.0)
        return weight * FORM.get(token, USUAL) if token[0] == "<" else weight


def meant_by(text: str, knowledge: Knowledge, at: str = "", last: str = "") -> list[Meant]:
    """What it may be about, the likeliest first; empty where nothing comes near."""
    index = index_of(knowledge)
    read = read_words(text, index)
    found = [
        Meant("topic", id, _score(read.whole, read.sorts, id, index) + _prior(id, index, at, last))
        for id in index.phrases
        if id not in NAMERS
    ]
    found += _of_names(read, index, at)
    return sorted((m for m in found if m.score >= LEAST / 2), key=lambda m: -m.score)


def is_rhetoric(text: str, knowledge: Knowledge) -> bool:
    """Whether it only has the shape of a question: "who cares", "would you believe"."""
    return "<rhetoric>" in read_words(text, index_of(knowledge)).bag


def is_thin(text: str, knowledge: Knowledge) -> bool:
    """Whether hardly a word of it tells what is asked about: "is this ok", "does that work"."""
    index = index_of(knowledge)
    read = read_words(text, index)
    return not read.names and sum(index.weigh(token) > HEAVY for token in read.whole) < 2


# ------------------------------------------------------------ scores


def _score(bag: frozenset[str], sorts: frozenset[str], id: str, index: Index) -> float:
    """0 to 1: how near the nearest phrase of the topic is, and how much of the question its words cover."""
    if not bag:
        return 0.0
    nearest = max(_cosine(bag | (sorts & phrase), phrase, index) for phrase in index.phrases[id])
    whole = _size(bag & index.words[id], index) / _size(bag, index)
    return (1 - LIKELY) * (BEST * nearest + WHOLE * whole) + LIKELY * _likely(bag, id, index)


def _likely(bag: frozenset[str], id: str, index: Index) -> float:
    """How much likelier the words are in this topic than in any: a mean over the words, about 0 to 1."""
    counted, total = index.counts[id], index.totals[id]
    gain, words = 0.0, 0
    for token in bag:
        if token == "<talk>":
            continue
        words += 1
        usual = (index.overall.get(token, 0) + 1) / index.all_words
        here = (counted.get(token, 0) + PRIOR * usual) / (total + PRIOR)
        share = min(1.0, FORM.get(token, 1.0)) if token[0] == "<" else WEAK if token in index.weak else 1.0
        gain += math.log(here / usual) * share
    return 0.5 + gain / max(1, words) / 6


def _cosine(one: frozenset[str], other: frozenset[str], index: Index) -> float:
    both = one & other
    if not both:
        return 0.0
    if other not in index.sizes:
        index.sizes[other] = _size(other, index)
    return _size(both, index) / math.sqrt((_size(one, index) + THIN) * (index.sizes[other] + THIN))


def _size(bag: Iterable[str], index: Index) -> float:
    return sum(index.weigh(token) ** 2 for token in bag)


def _prior(id: str, index: Index, at: str, last: str) -> float:
    return AT * (at in index.at.get(id, ())) + LAST * (id == last)


def _of_names(read: Words, index: Index, at: str) -> Iterator[Meant]:
    """Terms and stand-ins that are named, by how the question goes beside the name."""
    asks_meaning = "<meaning>" in read.bag
    for name in read.names:
        kind, _, id = name.partition(":")
        shelf = id.partition(".")[0]
        if kind == "term" and shelf in index.at_only and shelf != at:
            continue
        topic = "a_term" if kind == "term" else "a_stand_in"
        near = max(_cosine(read.bag | {name}, phrase | {name}, index) for phrase in index.phrases[topic])
        whole = (_size(read.bag & index.words[topic], index) + NAMED**2) / (_size(read.bag, index) + NAMED**2)
        strange = [t for t in read.bag - index.words[topic] if index.weigh(t) > LIGHT]
        near *= STRANGE ** len(strange)
        here = at in SEALING if kind == "stand_in" else at in (shelf, *SHELVES.get(shelf, ()))
        fits = asks_meaning is (kind == "term") or not read.bag
        score = (BEST * near + WHOLE * whole) * (1 if fits else MISFIT) + here * AT / 2
        plainly = asks_meaning if kind == "term" else bool(read.bag & {"<will_do>", "<may_i>"})
        yield Meant(kind, id, score + ASKED_OUT * plainly)


# ------------------------------------------------------------ words


@dataclass(frozen=True, slots=True)
class Words:
    """A question's words, forms as one. `bag`: those outside of `names`; `whole`: all; `sorts`: of what is named."""

    bag: frozenset[str]
    whole: frozenset[str]
    names: tuple[str, ...] = ()
    sorts: frozenset[str] = frozenset()


def read_words(text: str, index: Index) -> Words:
    """Forms read as one word, names found, endings cut, slips mended."""
    words = [_mended(w, index) for w in topic_words(text, index.spelling)]
    names: list[str] = []
    bag: set[str] = set()
    place = 0
    while place < len(words):
        named = _longest(words, place, index.names, index.reach)
        length, token = _token(words, place, index)
        if named and named >= length:
            names += index.names[tuple(words[place : place + named])]
        else:
            bag.add(token)
        place += max(named, length)
    if words[-1:] in (["is"], ["are"]) and "what" in words:  # "asks what rubber cement is"
        bag = (bag - {"<what>"}) | {"<meaning>"}
    sorts = frozenset(_sort(name) for name in names)
    return Words(frozenset(bag), _whole(words, index), tuple(dict.fromkeys(names)), sorts)


def _whole(words: Sequence[str], index: Index) -> frozenset[str]:
    bag: set[str] = set()
    place = 0
    while place < len(words):
        length, token = _token(words, place, index)
        bag.add(token)
        place += length
    return frozenset(bag)


def _token(words: Sequence[str], place: int, index: Index) -> tuple[int, str]:
    """How many words a form takes here, and what they count as."""
    length = _longest(words, place, index.forms, index.reach)
    if length:
        return length, f"<{index.forms[tuple(words[place : place + length])]}>"
    return 1, "<number>" if words[place][0].isdigit() else words[place]


def _sort(name: str) -> str:
    kind, _, id = name.partition(":")
    return "<stand_in>" if kind == "stand_in" else _SORTS.get(id.partition(".")[0], "<word>")


def _longest(words: Sequence[str], place: int, table: Mapping[tuple[str, ...], object], reach: int) -> int:
    for length in range(min(reach, len(words) - place), 0, -1):
        if tuple(words[place : place + length]) in table:
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


def _with_amounts(text: str) -> str:
    """Amounts with their unit as one word each: a size, a length, a percentage, a cold or a hot temperature."""
    for pattern, word in _AMOUNTS:
        text = pattern.sub(f" {word} ", text)
    return _DEGREES.sub(_degrees, text)


def _degrees(match: re.Match[str]) -> str:
    fahrenheit = match[2].startswith("f") or int(match[1]) > 45
    celsius = (int(match[1]) - 32) / 1.8 if fahrenheit else int(match[1])
    return " coldroom " if celsius < _USUAL_ROOM else " hotroom "


def topic_words(text: str, spelling: Spelling) -> list[str]:
    plain = _IS.sub(r"\1 is", _with_amounts(clean(text).casefold())).replace("'", "")
    return [_stem(t.word) for t in tokenise(plain, spelling) if t.kind != "mark" or t.typed == "="]


def _stem(word: str) -> str:
    """Without the endings of verbs: sealing, sealed and seals are seal."""
    for ending in ("ing", "ed", "er", "ly"):
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            word = word[: -len(ending)]
            if len(word) > 3 and word[-1] == word[-2] and word[-1] not in "lsz":
                word = word[:-1]
            break
    return word[:-1] if word.endswith("e") and len(word) > 4 else word


def _mended(word: str, index: Index) -> str:
    """The word, or the one known word that a slip was meant for."""
    if word in index.known or len(word) < 5 or not word.isalpha():
        return word
    if word not in index.mended:
        from rapidfuzz.distance import OSA

        near = {w for w in index.known if w[:1] == word[0] and abs(len(w) - len(word)) <= 1 and len(w) >= 4}
        near = {w for w in near if OSA.distance(word, w, score_cutoff=1) <= 1}
        index.mended[word] = near.pop() if len(near) == 1 else word
    return index.mended[word]


# ------------------------------------------------------------ the index


@lru_cache(maxsize=4)
def index_of(knowledge: Knowledge) -> Index:
    """Made once for a knowledge; some hundredths of a second."""
    topics = load_topics()
    spelling = read_spelling()
    forms = {tuple(topic_words(p, spelling)): f.id for f in topics.forms.values() for p in f.says if f.id != WEAK_WORDS}
    weak = frozenset(w for p in topics.forms[WEAK_WORDS].says for w in topic_words(p, spelling))
    names: dict[tuple[str, ...], tuple[str, ...]] = {}
    for phrase, name in _names(topics, knowledge):
        words = tuple(topic_words(phrase, spelling))
        if words and name not in names.get(words, ()):
            names[words] = (*names.get(words, ()), name)
    reach = max(map(len, (*forms, *names)))
    bare = Index(spelling, forms, {}, reach=reach)
    phrases = {id: tuple(read_words(ask, bare).whole for ask in t.asks) for id, t in topics.topics.items()}
    words_of = {id: frozenset().union(*bags) for id, bags in phrases.items()}
    at = {id: topic.at for id, topic in topics.topics.items()}
    weight = _weights(words_of)
    known = frozenset((*weight, *(w for words in (*forms, *names) for w in words)))
    at_only = frozenset(knowledge.questions) - {"adhesive", *_SORTS}
    counts = {id: Counter(token for bag in bags for token in bag) for id, bags in phrases.items()}
    overall = sum(counts.values(), Counter())
    return Index(
        spelling, forms, names, weight, phrases, words_of, at, known, at_only, reach, {}, {}, weak, counts,
        {id: sum(c.values()) for id, c in counts.items()}, overall, sum(overall.values()) + len(overall),
    )  # fmt: skip


def _weights(words: dict[str, frozenset[str]]) -> dict[str, float]:
    count: dict[str, int] = defaultdict(int)
    for bag in words.values():
        for token in bag:
            count[token] += 1
    return {token: math.log(1 + len(words) / n) for token, n in count.items()}


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


def named_in(text: str, knowledge: Knowledge) -> tuple[tuple[str, str], ...]:
    """(kind, id) of every term and stand-in that is named, in the order of the text."""
    names = read_words(text, index_of(knowledge)).names
    return tuple((kind, id) for kind, _, id in (name.partition(":") for name in names))
