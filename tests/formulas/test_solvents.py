"""The table of solvents, against the package `chemicals` 1.5.2 (Ontario limits, IEC and NFPA flammability)."""

from __future__ import annotations

from pathlib import Path

import pytest
from chemicals import MW
from chemicals.safety import LFL, STEL, TWA, LFL_methods

from knowledge.loading import KnowledgeError
from knowledge.solvents import LONG, SHORT, Solvent, load_solvents

SOLVENTS = load_solvents().solvents
ALL = list(SOLVENTS.values())
# the package has a wrong or no weight for petroleum cuts and the mixed isomers
ODD_WEIGHT = {"naphtha", "white_spirit", "xylene"}
# limits that differ on purpose: Ontario against OSHA and NIOSH (a tighter or looser law, or a TWA used as
# STEL)
ODD_LIMIT = {
    "acetone",
    "isopropanol",
    "toluene",
    "white_spirit",
    "heptane",
    "egbe",
    "naphtha",
    "isobutane",
    "dimethyl_ether",
    "ethanol",
}
ODD_SHORT = {"acetone", "ethanol", "isopropanol", "toluene", "white_spirit", "heptane", "naphtha"}


def _named(solvent: Solvent) -> str:
    return solvent.id


def test_they_are_all_there() -> None:
    assert len(ALL) == 18
    assert len({s.cas for s in ALL}) == 18


@pytest.mark.parametrize("solvent", [s for s in ALL if s.id not in ODD_WEIGHT], ids=_named)
def test_molecular_weight(solvent: Solvent) -> None:
    assert solvent.mw == pytest.approx(MW(solvent.cas), abs=0.006)


def test_named_exceptions_of_weight() -> None:
    """The package gives 241 for white spirit; NIOSH takes about 144. For the mixed isomers it raises."""
    assert MW(SOLVENTS["white_spirit"].cas) > 240
    assert SOLVENTS["white_spirit"].mw == 144
    for id in ("naphtha", "xylene"):
        with pytest.raises(ValueError, match="valid CAS"):
            MW(SOLVENTS[id].cas)
    assert SOLVENTS["xylene"].mw == pytest.approx(106.165, abs=0.01)


@pytest.mark.parametrize("solvent", [s for s in ALL if s.id not in ODD_LIMIT], ids=_named)
def test_long_limits_agree(solvent: Solvent) -> None:
    lowest = solvent.lowest(LONG)
    assert lowest is not None and solvent.ppm(lowest) == TWA(solvent.cas)[0]


# Ontario's figure and ours, where they differ
@pytest.mark.parametrize(("id", "theirs", "ours"), [
    ("acetone", 500, 250), ("isopropanol", 200, 400), ("toluene", 20, 100), ("heptane", 400, 85), ("egbe", 20, 5),
])  # fmt: skip
def test_named_exceptions_of_limits(id: str, theirs: float, ours: float) -> None:
    assert TWA(SOLVENTS[id].cas)[0] == theirs
    lowest = SOLVENTS[id].lowest(LONG)
    assert lowest is not None and SOLVENTS[id].ppm(lowest) == ours


@pytest.mark.parametrize("solvent", [s for s in ALL if s.id not in ODD_SHORT and STEL(s.cas)], ids=_named)
def test_short_limits_agree(solvent: Solvent) -> None:
    lowest = solvent.lowest(SHORT)
    assert lowest is not None and solvent.ppm(lowest) == STEL(solvent.cas)[0]


@pytest.mark.parametrize("solvent", [s for s in ALL if LFL_methods(CASRN=s.cas)], ids=_named)
def test_the_lowest_published_flammable_limit_is_used(solvent: Solvent) -> None:
    printed = [100 * LFL(CASRN=solvent.cas, method=m) for m in LFL_methods(CASRN=solvent.cas)]
    assert solvent.lowest_lel().value <= min(printed) + 1e-9
    assert any(x.value == pytest.approx(p) for x in solvent.lel for p in printed)


def test_limits_in_milligrams_are_turned_into_ppm() -> None:
    """NIOSH, 1988 OSHA PEL project, 8052-41-3: 350 and 1800 mg/m3 are about 60 and 310 ppm."""
    white_spirit = SOLVENTS["white_spirit"]
    long, short = white_spirit.lowest(LONG), white_spirit.lowest(SHORT)
    assert long is not None and short is not None
    assert white_spirit.ppm(long) == pytest.approx(60, abs=1)
    assert white_spirit.ppm(short) == pytest.approx(310, abs=5)


def test_where_ten_per_cent_of_the_flammable_limit_is_the_danger_limit() -> None:
    """NIOSH sets these IDLH values at 10 % of its LEL."""
    lel = {"acetone": 2.5, "ethanol": 3.3, "isopropanol": 2.0, "butyl_acetate": 1.7, "ethyl_acetate": 2.0,
           "methyl_acetate": 3.1, "propane": 2.1, "butane": 1.6}  # fmt: skip
    for id, percent in lel.items():
        idlh = SOLVENTS[id].lowest(("IDLH",))
        assert idlh is not None and idlh.value == pytest.approx(1000 * percent, rel=0.001), id
        assert percent in [x.value for x in SOLVENTS[id].lel], id


def test_every_value_says_where_it_is_from() -> None:
    for solvent in ALL:
        for value in (*solvent.limits, *solvent.lel, *([solvent.flash] if solvent.flash else [])):
            assert (value.basis == "published") == bool(value.source and value.locator), (solvent.id, value)


def test_there_is_an_assumption_for_every_carrier_that_is_no_water() -> None:
    for carrier in ("alcohol", "hydrocarbon", "strong"):
        for method in ("spray", "brush"):
            assert load_solvents().assumed(carrier, method), (carrier, method)
    assert load_solvents().assumed("water", "spray")
    assert not load_solvents().assumed("water", "brush")


BROKEN = [
    ('[[solvent]]\nid = "x"', "'name' is missing"),
    ('[[solvant]]\nid = "x"', "no kind of row"),
    (
        '[[mixture]]\nid = "m"\nname = "m"\ncarrier = "water"\nmethod = "spray"\ndensity = 1.0\nvolatile = 5\n'
        'parts = { nothing = 120 }\nbasis = "from memory"',
        "no solvent of this file",
    ),
]


@pytest.mark.parametrize(("text", "says"), BROKEN)
def test_a_broken_table_does_not_load(text: str, says: str, tmp_path: Path) -> None:
    path = tmp_path / "solvents.toml"
    path.write_text(text)
    with pytest.raises(KnowledgeError, match=says):
        load_solvents(path)
