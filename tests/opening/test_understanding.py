"""What the opening sentence fills in: grammar, sizes, counts, slips, and what it says back."""

from __future__ import annotations

from typing import Any

import pytest

from interview.reading.opening import Understanding, understand
from interview.reading.sentence import read_sentence
from interview.reading.sizes import UNIT_NAMES, bare_unit
from knowledge.loading import Knowledge


def _plain(got: Understanding) -> dict[str, Any]:
    return {q: " ".join(sorted(v)) if isinstance(v, frozenset) else v for q, v in got.proposed.items()}


# sentence; question=answer of each of these must be proposed ("-": must not be answered)
GRAMMAR = [
    ("tissue paper on plywood", "piece=collage support=tissue_paper mounted=plywood"),
    ("watercolour on cartridge paper on mdf", "support=cartridge_paper mounted=mdf media=watercolour"),
    ("oil on canvas", "piece=canvas support=canvas_primed mounted=- media=oil_paint"),
    ("oil on mdf", "piece=wood support=mdf mounted=- media=oil_paint"),
    ("torn tissue collage on mdf with sand", "support=tissue_paper mounted=mdf opened=torn laid_on=sand"),
    ("mdf with torn tissue", "piece=collage support=tissue_paper mounted=mdf"),
    ("a photo printed on canvas", "piece=canvas support=inkjet_canvas"),
    ("a photo mounted on mdf", "piece=photo mounted=mdf"),
    ("pictures of the kids on mdf", "piece=photo mounted=mdf support=-"),
    ("a picture of a glass vase in acrylics on plywood", "support=plywood media=acrylic_paint"),
    ("a photo of oak trees on mdf", "piece=photo mounted=mdf"),
    ("photos printed at home", "piece=photo media=inkjet_unknown"),
    ("I printed it at home on cardstock", "support=cardstock media=inkjet_unknown"),
    ("printed them at the copy shop, on cardstock", "support=cardstock media=laser_toner"),
    ("shells and sand on canvas", "support=canvas_primed laid_on=sand shell"),
    ("ash on canvas", "support=canvas_primed laid_on=soil"),
    ("ash and oak", "support=hardwood_open_pored"),
    ("acrylic on mdf", "support=mdf media=acrylic_paint"),
    ("gold leaf on slate", "support=slate media=metal_leaf laid_on=-"),
    ("gold leaf cast in resin", "piece=cast laid_on=metal_leaf_flakes media=-"),
    ("a map stuck to cork with double sided tape", "support=map mounted=cork adhesive=film"),
    ("a photo. It's on plywood.", "piece=photo mounted=plywood"),
    ("dishes in concrete", "piece=hard support=concrete"),
    ("a photo in a wooden frame", "piece=photo support=- mounted=-"),
    ("I want to stick it to mdf", "support=mdf laid_on=-"),
    ("clear resin over slate", "piece=hard support=slate"),
    ("roses from my wedding, pressed, in a resin block", "piece=cast laid_on=pressed_flowers"),
    ("pine with knots and a crack, oiled", "wood_features=cracks knots wood_finish=oiled"),
    ("slate, varnished", "support=slate wood_finish=-"),
    ("weathered wood, keep the grey", "support=weathered_wood darken=no"),
    ("oak, darker is fine, front only, brush only", "darken=yes resin_on=front ways=brush"),
    ("a drawing, nothing on top", "laid_on=none"),
    ("slate, nothing painted on it", "media=no_medium"),
    ("a jigsaw, not glued down", "piece=jigsaw mounted=no adhesive=-"),
    ("feathers on cardstock, not glued", "laid_on=feather held=loose"),
    ("tissue on mdf, not glued yet", "mounted=mdf adhesive=laid"),
    ("tissue collage, not glued yet", "layers=lifted"),
]  # fmt: skip


@pytest.mark.parametrize(("say", "expect"), GRAMMAR, ids=[g[0] for g in GRAMMAR])
def test_grammar(say: str, expect: str, knowledge: Knowledge) -> None:
    got = _plain(understand(say, knowledge))
    wanted = _expected(expect)
    for question, value in wanted.items():
        assert got.get(question, "-") == value, got


