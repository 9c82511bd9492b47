"""The conversation itself: asking, explaining, going back, changing, stopping, being told what follows."""

from __future__ import annotations

import contextlib
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from interview.brief.forms import render
from interview.conversation.adviser import Adviser, Later
from interview.conversation.dialogue import converse
from interview.conversation.talk import Talk
from interview.conversation.timing import Wishes, timed_brief
from interview.files import records
from interview.files.journal import NotKept, read, reopen
from interview.files.kept import Kept, Said
from interview.files.recorder import Nobody, OnDisk
from interview.plan.answers import NOT_SURE, Answers
from interview.plan.model import Plan
from interview.reasoning.timetable import Timeline
from interview.terminal.prompt import EndOfInput, Interrupted
from interview.terminal.scripted_console import END, INTERRUPT, ScriptedConsole
from tests.conversation.talking import TELL, talk_through

COLLAGE = (TELL, "a torn tissue paper collage on plywood")
LAYERS, GLUE, HOLLOW, LAID_ON, MEDIA = (
    "How do the layers lie", "What holds it there", "Tap it all over", "Is anything loose", "What is the image",
)  # fmt: skip


@pytest.mark.parametrize("pace", ["full", "quick", "counter"])
def test_not_sure_to_everything_ends_in_a_brief(knowledge: Any, pace: str) -> None:
    ending, talk, person = talk_through(knowledge, pace=pace, adviser=Adviser)
    assert ending == "done" and talk.kept.done
    assert all(answer.unsure for answer in talk.answers.values())
    assert len(person.asked) == len(set(person.asked)), "a question was asked twice"
    if pace == "counter":
        assert len(talk.answers) <= 6


def test_what_the_opening_said_is_not_asked_again(knowledge: Any) -> None:
    _, talk, person = talk_through(knowledge, COLLAGE)
    assert talk.answers.value("support") == {"tissue_paper"}
    assert talk.answers.value("mounted") == "plywood"
    assert not any(
        text.startswith(("What is it?", "Which papers", "What is the collage stuck")) for text in person.asked
    )


def test_no_and_what_is_different_mends_the_opening(knowledge: Any) -> None:
    _, talk, person = talk_through(knowledge, COLLAGE, ("Is that right", "no, it is on cork"))
    assert talk.answers.value("mounted") == "cork"
    assert talk.answers.value("support") == {"tissue_paper"}
    assert "Cork, not plywood." in person.transcript


def test_no_alone_asks_what_is_different_and_asks_that_question(knowledge: Any) -> None:
    _, talk, person = talk_through(
        knowledge, COLLAGE, ("Is that right", "no"), ("What is different", "what it is mounted on"),
        ("What is the collage stuck on", "cork"),
    )  # fmt: skip
    assert talk.answers.value("mounted") == "cork"
    assert "Until now: plywood. Enter keeps it." in person.transcript


def test_a_sentence_that_says_nothing_leads_to_step_by_step(knowledge: Any) -> None:
    _, _, person = talk_through(knowledge, (TELL, "hello there"), ("What is it?", "jigsaw"))
    assert "step by step" in person.transcript


def test_words_that_were_not_understood_are_named_and_stand_in_the_plan(knowledge: Any) -> None:
    _, talk, person = talk_through(knowledge, (TELL, "a frobnicated cardstock collage"))
    assert 'I have nothing on "frobnicated"' in person.transcript
    assert talk.plan().not_covered == ("frobnicated",)


def test_why_help_show_me_and_a_question_leave_the_question_standing(knowledge: Any) -> None:
    _, talk, person = talk_through(
        knowledge, COLLAGE, (LAYERS, "why"), (LAYERS, "help"), (LAYERS, "why not brush?"),
        (LAYERS, "show me"), (LAYERS, "how many more"),
        (LAYERS, "repeat"), (LAYERS, "flat"),
    )  # fmt: skip
    assert talk.answers.value("layers") == "flat"
    text = " ".join(person.transcript.split())
    assert "Air shut in between layers" in text  # the question's why
    assert "A number of the list, or the thing itself" in text or "Type a number of the list" in text
    assert "would tear tissue paper" in text  # why not brush
    assert "Still to ask:" in text  # show me
    assert "What you told me, and what became of it:" in text
    assert "more, as you answer." in text or " more." in text  # how many


def test_back_shows_the_old_answer_and_a_new_one_takes_its_place(knowledge: Any) -> None:
    _, talk, person = talk_through(
        knowledge, COLLAGE, (LAYERS, "flat"), (GLUE, "pva"), (HOLLOW, "back"), (GLUE, "back"), (LAYERS, ""),
        (HOLLOW, "back"), (LAYERS, "lifted"), (HOLLOW, "none"),
    )  # fmt: skip
    assert (talk.answers.value("layers"), talk.answers.value("adhesive")) == ("lifted", "pva")
    assert "Until now: glued down flat. Enter keeps it." in " ".join(person.transcript.split())


