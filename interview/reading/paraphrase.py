"""What was understood, said back in a line or two of plain words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from interview.reading.resolving import Settled
from interview.reading.sizes import UNIT_NAMES, Measured
from interview.reading.slots import Draft

# how the piece and its material are joined in words: the piece alone, and with a material
_PIECES = {
    "collage": ("A collage", "A collage of {}"), "sheet": ("A single sheet", "A single sheet: {}"),
    "photo": ("A photograph", "A photograph on {}"), "jigsaw": ("A jigsaw", "A jigsaw"),
    "canvas": ("A canvas", "On {}"),
    "wood": ("A piece of wood or board", "A piece of {}"), "cloth": ("A piece of cloth", "A piece of {}"),
    "hard": ("Something hard", "A piece of {}"), "cast": ("Things cast in resin", "Things cast in resin"),
    "": ("", "On {}"),
}  # fmt: skip
_STATES = (
    "layers",
    "sturdiness",
    "wood_finish",
    "dryness",
    "media_age",
    "resin_on",
    "darken",
    "only_one",
    "held",
    "natural_dry",
)
_PHOTO = frozenset(("photo", "photo_image"))  # kinds that say no more than "a photograph"
_DENIED = ("support", "media", "laid_on", "piece", "opened", "adhesive", "wood_finish", "wood_features")


@dataclass(frozen=True, slots=True)
class Speaker:
    """Says back one sentence. `names`: (question, row) -> the row's name."""

    settled: Settled
    draft: Draft
    names: Mapping[tuple[str, str], str]

    def lines(self, size: Measured | None, count: int | None) -> str:
        """One or two lines. Empty where nothing was understood."""
        return "\n".join(line for line in (self._first(size, count), self._second(size)) if line)

    def _first(self, size: Measured | None, count: int | None) -> str:
        from interview.quantities.written import size_words

        proposed = self.settled.proposed
        material = self._named("support")
        opened = [w for w in ("whole", "cut", "torn") if w in proposed.get("opened", ())]
        opened = [w for w in opened if w not in material.split()]
        if material and opened:
            material = f"{' and '.join(opened)} {material}"
        alone, joined = _PIECES[proposed.get("piece", "")]
        parts = [joined.format(material) if material else ", ".join(p for p in (alone, " and ".join(opened)) if p)]
        if "pieces" in proposed:
            parts.append(f"of {proposed['pieces']} pieces")
        parts += [self._mounted(), self._media(), self._laid()]
        if size is not None:
            parts.append(size_words(size.size, imperial=size.imperial))
        if count is not None and count > 1:
            parts.append(f"{count} of them")
        text = ", ".join(part for part in parts if part)
        return text[:1].upper() + text[1:] + "." if text else ""

    def _mounted(self) -> str:
        if self.settled.proposed.get("mounted") == "no":
            return "not mounted"
        mount = self._named("mounted")
        adhesive = self.settled.proposed.get("adhesive", "")
        glue = self.draft.words.get(("adhesive", adhesive), adhesive).removesuffix(" to")
        said_as_done = glue.endswith(("ed", "ed on", "ed onto", "ed down"))  # "taped", not the name of a glue
        held = glue if said_as_done or adhesive in ("laid", "") else f"held by {glue}"
        return ", ".join(part for part in (f"on {mount}" if mount else "", held) if part)

    def _media(self) -> str:
        if self.settled.proposed.get("media") == frozenset(("no_medium",)):
            return "nothing drawn or printed on it"
        media = self._named("media")
        return f"image: {media}" if media and media != self._named("support") else ""

    def _laid(self) -> str:
        if self.settled.proposed.get("laid_on") == frozenset(("none",)):
            return "nothing laid on it"
        laid = self._named("laid_on")
        return f"with {laid}" if laid else ""

    def _second(self, size: Measured | None) -> str:
        notes = []
        if size is not None and size.assumed:
            notes.append(f"You gave no unit, so I took {UNIT_NAMES[size.assumed]}")
        if states := self._states():
            notes.append("Also: " + ", ".join(states))
        if denied := self._denied():
            notes.append("Not: " + ", ".join(denied))
        if self.draft.things:
            notes.append("Of the rest I know nothing: " + ", ".join(dict.fromkeys(self.draft.things)))
        if to_ask := [w for o in self.settled.open for w in o.words]:
            notes.append("I will ask more about: " + ", ".join(dict.fromkeys(to_ask)))
        return ". ".join(notes) + ("." if notes else "")

    def _states(self) -> list[str]:
        proposed = self.settled.proposed
        found = [(q, proposed[q]) for q in _STATES if q in proposed]
        found += [(q, v) for q in ("wood_features", "ways") for v in sorted(proposed.get(q, ()))]
        return list(dict.fromkeys(self.draft.words.get(pair, pair[1]) for pair in found))

    def _denied(self) -> list[str]:
        words = [
            self.draft.words.get((question, value), value)
            for question in _DENIED
            for value in sorted(self.settled.denied.get(question, ()))
        ]
        return list(dict.fromkeys(words))

    def _named(self, question: str) -> str:
        """The rows and kinds of one question, in words."""
        value: Any = self.settled.proposed.get(question, frozenset())
        rows = [value] if isinstance(value, str) else sorted(value)
        photo = self.settled.proposed.get("piece") == "photo"
        left = [o for o in self.settled.open if o.question == question and not (photo and o.named <= _PHOTO)]
        rows += [row for o in left for row in sorted(o.known)]
        shelf = "support" if question == "mounted" else question
        words = [self._label(shelf, row) for row in rows if row not in ("no", "no_medium", "none")]
        return listed(dict.fromkeys((*words, *(w for o in left for w in o.words))))

    def _label(self, question: str, row: str) -> str:
        """The person's own word, with the row's name where that says something else."""
        name = self.names.get((question, row), row)
        typed = self.draft.words.get((question, row), name).lower()
        if typed in name.lower():
            return name
        return typed if name.lower() in typed else f"{typed} ({name})"


def listed(words: Iterable[str]) -> str:
    """ "a, b and c"."""
    *most, last = list(words) or [""]
    return f"{', '.join(most)} and {last}" if most else last
