"""What the piece is, in one sentence, out of the answers alone: wherever the piece is named, it is named so."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from interview.plan.answers import Answers
from interview.reasoning.circumstances import rows_of
from knowledge.loading import Knowledge
from knowledge.shape import UNSURE

KIND_OPEN = " (kind not known)"
# the piece alone, and joined with what it is made of
_PIECES = {
    "collage": ("A collage", "A collage of {}"), "sheet": ("A work on paper", "A work on {}"),
    "photo": ("A photograph", "A photograph on {}"), "jigsaw": ("A jigsaw", "A jigsaw on {}"),
    "canvas": ("A canvas", "A work on {}"), "wood": ("A piece of wood", "A piece of {}"),
    "cloth": ("A piece of cloth", "A piece of {}"), "hard": ("Something hard", "A piece of {}"),
    "": ("A piece", "A piece of {}"),
}  # fmt: skip
# rows that are things, not stuffs: "a wood slice", not "a piece of wood slice"
_THING = re.compile(
    r"(?:slice|tile|page|map|card|cover|mat|record|print|stamp|ticket|sticker|banknote|poster|doily|napkin|photograph|mirror)$"
)


def describe(knowledge: Knowledge, answers: Answers, own: Mapping[str, str] | None = None) -> str:
    """`own`: what the maker calls a row, put for its name.

    "A collage of torn tissue paper on plywood, in acrylic paint, with glitter". No full stop; "" of nothing."""
    piece, own = answers.value("piece") or "", own or {}
    things = _names(knowledge.inclusions, answers.value("laid_on"), own=own)
    if piece == "cast":
        return f"{joined(things).capitalize() if things else 'Things'} cast in resin"
    parts = [_made_of(knowledge, answers, piece, own)]
    mount = _names(knowledge.materials, answers.value("mounted"), own=own)
    if mount:
        parts[0] += f" on {joined(mount)}"
    media = [name for name in _names(knowledge.media, answers.value("media"), but=("no_medium",))]
    if media:
        parts.append(f"in {joined(media)}")
    if things:
        parts.append(f"with {joined(things)}")
    said = any(answers.has(q) for q in ("piece", "support", "mounted", "media", "laid_on"))
    return ", ".join(parts) if said else ""


def _made_of(knowledge: Knowledge, answers: Answers, piece: str, own: Mapping[str, str]) -> str:
    alone, of = _PIECES.get(piece, _PIECES[""])
    support = answers.get("support")
    if piece == "jigsaw" and support and support.value == frozenset(("jigsaw",)):
        return alone
    if support is not None and support.unsure:
        return f"{alone}, of a material not known" if piece != "sheet" else "A work on an unknown paper"
    stuff = _names(knowledge.materials, answers.value("support"), own=own)
    if not stuff:
        return alone
    state = " and ".join(s for s in ("torn", "cut") if s in (answers.value("opened") or ()))
    if state and "unknown material" not in stuff and state not in joined(stuff).split():
        return of.format(f"{state} {joined(stuff)}")
    if piece == "collage":
        return of.format(joined([f"{name}s" if _THING.search(name) else name for name in stuff]))
    if len(stuff) == 1 and _THING.search(stuff[0]):
        return with_article(stuff[0]).capitalize() if "piece of" in of else of.format(with_article(stuff[0]))
    return of.format(joined(stuff))


def _names(
    table: Mapping[str, Any], value: Any, but: Sequence[str] = (), own: Mapping[str, str] | None = None
) -> list[str]:
    ids = value if isinstance(value, frozenset) else [value] if isinstance(value, str) else []
    return [
        (own or {}).get(row.id, row.name) for row in rows_of(table, ids) if row.id not in UNSURE and row.id not in but
    ]


def with_article(name: str) -> str:
    return f"{'an' if name[:1].casefold() in 'aeiou' else 'a'} {name}"


def joined(words: Sequence[str]) -> str:
    """ "a, b and c"."""
    return "".join(words) if len(words) < 2 else f"{', '.join(words[:-1])} and {words[-1]}"
