"""The facts of the data files against published figures: densities, sheets, what dissolves what, wood.

Each table names its source; the figures are typed in here. What rests on trade usage alone
is in tests/cases/trade.toml.
"""

from __future__ import annotations

from typing import Any

import pytest

from knowledge.loading import Knowledge
from knowledge.shape import Span

RESIN = 1.10  # g/cm3, liquid epoxy mix: common practice
CELLULOSE = 1.5  # g/cm3, cell wall: lecture notes on wood after the Wood Handbook


def _middle(span: Span) -> float:
    return (span.low + span.high) / 2


# ------------------------------------------------------------------ densities

# Source: Paper density, table of an open encyclopaedia page (tertiary); lecture slides for copy and kraft.
PAPER_DENSITY = [
    ("newsprint", 0.61, 0.78),
    ("tissue_paper", 0.25, 0.50),
    ("magazine_page", 1.11, 1.16),
    ("copy_paper", 0.74, 0.74),
    ("kraft_paper", 0.67, 0.67),
]


@pytest.mark.parametrize(("id", "low", "high"), PAPER_DENSITY)
def test_published_paper_densities_lie_within_the_rows(knowledge: Knowledge, id: str, low: float, high: float) -> None:
    span = knowledge.materials[id].density
    assert span.low <= low and high <= span.high


# Source: Densities of plastics, Table 1, Environmental Sciences Europe 2015 (s12302-015-0069-y).
PLASTICS = [
    ("acrylic_sheet", 1.09, 1.20),
    ("polystyrene_sheet", 1.04, 1.10),
    ("polycarbonate", 1.20, 1.22),
    ("polyolefin", 0.83, 0.98),
    ("pet_sheet", 0.96, 1.45),
    ("soft_vinyl", 1.16, 1.58),
    ("foam_polystyrene", 0.01, 0.04),
]


@pytest.mark.parametrize(("id", "low", "high"), PLASTICS)
def test_plastics_have_their_published_density(knowledge: Knowledge, id: str, low: float, high: float) -> None:
    span = knowledge.materials[id].density
    assert (span.low, span.high) == (low, high)


# Source: Physical Properties of Textile Fibres, The Textile Institute, table 5.1: density of the solid fibre.
FIBRES = [
    ("cotton_cloth", 1.52),
    ("viscose", 1.49),
    ("silk", 1.34),
    ("wool_cloth", 1.31),
    ("felt", 1.31),
    ("polyester_cloth", 1.39),
    ("yarn", 1.52),
    ("hair", 1.31),
    ("print_3d_pla", 1.25),
]


@pytest.mark.parametrize(("id", "solid"), FIBRES)
def test_no_cloth_is_denser_than_its_fibre(knowledge: Knowledge, id: str, solid: float) -> None:
    row = {**knowledge.inclusions, **knowledge.materials}[id]
    assert row.density.high <= solid


def test_nylon_straddles_its_published_density(knowledge: Knowledge) -> None:
    """Source: as above, nylon 1.14."""
    span = knowledge.materials["nylon"].density
    assert span.low <= 1.14 <= span.high


# Source: Wood Handbook (USDA FPL-GTR-282), Table 5-3b, specific gravity at 12 % (from a transcription).
SPECIES = [
    ("hardwood_open_pored", "white ash", 0.60),
    ("hardwood_open_pored", "black ash", 0.49),
    ("hardwood_open_pored", "northern red oak", 0.63),
    ("hardwood_open_pored", "white oak", 0.68),
    ("hardwood_fine_pored", "quaking aspen", 0.38),
    ("hardwood_fine_pored", "American basswood", 0.37),
    ("hardwood_fine_pored", "American beech", 0.64),
    ("hardwood_fine_pored", "paper birch", 0.55),
    ("hardwood_fine_pored", "yellow birch", 0.62),
    ("hardwood_fine_pored", "black cherry", 0.50),
    ("hardwood_fine_pored", "sugar maple", 0.63),
    ("hardwood_fine_pored", "yellow-poplar", 0.42),
    ("hardwood_half_ring", "black walnut", 0.55),
    ("softwood", "coast Douglas-fir", 0.48),
    ("softwood", "eastern white pine", 0.35),
    ("softwood", "ponderosa pine", 0.40),
    ("softwood", "eastern redcedar", 0.47),
    ("softwood", "western redcedar", 0.32),
    ("softwood", "old-growth redwood", 0.40),
]


