"""The table of allowances: sound as it is, and a broken one does not load."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowledge.allowances import load_allowances, solid_density
from knowledge.loading import Knowledge, KnowledgeError

ROW = '[[allowance]]\nid = "drips"\nname = "drips"\nvalue = "10 to 20 %"\nbasis = "common practice"\n'
BROKEN = [
    ('[[allowance]]\nid = "x"', "'value' is missing"),
    ('[[allowence]]\nid = "x"', "no kind of row"),
    (ROW + ROW, "another allowance of this id"),
    (ROW.replace("common practice", "published"), "needs source and locator"),
    (ROW.replace(" %", ""), "has no unit"),
]


@pytest.mark.parametrize(("text", "says"), BROKEN)
def test_a_broken_table_does_not_load(text: str, says: str, tmp_path: Path) -> None:
    path = tmp_path / "allowances.toml"
    path.write_text(text)
    with pytest.raises(KnowledgeError, match=says):
        load_allowances(path)


def test_every_source_is_in_the_list_of_sources(knowledge: Knowledge) -> None:
    for row in load_allowances().values():
        assert row.basis != "published" or row.source in knowledge.sources, row.id


POROUS = ("paper", "wood", "cloth", "board", "canvas", "leather", "stone", "ceramic", "cement", "cork")


def test_every_open_material_is_lighter_than_its_own_stuff_without_air(knowledge: Knowledge) -> None:
    for row in knowledge.materials.values():
        if row.face == "open" and row.family in POROUS:
            assert row.density.low < solid_density(row.family).value.low, row.id
