"""A denial is never dropped, and reaches no further than it should. Sentences as people say them."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from interview.reading.opening import Understanding, lexicon_of, understand
from knowledge.loading import Knowledge, load


def proposed_ids(got: Understanding) -> set[str]:
    found: set[str] = set()
    for value in got.proposed.values():
        if isinstance(value, frozenset):
            found |= value
        elif isinstance(value, str):
            found.add(value)
    return found


# sentence; ids that must not be proposed; ids that must be
DENIALS = [
    ("no glitter", "glitter", ""),
    ("a card with no glitter", "glitter", "cardstock"),
    ("a card without any glitter or sequins, with buttons", "glitter plastic_beads", "buttons cardstock"),
    ("no glitter, shells or sand, just tissue on card", "glitter shell sand", "tissue_paper"),
    ("no glitter, shells on mdf", "glitter", "shell mdf"),
    ("no glitter and no shells", "glitter shell", ""),
    ("no glitter and some shells", "glitter", "shell"),
    ("no glitter but there are shells", "glitter", "shell"),
    ("no glitter on the plywood", "glitter", "plywood"),
    ("there isn't any glitter on the slate", "glitter", "slate"),
    ("glitter: none", "glitter", ""),
    ("glitter? no. shells? yes", "glitter", "shell"),
    ("glitter-free, on mdf", "glitter", "mdf"),
    ("the glitter was left out", "glitter", ""),
    ("glitter was not used", "glitter", ""),
    ("I didn't use any glitter", "glitter", ""),
    ("we won't have glitter on it", "glitter", ""),
    ("minus the glitter this time", "glitter", ""),
    ("everything but the glitter", "glitter", ""),
    ("sand instead of glitter", "glitter", "sand"),
    ("oak rather than pine", "softwood", "hardwood_open_pored"),
    ("nothing except sand on mdf", "", "sand mdf"),
    ("not only glitter but also shells on canvas", "", "glitter shell canvas_primed"),
    ("I don't want the glitter to sink, it's on mdf", "", "glitter mdf"),
    ("not without glitter", "glitter", ""),
    ("not canvas, it's on plywood", "canvas_primed", "plywood"),
    ("it isn't canvas", "canvas_primed", ""),
    ("it is not a jigsaw", "jigsaw", ""),
    ("neither photos nor prints, just tissue paper", "photo", "tissue_paper"),
    ("No, it's oil on canvas", "", "oil_paint canvas_primed"),
    ("no knots, no cracks, pine board", "knots cracks", "softwood"),
    ("oak, never varnished", "varnished", "hardwood_open_pored"),
    ("haven't varnished the oak", "varnished", "hardwood_open_pored"),
    ("unvarnished pine", "varnished", "softwood"),
    ("isn't painted wood, just bare birch", "painted painted_wood", "bare hardwood_fine_pored"),
    ("not torn, cut magazine pages on card", "torn", "cut magazine_page"),
    ("not glued with pva, I used wheat paste", "pva laid", "paste"),
    ("glued with rubber cement, not pva", "pva", "rubber_cement"),
    ("not mounted on plywood, it lies loose", "plywood", ""),
    ("a photo, not mounted", "", "photo"),
    ("the photo isn't glued to anything", "", "photo"),
    ("no drawing pins, only buttons on cork", "metal_charm no_medium", "buttons cork"),
    ("no paper doily", "paper_doily", ""),
    ("no ink or paint on the tile", "india_ink", "no_medium glazed_tile"),
    ("not sure if the oak is varnished or waxed", "varnished waxed", "hardwood_open_pored"),
    ("plywood or mdf, not sure", "plywood mdf", ""),
    ("maybe some glitter, on slate", "glitter", "slate"),
    ("pva or paste, I can't remember", "pva paste", ""),
]


@pytest.mark.parametrize(("say", "never", "always"), DENIALS, ids=[d[0] for d in DENIALS])
def test_denials(say: str, never: str, always: str, knowledge: Knowledge) -> None:
    got = understand(say, knowledge)
    ids = proposed_ids(got)
    assert not ids & set(never.split()), f"{got.proposed}"
    assert set(always.split()) <= ids, f"{got.proposed}"


DENIED = [
    ("no glitter", "laid_on", "glitter"),
    ("it isn't oil paint", "media", "oil_paint"),
    ("not plywood", "support", "plywood"),
    ("unvarnished oak", "wood_finish", "varnished"),
    ("glitter: none", "laid_on", "glitter"),
]


@pytest.mark.parametrize(("say", "question", "id"), DENIED)
def test_what_is_denied_is_reported(say: str, question: str, id: str, knowledge: Knowledge) -> None:
    got = understand(say, knowledge)
    assert id in got.denied[question]


_KNOWLEDGE = load()
_ROWS = sorted(
    (" ".join(words), sense.question, sense.value)
    for words, senses in lexicon_of(_KNOWLEDGE).phrases.items()
    if not any(s.sort == "grammar" for s in senses)
    for sense in senses
    if sense.sort == "row"
)
_FRAMES = (
    "no {}", "a photo on plywood, no {}", "watercolour on card with sand but no {}",
    "without {}, tissue on mdf",
    "It is wood. There isn't any {}.", "collage of tissue on mdf. {}: none", "not {}, it's on board",
    "no {} or shells, only paper", "I haven't used {}", "oak table top, not {}",
)  # fmt: skip


def _claims(got: Understanding, question: str) -> set[str]:
    value: Any = got.proposed.get(question, frozenset())
    claims = {value} if isinstance(value, str) else set(value)
    return claims | ({got.proposed["mounted"]} if question == "support" and "mounted" in got.proposed else set())


@settings(max_examples=200, deadline=None)
@given(st.sampled_from(_ROWS), st.sampled_from(_FRAMES))
def test_adding_no_x_never_yields_x(row: tuple[str, str, str], frame: str) -> None:
    """For every row's every word: what is denied is not proposed, unless the rest of the sentence says it."""
    phrase, question, id = row
    without = understand(" ".join(frame.format("").split()), _KNOWLEDGE)
    got = understand(frame.format(phrase), _KNOWLEDGE)
    assert id not in _claims(got, question) - _claims(without, question)


@settings(max_examples=200, deadline=None)
@given(
    st.sampled_from(_ROWS),
    st.sampled_from(("a card", "a photo on plywood", "oak table top, oiled", "shells on mdf")),
)
def test_a_thing_both_said_and_denied_is_not_proposed(row: tuple[str, str, str], start: str) -> None:
    phrase, question, id = row
    got = understand(f"{start} with {phrase}. No {phrase}.", _KNOWLEDGE)
    assert id not in _claims(got, question) - _claims(understand(start, _KNOWLEDGE), question)
