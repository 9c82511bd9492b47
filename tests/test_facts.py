"""The facts of the data files against published figures. Each table names its source; figures are typed in here.

What rests on trade usage alone is in tests/cases/trade.toml. Here stands only what somebody has published, and what
follows from geometry.
"""

from __future__ import annotations

import re
from collections import Counter
from typing import Any

import pytest

from knowledge.checking import check
from knowledge.loading import Knowledge
from knowledge.shape import Sealer, Span

RESIN = 1.10  # g/cm3, liquid epoxy mix: common practice
CELLULOSE = 1.5  # g/cm3, cell wall: lecture notes on wood after the Wood Handbook


def _rows(knowledge: Knowledge) -> list[Any]:
    return [
        *knowledge.materials.values(),
        *knowledge.inclusions.values(),
        *knowledge.media.values(),
        *knowledge.sealers.values(),
    ]


def _middle(span: Span) -> float:
    return (span.low + span.high) / 2


# ------------------------------------------------------------------ densities

# Source: Paper density, table of an open encyclopaedia page (tertiary), and lecture slides for copy and kraft paper.
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


# Source: Wood Handbook (USDA FPL-GTR-282), Table 5-3b, specific gravity at 12 % moisture (read from a transcription).
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
    """g/cm3. Source: Wood Handbook ch. 4, density = water x G x (1 + moisture/100); its check: 0.40 gives 0.448."""
    return gravity * 1.12


def test_the_handbooks_own_check_value() -> None:
    assert _at_12_percent(0.40) == pytest.approx(0.448)


@pytest.mark.parametrize(("id", "species", "gravity"), SPECIES)
def test_species_fall_within_their_pore_class(knowledge: Knowledge, id: str, species: str, gravity: float) -> None:
    span = knowledge.materials[id].density
    assert span.low <= _at_12_percent(gravity) <= span.high, species


# Source: Museum of Fine Arts, Boston, CAMEO, Shell 2.93 to 2.95; Handbook of Mineralogy, muscovite 2.77 to 2.88.
@pytest.mark.parametrize(("id", "solid"), [("flat_shell", 2.95), ("shell", 2.95), ("mica_powder", 2.88)])
def test_no_heap_is_denser_than_its_solid(knowledge: Knowledge, id: str, solid: float) -> None:
    assert knowledge.inclusions[id].density.high <= solid


# ------------------------------------------------------------------ thickness and grammage

# Source: caliper article, 20 lb bond is 0.0040 in; basis weight: 17 x 22 in, 500 sheets, 1 lb = 453.59237 g exactly.
BOND_20 = (20 * 453.59237 / (500 * 17 * 22 * 0.0254**2), 0.0040 * 25.4)


def test_twenty_pound_bond_is_copy_paper(knowledge: Knowledge) -> None:
    grams, mm = BOND_20
    assert grams == pytest.approx(75.2, abs=0.05)  # 3.760 g/m2 a pound, by arithmetic
    row = knowledge.materials["copy_paper"]
    assert row.grammage is not None and row.thickness is not None
    assert row.grammage.low <= grams <= row.grammage.high
    assert row.thickness.low <= round(mm, 3) <= row.thickness.high
    assert row.grammage.low <= 80 <= row.grammage.high  # Source: Grammage, encyclopaedia: office paper is 80 g/m2


def test_newsprint_lies_within_its_published_grammage(knowledge: Knowledge) -> None:
    """Source: second-hand, 35 to 55 g/m2."""
    span = knowledge.materials["newsprint"].grammage
    assert span is not None and 35 <= span.low and span.high <= 55


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
    rows = _weighed(knowledge)
    assert len(rows) >= 60
    for row in rows:
        low, high = row.grammage.low / row.thickness.high / 1000, row.grammage.high / row.thickness.low / 1000
        assert max(low, row.density.low) <= min(high, row.density.high), f"{row.id}: {low:.2f} to {high:.2f}"
        middle = _middle(row.grammage) / _middle(row.thickness) / 1000
        assert middle == pytest.approx(_middle(row.density), rel=0.35), f"{row.id}: {middle:.2f}"


