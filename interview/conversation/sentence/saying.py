"""What was understood, said back in a line or two of plain words."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from interview.conversation.sentence.filling import Draft
from interview.conversation.sentence.measures import Measured
from interview.conversation.sentence.settling import Open, Settled

_PIECES = {
    "collage": "a collage", "sheet": "a single sheet", "photo": "a photograph", "jigsaw": "a jigsaw", "canvas": "a canvas",
    "wood": "a piece of wood or board", "cloth": "a piece of cloth or leather", "hard": "something hard", "cast": "things cast in resin",
}  # fmt: skip
_ASSUMED = {"in": "inches", "cm": "centimetres", "mm": "millimetres"}


def said_back(
    settled: Settled, draft: Draft, names: dict[tuple[str, str], str], size: Measured | None, count: int | None
) -> str:
    """One or two lines. Empty where nothing was understood."""
    first = _first(settled, draft, names, size, count)
    second = _second(settled, draft, names, size)
    return "\n".join(line for line in (first, second) if line)


def _first(
    settled: Settled, draft: Draft, names: dict[tuple[str, str], str], size: Measured | None, count: int | None
) -> str:
    proposed = settled.proposed
    parts = [_PIECES.get(proposed.get("piece", ""), "")]
    made = _named(settled, draft, names, "support")
    opened = [w for w in ("whole", "cut", "torn") if w in proposed.get("opened", ())]
    if made:
        parts.append(f"made on {' and '.join(opened)} {made}" if opened else f"made on {made}")
    elif opened:
        parts.append(" and ".join(opened))
    if proposed.get("mounted") == "no":
        parts.append("not mounted")
    elif mount := _named(settled, draft, names, "mounted"):
        parts.append(f"mounted on {mount}")
    media = _named(settled, draft, names, "media")
    if proposed.get("media") == frozenset(("no_medium",)):
        parts.append("nothing drawn or printed on it")
    elif media:
        parts.append(f"image: {media}")
    laid = _named(settled, draft, names, "laid_on")
    if proposed.get("laid_on") == frozenset(("none",)):
        parts.append("nothing laid on it")
    elif laid:
        parts.append(f"with {laid}")
    if size is not None:
        parts.append(size_words(size.size))
    if count is not None and count > 1:
        parts.append(f"{count} of them")
    text = ", ".join(part for part in parts if part)
    return text[:1].upper() + text[1:] + "." if text else ""


def _second(settled: Settled, draft: Draft, names: dict[tuple[str, str], str], size: Measured | None) -> str:
    notes = []
    if size is not None and size.assumed:
        notes.append(f"You gave no unit, so I took {_ASSUMED[size.assumed]}")
    states = [
        draft.words.get((question, value), value)
        for question, value in settled.proposed.items()
        if question in ("layers", "sturdiness", "adhesive", "wood_finish", "dryness", "media_age", "resin_on", "darken",
                        "only_one", "held", "natural_dry")
    ]  # fmt: skip
    for question in ("wood_features", "ways"):
        states += [draft.words.get((question, v), v) for v in sorted(settled.proposed.get(question, ()))]
    if states:
        notes.append("Also: " + ", ".join(dict.fromkeys(states)))
    if denied := _denied(settled, draft):
        notes.append("Not there: " + ", ".join(denied))
    if draft.things:
        notes.append("I have nothing on " + _listed(dict.fromkeys(draft.things), "or"))
    if to_ask := [w for o in settled.open for w in o.words]:
        notes.append("I will ask which: " + ", ".join(dict.fromkeys(to_ask)))
    return ". ".join(notes) + ("." if notes else "")


def _denied(settled: Settled, draft: Draft) -> list[str]:
    words = [
        draft.words.get((question, value), value)
        for question in ("support", "media", "laid_on", "piece", "opened", "adhesive", "wood_finish", "paste")
        for value in sorted(settled.denied.get(question, ()))
    ]
    return list(dict.fromkeys(words))


def _named(settled: Settled, draft: Draft, names: dict[tuple[str, str], str], question: str) -> str:
    value: Any = settled.proposed.get(question, frozenset())
    rows = [value] if isinstance(value, str) else sorted(value)
    left = [o for o in settled.open if o.question == question]
    rows += [row for o in left for row in sorted(o.known)]
    shelf = "support" if question == "mounted" else question
    words = [names.get((shelf, row), row).lower() for row in rows if row not in ("no_medium", "none")]
    return _listed(dict.fromkeys((*words, *(w for o in left for w in o.words))), "and")


def _listed(words: Iterable[str], joiner: str) -> str:
    *most, last = list(words) or [""]
    return f"{', '.join(most)} {joiner} {last}" if most else last


def size_words(size: dict[str, Any]) -> str:
    """In both systems: "12 x 16 in (305 x 406 mm)"."""
    sides = [size["diameter"]] if size["shape"] == "circle" else [size["width"], size["height"]]
    inches = " x ".join(f"{s / 25.4:.3g}" for s in sides)
    metric = " x ".join(f"{s / 10:.3g}" for s in sides)
    across = " across" if size["shape"] == "circle" else ""
    return f"{inches} in ({metric} cm){across}"


__all__ = ["Open", "said_back", "size_words"]
