"""Phrases -> what is said about each question: supports and mounts, media, things laid on, states."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import pairwise

from interview.reading.lexicon import Sense
from interview.reading.meaning import PAPER_LIKE, Place, Setting, belongs, choose, said
from interview.reading.phrases import Mention, Phrase
from interview.reading.scope import Stance

SHEET_LIKE = PAPER_LIKE | {"board", "cloth", "canvas", "leather", "jigsaw"}
_PRINTS = frozenset(
    (
        "print",
        "screen_print",
        "lithograph",
        "intaglio",
        "relief_print",
        "letterpress",
        "monoprint",
        "offset_print",
    )
)
# what may be part of a picture, and so says nothing of the piece where it is only shown
_TO_BE_SEEN = ("opened", "wood_features", "wood_finish", "natural_dry", "dryness", "paste", "sturdiness")


@dataclass(slots=True)
class Draft:
    """What the sentence says, before it is settled into answers. Lists keep the order of saying."""

    supports: list[Sense] = field(default_factory=list)
    mounts: list[Sense] = field(default_factory=list)
    media: list[Sense] = field(default_factory=list)
    laid_on: list[Sense] = field(default_factory=list)
    states: dict[str, list[Sense]] = field(default_factory=dict)
    denied: dict[str, list[Sense]] = field(default_factory=dict)
    unsure: dict[str, list[Sense]] = field(default_factory=dict)
    words: dict[tuple[str, str], str] = field(default_factory=dict)  # (question, value) -> as it was typed
    things: list[str] = field(default_factory=list)
    collage: bool = False
    stuck: bool = False  # something was said to be stuck on its base
    never: bool = False  # holds a work of time, light or sound
    seldom: bool = False  # holds light, text on a wall and the like
    light_first: bool = False  # ...before anything else
    first: bool = True
    used: set[int] = field(default_factory=set)  # places of the mentions that something was made of
    spans: dict[tuple[str, str], tuple[int, int]] = field(
        default_factory=dict
    )  # (question, value) -> where it was said

    def note(self, sense: Sense, mention: Mention) -> None:
        key, item = (sense.question, sense.value), mention.item
        self.words.setdefault(key, sense.name if sense.quiet else item.meant or item.typed)
        self.spans.setdefault(key, (item.start, item.start + len(item.typed)))

    def doubt(self, question: str, senses: Iterable[Sense]) -> None:
        self.unsure.setdefault(question, []).extend(senses)


def fill(phrases: list[Phrase], *, job: bool, focus: str = "", cast: bool = False) -> Draft:
    """`job`: the speaker talks of what is to be done, so "resin" names no material of the piece.

    `focus`: the question being asked. `cast`: the piece is known to be cast.
    """
    draft = Draft()
    for phrase in phrases:
        _states(phrase, draft)
        _aside(phrase, draft)
    pieces = {s.value for s in draft.states.get("piece", ())}
    setting = Setting(job, cast or "cast" in pieces, "collage" in pieces, focus)
    for phrase in phrases:
        _Filler(phrase, draft, setting).fill()
    _left_over(phrases, draft)
    return draft


def _left_over(phrases: list[Phrase], draft: Draft) -> None:
    """A material that no place was found for is named with the things nothing is known of."""
    for phrase in phrases:
        for mention in said(phrase.mentions()):
            senses = mention.item.senses
            idle = mention.place not in draft.used and not any(s.sort in ("state", "uncoated") for s in senses)
            if idle and not mention.item.of("adhesive") and all(s.job for s in senses):
                draft.things.append(mention.item.typed)


def _states(phrase: Phrase, draft: Draft) -> None:
    """States, things, denials and doubts, which hold wherever they stand."""
    for mention in phrase.mentions():
        if mention.stance is Stance.VOID:
            continue
        if mention.stance is not Stance.SAID:
            book = draft.denied if mention.stance is Stance.DENIED else draft.unsure
            for sense in mention.item.senses:
                if sense.question:
                    book.setdefault(sense.question, []).append(sense)
                    draft.note(sense, mention)
            continue
        for sense in mention.item.senses:
            if sense.sort == "state":
                draft.states.setdefault(sense.question, []).append(sense)
                draft.note(sense, mention)
        if mention.item.role == "thing" and not any(s.sort == "piece_word" for s in mention.item.senses):
            draft.things.append(mention.item.typed)
        if mention.item.role == "uncoated":
            levels = {s.value for s in mention.item.senses if s.sort == "uncoated"}
            draft.never |= "always" in levels and mention.head
            draft.seldom |= "alone" in levels
            draft.light_first |= draft.first and "alone" in levels
        draft.first = False


def _aside(phrase: Phrase, draft: Draft) -> None:
    """Beside the piece ("for the kitchen, ...") only wishes, ways and glue count: no picture shows them."""
    for mention in phrase.shown:
        for sense in mention.item.senses:
            if sense.sort != "state" or mention.stance is not Stance.SAID:
                continue
            if sense.question not in _TO_BE_SEEN and (sense.question != "piece" or sense.value == "cast"):
                draft.states.setdefault(sense.question, []).append(sense)
                draft.note(sense, mention)


@dataclass(frozen=True, slots=True)
class _Filler:
    """Reads one phrase into the draft."""

    phrase: Phrase
    draft: Draft
    setting: Setting

    def fill(self) -> None:
        for base in self.phrase.bases:
            self._bare_thing(base, ("thing", "piece_word"))
        self._bare_thing(self.phrase.inside, ("thing",))
        bases = [(base, stuck) for base, stuck in zip(self.phrase.bases, self.phrase.stuck, strict=True) if said(base)]
        self._carry([base for base, _ in bases], stuck=bool(bases) and bases[0][1])
        bare = not self.phrase.front and not self.phrase.bases
        for question, target in (("media", self.draft.media), ("laid_on", self.draft.laid_on)):
            self._collect(self.phrase.front, "front on base" if self.phrase.bases else "front", question, target)
            for base, place in self._placed(self.phrase.bases):
                self._collect(base, place, question, target)
            self._collect(self.phrase.added, "added", question, target)
            self._collect(self.phrase.inside, "front" if bare else "inside", question, target)

    def _carry(self, bases: list[list[Mention]], *, stuck: bool) -> None:
        """Sort the materials into supports and mount."""
        draft = self.draft
        front = self._supports(self.phrase.front, "front on base" if self.phrase.bases else "front")
        added = self._supports(self.phrase.added, "added")
        chain = [found for found in (self._supports(base, place) for base, place in self._placed(bases)) if found]
        front += self._inside(front, chain)
        if (chain and not stuck) or any(not s.yields for s in (*front, *added)):
            front = [s for s in front if not s.yields]
            added = [s for s in added if not s.yields]
        papers = [s for s in front if belongs(s, PAPER_LIKE)]
        if chain and chain[0] and _printed_on(self.phrase) and not any(s.beside or s.value == "photo" for s in papers):
            front, papers = [s for s in front if s not in papers], []  # "a map printed on photo paper"
        if chain and not front and self._carried_before(chain):
            self._mount([], chain[-1])
            return
        if not chain:
            chain, front, papers, added = self._turned(front, papers, added)
        if not chain:
            draft.supports += [*front, *added]
            return
        draft.stuck |= any(self.phrase.stuck)
        draft.collage |= _print_on_print(bases)
        if papers and not all(belongs(s, frozenset(("photo",))) for s in papers):
            draft.collage = draft.collage or not (_same(papers, chain[-1]) or self._one_sheet(papers))
            self._mount([*front, *(s for base in chain[:-1] for s in base)], chain[-1])
        elif papers:
            self._photographs(front, papers, chain, stuck=stuck)
        elif any(belongs(s, SHEET_LIKE) for s in front):
            self._mount([*front, *(s for base in chain[:-1] for s in base)], chain[-1])
        elif len(chain) > 1 and any(belongs(s, SHEET_LIKE) for s in chain[0]):
            self._mount([*(s for base in chain[:-1] for s in base), *front], chain[-1])
        else:
            draft.supports += [*front, *(s for base in chain for s in base)]
        draft.supports += added

    def _bare_thing(self, base: list[Mention], roles: tuple[str, ...]) -> None:
        """ "on a table": a thing that could be anything is named and not passed over."""
        if not any(m.item.senses and m.item.role in ("noun", "state") for m in base):
            for mention in base:
                if mention.item.role in roles and mention.stance is Stance.SAID:
                    self.draft.things.append(mention.item.typed)

    def _one_sheet(self, papers: list[Sense]) -> bool:
        """ "a poster on foam board": one whole sheet on its mount makes no collage."""
        sheets = [m for m in said(self.phrase.front) if any(belongs(s, PAPER_LIKE) for s in m.item.of("support"))]
        single = len(papers) == len(sheets) == 1 and not sheets[0].item.typed.lower().endswith("s")
        return single and any(m.article for m in self.phrase.front) and not self.draft.states.get("opened")

    def _carried_before(self, chain: list[list[Sense]]) -> bool:
        """ "A photo. It's on plywood.": the base carries what an earlier phrase named."""
        earlier = self.draft.supports
        carried = any(belongs(s, SHEET_LIKE) for s in earlier) and not self.draft.mounts
        return carried and not said(self.phrase.front) and not all(belongs(s, PAPER_LIKE) for s in chain[-1])

    @staticmethod
    def _placed(bases: list[list[Mention]]) -> list[tuple[list[Mention], Place]]:
        """A base that lies on another is read as what is in front: "over acrylic on canvas" is paint."""
        return [(base, "base" if base is bases[-1] else "front on base") for base in bases]

    def _mount(self, supports: list[Sense], mounts: list[Sense]) -> None:
        """What is carried and what carries it. The same row named twice is one: "a card, flowers on card"."""
        self.draft.supports += supports
        if self.draft.stuck or not _same(supports, mounts):
            self.draft.mounts += mounts
        else:
            self.draft.supports += mounts

    def _inside(self, front: list[Sense], chain: list[list[Sense]]) -> list[Sense]:
        """ "dishes in concrete", but not "in a wooden frame"."""
        if chain or any(s.sort == "row" for s in front) or any(belongs(s, PAPER_LIKE) for s in front):
            return []
        return self._supports([m for m in self.phrase.inside if not m.article], "front")

    def _turned(
        self, front: list[Sense], papers: list[Sense], added: list[Sense]
    ) -> tuple[list[list[Sense]], list[Sense], list[Sense], list[Sense]]:
        """ "a panel with torn tissue", "wood slice, photo": the paper comes second, and lies on the first."""
        if front and not papers and any(belongs(s, PAPER_LIKE) for s in added):
            return [front], added, [s for s in added if belongs(s, PAPER_LIKE)], []
        carriers = [s for s in front if not belongs(s, SHEET_LIKE)]
        photos = [s for s in papers if belongs(s, frozenset(("photo",)))]
        if len(carriers) == len(photos) == 1 and len(front) == 2:
            return [carriers], photos, photos, added
        return [], front, papers, added

    def _photographs(self, front: list[Sense], papers: list[Sense], chain: list[list[Sense]], *, stuck: bool) -> None:
        """Photographs on their paper, on what they were printed on, or on a mount."""
        draft, first, rest = self.draft, chain[0], chain
        if _printed_on(self.phrase) or (not stuck and all(belongs(s, frozenset(("canvas", "cloth"))) for s in first)):
            draft.supports += [s for s in front if s not in papers]
            draft.supports += first
            rest = chain[1:]
        elif all(belongs(s, PAPER_LIKE) for s in first) and not stuck:
            named = any(s.sort == "row" for s in first)
            draft.supports += [s for s in front if not named or s not in papers]  # "photograph on paper" is
            if named or _other_media(self.phrase):  # photographic paper; "a photo on copy paper" is that...
                draft.supports += first  # ...and another sheet where something else is on it too
            rest = chain[1:]
        else:
            draft.supports += front
        draft.supports += [s for base in rest[:-1] for s in base]
        draft.mounts += rest[-1] if rest else []

    def _supports(self, mentions: list[Mention], place: Place) -> list[Sense]:
        found: list[Sense] = []
        self._collect(mentions, place, "support", found)
        return found

    def _collect(self, mentions: list[Mention], place: Place, question: str, target: list[Sense]) -> None:
        """Senses of one question; those joined by "or" are in doubt."""
        mentions = said(mentions)
        mates = list({m.item.senses: m for m in mentions}.values())  # a thing said a hundred times counts once
        groups: list[tuple[Mention, list[Sense]]] = []
        for mention in mentions:
            chosen = [s for s in choose(mention, place, self.setting, mates) if s.question == question]
            if chosen:
                self.draft.used.add(mention.place)
            if chosen and mention.joined_by == "or" and groups:
                groups[-1][1].extend(s for s in chosen if s not in groups[-1][1])
            elif chosen and not (groups and _heads(groups[-1][0], mention, chosen)):
                groups.append((mention, chosen))
            for sense in chosen:
                self.draft.note(sense, mention)
        for _, options in groups:
            if len(options) > 1:
                self.draft.doubt(question, options)
            elif options[0] not in target:
                target.append(options[0])


def _heads(before: Mention, mention: Mention, chosen: list[Sense]) -> bool:
    """In "walnut board" the board is of walnut, and no second material."""
    return (
        mention.place == before.place + 1
        and not mention.joined_by
        and chosen[0].sort == "kind"
        and (chosen[0].question == "support")
    )


def _same(supports: list[Sense], mounts: list[Sense]) -> bool:
    """The very same rows; two papers of no known kind may well be two."""
    return {s.value for s in supports} == {s.value for s in mounts} and all(s.sort == "row" for s in supports)


def _print_on_print(bases: list[list[Mention]]) -> bool:
    """ "print on paper on print on paper": pasted one on the other."""
    return any(
        {s.value for m in base for s in m.item.senses} & _PRINTS and _is_paper(before)
        for before, base in pairwise(bases)
    )


def _is_paper(base: list[Mention]) -> bool:
    return any(belongs(s, PAPER_LIKE) for m in base for s in m.item.of("support"))


def _printed_on(phrase: Phrase) -> bool:
    """ "a photo printed on wood": the last word before the base says that it is printed there."""
    spoken = [m for m in phrase.front if m.stance is Stance.SAID]
    return bool(spoken) and spoken[-1].item.words[-1] == "printed" and spoken[-1].joined_by in ("", "comma")


def _other_media(phrase: Phrase) -> bool:
    """Something drawn or printed stands beside the photograph, joined to it."""
    listed = said(phrase.front)
    media = [m for m in listed if any(s.question == "media" and not s.beside for s in m.item.senses)]
    photographs = [m for m in listed if any(s.beside for s in m.item.senses)]
    return any("and" in (m.joined_by, p.joined_by) for m in media for p in photographs)