def test_air_follows_the_pore_volume_of_a_sheet(knowledge: Knowledge) -> None:
    """Geometry: mL/m2 of air = thickness in um - grammage / cell-wall density. Copy paper about 50, greyboard over 500."""
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

# (table, row, property, test, level, source). All read as passages; see knowledge/sources.toml for the full names.
PUBLISHED_LEVELS = [
    ("media", "oil_pastel", "hydrocarbon", "==", 2, "CAMEO, Oil crayon: soluble in most petroleum hydrocarbons"),
    ("media", "oil_pastel", "waxy", "==", 2, "CAMEO, Oil crayon: non-drying"),
    ("media", "wax_crayon", "waxy", "==", 2, "CAMEO, Wax crayon: paraffin and stearic acid"),
    ("media", "marker", "alcohol", "==", 2, "CAMEO, Felt tip pen: many dyes solvent sensitive"),
    ("media", "felt_pen", "water", "==", 2, "CAMEO, Felt tip pen: dyes in water"),
    ("media", "ballpoint", "alcohol", "==", 2, "ACS Chemical Innovation 31(9): dye in benzyl alcohol"),
    ("media", "ballpoint", "water", "==", 0, "ACS Chemical Innovation 31(9): no water in the ink"),
    ("media", "gel_pen", "water", ">=", 1, "ACS Chemical Innovation 31(9): about 80 % water base"),
    ("media", "watercolour_pencil", "water", "==", 2, "AIC 2024 abstract: stays soluble long after it is applied"),
    ("media", "inkjet_dye", "water", "==", 2, "AIC report 2016: most prints damaged after 1 second"),
    ("media", "thermal_print", "alcohol", "==", 2, "National Archives of Australia, thermal papers"),
    ("media", "acrylic_paint", "strong", "==", 2, "Conservation DistList 2006/0697: soluble in weak organic solvents"),
    ("media", "shellac_finish", "alcohol", "==", 2, "Painter's guide: soluble in alcohol"),
    ("media", "shellac_finish", "hydrocarbon", "==", 0, "Painter's guide: not soluble in turpentine"),
    ("media", "charcoal", "loose", "==", 2, "JAIC 35(3): the fixative's function is to stick powder"),
    ("materials", "inkjet_fine_art", "water", "==", 2, "AIC report 2016: polymer and uncoated art papers worst"),
    ("materials", "acetate", "strong", "==", 2, "CAMEO, Acetate film: diacetate soluble in acetone"),
    ("materials", "abs", "strong", "==", 2, "POPART: plastics sensitive to solvents"),
    ("materials", "cork", "water", "==", 0, "CAMEO, Cork: unaffected by water"),
    ("materials", "cork", "alcohol", "==", 0, "CAMEO, Cork: unaffected by alcohol"),
    ("materials", "photo_resin_coated", "heat", "==", 2, "Army course SS0509: blisters when mounted too hot"),
    ("materials", "thermal_receipt", "heat", "==", 2, "National Archives of Australia, thermal papers"),
    ("materials", "concrete", "moist", "==", 2, "MIL-HDBK-1110, 11.4.2.7: blistering from moisture"),
    ("inclusions", "feather", "brush", "==", "crushes", "J. Polym. Environ. 2007: feather of very low density"),
    ("sealers", "fixative_workable", "barrier", "==", 0, "JAIC 35(3) section 2: a poor film-former by design"),
    ("sealers", "fixative_workable", "darkens", ">=", 1, "CAMEO, Fixative: darkening"),
    ("sealers", "shellac_dewaxed", "yellows", ">=", 1, "Painter's guide: shellac yellows"),
    ("sealers", "resin_seal_coat", "blocks_air", "==", 2, "FPL-RP-462: two-part epoxies among the best of 91 finishes"),
]