def test_back_before_the_first_answer_leads_to_the_beginning(knowledge: Any) -> None:
    _, talk, _ = talk_through(
        knowledge, COLLAGE, ("Is that right", "yes"), (LAYERS, "back"), ("Is that right", "it is on cork"),
    )  # fmt: skip
    assert talk.answers.value("mounted") == "cork"


def test_a_change_after_the_brief_says_what_it_did_to_the_plan(knowledge: Any) -> None:
    _, talk, person = talk_through(
        knowledge, COLLAGE, (LAYERS, "flat"), (GLUE, "pva"), (HOLLOW, "none"),
        ("Anything to change", "change the glue"), (GLUE, "rubber cement"),
    )  # fmt: skip
    assert talk.answers.value("adhesive") == "rubber_cement"
    assert "What that changes:" in person.transcript


def test_a_change_that_changes_nothing_says_so_and_back_leaves_it(knowledge: Any) -> None:
    _, talk, _ = talk_through(
        knowledge, COLLAGE, (LAYERS, "flat"), (GLUE, "pva"), (HOLLOW, "change"), ("Which answer", "how the layers lie"),
        (LAYERS, "flat"),
        (HOLLOW, "change"), ("Which answer", "back"), (HOLLOW, "change"), ("Which answer", ""), (HOLLOW, "none"),
        ("Anything to change", "change the layers"), (LAYERS, "flat"),
    )  # fmt: skip
    assert talk.answers.value("layers") == "flat"


def test_after_the_brief_anything_can_still_be_said(knowledge: Any) -> None:
    ending, talk, person = talk_through(
        knowledge, COLLAGE, (LAYERS, "flat"), (GLUE, "pva"), (HOLLOW, "none"),
        ("Anything to change", "why not brush?"),
        ("Anything to change", "the drop sank in after ten seconds, the cloth came away grey"),
        ("Anything to change", "change layers"), (LAYERS, "lifted"), ("Anything to change", "that's all"),
    )  # fmt: skip
    assert ending == "done" and talk.answers.value("layers") == "lifted"
    assert (talk.answers.value("drop_result"), talk.answers.value("rub_result")) == ("fast", "marked")
    assert "What that changes:" in person.transcript


def test_an_answer_changed_back_brings_back_the_same_plan(knowledge: Any) -> None:
    _, talk, _ = talk_through(knowledge, COLLAGE, (LAYERS, "flat"), (GLUE, "pva"), (HOLLOW, "none"))
    _, other, _ = talk_through(
        knowledge, COLLAGE, (LAYERS, "flat"), (GLUE, "pva"), (HOLLOW, "none"), ("", "change the glue"),
        (GLUE, "laid"),
        ("", "change what holds it down"), (GLUE, "pva"),
    )  # fmt: skip
    plan, again = talk.plan().model_dump(), other.plan().model_dump()
    assert plan == again


def test_a_contradiction_is_told_when_it_arises_and_the_question_asked_again(knowledge: Any) -> None:
    _, talk, _ = talk_through(
        knowledge, (TELL, ""), ("What is it?", "hard"), ("What is it made of", "glass"),
        ("Have you already tried", "drop"),
        ("What did the drop", "fast"), ("You said a drop", "1"), ("What did the drop", "beads"),
    )  # fmt: skip
    assert talk.answers.value("drop_result") == "beads"
    assert any("no pores" in why for zone in talk.plan().zone_lines for why in zone.why)


def test_a_contradiction_the_person_stands_by_is_left(knowledge: Any) -> None:
    _, talk, _ = talk_through(
        knowledge, (TELL, ""), ("What is it?", "hard"), ("What is it made of", "glass"),
        ("Have you already tried", "drop"),
        ("What did the drop", "fast"), ("You said a drop", "leave it"),
    )  # fmt: skip
    assert talk.answers.value("drop_result") == "fast"


def test_a_reply_that_describes_the_piece_is_taken_whole_and_said_back(knowledge: Any) -> None:
    _, talk, person = talk_through(
        knowledge, (TELL, ""), ("What is it?", "it is a torn tissue paper collage on plywood")
    )
    assert talk.answers.value("piece") == "collage" and talk.answers.value("mounted") == "plywood"
    assert "Noted:" in person.transcript and "plywood" in person.transcript


def test_trial_results_are_known_as_trials(knowledge: Any) -> None:
    _, talk, _ = talk_through(knowledge, COLLAGE, ("Have you already tried", "drop"), ("What did the drop", "beads"))
    assert talk.answers["drop_result"].origin == "trial"


