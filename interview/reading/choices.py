"""Which of a few choices a reply means: by its number, by the words of the choices, or in people's own words."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from interview.reading.clauses import spoken, spoken_words
from interview.reading.lexicon import phrases_told
from interview.reading.own_words import MAYBE, SURE, Guess, guess, subjects
from interview.reading.scope import Stance
from interview.reading.sentence import Sentence
from interview.reading.speech import all_of, holds, starts
from knowledge.shape import Choice, Question

Span = tuple[int, int]
_NUMBERED = re.compile(
    r"^\W*(?:(?:it'?s |take |the |i'?d say )?(?:no\.?|nr\.?|number|option|choice|answer|#)\s*)?"
    r"(\d{1,3}(?:\s*(?:,|;|/|&|\+|and|-|to|\s)\s*#?\d{1,3})*)\W*$",
    re.IGNORECASE,
)
_ORDINAL = re.compile(
    r"^\W*(?:i'?d say |it'?s |take |probably )?(?:the )?(first|second|third|fourth|fifth|last)(?: one| choice| option)?\W*$",
    re.IGNORECASE,
)
_ORDINALS = ("first", "second", "third", "fourth", "fifth")
_NONE = re.compile(
    r"^\W*(?:no|none|nothing|nowt|nope|neither|"
    r"i (?:do not|don'?t|can'?t|cannot) (?:see|find|feel|hear) (?:any|anything|a thing))\b(?:\W+(?:at all|on it|else|really|there|"
    r"of (?:that|them|those|these)|"
    r"yet|that i (?:can see|know of)|so far))*"
    r"\W*(?:$|[,.;])",
    re.IGNORECASE,
)
_THATS_ALL = re.compile(
    r"\b(?:and )?(?:that'?s|that is|that'?ll be|that was|it'?s) (?:all|it|everything|the lot)"
    r"(?: (?:there is|i have|i know|i can (?:tell|see)|i did|of (?:it|them)))?\b(?=\W|$)",
    re.IGNORECASE,
)
_EVERYTHING = re.compile(r"\b(?:all|any|anything|everything|every one|each|both|whatever)\b", re.IGNORECASE)
_EXCEPT = re.compile(r"\b(?:except|but not|apart from|other than|bar|besides|not the|minus)\b", re.IGNORECASE)
_PARTLY = re.compile(
    r"\b(?:some\b.*\bsome|"
    r"except|but|apart from|other than|mostly|mainly|largely|nearly all|almost all|some of|one of|half|partly|rest|others?)\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Chosen:
    """The choices meant and where they stand. maybe: the likeliest, where nothing is clear enough to record."""

    ids: tuple[str, ...] = ()
    span: Span = (0, 0)
    doubt: bool = False
    maybe: tuple[str, ...] = ()
    because: tuple[str, ...] = ()
    denied: tuple[str, ...] = ()


def head(text: str) -> str:
    """What a choice's text begins with, before it explains itself: "whole" of "whole, as it came"."""
    return re.split(r"[:,(]", text, maxsplit=1)[0].strip()


def says_none(text: str) -> bool:
    return bool(_NONE.match(text)) or thats_all(text)


def thats_all(text: str) -> bool:
    """ "That's all", and no more."""
    return bool(_THATS_ALL.search(text)) and not re.sub(r"\W|nothing else", "", _THATS_ALL.sub("", text))


def by_number(text: str, choices: Sequence[Choice], *, several: bool) -> Chosen | None:
    """A bare number, or "number 3", "the second one"; None where the line is more than that, or no such choice."""
    span = (0, len(text))
    if found := _ORDINAL.match(text):
        word = found[1].lower()
        place = len(choices) - 1 if word == "last" else _ORDINALS.index(word)
        return Chosen((choices[place].id,), span) if place < len(choices) else None
    found = _NUMBERED.match(text)
    if found is None:
        return None
    numbers = _spread(found[1])
    if any(not 1 <= n <= len(choices) for n in numbers) or (len(numbers) > 1 and not several):
        return None
    return Chosen(tuple(dict.fromkeys(choices[n - 1].id for n in numbers)), span)


def _spread(text: str) -> list[int]:
    """ "1, 3-5" -> 1, 3, 4, 5."""
    numbers: list[int] = []
    for first, last in re.findall(r"(\d+)(?:\s*(?:-|to)\s*(\d+))?", text):
        numbers += range(int(first), min(int(last or first), int(first) + 99) + 1)
    return numbers


def read_choice(text: str, sentence: Sentence, question: Question, choices: Sequence[Choice], lead: str = "") -> Chosen:
    """`text`: what the line says, with the same places as the sentence. `lead`: agree or deny, where it began so."""
    ids = [c.id for c in choices]
    held = _held(sentence, question.id)
    words = [spoken(w) for w in re.findall(r"[^\W_]+(?:['’][^\W_]+)*", text)]
    whole = _whole(words, question, ids)
    if whole:
        chosen = Chosen((whole,), (0, len(text)), holds(words, "hedge"))
    elif question.kind == "several":
        chosen = _several(text, words, held, question, ids)
    else:
        chosen = _one(text, words, held, question, ids)
    if not chosen.ids and says_none(text):
        none = [id for word in ("nothing", "none") for id in _sayings(question).get((word,), ()) if id in ids]
        chosen = Chosen((none[0],), (0, len(text))) if none else chosen
    if chosen.ids or not lead:
        return chosen
    subject = subjects().get(question.id)
    meant = (subject.yes if lead == "agree" else subject.no) if subject else ""
    if meant in ids and (not chosen.maybe or chosen.maybe == (meant,)):
        return Chosen((meant,), (0, 0), bool(words) and holds(words, "hedge"))
    return chosen