@pytest.mark.parametrize(("table", "id", "name", "how", "level", "source"), PUBLISHED_LEVELS)
def test_levels_agree_with_the_source(
    knowledge: Knowledge, table: str, id: str, name: str, how: str, level: Any, source: str
) -> None:
    value = getattr(getattr(knowledge, table)[id], name)
    assert value == level if how == "==" else value >= level, source


def test_acetone_is_never_milder_than_white_spirit_on_ink_and_paint(knowledge: Knowledge) -> None:
    """Source: JAIC 23(2) 1984: acetone dissolves resins, printing inks and dyes better than hydrocarbons. Not so on wax."""
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
    assert {m.id for m in knowledge.media.values() if m.fix == "first"} <= made_for


# ------------------------------------------------------------------ wood and pressing

# Source: Wood Handbook ch. 16: woods with large pores need filling for a smooth film; the others finish like softwood.
# The species beside the classes are from memory.
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
    """Source: Royal Botanic Gardens Sydney: papers changed every 2 to 3 days; University of Arizona: about a week."""
    how = knowledge.inclusions["pressed_flowers"].dry_how
    assert "every two or three days" in how
    assert "one to two weeks" in how


# ------------------------------------------------------------------ sealers: stages of drying, film and spread

_MINUTES = {"minute": 1, "hour": 60, "day": 1440, "week": 10080, "month": 43200}


def _minutes(span: Span) -> tuple[float, float]:
    factor = _MINUTES[span.unit.removesuffix("s")]
    return span.low * factor, span.high * factor


def _real(knowledge: Knowledge) -> list[Sealer]:
    return [s for s in knowledge.sealers.values() if s.method != "none"]


def test_stages_of_drying_come_in_their_order(knowledge: Knowledge) -> None:
    """Source: ASTM D1640 and ISO 9117 name the stages: set to touch, then dry through. Resin waits for dry through."""
    for sealer in _real(knowledge):
        touch, recoat, ready = _minutes(sealer.touch), _minutes(sealer.recoat), _minutes(sealer.ready)
        if sealer.carrier != "none":  # what cures is recoated while it still has some tack: MIL-HDBK-1110, 2.2.3
            assert touch[0] <= recoat[0], sealer.id
        assert recoat[0] < ready[0] and recoat[1] < ready[1] and touch[1] <= ready[1], sealer.id


def test_a_seal_coat_is_recoated_while_it_has_tack(knowledge: Knowledge) -> None:
    """Source: MIL-HDBK-1110 / UFC 3-190-06, 2.2.3."""
    seal = knowledge.sealers["resin_seal_coat"]
    assert seal.recoat_window is not None
    assert _minutes(seal.recoat)[0] <= _minutes(seal.touch)[0]
    assert _minutes(seal.recoat_window)[1] <= _minutes(seal.touch)[1]
    assert "scuff" in seal.done_when


def test_done_means_through_dry_and_not_surface_dry(knowledge: Knowledge) -> None:
    """Source: ISO 9117-3: a film that lets beads be brushed off may still be soft beneath; so a touch is not enough."""
    deep = ("thumb", "smell", "thread", "white dust")
    for sealer in _real(knowledge):
        assert any(word in sealer.done_when for word in deep), sealer.id


def test_film_follows_from_spread_and_solids(knowledge: Knowledge) -> None:
    """A litre over a square metre is 1 mm wet; dry film = wet film x solids (MIL-HDBK-1110, 2.1.5), less what is lost."""
    for s in _real(knowledge):
        assert s.spread and s.solids and s.dry_film and s.loss, s.id
        low = 1000 / s.spread.high * s.solids.low / 100 * (1 - s.loss.high / 100)
        high = 1000 / s.spread.low * s.solids.high / 100 * (1 - s.loss.low / 100)
        assert low <= s.dry_film.high and s.dry_film.low <= high, f"{s.id}: {low:.1f} to {high:.1f} um"
        assert low - 1 <= _middle(s.dry_film) <= high + 1, f"{s.id}: {low:.1f} to {high:.1f} um"


