"""What in a sentence is denied, and what the speaker is not sure of. In doubt a denial reaches far.

A denial starts at its word and runs over the nouns and states after it. It ends at a full stop, at "but",
at a comma that does not go on with "or", at a preposition after its noun, at an article after its noun or
state, and at an "and" that starts something new.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum
from functools import cache

from interview.reading.lexicon import marked, read_spelling
from interview.reading.matching import Item
from interview.reading.tokens import words_of

STRONG = frozenset(".;!?\n")
_MEAT = frozenset(("noun", "state", "thing", "uncoated", "piece_word", "unknown"))
_WISHES = frozenset(("want", "wanted", "like", "need", "let"))
_PREPOSITIONS = frozenset(("on", "mounted_on", "in", "aside", "of"))
_NOUN_DENIALS = frozenset(("no", "without", "none", "nothing", "nobody", "minus", "sans", "free"))
_DEFINITE = frozenset(("the", "my", "our", "your", "her", "his", "their", "this", "that", "these", "those"))
_TURNS = frozenset(("not", "not_after", "unsure", "except", "but"))
_INTERJECTION = frozenset(("no", "none", "nope", "not"))


class Stance(Enum):
    """How the speaker holds a thing to be."""

    SAID = "said"
    DENIED = "denied"
    UNSURE = "unsure"
    VOID = "void"  # says nothing by itself: "not glued" in "not glued with paste"


@dataclass(slots=True)
class _Reading:
    """The state while reading on."""

    stance: Stance = Stance.SAID
    noun: bool = False  # a noun has been met since the denying word
    state: bool = False
    verb: bool = False  # the denial is of a verb: "isn't", "not", not "no"
    wish: bool = False  # "don't want ..."
    prepared: bool = False  # a preposition came since the state
    met: list[int] = field(default_factory=list)
    denier: int = -1  # the place of the state that denies, if one does

    def start(self, stance: Stance, verb: bool) -> None:
        self.stance, self.verb = stance, verb
        self.noun = self.state = self.wish = self.prepared = False
        self.met = []
        self.denier = -1

    def end(self) -> None:
        self.start(Stance.SAID, False)


def stances(items: tuple[Item, ...]) -> list[Stance]:
    """One stance for each item."""
    found = [Stance.SAID] * len(items)
    reading = _Reading()
    onward = _or_ahead(items)
    for place, item in enumerate(items):
        if item.role == "mark":
            _at_mark(items, place, reading, onward)
        elif item.role in _TURNS:
            _turn(items, place, reading, found)
        elif reading.stance is not Stance.SAID:
            _inside(items, place, reading, found)
        elif is_denial(item):
            reading.start(Stance.DENIED, True)
            reading.state, reading.denier = True, place
        elif found[place] is Stance.SAID and _denies_nouns(item):
            reading.start(Stance.DENIED, False)  # "no paint or glitter"
            reading.noun = True
    return found


def _turn(items: tuple[Item, ...], place: int, reading: _Reading, found: list[Stance]) -> None:
    """At a word that begins, ends or turns a denial or a doubt."""
    role = items[place].role
    if role == "not":
        _at_not(items, place, reading, found)
    elif role == "not_after":
        _deny_before(items, place, found)
    elif role == "unsure":
        _at_unsure(items, place, reading, found)
    elif role == "except":
        reading.start(Stance.SAID if reading.stance is Stance.DENIED else Stance.DENIED, False)
    else:
        reading.end()


def _at_mark(items: tuple[Item, ...], place: int, reading: _Reading, onward: list[bool]) -> None:
    mark = items[place].typed
    if reading.stance is Stance.SAID:
        return
    goes_on = mark in "," and reading.stance is Stance.DENIED and reading.noun and onward[place]
    if not goes_on and mark not in "'\"*-%":
        reading.end()


def _or_ahead(items: tuple[Item, ...]) -> list[bool]:
    """For each place, whether only nouns, articles and commas lie between it and an "or" ("no a, b or c")."""
    ahead = [False] * len(items)
    near = False
    for place in range(len(items) - 1, -1, -1):
        item = items[place]
        ahead[place] = near
        if item.role == "or":
            near = True
        elif not (item.role in _MEAT or item.role in ("article", "plain") or item.typed == ","):
            near = False
    return ahead


def _ends(items: tuple[Item, ...], place: int) -> bool:
    return place >= len(items) or items[place].role == "mark"


def _at_not(items: tuple[Item, ...], place: int, reading: _Reading, found: list[Stance]) -> None:
    item = items[place]
    if item.words == ("un",) and place + 1 < len(items):
        found[place + 1] = Stance.DENIED  # "unvarnished" reaches no further than its word
        return
    after = any(s.value == "not_after" for s in item.senses)
    if (after or item.words[-1] in _INTERJECTION) and _ends(items, place + 1):
        _deny_before(items, place, found)  # "glitter: none"; a mere "No," denies nothing
        return
    if _absent_ahead(items, place + 1):
        _deny_before(items, place, found)  # "glitter was not used"
        return
    twice = reading.stance is Stance.DENIED and bool(place) and items[place - 1].role == "not"
    reading.start(Stance.UNSURE if twice else Stance.DENIED, item.words[0] not in _NOUN_DENIALS)


def _absent_ahead(items: tuple[Item, ...], place: int) -> bool:
    """Only words such as "used" or "there" up to the end of the clause."""
    absent = marked("absent")
    start = place
    while not _ends(items, place):
        if not absent.issuperset(items[place].words) and items[place].role != "be":
            return False
        place += 1
    return place > start


def _deny_before(items: tuple[Item, ...], place: int, found: list[Stance]) -> None:
    """Deny the noun or state just before, over a mark or a form of "be"."""
    before = place - 1
    while before >= 0 and (items[before].role in ("be", "plain") or items[before].typed in ("-", ":", "?", ",")):
        before -= 1
    if before >= 0 and items[before].role in _MEAT:
        found[before] = Stance.DENIED


def _at_unsure(items: tuple[Item, ...], place: int, reading: _Reading, found: list[Stance]) -> None:
    if not _ends(items, place + 1):
        reading.start(Stance.UNSURE, False)
        return
    before = place - 1  # "plywood or hardboard, not sure"
    while before >= 0 and items[before].typed not in STRONG and items[before].role not in ("on", "with", "not"):
        if items[before].role in _MEAT and found[before] is Stance.SAID:
            found[before] = Stance.UNSURE
        elif items[before].typed == "," and before < place - 1:
            return
        before -= 1


def _inside(items: tuple[Item, ...], place: int, reading: _Reading, found: list[Stance]) -> None:
    """One item within a denial or a doubt."""
    item = items[place]
    if item.role in _MEAT:
        _take(items, place, reading, found)
    elif item.role in _PREPOSITIONS or item.role == "with":
        if item.role == "mounted_on":
            found[place] = reading.stance
        _at_preposition(item, reading, found)
    elif _ends_here(items, place, reading):
        reading.end()
    elif item.role == "plain" and item.words[-1] in _WISHES:
        reading.wish = True


def _ends_here(items: tuple[Item, ...], place: int, reading: _Reading) -> bool:
    role = items[place].role
    if role in ("article", "number"):
        return reading.noun or (reading.state and not reading.prepared)
    if role == "and":
        return _starts_anew(items, place + 1, reading)
    return role == "be" and reading.noun and reading.stance is Stance.DENIED


def _take(items: tuple[Item, ...], place: int, reading: _Reading, found: list[Stance]) -> None:
    item = items[place]
    before = items[place - 1] if place else item
    if reading.stance is Stance.UNSURE and before.role == "article" and before.words[-1] in _DEFINITE:
        return  # "not sure if THE oak is waxed": it is oak
    if is_denial(item):  # "not glued and no backing": a denial that stands for itself
        return
    if reading.denier >= 0 and reading.prepared:
        found[reading.denier] = Stance.VOID  # only this glue, this mount is denied
    after_state = reading.state and not reading.prepared and reading.verb and item.role == "noun"
    found[place] = Stance.UNSURE if after_state else reading.stance  # "not torn paper": the paper is in doubt
    reading.met.append(place)
    if item.role == "state":
        reading.state, reading.prepared = True, False
    else:
        reading.noun = True


def _at_preposition(item: Item, reading: _Reading, found: list[Stance]) -> None:
    if reading.wish and item.words == ("to",) and reading.stance is Stance.DENIED:
        for place in reading.met:  # "don't want the glitter to sink": the glitter is there
            found[place] = Stance.SAID
        reading.end()
    elif reading.noun and reading.stance is Stance.DENIED:
        reading.end()
    else:
        reading.prepared = True


def _starts_anew(items: tuple[Item, ...], place: int, reading: _Reading) -> bool:
    if reading.stance is Stance.UNSURE:
        return True
    if _ends(items, place):
        return True
    follower = items[place]
    if follower.role == "state":
        return reading.noun or not is_denial(follower)
    return follower.role not in ("noun", "thing", "unknown", "uncoated", "piece_word", "not")


def is_denial(item: Item) -> bool:
    """A phrase such as "not mounted", which answers by denying; "on wood" after it is denied too."""
    if item.role != "state" or len(item.words) < 2:
        return False
    return any(item.words[:length] in _verb_denials() for length in range(1, len(item.words)))


def _denies_nouns(item: Item) -> bool:
    """A phrase such as "no paint" or "nothing printed"."""
    return item.role == "state" and len(item.words) > 1 and item.words[0] in _NOUN_DENIALS


@cache
def _verb_denials() -> frozenset[tuple[str, ...]]:
    """Denials of a verb: "not", "isn't", "have not", but neither "no" nor "nothing"."""
    phrases = (words_of(phrase, read_spelling()) for phrase in marked("not"))
    return frozenset(words for words in phrases if words[0] not in _NOUN_DENIALS)
