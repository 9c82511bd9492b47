"""A plan while it is done: what comes next, waits, windows, results, and that nothing done is asked for again."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from interview.conversation.adviser import load_adviser
from interview.files import records
from interview.files.kept import Kept
from interview.plan.doings import Done, Outcome
from interview.reading.past_times import read_past
from interview.reading.work_words import read_work
from interview.reasoning.progress import skipping, standing
from tests.doing.beside import BEGIN, planned, work

COLLAGE: dict[str, Any] = {
    "piece": "collage", "support": ["tissue_paper"], "opened": ["torn"], "mounted": "plywood", "laid_on": ["glitter"],
    "held": "loose",
}  # fmt: skip
TRIED = COLLAGE | {"tried": ["rub", "coupon"], "rub_result": "clean", "coupon_result": "clear"}


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("done at six", "18:00"), ("did it an hour ago", "19:30"), ("20 minutes ago", "20:10"),
        ("half an hour ago", "20:00"), ("sprayed at 18:10", "18:10"), ("6pm", "18:00"), ("at half past seven", "19:30"),
        ("just now", "20:30"), ("this morning", "09:00"), ("done", None), ("coat 2 done", None), ("3 coats", None),
    ],
)  # fmt: skip
def test_when_it_was_done(typed: str, meant: str | None) -> None:
    told = read_past(typed, datetime(2026, 6, 10, 20, 30))
    assert (told and f"{told:%H:%M}") == meant


@given(st.text(max_size=60), st.datetimes(datetime(2000, 1, 1), datetime(2099, 1, 1)))
def test_no_time_lies_ahead_and_nothing_raises(typed: str, now: datetime) -> None:
    told = read_past(typed, now)
    assert told is None or told <= now
    read_work(typed, now)


@pytest.mark.parametrize(
    ("typed", "does"),
    [
        ("done", "done"), ("ok done", "done"), ("did it", "done"), ("coat two is done at six", "done"), ("yes", "done"),
        ("it's done", "done"), ("finished an hour ago", "done"), ("not done yet", "back"), ("i haven't done it", "say"),
        ("skip", "skip"), ("leave it out", "skip"), ("wait", "wait"), ("still wet", "wait"), ("stop", "stop"),
        ("that's it for today", "stop"), ("undo", "back"), ("show me", "show"), ("what's next", "next"),
        ("the drop just sat there", "say"), ("is it done?", "say"), ("it went dark", "say"), ("can i skip this?", "say"),
    ],
)  # fmt: skip
def test_what_a_line_does(typed: str, does: str) -> None:
    assert read_work(typed, BEGIN).does == does


def test_a_wait_and_a_window() -> None:
    talk, screen = work(TRIED, ["done", "+5", "done", "no", "+10", "done", "+200", "done", "stop"])
    assert [d.step[-1] for d in talk.kept.did] == ["1", "2", "3"]
    assert "Wait. From 10:10" in screen.transcript
    assert "before it may be" in screen.transcript  # five minutes after the first coat is too soon
    assert "Its window closed 11:15" in screen.transcript  # an hour after the second coat, done three hours later


def test_a_missed_window_takes_the_longer_way() -> None:
    _, screen = work(TRIED, ["done", "+200", "next", "stop"])
    assert "Wait. From tomorrow 10:00" in screen.transcript


def test_a_result_changes_the_plan_and_what_is_done_stays() -> None:
    talk, screen = work(COLLAGE, ["done", "1", "done", "+1500", "wait", "2", "done", "stop"])
    assert [d.step for d in talk.kept.did][:3] == ["trial.rub", "trial.coupon", "seal.t1.front.1"]
    assert talk.answers.value("coupon_result") == "dark"
    assert talk.answers["coupon_result"].origin == "trial"
    assert "That changes the plan" in screen.transcript


def test_a_result_is_not_asked_before_it_can_be_read() -> None:
    _, screen = work(COLLAGE, ["done", "1", "done", "done", "stop"])
    assert "what did it show" not in screen.transcript.split("Scrap of the whole stack")[-1]
    assert "read the trial: scrap of the whole stack" in screen.transcript


def test_leaving_out_says_what_it_costs_and_asks() -> None:
    talk, screen = work(TRIED, ["skip", "no", "skip", "yes", "stop"])
    assert [d.skipped for d in talk.kept.did] == [True]
    assert "resin may soak in" in screen.transcript


def test_to_the_end_and_what_came_of_it() -> None:
    plan = load_adviser().plan(planned(TRIED))
    lines = [line for _ in plan.steps for line in ("+20000", "wait", "done")]
    talk, screen = work(TRIED, [*lines, "clear as water", "a hair in it"])
    assert talk.kept.outcome is not None, screen.transcript[-600:]
    assert talk.kept.outcome.right == "clear as water"
    assert talk.kept.outcome.wrong == "a hair in it"


@settings(max_examples=25)
@given(st.lists(st.tuples(st.integers(0, 4000), st.booleans()), max_size=40))
def test_never_a_finished_step_again_and_always_an_end(moves: list[tuple[int, bool]]) -> None:
    plan = load_adviser().plan(planned(TRIED))
    done: list[Done] = []
    now = BEGIN
    for minutes, skip in moves:
        now += timedelta(minutes=minutes)
        due = standing(plan, done, now).due
        if due is None:
            break
        assert due.step.id not in {d.step for d in done}
        assert due.sure >= due.free
        before = {b for b, _, _ in due.step.after} & {s.id for s in plan.steps}
        assert before <= {d.step for d in done}, "nothing before its turn"
        assert skipping(plan, due.step)
        done.append(Done(due.step.id, max(now, due.free), due.step.name, skip))
        now = done[-1].at
    assert standing(plan, done, now).left == len(plan.steps) - len(done)


def test_what_was_done_survives_the_journal() -> None:
    new = Kept(
        did=(Done("a", BEGIN, "A"), Done("b", BEGIN, "B", skipped=True)), outcome=Outcome(BEGIN, "x", "y", ("z",))
    )
    back = records.apply(Kept(), records.step(Kept(), new))
    assert (back.did, back.outcome) == (new.did, new.outcome)
