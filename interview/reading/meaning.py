"""Which of its meanings a word has, by its place in the phrase: "shells on canvas", "canvas with shells"."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from interview.reading.lexicon import Sense
from interview.reading.phrases import Mention
from interview.reading.scope import Stance

Place = Literal["front on base", "front", "base", "added", "inside"]
# the question a word answers there; the first that one of its meanings fits
_ORDER: dict[Place, tuple[str, ...]] = {
    "front on base": ("media", "support", "laid_on"),
    "front": ("support", "media", "laid_on"),
    "base": ("support", "media", "laid_on"),
    "added": ("laid_on", "media", "support"),
    "inside": ("media",),
}
_CAST = ("laid_on", "support", "media")
_MATTER = frozenset(("mineral", "botanical", "animal", "small", "food"))  # families of what is strewn or stuck on
# question -> the meaning a word has where that is being asked
_ASKED = {"support": "support", "mounted": "support", "media": "media", "laid_on": "laid_on"}
PAPER_LIKE = frozenset(("paper", "photo", "card"))


@dataclass(frozen=True, slots=True)
class Setting:
    """What the whole sentence says that bears on every word.

    job: the speaker talks of what is to be done, so "resin" names no material of the piece.
    cast: things are cast in. collage: it is a collage, so photos and stamps are its papers.
    """

    job: bool = False
    cast: bool = False
    collage: bool = False
    focus: str = ""


def said(mentions: Iterable[Mention]) -> list[Mention]:
    """The nouns that are neither denied nor in doubt."""
    return [m for m in mentions if m.stance is Stance.SAID and m.item.role == "noun"]


def choose(mention: Mention, place: Place, setting: Setting, mates: Iterable[Mention] = ()) -> list[Sense]:
    """The sense that fits the place best, with those that hold beside it. `mates`: the list it stands in."""
    senses = [s for s in mention.item.senses if s.sort in ("row", "kind") and (s.job or not setting.job)]
    if place in ("added", "inside") and mention.item.of("adhesive"):
        return []  # "stuck down with paste"
    if place in ("front", "front on base") and _product(mention, senses) and not setting.cast and not setting.focus:
        return []  # "earrings with ..." are the piece
    order = _CAST if setting.cast else _order(senses, place, setting, mates)
    if setting.focus in _ASKED:
        order = (_ASKED[setting.focus], *order)
    beside = [s for s in senses if s.beside]
    for question in order:
        fitting = [s for s in senses if s.question == question and not s.beside]
        if fitting:
            return [min(fitting, key=lambda s: s.sort != "row"), *beside]
    return [s for s in beside if s.question in order]


def _order(senses: list[Sense], place: Place, setting: Setting, mates: Iterable[Mention]) -> tuple[str, ...]:
    questions = {s.question for s in senses}
    laid = [s for s in senses if s.question == "laid_on"]
    if place == "front on base" and "support" in questions and laid:
        strewn = any(set(s.families) & _MATTER for s in laid)  # ash on canvas is no ash wood
        paper = all(set(s.families) <= PAPER_LIKE for s in laid)
        if strewn or (not paper and any(_only(m, "laid_on") and not _piece_word(m) for m in mates)):
            return ("media", "laid_on", "support")
    if place == "front" and {"support", "media"} <= questions:
        row = any(s.sort == "row" and s.question == "media" for s in senses)
        vague = all(s.sort == "kind" for s in senses if s.question == "support")
        if row and vague and any(_only(m, "media") or _sheet(m) for m in mates):
            return (
                "media",
                "support",
                "laid_on",
            )  # "canvas, acrylic" is paint; "steel and acrylic" is plastic
    if place == "added":
        if {"media", "laid_on"} <= questions:
            return ("media", "support")  # "with gold leaf": on a face a medium, in a casting a thing
        if setting.collage and any(set(s.families) & PAPER_LIKE for s in laid):
            return ("support", "laid_on")
    return _ORDER[place]


def _only(mention: Mention, question: str) -> bool:
    return {s.question for s in mention.item.senses if s.sort in ("row", "kind")} == {question}


def _sheet(mention: Mention) -> bool:
    return any(belongs(s, PAPER_LIKE | {"canvas"}) for s in mention.item.of("support"))


def _piece_word(mention: Mention) -> bool:
    return any(s.sort == "piece_word" for s in mention.item.senses)


def _product(mention: Mention, senses: list[Sense]) -> bool:
    return _piece_word(mention) and {s.question for s in senses} == {"laid_on"}


def belongs(sense: Sense, families: frozenset[str]) -> bool:
    """Whether all it may be belongs to these families."""
    return bool(sense.families) and (set(sense.families) <= families or sense.value in families)
