"""Beside the maker while the piece is done: the next step, its wait, what a trial showed, and what came of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

from interview.conversation.rescuing import handed_over, rescue
from interview.conversation.talk import Stopped, Talk
from interview.plan.doings import Done, Outcome
from interview.plan.model import Plan
from interview.plan.parts import Trial
from interview.reading.turn import Focus, Turn, read_turn
from interview.reading.work_words import WorkLine, read_work
from interview.reasoning.progress import SOON, Due, Standing, skipping, standing
from interview.terminal.prompt import Option, Prompt, Tone
from interview.text.minutes import in_words

WORDS = ("done", "skip", "show", "back", "stop")


def work_along(talk: Talk) -> None:
    """Until everything is done or the maker stops. Raises EndOfInput or Interrupted from the console."""
    plan = talk.plan()
    if not plan.steps:
        talk.say(f"There is nothing to do on this piece. {plan.headline}")
        return
    try:
        if not talk.kept.did:
            talk.say('Say "done" when a step is done, or "done at six"; "skip", "show", "back" and "stop" work too. ')
        while True:
            stands = standing(talk.plan(), talk.kept.did, talk.now())
            if stands.due is None and not stands.owed:
                _what_came_of_it(talk)
                return
            _one(talk, stands)
    except Stopped:
        talk.say(f"All is kept. beforepour work {talk.keeper.name} goes on from here.")


def _one(talk: Talk, stands: Standing) -> None:
    """Tell the next thing, and take lines until something is done or known."""
    now = talk.now()
    due = stands.due
    owed = min(stands.owed, key=lambda o: o[1], default=None)
    if owed is not None and owed[1] <= now:
        _ask_result(talk, owed[0])
        return
    if owed is not None and (due is None or due.free > owed[1]):
        due = _as_due(owed[0], owed[1], talk.plan())
    assert due is not None
    _tell(talk, due, now)
    while True:
        prompt = Prompt("", again=True, words=WORDS, status=_status(due, talk.now())[0], live=_clock(due, talk.now))
        typed = talk.console.ask(prompt)
        if due.step.kind == "trial" and due.free > now and talk.now() >= due.free:
            return  # the wait is over while the line stood there; the result is asked for
        if _take(talk, typed, due):
            return


def _as_due(trial: Trial, ready: datetime, plan: Plan) -> Due:
    """Reading a trial, as something to wait for."""
    step = next(s for s in plan.steps if s.id == f"trial.{trial.id}")
    return Due(replace(step, name=f"read the trial: {trial.name.lower()}"), ready, ready)


# ------------------------------------------------------------------ telling


def _tell(talk: Talk, due: Due, now: datetime) -> None:
    step = due.step
    talk.say("")
    if due.free > now:
        talk.say(f"Wait. {_from(due, now)}", "heading")
        talk.say(f"  Then: {step.name}.")
        return
    hands = f" ({in_words(step.hands_on, step.hands_on)})" if step.hands_on else ""
    talk.say(f"Now: {step.name}{hands}.", "heading")
    if due.late:
        talk.say("  The time to go on at once is over. This way instead:", "warning")
    talk.say(f"  {due.how}")
    if step.done_when:
        talk.say(f"  Done when: {step.done_when}", "answer")
    if due.sure > now:
        talk.say(
            f"  If what was done before dries slowly, wait until {_clock_time(due.sure, now)}: check it first.", "quiet"
        )
    if due.closes is not None:
        soon: Tone = "warning" if due.closes - now <= SOON else "quiet"
        talk.say(f"  By {_clock_time(due.closes, now)} at the latest.", soon)


def _from(due: Due, now: datetime) -> str:
    sure = f", {_clock_time(due.sure, now)} if it dries slowly" if due.sure > due.free else ""
    closes = f", by {_clock_time(due.closes, now)} at the latest" if due.closes else ""
    return f"From {_clock_time(due.free, now)} ({_span(due.free - now)} from now){sure}{closes}."


def _clock_time(at: datetime, now: datetime) -> str:
    """ "18:10", "tomorrow 18:10", "Saturday 13 June, 18:10"."""
    if at.date() == now.date():
        return f"{at:%H:%M}"
    if at.date() == (now + timedelta(days=1)).date():
        return f"tomorrow {at:%H:%M}"
    year = f" {at.year}" if at.year != now.year else ""
    return f"{at:%A} {at.day} {at:%B}{year}, {at:%H:%M}"


def _span(span: timedelta) -> str:
    minutes = max(1.0, round(span.total_seconds() / 60))
    return in_words(minutes, minutes)


def _status(due: Due, now: datetime) -> tuple[str, bool]:
    """The line at the foot, and whether the bell is due: at the end of a wait, and before a window closes."""
    if due.free > now:
        left = int((due.free - now).total_seconds())
        return f"{left // 3600}:{left // 60 % 60:02}:{left % 60:02} until {due.step.name.lower()}", False
    if due.closes is not None:
        left = int((due.closes - now).total_seconds())
        if left <= 0:
            return f"The time for this is over: {due.step.name.lower()}", True
        return f"{left // 60} minutes left for this", due.closes - now <= SOON
    return "done, skip, show, back, stop, or tell what you see", True


def _clock(due: Due, now: Callable[[], datetime]) -> Callable[[], tuple[str, bool]]:
    """Computed from the clock at each tick, so that sleep does no harm; rings once when a wait ends, once near the close."""
    rung = {_status(due, now())[1]}

    def live() -> tuple[str, bool]:
        text, ring = _status(due, now())
        new = ring and True not in rung
        rung.add(ring)
        return text, new

    return live


# ------------------------------------------------------------------ taking


def _take(talk: Talk, typed: str, due: Due) -> bool:
    """Whether the work has moved, so that the next thing is told."""
    line = read_work(typed, talk.now())
    if line.does == "stop":
        raise Stopped
    if line.does == "back":
        return _take_back(talk)
    if line.does == "show":
        _show(talk)
        return False
    if line.does == "skip":
        return _skip(talk, due)
    if line.does == "done":
        return _done(talk, due, line)
    if line.does in ("wait", "next"):
        return _wait(talk, due, line)
    return _told(talk, typed)


def _done(talk: Talk, due: Due, line: WorkLine) -> bool:
    if any(d.step == due.step.id for d in talk.kept.did):  # a trial that is only waiting to be read
        talk.say(f"  {_from(due, talk.now())} Tell what it shows then, or now if it shows already.", "quiet")
        return False
    at = line.at or talk.now()
    last = max((d.at for d in talk.kept.did), default=at)
    if at < due.free:
        talk.say(f"  That is before it may be: {_from(due, talk.now())}", "warning")
        if not _yes(talk, "Is it done all the same?"):
            return False
    if line.at is not None and at < last - timedelta(minutes=1):
        talk.say(f"  The step before ended {_clock_time(last, talk.now())}; this is put down for then.", "quiet")
        at = last
    if due.closes is not None and at > due.closes:
        way = due.step.missed or "wait until it is hard, and scuff it before the next coat"
        talk.say(f"  Its window closed {_clock_time(due.closes, talk.now())}. Watch that it grips: {way}", "warning")
    _note(talk, Done(due.step.id, at.replace(second=0, microsecond=0), due.step.name))
    talk.say(f"  Done {_clock_time(at, talk.now())}.", "answer")
    return True


def _skip(talk: Talk, due: Due) -> bool:
    for line in skipping(talk.plan(), due.step):
        talk.say(f"  {line}", "warning")
    if not _yes(talk, "Leave it out?"):
        return False
    _note(talk, Done(due.step.id, talk.now().replace(second=0, microsecond=0), due.step.name, skipped=True))
    return True


def _wait(talk: Talk, due: Due, line: WorkLine) -> bool:
    now = talk.now()
    if due.free > now:
        talk.say(f"  {_from(due, now)} Leave the window open and it rings, or stop and come back.", "quiet")
        return False
    return line.does == "next"


def _take_back(talk: Talk) -> bool:
    if not talk.kept.did:
        talk.say("  Nothing is done yet.", "quiet")
        return False
    last = talk.kept.did[-1]
    talk.save(replace(talk.kept, did=talk.kept.did[:-1]))
    talk.say(f"  Taken back: {last.name}.", "answer")
    return True


def _show(talk: Talk) -> None:
    now = talk.now()
    for one in talk.kept.did:
        word = "left out" if one.skipped else "done"
        talk.say(f"  {word} {_clock_time(one.at, now)}: {one.name}")
    did = {d.step for d in talk.kept.did}
    for step in (s for s in talk.plan().steps if s.id not in did):
        talk.say(f"  to do: {step.name}", "quiet")


def _told(talk: Talk, typed: str) -> bool:
    """A result, a fact or a question, in the maker's own words. Whether the plan is another one now."""
    stands = standing(talk.plan(), talk.kept.did, talk.now())
    if handed_over(talk, typed):
        return True
    settles = [t.settles for t, _ in stands.owed] or [t.settles for t in talk.plan().trials if t.settles]
    asked = next(iter(settles), None)
    focus = Focus(
        asked or "work",
        talk.adviser.wording(talk.adviser.question(asked), talk.answers) if asked else None,
        talk.answers,
    )
    turn = read_turn(typed, focus, talk.adviser.knowledge)
    if turn.asks:
        for question in turn.asks:
            talk.explain(question)
        if not turn.facts:
            return False
    if turn.facts:
        return _new_facts(talk, turn, typed)
    talk.say(
        '  I did not understand that. Say "done", "skip", "stop", or what you see: "the drop stands", "the scrap went dark".',
        "quiet",
    )
    return False


