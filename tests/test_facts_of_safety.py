"""Sealers and cautions against published figures: stages of drying, film, hazard codes, masks, gloves.

The source stands beside each check; the figures are typed in here.
"""

from __future__ import annotations

import re
from typing import Any

import pytest

from interview.reasoning.planner import make_plan
from knowledge.loading import Knowledge
from knowledge.shape import Sealer, Span
from tests.test_trade import answers_of


def _middle(span: Span) -> float:
    return (span.low + span.high) / 2


# ------------------------------------------------------------------ stages of drying, film, spread

_MINUTES = {"minute": 1, "hour": 60, "day": 1440, "week": 10080, "month": 43200}


def _minutes(span: Span) -> tuple[float, float]:
    factor = _MINUTES[span.unit.removesuffix("s")]
    return span.low * factor, span.high * factor


def _real(knowledge: Knowledge) -> list[Sealer]:
    return [s for s in knowledge.sealers.values() if s.method != "none"]


def test_stages_of_drying_come_in_their_order(knowledge: Knowledge) -> None:
    """Source: ASTM D1640, ISO 9117: set to touch comes first, dry through last. Resin waits for the last."""
    for sealer in _real(knowledge):
        touch, recoat, ready = _minutes(sealer.touch), _minutes(sealer.recoat), _minutes(sealer.ready)
        if sealer.carrier != "none":  # what cures is recoated with tack: see below
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
    """Source: ISO 9117-3: a film that lets beads be brushed off may be soft beneath: touch is not enough."""
    deep = ("thumb", "smell", "thread", "white dust")
    for sealer in _real(knowledge):
        assert any(word in sealer.done_when for word in deep), sealer.id


def test_film_follows_from_spread_and_solids(knowledge: Knowledge) -> None:
    """1 L over 1 m2 is 1 mm wet; dry film = wet film x solids (MIL-HDBK-1110, 2.1.5), less the loss."""
    for s in _real(knowledge):
        assert s.spread and s.solids and s.dry_film and s.loss, s.id
        low = 1000 / s.spread.high * s.solids.low / 100 * (1 - s.loss.high / 100)
        high = 1000 / s.spread.low * s.solids.high / 100 * (1 - s.loss.low / 100)
        assert low <= s.dry_film.high and s.dry_film.low <= high, f"{s.id}: {low:.1f} to {high:.1f} um"
        assert low - 1 <= _middle(s.dry_film) <= high + 1, f"{s.id}: {low:.1f} to {high:.1f} um"


def test_spray_loss_takes_in_the_published_transfer(knowledge: Knowledge) -> None:
    """Source: 40 CFR 60.313(c)(1), Table 1: air-atomised spray puts 25 % on the work. No figure for a can."""
    for sealer in _real(knowledge):
        if sealer.method == "spray":
            assert sealer.loss is not None and sealer.loss.low <= 75 <= sealer.loss.high, sealer.id
            assert sealer.loss.low >= 35, f"{sealer.id}: better than a spray gun"


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
    "H222": "flammable", "H225": "flammable", "H226": "flammable", "H229": "burst", "H314": "burn",
    "H315": "skin", "H317": "allerg", "H318": "eye", "H319": "eye", "H335": "airway", "H336": "dizz",
    "H411": "water",
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
        for locator in (caution.locator, *(c.locator for c in caution.cites)):
            for code in _CODE.findall(locator):
                assert code in GHS, f"{caution.id}: {code}"
    assert {"H317", "H314", "H336"} <= seen


# What the GHS classes on data sheets of epoxy parts and aerosols ask for, with the source where one is named.
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
    """Source: 29 CFR 1910.134(a)(1): air first; 42 CFR 84: P filters for oily mist; P410+P412: 50 C."""
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
    (
        {"treated.methods": frozenset(("brush",)), "treated.sealers": frozenset(("shellac_dewaxed",))},
        "solvent_brushing",
    ),
    (
        {"treated.methods": frozenset(("brush",)), "treated.carriers": frozenset(("alcohol",))},
        "flammable_vapour",
    ),
    ({"laid_on": frozenset(("battery",))}, "battery_inside"),
]


@pytest.mark.parametrize(("facts", "id"), SITUATIONS)
def test_each_danger_has_its_caution(knowledge: Knowledge, facts: dict[str, Any], id: str) -> None:
    if set(facts) & {"media", "support", "laid_on"}:  # what the rows bring is told of a whole piece
        told = {q: sorted(v) for q, v in facts.items()}
        told |= {"piece": "wood"} if "support" in facts else {}
        assert id in {c.id for c in make_plan(knowledge, answers_of(knowledge, told)).cautions}
        return
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