def test_long_lists_show_eight_and_more_on_request(knowledge: Any) -> None:
    _, talk, person = talk_through(knowledge, COLLAGE, (LAID_ON, "more"), (LAID_ON, "glitter"))
    assert "Something else? Say it in your own words." in person.transcript
    assert "  8 " in person.transcript and "  9 " in person.transcript
    assert talk.answers.value("laid_on") == {"glitter"}


def test_stop_at_any_question_keeps_what_was_said(knowledge: Any, tmp_path: Path) -> None:
    keeper = OnDisk(lambda: tmp_path, "", lambda: "k")
    ending, talk, person = talk_through(knowledge, COLLAGE, (LAYERS, "flat"), (GLUE, "stop"), keeper=keeper)
    keeper.close()
    assert ending == "stopped"
    assert "beforepour resume collage-torn-tissue-paper" in " ".join(person.transcript.split())
    assert read(tmp_path / "collage-torn-tissue-paper.jsonl").answers == talk.answers


@pytest.mark.parametrize("end", ["interrupt", "end of input"])
def test_cut_off_anywhere_it_goes_on_from_there_and_gives_the_same_plan(
    knowledge: Any, tmp_path: Path, end: str
) -> None:
    replies = [
        COLLAGE,
        ("Is that right", "yes"),
        (LAYERS, "flat"),
        (GLUE, "pva"),
        (HOLLOW, "none"),
        (LAID_ON, "glitter"),
    ]
    _, whole, _ = talk_through(knowledge, *replies)
    for cut in range(1, len(replies)):
        folder = tmp_path / f"{end}{cut}"
        keeper = OnDisk(lambda folder=folder: folder, "x", lambda: "k")
        cut_off: Any = Interrupted if end == "interrupt" else EndOfInput
        with pytest.raises(cut_off):
            talk_through(knowledge, *replies[:cut], ("", INTERRUPT if end == "interrupt" else END), keeper=keeper)
        keeper.close()
        if cut < 2:
            continue  # nothing was confirmed yet
        journal, told = reopen(folder / "x.jsonl")
        again = OnDisk(lambda folder=folder: folder, "", lambda: "k", journal)
        _, talk, _ = talk_through(knowledge, *replies[cut:], kept=journal.kept, keeper=again)
        again.close()
        assert told == "" and talk.plan().model_dump() == {**whole.plan().model_dump(), "name": "x"}


def test_the_same_as_an_earlier_piece_with_a_difference(knowledge: Any) -> None:
    tray = Kept(
        name="blue-tray",
        answers=Answers().say("piece", "sheet").say("support", frozenset({"cardstock"})),
        done=True,
    )

    def earlier(name: str) -> Kept:
        if name.casefold() != "blue tray":
            raise NotKept(f'Nothing is kept under "{name}".')
        return tray

    _, talk, person = talk_through(
        knowledge, (TELL, "same as Red Tray"), (TELL, "same as Blue Tray, but torn"), earlier=earlier
    )
    assert 'Nothing is kept under "Red Tray".' in person.transcript
    assert talk.answers.value("support") == {"cardstock"} and talk.answers.value("opened") == {"torn"}


def test_the_hint_for_newcomers_goes_away(knowledge: Any) -> None:
    _, _, new = talk_through(knowledge, COLLAGE, first_time=lambda: True)
    _, _, old = talk_through(knowledge, COLLAGE, first_time=lambda: False)
    assert new.transcript.count("At any question:") == 2
    assert "At any question:" not in old.transcript


def test_at_the_counter_enter_brings_the_next_customer_and_nothing_is_kept(knowledge: Any) -> None:
    ending, talk, _ = talk_through(knowledge, COLLAGE, ("Anything the customer", ""), pace="counter")
    assert ending == "next" and isinstance(talk.keeper, Nobody) and talk.keeper.name == ""
    assert talk_through(knowledge, COLLAGE, (LAYERS, "next"), pace="counter")[0] == "next"


def test_no_chatter(knowledge: Any) -> None:
    _, _, person = talk_through(
        knowledge, COLLAGE, (LAYERS, "flat"), (GLUE, "pva"), ("", "change layers"), (LAYERS, "lifted")
    )
    assert "!" not in person.transcript
    for word in ("great", "perfect", "awesome", "excellent", "thank"):
        assert word not in person.transcript.casefold()


def test_a_kept_answer_of_not_sure_is_offered_as_such(knowledge: Any) -> None:
    kept = Kept(opening="x", answers=Answers().say("piece", NOT_SURE).make_stale("piece"))
    _, talk, person = talk_through(knowledge, ("What is it?", ""), kept=replace(kept, trail=()))
    assert talk.answers["piece"].unsure and "> not sure" in person.transcript