def test_spray_loss_takes_in_the_published_transfer(knowledge: Knowledge) -> None:
    """Source: 40 CFR 60.313(c)(1), Table 1: air-atomised spray puts 25 % on the work. None is published for a can."""
    for sealer in _real(knowledge):
        if sealer.method == "spray":
            assert sealer.loss is not None and sealer.loss.low <= 75 <= sealer.loss.high, sealer.id
            assert sealer.loss.low >= 35, f"{sealer.id}: better than a low-pressure spray gun (65 % on the work)"


def test_a_thin_seal_coat_is_a_tenth_to_a_fifth_of_a_millimetre(knowledge: Knowledge) -> None:
    """Geometry: 5 to 10 m2 a litre with nothing that evaporates."""
    seal = knowledge.sealers["resin_seal_coat"]
    assert seal.dry_film is not None and seal.spread is not None
    assert (seal.dry_film.low, seal.dry_film.high) == (1000 / seal.spread.high, 1000 / seal.spread.low)


def test_no_sealer_dissolves_what_it_is_made_for(knowledge: Knowledge) -> None:
    for sealer in _real(knowledge):
        if sealer.carrier != "none":
            for id in sealer.made_for:
                assert getattr(knowledge.media[id], sealer.carrier) < 2, f"{sealer.id} on {id}"


def test_every_sealer_says_what_its_label_must_say(knowledge: Knowledge) -> None:
    """Common practice: dries clear, does not yellow, may be coated over."""
    for sealer in _real(knowledge):
        said = " ".join(sealer.look_for)
        assert sealer.carrier == "none" or "clear" in said, sealer.id
        assert sealer.yellows or "non-yellowing" in said, sealer.id
        assert len(sealer.how) > 150 and len(sealer.done_when) > 60, sealer.id


# ------------------------------------------------------------------ cautions

# Source: UN Globally Harmonized System, annex 3, hazard statement codes: a word each statement turns on.
GHS = {
    "H222": "flammable", "H225": "flammable", "H226": "flammable", "H229": "burst", "H314": "burn", "H315": "skin",
    "H317": "allerg", "H318": "eye", "H319": "eye", "H335": "airway", "H336": "dizz", "H411": "water",
}  # fmt: skip
_CODE = re.compile(r"\bH\d{3}\b")


def test_hazard_codes_are_real_and_mean_what_is_said_beside_them(knowledge: Knowledge) -> None:
    seen: set[str] = set()
    for caution in knowledge.cautions.values():
        text = caution.says.lower()
        for code in _CODE.findall(caution.says):
            assert code in GHS, f"{caution.id}: {code}"
            assert GHS[code] in text, f"{caution.id}: {code}"
            seen.add(code)
        for cite in (*caution.cites, caution):
            for code in _CODE.findall(cite.locator):
                assert code in GHS, f"{caution.id}: {code}"
    assert {"H317", "H314", "H336"} <= seen


# Source: the GHS classes that safety data sheets of epoxy parts and of aerosols give, and whose caution must stand.
ALWAYS = {
    "label_first": ("label", "safety data sheet", "local rules"),
    "skin_contact": ("nitrile", "goggles", "never with solvent"),  # BSCA leaflet: nitrile, changed often
    "sensitiser": ("allergy", "H317"),  # HSE RR079
    "ventilation": ("fan", "windows"),
    "who_should_not": ("pregnant", "children", "asthma"),  # AJOG 2016, 214, 597; 15 USC 1277
    "hot_pot": ("cup", "smoke"),
}


@pytest.mark.parametrize("id", ALWAYS)
def test_these_cautions_stand_in_every_brief(knowledge: Knowledge, id: str) -> None:
    caution = knowledge.cautions[id]
    assert not caution.when.names()
    for word in ALWAYS[id]:
        assert word.lower() in caution.says.lower(), word