def _at_12_percent(gravity: float) -> float:
    """g/cm3. Source: Wood Handbook ch. 4, density = water x G x (1 + moisture/100)."""
    return gravity * 1.12


def test_the_handbooks_own_check_value() -> None:
    assert _at_12_percent(0.40) == pytest.approx(0.448)


@pytest.mark.parametrize(("id", "species", "gravity"), SPECIES)
def test_species_fall_within_their_pore_class(knowledge: Knowledge, id: str, species: str, gravity: float) -> None:
    span = knowledge.materials[id].density
    assert span.low <= _at_12_percent(gravity) <= span.high, species


# Source: Museum of Fine Arts, Boston, CAMEO, Shell 2.93 to 2.95; Handbook of Mineralogy, muscovite to 2.88.
@pytest.mark.parametrize(("id", "solid"), [("flat_shell", 2.95), ("shell", 2.95), ("mica_powder", 2.88)])
def test_no_heap_is_denser_than_its_solid(knowledge: Knowledge, id: str, solid: float) -> None:
    assert knowledge.inclusions[id].density.high <= solid


# ------------------------------------------------------------------ thickness and grammage

# Source: caliper article, 20 lb bond is 0.0040 in. Basis: 17 x 22 in, 500 sheets; 1 lb = 453.59237 g exactly.
BOND_20 = (20 * 453.59237 / (500 * 17 * 22 * 0.0254**2), 0.0040 * 25.4)


def test_twenty_pound_bond_is_copy_paper(knowledge: Knowledge) -> None:
    grams, mm = BOND_20
    assert grams == pytest.approx(75.2, abs=0.05)  # 3.760 g/m2 a pound, by arithmetic
    row = knowledge.materials["copy_paper"]
    assert row.grammage is not None and row.thickness is not None
    assert row.grammage.low <= grams <= row.grammage.high
    assert row.thickness.low <= round(mm, 3) <= row.thickness.high
    assert row.grammage.low <= 80 <= row.grammage.high  # Source: Grammage, encyclopaedia: office paper


def test_newsprint_lies_within_its_published_grammage(knowledge: Knowledge) -> None:
    """Source: second-hand, 35 to 55 g/m2."""
    span = knowledge.materials["newsprint"].grammage
    assert span is not None
    assert span.low >= 35 and span.high <= 55


def test_boards_are_thicker_than_paper(knowledge: Knowledge) -> None:
    """Source: Western Michigan University lecture: paperboard starts at 0.012 in (0.305 mm)."""
    boards = [m for m in knowledge.materials.values() if m.family in ("board", "jigsaw") and m.thickness]
    assert boards
    for row in boards:
        assert row.thickness is not None and row.thickness.low >= 0.305, row.id


def _weighed(knowledge: Knowledge) -> list[Any]:
    return [m for m in knowledge.materials.values() if m.thickness and m.grammage]


def test_density_is_grammage_over_thickness(knowledge: Knowledge) -> None:
    """Definition of apparent density, ISO 534: grammage / thickness. g/m2 / mm / 1000 = g/cm3."""
    rows = [row for row in _weighed(knowledge) if not row.members]  # a class has the worst of each, not one sheet
    assert len(rows) >= 60
    for row in rows:
        low, high = row.grammage.low / row.thickness.high / 1000, row.grammage.high / row.thickness.low / 1000
        assert max(low, row.density.low) <= min(high, row.density.high), f"{row.id}: {low:.2f} to {high:.2f}"
        middle = _middle(row.grammage) / _middle(row.thickness) / 1000
        assert middle == pytest.approx(_middle(row.density), rel=0.35), f"{row.id}: {middle:.2f}"


def test_air_follows_the_pore_volume_of_a_sheet(knowledge: Knowledge) -> None:
    """Geometry: mL/m2 of air = thickness in um - grammage / cell-wall density."""
    pores = {
        row.id: _middle(row.thickness) * 1000 - _middle(row.grammage) / CELLULOSE
        for row in _weighed(knowledge)
        if row.family in ("paper", "board", "jigsaw") and row.core == "open"
    }
    assert pores["copy_paper"] == pytest.approx(52, abs=5)
    assert pores["greyboard"] > 500
    for id, volume in pores.items():
        air = knowledge.materials[id].air
        assert air <= 2 or volume > 400, f"{id}: {volume:.0f} mL/m2 is little for air = {air}"
        assert air >= 1 or volume < 100, f"{id}: {volume:.0f} mL/m2 is much for air = {air}"
        assert air >= 2 or volume < 400, f"{id}: {volume:.0f} mL/m2 is much for air = {air}"