def _new_facts(talk: Talk, turn: Turn, typed: str) -> bool:
    before = talk.plan()
    answers = talk.answers
    for fact in turn.facts:
        shown = talk.adviser.question(fact.question).part == "trials"
        answers = answers.say(fact.question, fact.value, "trial" if shown else "said", typed)
    told = {fact.question for fact in turn.facts}
    for trial in before.trials:
        if trial.settles in told and any(c.id == trial.id for c in talk.adviser.question("tried").choices):
            tried = answers.value("tried") or frozenset()
            answers = answers.say("tried", (frozenset(tried) - {"none"}) | {trial.id}, "trial", typed)
            if not any(d.step == f"trial.{trial.id}" for d in talk.kept.did):
                _note(talk, Done(f"trial.{trial.id}", talk.now().replace(second=0, microsecond=0), trial.name))
    talk.set_answers(answers)
    _tell_change(talk, before, talk.plan())
    return True


def _tell_change(talk: Talk, before: Plan, after: Plan) -> None:
    changes = talk.adviser.changes(before, after)
    talk.say("  Noted." if not changes else "  That changes the plan:", "answer")
    talk.say_all((f"  - {line}" for line in changes), "answer")
    if not after.steps:
        talk.say(f"  {after.headline}", "warning")


def _ask_result(talk: Talk, trial: Trial) -> None:
    """What a trial showed: in one's own words, or by its number."""
    talk.say("")
    talk.say(f"{trial.name}: what did it show?", "heading")
    asked = talk.adviser.wording(talk.adviser.question(trial.settles), talk.answers)
    options = tuple(Option(c.id, c.text, c.also) for c in asked.choices)
    while True:
        typed = talk.console.ask(Prompt(asked.text, options, words=("not sure", "skip", "stop")))
        line = read_work(typed, talk.now())
        if line.does == "stop":
            raise Stopped
        if line.does == "skip":
            step = f"trial.{trial.id}"
            did = tuple(replace(d, skipped=True) if d.step == step else d for d in talk.kept.did)
            talk.save(replace(talk.kept, did=did))
            return
        turn = read_turn(typed, Focus(trial.settles, asked, talk.answers), talk.adviser.knowledge)
        for question in turn.asks:
            talk.explain(question)
        if turn.facts:
            _new_facts(talk, turn, typed)
            return
        if not turn.asks:
            talk.say(
                f"  {turn.pick.says if turn.pick else 'Say what you saw, or the number of a line above.'}", "warning"
            )


def _note(talk: Talk, done: Done) -> None:
    talk.save(replace(talk.kept, did=(*(d for d in talk.kept.did if d.step != done.step), done)))


def _yes(talk: Talk, text: str) -> bool:
    return talk.confirm(text) is True


# ------------------------------------------------------------------ what came of it


def _what_came_of_it(talk: Talk) -> None:
    """Two questions after the cure; kept with the piece, for the next one of the same stuff."""
    talk.say("")
    if talk.kept.outcome is not None:
        talk.say(f"This piece is finished. It came out: {talk.kept.outcome.right or 'not told'}.")
        return
    talk.say("All is done.", "heading")
    right = talk.console.ask(
        Prompt("What came out right?", hint="In your own words; Enter for nothing to say.")
    ).strip()
    wrong = talk.console.ask(Prompt("What did not?", hint="In your own words; Enter for nothing.")).strip()
    if wrong.casefold() in ("nothing", "no", "none", "all good", "all fine"):
        wrong = ""
    talk.save(replace(talk.kept, outcome=Outcome(talk.now().replace(second=0, microsecond=0), right, wrong)))
    talk.say("Kept with the piece. beforepour list shows it.", "answer")
    if wrong:
        rescue(talk, wrong)
