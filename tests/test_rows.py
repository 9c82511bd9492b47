"""The rows of materials, media, inclusions and sealers as a whole: what must be there, how it is worded."""

from __future__ import annotations

import re
from typing import Any

from knowledge.checking import check
from knowledge.loading import ELSEWHERE, HOME, Knowledge


def _rows(knowledge: Knowledge) -> list[Any]:
    return [
        *knowledge.materials.values(),
        *knowledge.inclusions.values(),
        *knowledge.media.values(),
        *knowledge.sealers.values(),
    ]


# What must be there, whoever edits the files. No source.
MATERIALS = """
newsprint construction_paper copy_paper tissue_paper washi kraft_paper cardstock
watercolour_hot_pressed watercolour_cold_pressed pastel_paper tracing_paper photo_glossy photo_satin
photo_resin_coated photo_fibre photo_instant inkjet_fine_art inkjet_canvas magazine_page napkin
stamp playing_card map wrapping_paper book_page synthetic_sheet jigsaw greyboard canvas_raw
canvas_primed cotton_cloth silk felt leather softwood hardwood_fine_pored hardwood_open_pored
hardwood_half_ring oily_hardwood plywood mdf hardboard weathered_wood driftwood bark_edge cork
bamboo painted_wood varnished_wood oiled_wood waxed_wood terracotta glazed_tile slate stone_polished
stone_porous concrete plaster glass metal acrylic_sheet soft_vinyl foam_polystyrene print_3d_pla
unsure
"""
INCLUSIONS = """
pressed_flowers dried_flowers fresh_flowers leaves feather butterfly_wing insect shell sand glitter
mica_powder seeds coffee_beans coin glass_beads plastic_beads yarn photograph paper_cutout metal_leaf_flakes
candle_wax food unsure_thing
"""
SEALERS = """
brush_water_borne brush_pva_size shellac_dewaxed spray_acrylic spray_ink_varnish fixative_workable
resin_seal_coat none
"""


def test_nothing_promised_is_missing(knowledge: Knowledge) -> None:
    assert set(MATERIALS.split()) <= set(knowledge.materials)
    assert set(INCLUSIONS.split()) <= set(knowledge.inclusions)
    assert set(SEALERS.split()) <= set(knowledge.sealers)
    assert len(knowledge.media) >= 40
    assert {"no_medium", "unsure_medium"} <= set(knowledge.media)


def test_the_unknown_is_taken_on_the_safe_side(knowledge: Knowledge) -> None:
    for row in (knowledge.materials["unsure"], knowledge.inclusions["unsure_thing"]):
        assert row.face == row.core == row.back == "open"
        assert row.brush in ("tears", "sheds")
        assert min(row.water, row.alcohol, row.hydrocarbon, row.strong, row.loose) >= 1 and row.air >= 2
    medium = knowledge.media["unsure_medium"]
    assert min(medium.water, medium.alcohol, medium.hydrocarbon, medium.strong) >= 1
    assert medium.smudge == 2 and medium.dry.high > 0


def test_words_are_plain_and_lower_case(knowledge: Knowledge) -> None:
    for row in _rows(knowledge):
        for word in row.also:
            assert word == word.strip().lower() and word, f"{row.id}: {word}"
        assert row.reviewed, row.id


def test_ids_are_unique_over_materials_and_inclusions(knowledge: Knowledge) -> None:
    """A zone names both in one set, so one id in both would be taken for the wrong one."""
    assert not set(knowledge.materials) & set(knowledge.inclusions)


def test_every_source_is_cited_and_every_citation_is_known(knowledge: Knowledge) -> None:
    files = (path for path in HOME.rglob("*.toml") if path.name not in ELSEWHERE)
    texts = (path.read_text(encoding="utf-8") for path in files)
    cited = {source for text in texts for source in re.findall(r'\bsource = "(\w+)"', text)}
    assert cited == set(knowledge.sources)


def test_what_rests_on_a_copy_says_so(knowledge: Knowledge) -> None:
    """Figures read only as quotations are marked second-hand."""
    for row in _rows(knowledge):
        for cite in row.cites:
            if cite.source == "paper_density_encyclopaedia" or "Table 5-3b" in cite.locator:
                assert cite.second_hand, row.id


def test_the_files_have_no_fault() -> None:
    mine = ("materials", "inclusions", "media", "sealers", "sources", "cautions", "remedies", "ways_out.toml")
    assert [str(f) for f in check() if any(part in f.file for part in mine)] == []