def test_open_sheets_are_lighter_than_cellulose(knowledge: Knowledge) -> None:
    """What drinks has pores: its density stays below that of the cell wall."""
    for row in knowledge.materials.values():
        if row.family in ("paper", "board", "wood", "cork") and row.face == "open":
            assert row.density.high < CELLULOSE, row.id


def test_floating_follows_from_density(knowledge: Knowledge) -> None:
    """Archimedes: lighter than the resin floats, heavier sinks; what straddles may be called either."""
    for row in knowledge.inclusions.values():
        if row.density.high < RESIN - 0.1:
            assert row.floats == "floats", row.id
        if row.density.low > RESIN + 0.15:
            assert row.floats == "sinks", row.id
        if row.floats == "hovers":
            assert row.density.low <= RESIN <= row.density.high, row.id


# ------------------------------------------------------------------ what dissolves what

# (table, row, property, test, level, source). Read as passages; full names in knowledge/sources.toml.
PUBLISHED_LEVELS = [
    ("media", "oil_pastel", "hydrocarbon", "==", 2, "CAMEO, Oil crayon: soluble in hydrocarbons"),
    ("media", "oil_pastel", "waxy", "==", 2, "CAMEO, Oil crayon: non-drying"),
    ("media", "wax_crayon", "waxy", "==", 2, "CAMEO, Wax crayon: paraffin and stearic acid"),
    ("media", "marker", "alcohol", "==", 2, "CAMEO, Felt tip pen: many dyes solvent sensitive"),
    ("media", "felt_pen", "water", "==", 2, "CAMEO, Felt tip pen: dyes in water"),
    ("media", "ballpoint", "alcohol", "==", 2, "ACS Chemical Innovation 31(9): dye in benzyl alcohol"),
    ("media", "ballpoint", "water", "==", 0, "ACS Chemical Innovation 31(9): no water in the ink"),
    ("media", "gel_pen", "water", ">=", 1, "ACS Chemical Innovation 31(9): about 80 % water base"),
    ("media", "watercolour_pencil", "water", "==", 2, "AIC 2024 abstract: stays soluble"),
    ("media", "inkjet_dye", "water", "==", 2, "AIC report 2016: most prints damaged after 1 second"),
    ("media", "thermal_print", "alcohol", "==", 2, "National Archives of Australia, thermal papers"),
    ("media", "acrylic_paint", "strong", "==", 2, "Conservation DistList 2006/0697: weak solvents do"),
    ("media", "shellac_finish", "alcohol", "==", 2, "Painter's guide: soluble in alcohol"),
    ("media", "shellac_finish", "hydrocarbon", "==", 0, "Painter's guide: not soluble in turpentine"),
    ("media", "charcoal", "loose", "==", 2, "JAIC 35(3): the fixative's function is to stick powder"),
    ("materials", "inkjet_fine_art", "water", "==", 2, "AIC report 2016: art papers worst"),
    ("materials", "acetate", "strong", "==", 2, "CAMEO, Acetate film: diacetate soluble in acetone"),
    ("materials", "abs", "strong", "==", 2, "POPART: plastics sensitive to solvents"),
    ("materials", "cork", "water", "==", 0, "CAMEO, Cork: unaffected by water"),
    ("materials", "cork", "alcohol", "==", 0, "CAMEO, Cork: unaffected by alcohol"),
    ("materials", "photo_resin_coated", "heat", "==", 2, "Army course SS0509: blisters when mounted too hot"),
    ("materials", "thermal_receipt", "heat", "==", 2, "National Archives of Australia, thermal papers"),
    ("materials", "concrete", "moist", "==", 2, "MIL-HDBK-1110, 11.4.2.7: blistering from moisture"),
    ("inclusions", "feather", "brush", "==", "crushes", "J. Polym. Environ. 2007: very low density"),
    ("sealers", "fixative_workable", "barrier", "==", 0, "JAIC 35(3) section 2: a poor film-former"),
    ("sealers", "fixative_workable", "darkens", ">=", 1, "CAMEO, Fixative: darkening"),
    ("sealers", "shellac_dewaxed", "yellows", ">=", 1, "Painter's guide: shellac yellows"),
    ("sealers", "resin_seal_coat", "blocks_air", "==", 2, "FPL-RP-462: two-part epoxies among the best"),
]


