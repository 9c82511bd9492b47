"""Conditions: three values, and what is missing is exactly what would decide."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowledge.conditions import read_condition

NAMES = ("surface", "brush", "air")
leaf = st.one_of(
    st.fixed_dictionaries({"of": st.sampled_from(NAMES), "is": st.sampled_from(("a", "b", 1))}),
    st.fixed_dictionaries({"of": st.sampled_from(NAMES), "at_least": st.integers(0, 3)}),
    st.fixed_dictionaries({"of": st.sampled_from(NAMES), "among": st.lists(st.sampled_from(("a", "b")), max_size=2)}),
)
condition = st.recursive(
    leaf,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.fixed_dictionaries({"not": inner}),
        st.fixed_dictionaries({"any": st.lists(inner, min_size=1, max_size=3)}),
    ),
    max_leaves=8,
)
facts = st.dictionaries(st.sampled_from(NAMES), st.sampled_from(("a", "b", 1, 2, frozenset("ab"))))


@given(condition, facts)
def test_the_bare_verdict_and_the_told_outcome_agree(data: Any, have: dict[str, Any]) -> None:
    read = read_condition(data)
    assert read.holds(have) == read.outcome(have).holds


@given(condition, facts, facts)
def test_a_verdict_once_known_is_not_changed_by_learning_more(data: Any, have: dict, more: dict) -> None:
    read = read_condition(data)
    before = read.holds(have)
    if before is not None:
        assert read.holds({**more, **have}) == before


@given(condition, facts)
def test_unknown_names_what_is_missing_and_knowing_it_decides(data: Any, have: dict[str, Any]) -> None:
    read = read_condition(data)
    outcome = read.outcome(have)
    if outcome.holds is None:
        assert outcome.missing
        assert not set(outcome.missing) & set(have)
        assert read.holds({**dict.fromkeys(NAMES, "a"), **have}) is not None


@given(condition, facts)
def test_the_opposite_is_opposite(data: Any, have: dict[str, Any]) -> None:
    plain, turned = read_condition(data).holds(have), read_condition({"not": data}).holds(have)
    assert turned == (None if plain is None else not plain)


@pytest.mark.parametrize(
    ("data", "says"),
    [
        ("x", "a condition is a list of tables"),
        ({"of": "a"}, "needs 'of' and one of"),
        ({"of": "a", "is": 1, "among": []}, "needs 'of' and one of"),
        ({"of": "a", "among": "b"}, "'among' needs a list"),
        ({"of": "a", "at_least": "b"}, "'at_least' needs a number"),
        ({"of": "a", "known": 1}, "'known' needs true or false"),
        ({"any": []}, "'any' needs a list"),
        ({"not": {"of": "a", "is": 1}, "x": 1}, "'not' stands alone"),
        ({"of": 1, "is": 1}, "'of' is a name"),
    ],
)
def test_a_malformed_condition_is_named(data: Any, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        read_condition(data)
