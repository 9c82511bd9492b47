"""Phrases -> what is said about each question. Here a word's place in its phrase chooses among its meanings."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from interview.conversation.sentence.lexicon import Sense
from interview.conversation.sentence.phrases import Mention, Phrase
from interview.conversation.sentence.scope import Stance

PAPER_LIKE = frozenset(("paper", "photo", "card"))
SHEET_LIKE = PAPER_LIKE | {"board", "cloth", "canvas", "leather", "jigsaw"}
# which question a word answers, by its place in the phrase; the first that fits
_FRONT_ON_BASE = ("media", "support", "laid_on")
_FRONT_ALONE = ("support", "media", "laid_on")
_BASE = ("support", "laid_on", "media")
_ADDED = ("laid_on", "media", "support")
_INSIDE = ("media",)
_PASTED = frozenset(("print", "screen_print", "lithograph", "intaglio", "relief_print", "letterpress", "monoprint", "offset_print"))
_MATTER = frozenset(("mineral", "botanical", "animal", "small", "food"))  # families of what is strewn or stuck on


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
    stuck: bool = False
    never: bool = False  # holds a work of time, light or sound
    seldom: bool = False  # holds light, text on a wall and the like
    light_first: bool = False  # ...before anything else
    first: bool = True

    def note(self, sense: Sense, mention: Mention) -> None:
        self.words.setdefault((sense.question, sense.value), mention.item.meant or mention.item.typed)


def fill(phrases: Iterable[Phrase], *, job: bool) -> Draft:
    """`job`: the speaker talks of what is to be done, so a word such as "resin" names no material of the piece."""
    draft = Draft()
    for phrase in phrases:
        _stances(phrase, draft)
        _carry(phrase, draft, job)
        _rest(phrase, draft, job)
    return draft


def _stances(phrase: Phrase, draft: Draft) -> None:
    """States, things, denials and doubts, which hold wherever they stand."""
    for mention in phrase.mentions():
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
        if mention.item.role == "thing":
            draft.things.append(mention.item.typed)
        if mention.item.role == "uncoated":
            levels = {s.value for s in mention.item.senses if s.sort == "uncoated"}
            draft.never |= "always" in levels and mention.head
            draft.seldom |= "alone" in levels
            draft.light_first |= draft.first and "alone" in levels
        draft.first = False


def _said(mentions: Iterable[Mention]) -> list[Mention]:
    return [m for m in mentions if m.stance is Stance.SAID and m.item.role == "noun"]


def choose(mention: Mention, order: Sequence[str], *, job: bool) -> list[Sense]:
    """The sense that fits the place best, with those that hold beside it."""
    senses = [s for s in mention.item.senses if s.sort in ("row", "kind") and (s.job or not job)]
    if order in (_ADDED, _INSIDE) and mention.item.of("adhesive"):
        return []  # "stuck down with paste"
    if order is _FRONT_ON_BASE and any(set(s.families) & _MATTER for s in senses if s.question == "laid_on"):
        order = ("media", "laid_on", "support")  # ash on canvas is no ash wood
    beside = [s for s in senses if s.beside]
    for question in order:
        fitting = [s for s in senses if s.question == question and not s.beside]
        if fitting:
            return [min(fitting, key=lambda s: s.sort != "row"), *beside]
    return [s for s in beside if s.question in order]


def _carry(phrase: Phrase, draft: Draft, job: bool) -> None:
    """Sort the materials into supports and mount."""
    stuck_bases = [(base, stuck) for base, stuck in zip(phrase.bases, phrase.stuck, strict=True) if _said(base)]
    bases = [base for base, _ in stuck_bases]
    front = _supports(phrase.front, _FRONT_ON_BASE if bases else _FRONT_ALONE, job, draft)
    added = _supports(phrase.added, _ADDED, job, draft)
    chain = [_supports(base, _BASE, job, draft) for base in bases]
    chain = [base for base in chain if base]
    if not front and any(m.stance is Stance.SAID and m.item.of("piece") for m in phrase.front):
        front, added = (added, []) if any(_is(s, PAPER_LIKE) for s in added) else (front, added)
    papers = [s for s in front if _is(s, PAPER_LIKE)]
    if added and any(_is(s, PAPER_LIKE) for s in added) and front and not papers and not chain:
        chain, front, papers, added = [front], added, added, []  # "a panel with torn tissue"
    if not chain:
        draft.supports += [*front, *added]
        return
    stuck = bool(stuck_bases) and stuck_bases[0][1]
    draft.stuck |= any(phrase.stuck)
    draft.collage |= _print_on_print(bases)
    sheets = [s for s in front if _is(s, SHEET_LIKE)]
    if papers:
        _papers_on(phrase, front, papers, chain, draft, stuck)
    elif sheets:
        draft.supports += [*front, *(s for base in chain[:-1] for s in base)]
        draft.mounts += chain[-1]
    elif len(chain) > 1 and any(_is(s, SHEET_LIKE) for s in chain[0]):
        draft.supports += [s for base in chain[:-1] for s in base]
        draft.mounts += chain[-1]
        draft.supports += front
    else:
        draft.supports += [*front, *(s for base in chain for s in base)]
    draft.supports += added


def _papers_on(
    phrase: Phrase, front: list[Sense], papers: list[Sense], chain: list[list[Sense]], draft: Draft, stuck: bool
) -> None:
    """Paper-like things on a base: a collage, or photographs on their paper or on what they were printed on."""
    photos = all(_is(s, frozenset(("photo",))) for s in papers)
    if not photos:
        draft.collage = True
        draft.supports += [*front, *(s for base in chain[:-1] for s in base)]
        draft.mounts += chain[-1]
        return
    first = chain[0]
    if _printed_on(phrase) or (not stuck and all(_is(s, frozenset(("canvas", "cloth"))) for s in first)):
        draft.supports += [s for s in front if s not in papers]
        draft.supports += first
        rest = chain[1:]
    elif all(_is(s, PAPER_LIKE) for s in first) and not stuck:
        draft.supports += front  # "photograph on paper" is photographic paper...
        if _other_media(phrase) or any(s.sort == "row" for s in first):
            draft.supports += first  # ...and another sheet where something else is on it too
        rest = chain[1:]
    else:
        draft.supports += front
        rest = chain
    draft.supports += [s for base in rest[:-1] for s in base]
    draft.mounts += rest[-1] if rest else []


def _print_on_print(bases: list[list[Mention]]) -> bool:
    """ "print on paper on print on paper": pasted one on the other."""
    return any(
        {s.value for m in base for s in m.item.senses} & _PASTED and _is_paper(before)
        for before, base in zip(bases, bases[1:], strict=False)
    )


def _is_paper(base: list[Mention]) -> bool:
    return any(_is(s, PAPER_LIKE) for m in base for s in m.item.of("support"))


def _printed_on(phrase: Phrase) -> bool:
    """ "a photo printed on wood": the last word before the base says that it is printed there."""
    said = [m for m in phrase.front if m.stance is Stance.SAID]
    return bool(said) and said[-1].item.words[-1] == "printed" and not said[-1].joined_by


def _other_media(phrase: Phrase) -> bool:
    """Something drawn or printed stands beside the photograph, joined to it."""
    listed = _said(phrase.front)
    media = [m for m in listed if any(s.question == "media" and not s.beside for s in m.item.senses)]
    photographs = [m for m in listed if any(s.beside for s in m.item.senses)]
    return any(m.joined_by == "and" or p.joined_by == "and" for m in media for p in photographs)


def _supports(mentions: list[Mention], order: Sequence[str], job: bool, draft: Draft) -> list[Sense]:
    found: list[Sense] = []
    for mention, options in _alternatives(_said(mentions), "support", order, job):
        if len(options) > 1:
            draft.unsure.setdefault("support", []).extend(options)
        elif options and options[0] not in found:
            found.append(options[0])
        for sense in options:
            draft.note(sense, mention)
    return found


def _alternatives(
    mentions: list[Mention], question: str, order: Sequence[str], job: bool
) -> list[tuple[Mention, list[Sense]]]:
    """Senses of one question, mention by mention; those joined by "or" come together."""
    groups: list[tuple[Mention, list[Sense]]] = []
    for mention in mentions:
        chosen = [s for s in choose(mention, order, job=job) if s.question == question]
        if chosen and mention.joined_by == "or" and groups:
            groups[-1][1].extend(s for s in chosen if s not in groups[-1][1])
        elif chosen:
            groups.append((mention, list(chosen)))
    return groups


def _rest(phrase: Phrase, draft: Draft, job: bool) -> None:
    """Media and what is laid on."""
    bare = not phrase.front and not phrase.bases
    places = (
        (phrase.front, _FRONT_ON_BASE if phrase.bases else _FRONT_ALONE),
        *((base, _BASE) for base in phrase.bases),
        (phrase.added, _ADDED),
        (phrase.inside, _FRONT_ALONE if bare else _INSIDE),
    )
    for mentions, order in places:
        for question, target in (("media", draft.media), ("laid_on", draft.laid_on)):
            for mention, options in _alternatives(_said(mentions), question, order, job):
                if len(options) > 1:
                    draft.unsure.setdefault(question, []).extend(options)
                elif options[0] not in target:
                    target.append(options[0])
                for sense in options:
                    draft.note(sense, mention)


def _is(sense: Sense, families: frozenset[str]) -> bool:
    """Whether all it may be belongs to these families."""
    return bool(sense.families) and (set(sense.families) <= families or sense.value in families)