def _expected(text: str) -> dict[str, str]:
    """ "a=b c d=e" -> {"a": "b c", "d": "e"}."""
    found: dict[str, str] = {}
    question = ""
    for word in text.split():
        if "=" in word:
            question, value = word.split("=")
            found[question] = value
        else:
            found[question] += f" {word}"
    return found


SIZES = [
    ("mdf, 12 by 16", "rectangle", (304.8, 406.4), "inches"),
    ("mdf, 12x16 in", "rectangle", (304.8, 406.4), ""),
    ('mdf, 12" x 16"', "rectangle", (304.8, 406.4), ""),
    ("mdf 30 x 40", "rectangle", (300.0, 400.0), "centimetres"),
    ("mdf 600 x 400", "rectangle", (600.0, 400.0), "millimetres"),
    ("mdf 30cm by 40cm", "rectangle", (300.0, 400.0), ""),
    (
        "mdf, 3 mm thick, 12 by 16",
        "rectangle",
        (120.0, 160.0),
        "centimetres",
    ),  # another unit in the text decides
    ("mdf, 8 1/2 x 11 inches", "rectangle", (215.9, 279.4), ""),
    ("mdf, A4", "rectangle", (210.0, 297.0), ""),  # ISO 216
    ("mdf, A3 landscape", "rectangle", (420.0, 297.0), ""),
    ("mdf, 4 inch round", "circle", (101.6,), ""),
    ("mdf, 10 cm square", "rectangle", (100.0, 100.0), ""),
    ("mdf, a foot square", "rectangle", (304.8, 304.8), ""),
    ("oak, 1.2 m by 30 cm", "rectangle", (1200.0, 300.0), ""),
    ("oak, 60 x 30 x 4 cm", "box", (600.0, 300.0, 40.0), ""),
]


@pytest.mark.parametrize(("say", "shape", "sides", "assumed"), SIZES, ids=[s[0] for s in SIZES])
def test_sizes(say: str, shape: str, sides: tuple[float, ...], assumed: str, knowledge: Knowledge) -> None:
    got = understand(say, knowledge)
    size = got.proposed["size"]
    assert size["shape"] == shape
    assert [v for k, v in size.items() if k != "shape"] == pytest.approx(sides)
    chosen = read_sentence(say, knowledge).sizes[0].assumed
    assert UNIT_NAMES.get(chosen, "") == assumed


def test_two_sizes_are_asked_about(knowledge: Knowledge) -> None:
    got = understand("prints on cardstock, 5x7 or 8x10", knowledge)
    assert "size" not in got.proposed
    assert next(o for o in got.open if o.question == "size").words == ("5x7", "8x10")


@pytest.mark.parametrize(
    ("width", "height", "text", "unit"),
    [(8, 10, "", "in"), (50, 70, "", "cm"), (21, 30, "", "in"), (70, 100, "", "cm"),
     (12, 16, "5 mm thick", "cm"),
     (400, 300, "", "mm"), (40, 50, "", "cm"), (20, 30, "", "in"), (30, 40, "2 in deep", "in")],
)  # fmt: skip
def test_units_that_were_not_said(width: float, height: float, text: str, unit: str) -> None:
    assert bare_unit(width, height, text) == unit


COUNTS = [
    ("thirty of them", 30), ("a set of 8 coasters", 8), ("a dozen slate coasters", 12),
    ("two dozen coasters", 24),
    ("half a dozen signs", 6), ("coasters x10", 10), ("12 coasters on slate", 12), ("20 wood slices", 20),
    ("a batch of 15 pendants", 15), ("three hundred gift tags", 300), ("twenty four tiles", 24),
    ("50 off", 50),
    ("a 1000 piece jigsaw", None), ("a jigsaw, 500 pieces", None), ("a collage with 3 photos", None),
    ("shells on 2 mm card", None), ("a photo from 1960", None), ("same again, a dozen", 12),
]  # fmt: skip