def test_latex_is_warned_against(knowledge: Knowledge) -> None:
    """Source: British Society for Cutaneous Allergy: latex and neoprene do not protect from epoxy resin."""
    assert "Latex and neoprene do not" in knowledge.cautions["skin_contact"].says


def test_spraying_brings_place_fire_mask_and_cloths(knowledge: Knowledge) -> None:
    """Source: 29 CFR 1910.134(a)(1), air first; 42 CFR 84: particle filters P95, P100 for oily mist; P410+P412: 50 C."""
    shown = {
        c.id: c.says
        for c in knowledge.cautions.values()
        if c.when.outcome({"treated.methods": frozenset(("spray",)), "treated.carriers": frozenset(("strong",))}).holds
    }
    for word in ("outdoors", "organic-vapour", "P95 or P100", "drop cloths", "50 C"):
        assert word in shown["aerosol"], word
    assert "pilot light" in shown["flammable_vapour"]
    assert {"aerosol", "flammable_vapour", "solvent_vapour"} <= set(shown)


def test_a_cartridge_is_not_promised_for_alcohol(knowledge: Knowledge) -> None:
    """Source: NIOSH Pocket Guide, ethanol: supplied air, no cartridge."""
    assert "does not hold alcohol vapour" in knowledge.cautions["solvent_vapour"].says


# (answers and decision, the caution that must stand). Sources: see the row of each caution.
SITUATIONS: list[tuple[dict[str, Any], str]] = [
    ({"wood_finish": "oiled"}, "oily_rags"),
    ({"media": frozenset(("oil_paint",))}, "oily_rags"),
    ({"wood_finish": "painted"}, "old_paint"),
    ({"support": frozenset(("weathered_wood",))}, "old_paint"),
    ({"support": frozenset(("driftwood",))}, "found_things"),
    ({"laid_on": frozenset(("feather",))}, "found_things"),
    ({"support.family": frozenset(("wood",))}, "dust"),
    ({"treated.methods": frozenset(("brush",)), "treated.sealers": frozenset(("shellac_dewaxed",))}, "solvent_brushing"),
    ({"treated.methods": frozenset(("brush",)), "treated.carriers": frozenset(("alcohol",))}, "flammable_vapour"),
    ({"laid_on": frozenset(("battery",))}, "battery_inside"),
]


@pytest.mark.parametrize(("facts", "id"), SITUATIONS)
def test_each_danger_has_its_caution(knowledge: Knowledge, facts: dict[str, Any], id: str) -> None:
    assert knowledge.cautions[id].when.outcome(facts).holds


def test_quiet_work_brings_no_needless_caution(knowledge: Knowledge) -> None:
    facts = {
        "piece": "sheet", "support": frozenset(("cardstock",)), "support.family": frozenset(("paper",)),
        "mounted": "no", "media": frozenset(("laser_toner",)), "laid_on": frozenset(("none",)),
        "treated.methods": frozenset(("brush",)), "treated.carriers": frozenset(("water",)),
        "treated.sealers": frozenset(("brush_water_borne",)),
    }  # fmt: skip
    shown = {c.id for c in knowledge.cautions.values() if c.when.outcome(facts).holds}
    assert shown == {*ALWAYS, "waste"}


# ------------------------------------------------------------------ the files as a whole