POOL = [
    "", "1", "2", "3", "1 3", "99", "not sure", "back", "why", "why not brush?", "what if I spray?", "change", "change 2",
    "show me", "help", "list", "repeat", "yes", "no", "no, on cork", "none", "torn", "paper", "glass", "jigsaw", "wood",
    "charcoal and ink", "no glitter", "12 x 16 in", "2:1", "thirty", "same as last time", "numbers", "drop, swab", "water",
    "leave it", "a torn tissue collage on plywood with shells", "\x1b[31m", "\u202e", "{{ x }}", "日本語",
]  # fmt: skip


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.one_of(st.sampled_from(POOL), st.text(max_size=30)), max_size=40),
    st.sampled_from(["full", "quick", "counter"]),
)
def test_whatever_is_typed_the_conversation_holds(knowledge: Any, replies: list[str], pace: str) -> None:
    """Any replies in any order: no fault, every state can be planned, and what is kept is read back."""
    console = ScriptedConsole(replies)
    talk = Talk(console, Later(lambda: Adviser(knowledge)), Nobody(), pace, Kept(pace=pace))  # type: ignore[arg-type]
    with contextlib.suppress(EndOfInput, Interrupted):  # \x03 among the text is Ctrl-C
        converse(talk)
    plan = talk.plan()
    assert set(talk.answers) <= set(knowledge.questions) and plan.zones is not None
    again = records.apply(Kept(), records.step(Kept(), talk.kept)) if talk.kept != Kept(pace=pace) else talk.kept
    assert again.answers == talk.answers
    assert not any(c in console.transcript for c in "\x1b\u202e")


def test_quick_leaves_the_numbers_out_and_asks_them_on_request(knowledge: Any) -> None:
    _, quick, _ = talk_through(knowledge, COLLAGE, pace="quick", adviser=Adviser)
    _, more, person = talk_through(knowledge, COLLAGE, ("Anything to change", "numbers"), adviser=Adviser)
    parts = {knowledge.questions[id].part for id in quick.answers}
    assert parts == {"piece"} and "numbers" in {knowledge.questions[id].part for id in more.answers}
    assert "Now the numbers" in person.transcript


def test_an_opening_that_was_not_agreed_to_is_read_back_again(knowledge: Any) -> None:
    answers = Answers().say("piece", "collage").say("support", frozenset({"tissue_paper"})).say("mounted", "plywood")
    kept = Kept(opening="x", answers=answers, said=(Said("opening", "x"),))
    _, talk, person = talk_through(knowledge, ("Is that right", "no, it is on cork"), kept=kept)
    assert talk.answers.value("mounted") == "cork" and "A collage of tissue paper on plywood" in person.transcript


def test_the_same_as_last_time_but_thirty(knowledge: Any) -> None:
    tray = Kept(
        name="tray",
        answers=Answers().say("piece", "sheet").say("support", frozenset({"cardstock"})),
        done=True,
    )
    _, talk, person = talk_through(
        knowledge, (TELL, "same as last time, but thirty of them"), earlier=lambda name: tray
    )
    assert talk.answers.value("support") == {"cardstock"} and talk.answers.value("count") == 30
    assert "30" in person.transcript


DATED = (
    Answers()
    .say("piece", "cast")
    .say("laid_on", frozenset(("pressed_flowers",)))
    .say("have", frozenset(("days",)))
    .say("hours", "evenings")
)


def test_the_brief_at_the_end_shows_the_days(knowledge: Any) -> None:
    """Where hours were told: the same days as `beforepour brief` shows, by the clock handed in."""
    noon = datetime(2026, 11, 25, 12)
    _, talk, person = talk_through(knowledge, kept=Kept(answers=DATED), now=lambda: noon)

    def shown(form: str) -> str:
        def show(plan: Plan, time: Timeline | None, trouble: str) -> str:
            return str(render(plan, form, width=80, time=time, trouble=trouble))

        return timed_brief(show, talk.plan(), Wishes(), noon)

    assert shown("screen") in person.transcript
    assert "Begin Wed 25 November, 18:00." in " ".join(shown("screen").split())
    told = " ".join(shown("terminal").split())
    assert "Begin Wed 25 November, 18:00." in told
    assert "On your timetable the first layer is hard" in told and "from that pour on" not in told


def test_a_day_that_is_over_is_said_in_the_brief(knowledge: Any) -> None:
    later = datetime(2027, 3, 1, 12)
    answers = DATED.say("ready_by", "2026-12-24 18:00")
    _, _, person = talk_through(knowledge, kept=Kept(answers=answers), now=lambda: later)
    assert "2026-12-24 18:00, when it should be ready, is over already." in " ".join(person.transcript.split())