@pytest.mark.parametrize(("say", "count"), COUNTS, ids=[c[0] for c in COUNTS])
def test_counts(say: str, count: int | None, knowledge: Knowledge) -> None:
    assert understand(say, knowledge).proposed.get("count") == count


@pytest.mark.parametrize("say", ["same as last time, but thirty of them", "same again please", "like last time"])
def test_an_earlier_piece_is_pointed_to(say: str, knowledge: Knowledge) -> None:
    assert understand(say, knowledge).same_as


SAME = [
    ("watercolor on gray board", "watercolour on grey board"),
    ("aluminum sheet", "aluminium sheet"),
    ("felt-tip pen on card", "felt tip pen on card"),
    ("tissue-paper", "tissue paper"),
    ("card stock", "cardstock"),
    ("papier-mâché", "papier mache"),
    ("TISSUE PAPER ON PLYWOOD", "tissue paper on plywood"),
    ("canvases", "canvas"),
    ("pressed leaves", "pressed leaf"),
    ("charcol on cartrige paper", "charcoal on cartridge paper"),
    ("wartercolour", "watercolour"),
    ("plywod", "plywood"),
    ("glittter on slaate", "glitter on slate"),
    ("decopage napkins on mdf", "decoupage napkins on mdf"),
]


@pytest.mark.parametrize(("say", "like"), SAME, ids=[s[0] for s in SAME])
def test_spelling_plurals_and_slips(say: str, like: str, knowledge: Knowledge) -> None:
    got, wanted = understand(say, knowledge), understand(like, knowledge)
    assert got.proposed == wanted.proposed
    assert [o.named for o in got.open] == [o.named for o in wanted.open]
    assert not got.not_understood


@pytest.mark.parametrize(
    "say",
    [
        "a stove",
        "point",
        "a horse on it",
        "planter",
        "stork",
        "sleet",
        "wire fence painter",
        "the store",
        "broad",
    ],
)
def test_words_that_are_near_a_material_are_left_alone(say: str, knowledge: Knowledge) -> None:
    got = understand(say, knowledge)
    assert not got.corrected
    assert not {"support", "media"} & got.proposed.keys() - {"support"} if "wire" in say else not got.proposed


def test_unknown_words_that_matter_are_named_and_others_passed_over(knowledge: Knowledge) -> None:
    got = understand("My lovely gran quickly gave me zorblax on plywood with some frimbles, on Tuesday", knowledge)
    assert got.not_understood == ("zorblax", "frimbles")


@pytest.mark.parametrize("say", ["Quarrimoor stone", "red Trelawn marble on slate base"])
def test_a_place_before_stone_names_its_sort(say: str, knowledge: Knowledge) -> None:
    assert not understand(say, knowledge).not_understood


@pytest.mark.parametrize(
    ("say", "question", "named"),
    [("a photo on mdf", "support", {"photo"}), ("ink on cardstock", "media", {"ink"}),
     ("paper", "support", {"paper"}),
     ("plywood or mdf", "support", {"plywood", "mdf"}), ("a print on cardstock", "media", {"print"}),
     ("tissue on a wood panel", "mounted", {"wood_panel"}),
     ("pva or paste; tissue on mdf", "adhesive", {"pva", "paste"})],
)  # fmt: skip
def test_a_kind_narrows_the_question_and_leaves_it_open(
    say: str, question: str, named: set[str], knowledge: Knowledge
) -> None:
    got = understand(say, knowledge)
    assert question not in got.proposed
    left = next(o for o in got.open if o.question == question)
    assert left.named == named
    assert left.among
    assert left.words


@pytest.mark.parametrize(
    "say", ["a video of the harbour", "film, 16 mm, projection, colour and sound", "performance, two people",
            "audio, stereo",
            "neon lights", "wall text", "software", "organ, radio, telephone"],
)  # fmt: skip
def test_what_no_one_coats(say: str, knowledge: Knowledge) -> None:
    got = understand(say, knowledge)
    assert not got.coatable
