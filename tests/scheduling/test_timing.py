"""From answers and wishes to a timetable: planning back, kinds that differ, the days in a brief."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from interview.commands.entry import main
from interview.conversation.timing import TimingError, Wishes, means_of, timetable, where_kinds_differ
from interview.reasoning.batch import pots
from interview.reasoning.lots import Kind, groups
from interview.reasoning.timetable import arrange
from tests.scheduling.stall import piece_faults, plan, pour_steps, step

NOON = datetime(2026, 11, 25, 12)  # a Wednesday
ANSWERS = """
piece = "hard"
support = ["slate"]
ways = ["brush"]
size = "10 cm circle"
"""


def kind(name: str, count: int = 2, **answers: Any) -> Kind:
    seal = [step("seal.a.1", 10, (60, 60), each=5.0)]
    return Kind(name, plan([*seal, *pour_steps([("seal.a.1", 60)])], name, count=count, **answers), count)


def test_the_latest_beginning_is_as_late_as_it_goes() -> None:
    """In time if begun then; not in time if begun five minutes later."""
    fair = Wishes("evenings", ready_by="2026-12-12 9:00")
    wishes = (fair, Wishes(fair.hours, "", fair.ready_by, latest=True))
    soon, late = (timetable(kind("sign", 1).plan, wish, NOON) for wish in wishes)
    assert soon is not None and late is not None and late.ready_by is not None
    assert soon.begins < late.begins == late.latest == soon.latest
    assert late.ready <= late.ready_by
    after = Wishes("evenings", f"{late.begins + timedelta(minutes=5):%Y-%m-%d %H:%M}", fair.ready_by)
    missed = timetable(kind("sign", 1).plan, after, NOON)
    assert missed is not None and missed.late


def test_latest_without_a_day_says_what_to_type() -> None:
    with pytest.raises(TimingError, match=r'--latest plans back .* add --ready-by "saturday week"'):
        timetable(kind("sign").plan, Wishes("evenings", latest=True), NOON)


@pytest.mark.parametrize("ready_by", ["30 january", "27 november"])
def test_latest_on_the_command_line(ready_by: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In time, and too late: then the earliest is shown, with by how much it is late."""
    file = tmp_path / "slate.toml"
    file.write_text(ANSWERS)
    assert main(["plan", str(file), "--assume", "--latest", "--hours", "evenings", "--ready-by", ready_by]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert ("That is the latest beginning that was found to be ready by" in told) == (ready_by == "30 january")
    assert ("It cannot be ready by" in told) == (ready_by == "27 november")


def test_latest_for_a_batch(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "kinds.csv"
    file.write_text("name,count,piece,support,ways,size\nslate,1,hard,slate,brush,10 cm circle\n")
    day = f"{datetime.now() + timedelta(days=60):%Y-%m-%d}"
    options = ["--assume", "--hours", "evenings", "--ready-by", day, "--latest"]
    assert main(["batch", str(file), *options]) == 0
    assert "That is the latest beginning" in " ".join(capsys.readouterr().out.split())


# ------------------------------------------------------------ kinds that differ


def test_each_kind_is_timed_by_its_own_room() -> None:
    """Twice the time for ten degrees less, whichever kind comes first: half the cure apart."""
    cold, usual = kind("gull", room_temperature=11.0), kind("tern")
    for kinds in ([cold, usual], [usual, cold]):
        means = means_of([k.plan for k in kinds], Wishes("0-24"), NOON)
        time = arrange(kinds, means)
        cure = {d.who.split()[0]: d.until - d.ends for d in time.doings if d.step == "cure.full_cure"}
        assert cure == {"gull": timedelta(days=14), "tern": timedelta(days=7)}
        assert len(groups(kinds)) == 2
    assert where_kinds_differ([cold, usual], Wishes()) == (
        "Not all kinds are in a room as warm. Each is timed by its own, and poured by itself.",
    )


def test_a_warm_room_does_not_dry_a_sealer_sooner() -> None:
    """The rule of thumb is for what reacts; what evaporates is only ever counted on to take longer."""
    for celsius, hours in ((31.0, 1.0), (21.0, 1.0), (11.0, 2.0)):
        warm = kind("gull", 1, room_temperature=celsius)
        time = arrange([warm], means_of([warm.plan], Wishes("0-24"), NOON))
        seal, room = (next(d for d in time.doings if d.step == s) for s in ("seal.a.1", "prepare.room"))
        assert (room.begins - seal.ends) / timedelta(hours=1) == hours


def test_two_resins_are_never_in_one_pot() -> None:
    """Each pot by its own label: its ratio, and as many pieces as its working time lets spread."""
    slow = kind("gull", 4, ratio=[2.0, 1.0, "volume"], working_time=60, resin=400.0)
    quick = kind("tern", 4, ratio=[1.0, 1.0, "volume"], working_time=30, resin=400.0)
    means = means_of([slow.plan, quick.plan], Wishes("0-24"), NOON)
    time = arrange([slow, quick], means)
    assert piece_faults([slow, quick], means, time) == []
    lines = pots(time, [slow, quick])
    shown = sorted((p.who.split()[0], p.pieces, p.resin, p.hardener) for p in lines)
    assert shown == [("gull", 2, "134 mL", "67 mL")] * 2 + [("tern", 1, "50 mL", "50 mL")] * 4
    assert "pots of its own" in where_kinds_differ([slow, quick], Wishes())[0]


def test_the_earliest_day_counts_and_is_said() -> None:
    days = {"gull": "2026-12-20 09:00", "tern": "2026-12-12 09:00"}
    kinds = [*(kind(name, ready_by=day) for name, day in days.items()), kind("auk")]
    assert means_of([k.plan for k in kinds], Wishes(), NOON).ready_by == datetime(2026, 12, 12, 9)
    assert "The earliest day counts" in where_kinds_differ(kinds, Wishes())[0]
    told = Wishes(ready_by="2026-12-24 9:00")
    assert means_of([k.plan for k in kinds], told, NOON).ready_by == datetime(2026, 12, 24, 9)
    assert where_kinds_differ(kinds, told) == ()


def test_one_pair_of_hands_has_one_set_of_hours() -> None:
    kinds = [kind("gull", hours="evenings"), kind("tern", hours="sat 9-17"), kind("auk")]
    with pytest.raises(TimingError, match=r'different hours: "evenings"; "sat 9-17"\. Say with --hours'):
        means_of([k.plan for k in kinds], Wishes(), NOON)
    means_of([k.plan for k in kinds], Wishes("evenings"), NOON)
    assert means_of([kinds[0].plan, kinds[2].plan], Wishes(), NOON).calendar.week[5]
