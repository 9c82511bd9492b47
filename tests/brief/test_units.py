"""Both systems of units, the maker's own first: only the order is turned, every number stays."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from interview.brief.own_units import arranged
from interview.brief.rendering import render
from tests.brief.plans import tissue_collage


@pytest.mark.parametrize(
    ("metric", "imperial"),
    [
        ("60 to 80 mL (2 to 2 3/4 fl oz)", "2 to 2 3/4 fl oz (60 to 80 mL)"),
        ("30 x 40 cm (11 3/4 x 15 3/4 in)", "11 3/4 x 15 3/4 in (30 x 40 cm)"),
        ("0.12 m² (1.3 sq ft)", "1.3 sq ft (0.12 m²)"),
        ("220 to 670 cm² (35 to 100 sq in)", "35 to 100 sq in (220 to 670 cm²)"),
        ("At 21 °C (70 °F) and 55 %", "At 70 °F (21 °C) and 55 %"),
        ("drives up to 32 mL (1 fl oz) of air", "drives up to 1 fl oz (32 mL) of air"),
        ("about 5 L (1.3 gal), then 2 L (0.5 gal)", "about 1.3 gal (5 L), then 0.5 gal (2 L)"),
        ("3 mm (1/8 in) deep", "1/8 in (3 mm) deep"),
        ("1 pot of 510 mL (17 1/2 fl oz)", "1 pot of 17 1/2 fl oz (510 mL)"),
        ("25 g (0.9 oz)", "0.9 oz (25 g)"),
        ("a tin (large)", "a tin (large)"),
        ("18 mm", "18 mm"),
        ("10 m (not measured)", "10 m (not measured)"),
    ],
)
def test_a_pair_is_turned_and_turned_back(metric: str, imperial: str) -> None:
    assert arranged(metric, "imperial") == imperial
    assert arranged(imperial, "metric") == metric
    assert arranged(metric, "metric") == metric
    assert arranged(imperial, "imperial") == imperial


@given(st.text(alphabet="0123456789 ./()xmLcinftoz°CFgalq²", max_size=80))
def test_no_number_is_lost_or_made(text: str) -> None:
    for units in ("metric", "imperial"):
        turned = arranged(text, units)  # type: ignore[arg-type]
        assert sorted(re.findall(r"\d", turned)) == sorted(re.findall(r"\d", text))
        assert len(turned) == len(text)


@pytest.mark.parametrize("form", ["terminal", "markdown", "html", "handout", "csv-shopping"])
def test_the_whole_brief_speaks_the_makers_units_first(form: str) -> None:
    pair = r"[\d/ ]+ (?:{0}) \([\d/ x]+ (?:{1})\)"
    metric_first, imperial_first = pair.format("mL|cm", "fl oz|in"), pair.format("fl oz|in", "mL|cm")
    own = render(tissue_collage(), form, units="imperial")  # type: ignore[arg-type]
    assert re.search(imperial_first, own)
    assert not re.search(metric_first, own)
    assert re.search(metric_first, render(tissue_collage(), form, units="metric"))  # type: ignore[arg-type]