@pytest.mark.parametrize(("table", "id", "name", "how", "level", "source"), PUBLISHED_LEVELS)
def test_levels_agree_with_the_source(
    knowledge: Knowledge, table: str, id: str, name: str, how: str, level: Any, source: str
) -> None:
    value = getattr(getattr(knowledge, table)[id], name)
    assert value == level if how == "==" else value >= level, source


def test_acetone_is_never_milder_than_white_spirit_on_ink_and_paint(knowledge: Knowledge) -> None:
    """Source: JAIC 23(2) 1984: acetone dissolves inks and dyes better than hydrocarbons do. Not so wax."""
    for row in knowledge.media.values():
        if not row.waxy:
            assert row.strong >= row.hydrocarbon, row.id


def test_dye_is_more_sensitive_to_water_than_pigment(knowledge: Knowledge) -> None:
    """Source: Smithsonian Institution Archives 2019; AIC report 2016."""
    media = knowledge.media
    assert media["inkjet_dye"].water > media["inkjet_pigment"].water
    assert media["inkjet_unknown"].water == max(media["inkjet_dye"].water, media["inkjet_pigment"].water)


# Source: US National Park Service, Conserve O Gram 13/2: what must not be humidified at home.
LEAVE_TO_AN_EXPERT = [
    ("materials", "tracing_paper"), ("materials", "parchment"), ("materials", "photo_resin_coated"),
    ("materials", "photo_glossy"), ("materials", "photo_fibre"), ("media", "chalk"), ("media", "charcoal"),
    ("media", "soft_pastel"), ("media", "iron_gall"), ("media", "watercolour"), ("media", "gouache"),
]  # fmt: skip


@pytest.mark.parametrize(("table", "id"), LEAVE_TO_AN_EXPERT)
def test_no_wet_brush_where_an_expert_is_asked_for(knowledge: Knowledge, table: str, id: str) -> None:
    row = getattr(knowledge, table)[id]
    if table == "materials":
        assert row.stop or row.brush in ("curls", "tears", "crushes")
    else:
        assert row.stop or row.smudge == 2


def test_fixing_chalk_and_graphite(knowledge: Knowledge) -> None:
    """Source: JAIC 35(3) section 2: powdery media are fixed, graphite less often."""
    assert knowledge.media["chalk"].fix == knowledge.media["soft_pastel"].fix == "first"
    assert knowledge.media["graphite"].fix == "optional"
    for row in knowledge.media.values():
        assert (row.loose == 2) <= (row.fix != "no" or row.stop != ""), row.id


def test_a_fixative_is_made_for_what_must_be_fixed(knowledge: Knowledge) -> None:
    made_for = set(knowledge.sealers["fixative_workable"].made_for)
    assert {m.id for m in knowledge.media.values() if m.fix == "first" and not m.members} <= made_for


# ------------------------------------------------------------------ wood and pressing

# Source: Wood Handbook ch. 16: woods with large pores need filling for a smooth film; the others finish like
# softwood. The species beside the classes are from memory.
PORES = {
    "hardwood_open_pored": ("oak", "ash", "elm", "chestnut", "hickory"),
    "hardwood_fine_pored": ("maple", "beech", "cherry", "birch", "basswood", "poplar"),
    "hardwood_half_ring": ("walnut", "mahogany"),
    "softwood": ("pine", "spruce"),
}


def test_species_are_told_by_their_pore_class(knowledge: Knowledge) -> None:
    for id, species in PORES.items():
        assert set(species) <= set(knowledge.materials[id].also), id
    drink = {id: knowledge.materials[id].drink for id in PORES}
    assert max(drink, key=drink.__getitem__) == "hardwood_open_pored"
    assert min(drink, key=drink.__getitem__) == "hardwood_fine_pored"


def test_flowers_are_pressed_as_herbaria_press_them(knowledge: Knowledge) -> None:
    """Source: Royal Botanic Gardens Sydney: change every 2 to 3 days; University of Arizona: about a week."""
    how = knowledge.inclusions["pressed_flowers"].dry_how
    assert "every two or three days" in how
    assert "one to two weeks" in how