def says_whole(words: Sequence[str], question: Question) -> bool:
    """Whether a clause is one saying of a choice of this question, but for words around it that do nothing."""
    return bool(_whole(words, question, [c.id for c in question.choices]))


def _whole(words: Sequence[str], question: Question, ids: Sequence[str]) -> str:
    """The choice of which the whole reply is one saying, but for words around it that do nothing."""
    bare = tuple(words)
    table = _sayings(question)
    exact = table.get(bare, frozenset()) & set(ids)
    if len(exact) == 1:
        return next(iter(exact))
    while bare and (skip := max(starts(bare, name) for name in ("fill", "hedge", "thanks"))):
        bare = bare[skip:]
    ends = [
        bare[:n] for n in range(len(bare), 0, -1) if n == len(bare) or all_of(bare[n:], ("hedge", "thanks", "fill"))
    ]
    ends += [short for end in ends if (short := _without_articles(end)) != end]
    return next((id for end in ends if len(table.get(end, ())) == 1 for id in table[end] if id in ids), "")


def _without_articles(words: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(word for word in words if word not in ("a", "an", "the")) or words


def _sayings(question: Question) -> dict[tuple[str, ...], frozenset[str]]:
    key = (question.id, tuple(c.id for c in question.choices))
    if key not in _SAYINGS:
        pairs = [*((p, c.id) for c in question.choices for p in (c.text, *c.also)), *phrases_told(question.id)]
        found: dict[tuple[str, ...], frozenset[str]] = {}
        for phrase, id in pairs:
            words = spoken_words(phrase)
            for form in {words, _without_articles(words)}:
                found[form] = found.get(form, frozenset()) | {id}
        _SAYINGS[key] = found
    return _SAYINGS[key]


_SAYINGS: dict[tuple[str, tuple[str, ...]], dict[tuple[str, ...], frozenset[str]]] = {}
Held = dict[Stance, dict[str, Span]]


def _held(sentence: Sentence, question: str) -> Held:
    """stance -> choice -> where it stands."""
    held: Held = {stance: {} for stance in Stance}
    for item, stance in zip(sentence.items, sentence.found, strict=True):
        for sense in item.senses:
            if sense.question == question and sense.sort == "state":
                held[stance].setdefault(sense.value, (item.start, item.start + len(item.typed)))
    return held


def _several(text: str, words: list[str], held: Held, question: Question, ids: list[str]) -> Chosen:
    said = {v: s for v, s in held[Stance.SAID].items() if v in ids}
    unsure = {v: s for v, s in held[Stance.UNSURE].items() if v in ids}
    denied = tuple(v for v in held[Stance.DENIED] if v not in said)
    doubt = holds(words, "hedge") or bool(unsure)
    alone = set(question.alone) | {"none"}
    everything = _EVERYTHING.search(_THATS_ALL.sub(" ", text))
    if everything and _EXCEPT.search(text):
        out = {*denied, *said, *unsure}
        rest = tuple(v for v in ids if v not in out and v not in alone)
        return Chosen(rest, (0, len(text)), doubt) if out and rest else Chosen(denied=denied)
    if everything and not said and not denied:
        rest = tuple(v for v in ids if v not in alone)
        return Chosen(rest, (0, len(text)), doubt) if len(words) < 6 else Chosen()
    for value in alone & said.keys():
        if len(said) > 1:
            said.pop(value)
    found = {**said, **unsure}
    if found:
        return Chosen(tuple(found), _around(found), doubt, denied=denied)
    if says_none(text) and "none" in ids:
        return Chosen(("none",), (0, len(text)), doubt)
    if denied:
        return Chosen(denied=denied)
    return Chosen() if holds(words, "unsure") else _guessed(guess(words, question.id, ids), text, doubt)


def _one(text: str, words: list[str], held: Held, question: Question, ids: list[str]) -> Chosen:
    doubt = holds(words, "hedge") or bool(held[Stance.UNSURE])
    said = {v: s for v, s in {**held[Stance.SAID], **held[Stance.UNSURE]}.items() if v in ids}
    denied = tuple(v for v in held[Stance.DENIED] if v in ids and v not in said)
    guessed = None if holds(words, "unsure") else guess(words, question.id, ids)
    subject = subjects().get(question.id)
    worse = subject.worse if subject else ""
    if worse and _PARTLY.search(text) and worse in {*said, *denied, guessed.value if guessed else ""}:
        return Chosen((worse,), said.get(worse, (0, len(text))), doubt)
    if holds(words, "unsure") and not (worse and worse in said):
        return Chosen(maybe=tuple(said) or denied)
    if len(said) == 1:
        value = next(iter(said))
        if guessed is None or guessed.value == value or guessed.share < SURE:
            return Chosen((value,), said[value], doubt, denied=denied)
    if guessed is not None and guessed.share >= SURE and guessed.value not in denied:
        return Chosen((guessed.value,), said.get(guessed.value, (0, len(text))), doubt, because=guessed.because)
    if not said and len(denied) == 1 and len(ids) == 2:
        return Chosen((next(v for v in ids if v not in denied),), _around(held[Stance.DENIED]), doubt)
    if said:
        return Chosen(maybe=tuple(said), denied=denied)
    return _guessed(guessed, text, doubt)


def _guessed(guessed: Guess | None, text: str, doubt: bool) -> Chosen:
    if guessed is None or guessed.share < MAYBE:
        return Chosen()
    if guessed.share < SURE:
        return Chosen(maybe=(guessed.value,), because=guessed.because)
    return Chosen((guessed.value,), (0, len(text)), doubt, because=guessed.because)


def _around(found: dict[str, Span]) -> Span:
    return min(s for s, _ in found.values()), max(e for _, e in found.values())
