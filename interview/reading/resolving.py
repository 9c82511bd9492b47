"""A draft -> answers. What is only a kind, in doubt or at odds with itself stays open, and says so."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Any

from interview.reading.lexicon import Sense
from interview.reading.meaning import PAPER_LIKE, belongs
from interview.reading.slots import Draft
from knowledge.loading import Knowledge

# families of the support -> what the piece is, where nothing else says it; the first that fits
_PIECE_OF = (
    ("jigsaw", ("jigsaw",)), ("photo", ("photo",)), ("canvas", ("canvas",)), ("cloth", ("cloth", "leather")),
    ("wood", ("wood", "cork")), ("sheet", ("paper", "card", "board")),
    ("hard", ("stone", "ceramic", "cement", "glass", "metal", "plastic")),
)  # fmt: skip
_STRONG_PIECES = ("cast", "jigsaw", "collage")  # said by a word of their own, they win over the material
_SEVERAL = ("opened", "wood_features", "ways")
_ONE = (
    "layers",
    "sturdiness",
    "adhesive",
    "wood_finish",
    "dryness",
    "media_age",
    "resin_on",
    "darken",
    "only_one",
)


@dataclass(frozen=True, slots=True)
class Open:
    """A question that the sentence narrows but does not settle.

    words: as they were said. known: the rows that are settled. among: what it may be besides.
    named: the kinds, and the rows in doubt, that the words stand for.
    """

    question: str
    words: tuple[str, ...]
    known: frozenset[str] = frozenset()
    among: frozenset[str] = frozenset()
    named: frozenset[str] = frozenset()


@dataclass(slots=True)
class Settled:
    """Answers, and what stays open."""

    proposed: dict[str, Any] = field(default_factory=dict)
    open: list[Open] = field(default_factory=list)
    denied: dict[str, frozenset[str]] = field(default_factory=dict)


def settle(
    draft: Draft, knowledge: Knowledge, said: frozenset[str] = frozenset(), known: frozenset[str] = frozenset()
) -> Settled:
    """`said`: every word of the sentence; a word elsewhere narrows some kinds ("flowers ... pressed").

    `known`: families of what the piece is made of, as told before.
    """
    for target in (draft.supports, draft.mounts, draft.media, draft.laid_on):
        target[:] = [_narrowed(sense, said) for sense in target]
    settled = Settled(denied={q: frozenset(s.value for s in senses) for q, senses in draft.denied.items()})
    _drop_denied(draft)
    _drop_features(draft, known)
    _collage_carrier(draft, knowledge)
    mounts = _mounts(draft, knowledge)
    piece = _piece(draft, mounts)
    if piece:
        settled.proposed["piece"] = piece
    if piece == "cast":
        _things_cast(draft)
    else:
        _group("support", draft.supports, draft, settled)
        _mounted(mounts, draft, settled, knowledge)
    _group("media", draft.media, draft, settled)
    _group("laid_on", draft.laid_on, draft, settled)
    _states(draft, settled, knowledge, known)
    _not_glued(settled)
    if not _something_glued(draft, settled):
        settled.proposed.pop("adhesive", None)
    return settled


def _narrowed(sense: Sense, said: frozenset[str]) -> Sense:
    row = next((row for word, row in sense.narrowed if word in said), "")
    return replace(sense, sort="row", value=row) if row else sense


def _drop_denied(draft: Draft) -> None:
    """What is both said and denied is not proposed."""
    for question, target in (
        ("support", draft.supports), ("support", draft.mounts), ("media", draft.media),
        ("laid_on", draft.laid_on),
    ):  # fmt: skip
        denied = {s.value for s in draft.denied.get(question, ())}
        target[:] = [s for s in target if s.value not in denied]
    for question, senses in draft.states.items():
        denied = {s.value for s in draft.denied.get(question, ())}
        senses[:] = [s for s in senses if s.value not in denied]


def _drop_features(draft: Draft, known: frozenset[str]) -> None:
    """ "oak, bark left on": bark is a feature of the oak, and no second material."""
    features = {draft.words.get((s.question, s.value)) for s in draft.states.get("wood_features", ())}
    wood = [s for s in draft.supports if "wood" in s.families]
    if "wood" in known:
        draft.supports[:] = [s for s in draft.supports if draft.words.get((s.question, s.value)) not in features]
    if wood or any("wood" in s.families for s in draft.mounts):
        laid = draft.laid_on
        laid[:] = [s for s in laid if draft.words.get((s.question, s.value)) not in features]
    carried = [s for s in draft.mounts if "wood" in s.families]
    if len(wood) + len(carried) > 1:
        named = [s for s in wood if draft.words.get((s.question, s.value)) in features]
        if len(named) < len(wood) + len(carried):
            draft.supports[:] = [s for s in draft.supports if s not in named]


def _collage_carrier(draft: Draft, knowledge: Knowledge) -> None:
    """ "collage: magazines, tissue; canvas board": the one that is no paper carries the rest."""
    if draft.mounts or not any(s.value == "collage" for s in draft.states.get("piece", ())):
        return
    papers = [s for s in draft.supports if belongs(s, PAPER_LIKE)]
    carriers = [s for s in draft.supports if any(_is_mount(row, knowledge) for row in (s.value, *s.among))]
    carriers = [s for s in carriers if s not in papers]
    if papers and len(carriers) == 1:
        draft.supports.remove(carriers[0])
        draft.mounts.append(carriers[0])


def _mounts(draft: Draft, knowledge: Knowledge) -> list[Sense]:
    """What carries the rest. A row that is no mount becomes a kind (its family's mounts) or a support."""
    mounts = []
    for sense in draft.mounts:
        row = knowledge.materials.get(sense.value)
        if row is None or row.mount:
            mounts.append(sense)
            continue
        among = tuple(m.id for m in knowledge.materials.values() if m.mount and m.family == row.family)
        if among:
            mounts.append(replace(sense, sort="kind", among=among, name=row.name, apart=True))
        else:
            draft.supports.append(sense)
    return mounts


def _piece(draft: Draft, mounts: list[Sense]) -> str:
    piece = _told_piece(draft, mounts)
    painted = {s.value for s in draft.media} & {"oil_paint", "acrylic_paint", "alkyd"}
    linen = any(s.value == "linen" for s in draft.supports)
    return "canvas" if piece == "cloth" and painted and linen else piece  # a painting on linen is on a canvas


def _told_piece(draft: Draft, mounts: list[Sense]) -> str:
    said = [s.value for s in draft.states.get("piece", ())]
    for piece in _STRONG_PIECES:
        if piece in said:
            return piece
    if draft.collage:
        return "collage"
    supports = draft.supports or draft.unsure.get("support", []) or mounts
    for piece, families in _PIECE_OF:
        if any(set(s.families) & set(families) for s in supports if s.families) and _all_fit(supports, families):
            return piece
    found = [p for p, families in _PIECE_OF if any(set(s.families) <= {*families} for s in supports if s.families)]
    return found[0] if found else (said[0] if said else "")


def _all_fit(supports: list[Sense], families: tuple[str, ...]) -> bool:
    return all(set(s.families) & set(families) for s in supports)


def _things_cast(draft: Draft) -> None:
    """In a cast piece, papers and photographs are things cast in; what has no such row is asked for."""
    draft.supports.clear()
    draft.mounts.clear()
    draft.media.clear()


def _group(question: str, senses: list[Sense], draft: Draft, settled: Settled) -> None:
    """A question that takes several rows."""
    rows = frozenset(s.value for s in senses if s.sort == "row") | _lone(senses)
    kinds = _kinds_left(senses, rows, draft)
    doubted = [s for s in draft.unsure.get(question, ()) if s.sort in ("row", "kind") and s.value not in rows]
    kinds += [s for s in doubted if not rows & set(s.among)]
    if rows and not kinds:
        settled.proposed[question] = rows
    elif kinds:
        among = frozenset(r for k in kinds for r in ((k.value,) if k.sort == "row" else k.among)) - rows
        words = tuple(draft.words.get((k.question, k.value), k.name) for k in kinds)
        settled.open.append(Open(question, words, rows, among, frozenset(k.value for k in kinds)))


def _kinds_left(senses: list[Sense], rows: frozenset[str], draft: Draft) -> list[Sense]:
    """The kinds that no row settles and nothing more telling stands for."""
    kinds = [s for s in senses if s.sort == "kind" and len(s.among) != 1]
    kinds = [k for k in kinds if k.apart or not rows & set(k.among)]
    printed = draft.words.get(("media", "print"), "").lower() == "printed"
    if printed and any(k.value == "photo_image" for k in kinds):
        kinds = [k for k in kinds if k.value != "print"]  # a photograph "printed" is still a photograph
    if rows or any(not k.yields for k in kinds):
        kinds = [k for k in kinds if not k.yields]
    return kinds


def _lone(senses: Iterable[Sense]) -> frozenset[str]:
    """A kind of one row is that row."""
    return frozenset(s.among[0] for s in senses if s.sort == "kind" and len(s.among) == 1 and not s.apart)


def _is_mount(row: str, knowledge: Knowledge) -> bool:
    return row in knowledge.materials and knowledge.materials[row].mount


def _mounted(mounts: list[Sense], draft: Draft, settled: Settled, knowledge: Knowledge) -> None:
    if not mounts:
        if any(s.value == "no" for s in draft.states.get("mounted", ())):
            settled.proposed["mounted"] = "no"
        return
    mounts = [replace(s, among=tuple(r for r in s.among if _is_mount(r, knowledge))) for s in mounts]
    rows = frozenset(s.value for s in mounts if s.sort == "row") | _lone(mounts)
    kinds = [s for s in mounts if s.sort == "kind" and (s.apart or len(s.among) != 1)]
    kinds = [k for k in kinds if not rows & set(k.among)]
    if len(rows) == 1 and not kinds:
        settled.proposed["mounted"] = next(iter(rows))
        return
    among = frozenset(r for k in kinds for r in k.among) | rows
    words = tuple(draft.words.get((s.question, s.value), s.name) for s in mounts)
    settled.open.append(Open("mounted", words, among=among, named=rows | {k.value for k in kinds}))


def _states(draft: Draft, settled: Settled, knowledge: Knowledge, known: frozenset[str]) -> None:
    """The questions that words of state answer, where they fit the piece."""
    values = _fitting_states(draft, known)
    if draft.denied.get("paste") and not draft.denied.get("adhesive"):
        values.setdefault("adhesive", ["laid"])  # "glued? no"
    doubtful = _doubtful(draft, settled)
    for question in (*_SEVERAL, *_ONE):
        if question in values and question not in doubtful:
            said = _without_denials(question, values[question], draft) if question in _SEVERAL else values[question]
            (_several if question in _SEVERAL else _one)(question, said, settled)
    _none_of("media", "no_medium", values, settled)
    _none_of("laid_on", "none", values, settled)
    laid = settled.proposed.get("laid_on", frozenset()) - {"none"}
    laid |= {row for o in settled.open if o.question == "laid_on" for row in (*o.known, *o.among)}
    natural = any(row in knowledge.inclusions and knowledge.inclusions[row].natural for row in laid)
    for question, asked in (("held", bool(laid)), ("natural_dry", natural)):
        if asked and question in values and question not in doubtful:
            _one(question, values[question], settled)


def _without_denials(question: str, values: list[str], draft: Draft) -> list[str]:
    """ "Torn, not cut": the "not cut" does not make it whole."""
    told = [v for v in values if not draft.words.get((question, v), "").lower().startswith(("not ", "un", "never "))]
    return told or values


def _fitting_states(draft: Draft, known: frozenset[str]) -> dict[str, list[str]]:
    """question -> choices said, without those that are said of other materials than the piece's."""
    families = {f for s in (*draft.supports, *draft.mounts) for f in s.families} or known
    values: dict[str, list[str]] = {}
    for question, senses in draft.states.items():
        fitting = [s.value for s in senses if not s.only or not families or families & set(s.only)]
        if fitting:
            values[question] = list(dict.fromkeys(fitting))
    if draft.laid_on or not (draft.media or draft.unsure.get("media")):
        values.pop("media_age", None)  # "dried" is said of the flowers
    return values


def _not_glued(settled: Settled) -> None:
    """ "not glued" answers what is left to glue: to the mount, what lies on it, its layers, any mount."""
    proposed = settled.proposed
    if (
        proposed.get("adhesive") != "laid"
        or "mounted" in proposed
        or any(o.question == "mounted" for o in settled.open)
    ):
        return
    del proposed["adhesive"]
    if proposed.get("laid_on", frozenset(("none",))) != frozenset(("none",)):
        proposed.setdefault("held", "loose")
    elif proposed.get("piece") == "collage":
        proposed.setdefault("layers", "lifted")
    elif proposed.get("piece") in ("sheet", "photo", "jigsaw", "canvas", "cloth"):
        proposed["mounted"] = "no"


def _something_glued(draft: Draft, settled: Settled) -> bool:
    """Whether a glue has something to hold; gel medium may also be what a transfer was made with."""
    mounted = "mounted" in settled.proposed or any(o.question == "mounted" for o in settled.open)
    piece = settled.proposed.get("piece", "")
    return mounted or draft.stuck or bool(draft.states.get("paste")) or piece in ("collage", "jigsaw", "")


def _doubtful(draft: Draft, settled: Settled) -> set[str]:
    """The questions about which the speaker is not sure; each stays open, narrowed to what was named."""
    found = set()
    for question, senses in draft.unsure.items():
        states = frozenset(s.value for s in senses if s.sort == "state")
        if states and question not in ("piece", "paste"):
            words = tuple(draft.words.get((question, v), v) for v in sorted(states))
            settled.open.append(Open(question, words, among=states, named=states))
            found.add(question)
    return found


def _several(question: str, values: list[str], settled: Settled) -> None:
    alone = {"whole", "none"} & set(values)
    if alone and len(values) > 1:
        settled.open.append(Open(question, tuple(values), among=frozenset(values), named=frozenset(values)))
    else:
        settled.proposed[question] = frozenset(values)


def _one(question: str, values: list[str], settled: Settled) -> None:
    if len(values) == 1:
        settled.proposed[question] = values[0]
    else:
        settled.open.append(Open(question, tuple(values), among=frozenset(values), named=frozenset(values)))


def _none_of(question: str, none: str, values: dict[str, list[str]], settled: Settled) -> None:
    """ "no image", "nothing on it": only where nothing of the sort was named."""
    answered = question in settled.proposed or any(o.question == question for o in settled.open)
    if none in values.get(question, ()) and not answered:
        settled.proposed[question] = frozenset((none,))
