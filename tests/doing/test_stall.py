"""A batch through its week: what is done stays done, nothing is two things for one hand, offers hold."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from itertools import pairwise, product
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from interview.conversation.adviser import load_adviser
from interview.conversation.stall import Stall, page, said, stand
from interview.files.batches import KeptBatch, KeptKind, NoBatch, load, save
from interview.reading.kinds_told import kinds_told
from interview.reading.stall_words import read_stall
from interview.reasoning.offers import best_set
from interview.reasoning.timetable import in_time_with
from interview.reasoning.under_way import WAITING
from tests.doing.beside import planned

NOW = datetime(2026, 6, 8, 17, 0)  # a Monday
NAMES = ["gull tiles", "leaf trays", "slate coasters"]
TRIED: dict[str, Any] = {
    "tried": ["drop", "rub", "coupon"],
    "drop_result": "beads",
    "rub_result": "clean",
    "coupon_result": "clear",
}
STALL = KeptBatch(
    "fair",
    (
        KeptKind("gull tiles", 3, planned({"piece": "hard", "support": ["glazed_tile"], **TRIED})),
        KeptKind("leaf trays", 2, planned({"piece": "sheet", "support": ["cardstock"], "opened": ["cut"], **TRIED})),
    ),
    {"hours": "evenings, sat 9-17", "ready_by": "2026-06-20 09:00"},
    said=(("2026-06-08 17:00", "begun"),),
)


@pytest.fixture(autouse=True)
def _own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BEFOREPOUR_DATA", str(tmp_path))


@pytest.mark.parametrize(
    ("typed", "does", "what"),
    [
        ("tonight", "page", {}), ("what do I do tonight?", "page", {}), ("done 3-7", "done", {"lines": (3, 4, 5, 6, 7)}),
        ("done", "done", {"lines": ()}), ("all done", "done", {"lines": ()}), ("3 and 5 are done", "done", {"lines": (3, 5)}),
        ("done 2 at 18:30", "done", {"lines": (2,), "at": NOW - timedelta(hours=22, minutes=30)}),
        ("late: Thursday missed", "late", {"days": frozenset([date(2026, 6, 4)])}),
        ("no time on thursday", "late", {"days": frozenset([date(2026, 6, 11)])}),
        ("now 60 coasters", "count", {"kind": "slate coasters", "count": 60}),
        ("make it sixty coasters, not forty", "count", {"kind": "slate coasters", "count": 60}),
        ("drop the leaf trays", "count", {"kind": "leaf trays", "count": 0}),
        ("two hands", "wish", {"wish": ("hands", 2)}), ("my sister can help", "wish", {"wish": ("hands", 2)}),
        ("ready by 20 june", "wish", {"wish": ("ready_by", "2026-06-20 09:00")}),
        ("what can I bring on the day?", "offers", {}), ("show me", "show", {}), ("undo", "undo", {}),
        ("tiles: the drop just stands", "result", {"kind": "gull tiles"}), ("lovely weather", "unknown", {}),
    ],
)  # fmt: skip
def test_what_a_line_about_the_stall_does(typed: str, does: str, what: dict[str, Any]) -> None:
    line = read_stall(typed, NAMES, NOW)
    assert (line.does, {k: getattr(line, k) for k in what}) == (does, what)


def test_five_kinds_in_one_sentence() -> None:
    told = "12 gull tiles 4 x 4 in on glazed tile, 10 leaf trays of plywood with dried leaves, six slate coasters 10 cm round and a dozen bookmarks of card"
    kinds = kinds_told(told, load_adviser().knowledge)
    assert [(k.name, k.count) for k in kinds] == [
        ("gull tiles", 12),
        ("leaf trays", 10),
        ("slate coasters", 6),
        ("bookmarks", 12),
    ]
    assert kinds[0].answers.value("size") is not None


def _held(stall: Stall) -> None:
    """One pair of hands does one thing; what is done is not planned again; waits begin at once."""
    assert stall.timeline is not None
    hands = sorted((d for d in stall.timeline.doings if d.ends > d.begins and d.kind != "cure"), key=lambda d: d.begins)
    for one, other in pairwise(hands):
        assert one.ends <= other.begins
    for doing in stall.timeline.doings:
        if doing.step.startswith(WAITING):
            assert (
                doing.begins == stall.timeline.begins
                or doing.until <= doing.begins
                or doing.begins <= stall.means.begin
            )
    for d in stall.kept.did:
        for doing in stall.timeline.doings:
            for some in doing.some:
                rest = stall.rests[some.kind]
                if rest.kind.name == d.kind and doing.step == d.step:
                    assert not {*range(d.first, d.last + 1)} & {*rest.numbers[some.first - 1 : some.last]}


@settings(max_examples=4, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(
        st.sampled_from(
            (
                "done 1",
                "done 1-2",
                "done",
                "no time on thursday",
                "now 6 gull tiles",
                "two hands",
                "undo",
                "missed tuesday",
            )
        ),
        max_size=4,
    )
)
def test_a_random_week(moves: list[str]) -> None:
    adviser = load_adviser()
    kept = save(KeptBatch("fair", STALL.kinds, STALL.wishes, said=STALL.said, version=_version()))
    now = NOW
    for move in moves:
        kept, _ = said(adviser, kept, "tonight", now)
        kept, _ = said(adviser, kept, move, now)
        stall = stand(adviser, kept, now)
        if stall.timeline is None:
            break
        _held(stall)
        now += timedelta(hours=7)
    assert load("fair") == kept  # killed anywhere, it goes on


def _version() -> int:
    try:
        return load("fair").version
    except NoBatch:
        return 0


def test_the_page_numbers_what_is_done() -> None:
    adviser = load_adviser()
    kept, lines = said(adviser, save(STALL), "tonight", NOW)
    assert any(line.startswith("  1  18:00-") for line in lines)
    kept, told = said(adviser, kept, "done 1", NOW + timedelta(hours=2))
    assert told[0].startswith("Done: 1 line")
    assert len(kept.did) == 1
    again, listed = page(stand(adviser, kept, NOW + timedelta(hours=2)))
    assert kept.did[0].step not in {
        s.step for s in listed if s.kind == kept.did[0].kind and s.first == kept.did[0].first
    }, again


def test_two_windows() -> None:
    kept = save(STALL)
    save(kept)
    with pytest.raises(NoBatch, match="another window"):
        save(kept)


@pytest.mark.parametrize("days", [5, 9])
def test_the_best_set_is_as_good_as_trying_all(days: int) -> None:
    stall = stand(load_adviser(), STALL, NOW)
    kinds = [r.kind for r in stall.rests]
    means = stall.means.__class__(stall.means.calendar, stall.means.begin, stall.means.begin + timedelta(days=days))
    counts, _ = best_set(kinds, means)
    brute = 0
    for tried in product(*(range(k.count + 1) for k in kinds)):
        some = [replace(k, count=n) for k, n in zip(kinds, tried, strict=True) if n]
        if some and sum(tried) > brute and in_time_with(some, means) is not None:
            brute = sum(tried)
    assert sum(counts) >= brute
