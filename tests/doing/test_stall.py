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
from interview.conversation.stall import said
from interview.conversation.stall_state import Stall, stand
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


THURSDAY, SATURDAY, SUNDAY = date(2026, 6, 11), date(2026, 6, 13), date(2026, 6, 14)
SAID: tuple[tuple[str, str, dict[str, Any]], ...] = (
    ("tonight", "page", {}), ("what do I do tonight?", "page", {}), ("now what", "page", {}),
    ("done 3-7", "done", {"lines": (3, 4, 5, 6, 7)}), ("done", "done", {"lines": ()}), ("all done", "done", {"lines": ()}),
    ("3 and 5 are done", "done", {"lines": (3, 5)}),
    ("done 2 at 18:30", "done", {"lines": (2,), "at": NOW - timedelta(hours=22, minutes=30)}),
    # days lost: the last one where it is past, else the next
    ("late: Thursday missed", "late", {"days": frozenset([date(2026, 6, 4)])}),
    ("no time on thursday", "late", {"days": frozenset([THURSDAY])}),
    ("thursday evening is gone", "late", {"days": frozenset([THURSDAY])}),
    ("I can't on saturday", "late", {"days": frozenset([SATURDAY])}),
    ("thursday is out, dentist", "late", {"days": frozenset([THURSDAY])}),
    ("nothing got done on sunday", "late", {"days": frozenset([date(2026, 6, 7)])}),
    ("I was ill yesterday", "late", {"days": frozenset([date(2026, 6, 7)])}),
    ("tonight fell through", "late", {"days": frozenset([NOW.date()])}),
    ("we won't manage anything tomorrow, no work tomorrow", "late", {"days": frozenset([date(2026, 6, 9)])}),
    # rain
    ("it rained saturday", "rain", {"days": frozenset([date(2026, 6, 6)])}),
    ("rain on saturday", "rain", {"days": frozenset([SATURDAY])}),
    ("they say it will rain on saturday", "rain", {"days": frozenset([SATURDAY])}),
    ("too windy to spray today", "rain", {"days": frozenset([NOW.date()])}),
    ("it's raining", "rain", {"days": frozenset([NOW.date()])}),
    ("storm on thursday and saturday", "rain", {"days": frozenset([THURSDAY, SATURDAY])}),
    # days won
    ("one more evening", "unknown", {}), ("could do an extra day", "unknown", {}),
    ("one more evening: sunday", "extra", {"days": frozenset([SUNDAY]), "says": "18:00-22:00"}),
    ("I can work on sunday 10-16", "extra", {"days": frozenset([SUNDAY]), "says": "10:00-16:00"}),
    ("sunday afternoon as well", "extra", {"days": frozenset([SUNDAY]), "says": "13:00-18:00"}),
    ("I'm free on saturday evening too", "extra", {"days": frozenset([SATURDAY]), "says": "18:00-22:00"}),
    ("another morning, thursday", "extra", {"days": frozenset([THURSDAY]), "says": "8:00-12:00"}),
    # counts
    ("now 60 coasters", "count", {"kind": "slate coasters", "count": 60}),
    ("make it sixty coasters, not forty", "count", {"kind": "slate coasters", "count": 60}),
    ("sixty, not forty", "count", {"kind": "slate coasters", "count": 60}),
    ("it's sixty not forty", "count", {"kind": "slate coasters", "count": 60}),
    ("60 instead of 40", "count", {"kind": "slate coasters", "count": 60}),
    ("twelve tiles rather than ten", "count", {"kind": "gull tiles", "count": 12}),
    ("seven, not five", "unknown", {}), ("only 8 trays", "count", {"kind": "leaf trays", "count": 8}),
    ("drop the leaf trays", "count", {"kind": "leaf trays", "count": 0}),
    ("no trays", "count", {"kind": "leaf trays", "count": 0}),
    # extras
    ("no backs", "leave_out", {"says": "back", "kind": ""}), ("leave out the backs", "leave_out", {"says": "back"}),
    ("without the extras", "leave_out", {"says": "extra"}), ("skip the backs of the tiles", "leave_out", {"kind": "gull tiles"}),
    # means and money
    ("two hands", "wish", {"wish": ("hands", 2)}), ("my sister can help", "wish", {"wish": ("hands", 2)}),
    ("ready by 20 june", "wish", {"wish": ("ready_by", "2026-06-20 09:00")}),
    ("coasters sell at 12", "sells", {"kind": "slate coasters", "sells": 12.0}),
    ("I sell the tiles for 9.50", "sells", {"kind": "gull tiles", "sells": 9.5}),
    ("14 each for the trays", "sells", {"kind": "leaf trays", "sells": 14.0}), ("they sell at 12", "unknown", {}),
    ("I can work saturdays 9-17", "wish", {"wish": ("hours", "saturdays 9-17")}),
    ("I can work weekdays 18-22", "wish", {"wish": ("hours", "weekdays 18-22")}), ("money", "money", {}), ("what do I earn", "money", {}),
    ("what can I bring on the day?", "offers", {}), ("show me", "show", {}), ("undo", "undo", {}),
    ("tiles: the drop just stands", "result", {"kind": "gull tiles"}), ("lovely weather", "unknown", {}),
)  # fmt: skip


@pytest.mark.parametrize(("typed", "does", "what"), SAID)
def test_what_a_line_about_the_stall_does(typed: str, does: str, what: dict[str, Any]) -> None:
    line = read_stall(typed, NAMES, NOW, (10, 6, 40))
    assert (line.does, {k: getattr(line, k) for k in what}) == (does, what), line


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


def test_the_page_numbers_what_is_done_and_the_numbers_stay() -> None:
    adviser = load_adviser()
    kept, lines = said(adviser, save(STALL), "tonight", NOW)
    assert any(line.startswith("  1  18:00-") for line in lines)
    names = {s.number: s.says for s in kept.shown}
    assert len(names) > 1
    kept, told = said(adviser, kept, "done 1", NOW + timedelta(hours=2))
    assert told[0] == f"Done 19:00: 1, {names[1]}."
    assert {(d.kind, d.step) for d in kept.did} == {(kind, step) for kind, _, _, step in kept.shown[0].of}
    kept, lines = said(adviser, kept, "tonight", NOW + timedelta(hours=2))
    assert "     Done: 1." in lines
    assert {n: says for n, says in names.items() if n != 1}.items() <= {s.number: s.says for s in kept.shown}.items()
    assert said(adviser, kept, "done 1", NOW + timedelta(hours=2))[1][0].startswith("Done before: 1,")
    assert said(adviser, kept, "done 99", NOW)[1][0].startswith("The page has no line 99.")


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