# What must be there, whoever edits the files. No source.
MATERIALS = """
newsprint construction_paper copy_paper tissue_paper washi kraft_paper cardstock watercolour_hot_pressed
watercolour_cold_pressed pastel_paper tracing_paper photo_glossy photo_satin photo_resin_coated photo_fibre photo_instant
inkjet_fine_art inkjet_canvas magazine_page napkin stamp playing_card map wrapping_paper book_page synthetic_sheet jigsaw
greyboard canvas_raw canvas_primed cotton_cloth silk felt leather softwood hardwood_fine_pored hardwood_open_pored
hardwood_half_ring oily_hardwood plywood mdf hardboard weathered_wood driftwood bark_edge cork bamboo painted_wood
varnished_wood oiled_wood waxed_wood terracotta glazed_tile slate stone_polished stone_porous concrete plaster glass metal
acrylic_sheet soft_vinyl foam_polystyrene print_3d_pla unsure
"""
INCLUSIONS = """
pressed_flowers dried_flowers fresh_flowers leaves feather butterfly_wing insect shell sand glitter mica_powder seeds
coffee_beans coin beads_of_any_kind yarn photograph paper_cutout metal_leaf_flakes candle_wax food unsure
""".replace("beads_of_any_kind", "glass_beads plastic_beads")
SEALERS = """
brush_water_borne brush_pva_size shellac_dewaxed spray_acrylic spray_ink_varnish fixative_workable resin_seal_coat none
"""


def test_nothing_promised_is_missing(knowledge: Knowledge) -> None:
    assert set(MATERIALS.split()) <= set(knowledge.materials)
    assert set(INCLUSIONS.split()) <= set(knowledge.inclusions)
    assert set(SEALERS.split()) <= set(knowledge.sealers)
    assert len(knowledge.media) >= 40
    assert {"no_medium", "unsure"} <= set(knowledge.media)


def test_the_unknown_is_taken_on_the_safe_side(knowledge: Knowledge) -> None:
    for row in (knowledge.materials["unsure"], knowledge.inclusions["unsure"]):
        assert row.face == row.core == row.back == "open"
        assert row.brush in ("tears", "sheds")
        assert min(row.water, row.alcohol, row.hydrocarbon, row.strong, row.loose) >= 1 and row.air >= 2
    medium = knowledge.media["unsure"]
    assert min(medium.water, medium.alcohol, medium.hydrocarbon, medium.strong) >= 1
    assert medium.smudge == 2 and medium.dry.high > 0


def test_one_word_means_one_row(knowledge: Knowledge) -> None:
    """Words are read in free sentences: within a kind no word may stand for two rows."""
    for table in (knowledge.materials, knowledge.media, knowledge.inclusions, knowledge.sealers):
        words = Counter(w for r in table.values() for w in {r.name.lower(), *r.also})
        assert not [w for w, n in words.items() if n > 1]


def test_words_are_plain_and_lower_case(knowledge: Knowledge) -> None:
    for row in _rows(knowledge):
        for word in row.also:
            assert word == word.strip().lower() and word, f"{row.id}: {word}"
        assert row.reviewed, row.id


def test_ids_are_unique_over_materials_and_inclusions(knowledge: Knowledge) -> None:
    """A zone names both in one set, so an id in both would be taken for the wrong one; "unsure" reads alike in both."""
    assert set(knowledge.materials) & set(knowledge.inclusions) == {"unsure"}


def test_every_source_is_cited_and_every_citation_is_known(knowledge: Knowledge) -> None:
    tables = [t for t in (getattr(knowledge, name) for name in knowledge.__dataclass_fields__) if t is not knowledge.sources]
    cited = {r.source for t in tables for r in t.values()} | {c.source for t in tables for r in t.values() for c in r.cites}
    assert set(knowledge.sources) == cited - {""}


def test_what_rests_on_a_copy_says_so(knowledge: Knowledge) -> None:
    """Figures read only as quotations are marked second-hand."""
    for row in _rows(knowledge):
        for cite in row.cites:
            if cite.source == "paper_density_encyclopaedia" or "Table 5-3b" in cite.locator:
                assert cite.second_hand, row.id


def test_the_files_have_no_fault() -> None:
    mine = ("materials", "inclusions", "media", "sealers", "sources", "cautions", "remedies", "ways_out.toml")
    assert [str(f) for f in check() if any(part in f.file for part in mine)] == []
