"""The conversation: one loop for every prompt. A line is read into a turn, the turn has its effects, and they lead on.

Every line is written down, with what it said, before the next prompt.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from interview.conversation.effects import Effect, members, take
from interview.conversation.ledger import LET_STAND, TROUBLE, worth_telling
from interview.conversation.naming import answer_named
from interview.conversation.onward import onward
from interview.conversation.places import LEAVE, Ending, Place, asked_at, focus, prompt_for, word
from interview.conversation.rescuing import handed_over, is_urgent
from interview.conversation.saying import read_back, tell_effect, tell_left
from interview.conversation.talk import Stopped, Talk, where_kept
from interview.conversation.telling import value_words
from interview.conversation.trials_told import of_a_trial, with_coats
from interview.conversation.wishes import wish
from interview.files.kept import Said
from interview.plan.answers import NOT_SURE
from interview.reading.clauses import spoken_words
from interview.reading.commands import Command, read_command
from interview.reading.menu import PICKED
from interview.reading.plain_words import NO, YES
from knowledge.classes import class_named

if TYPE_CHECKING:
    from interview.plan.model import Plan
    from interview.reading.turn import Turn
    from interview.reasoning.agenda import Asked

_YES_NO = [(word,) for word in (*YES, *NO) if " " not in word]
_BARE = 2  # words of a yes or no and nothing more
_NAMING = ("same as", "change")  # "same as the blue tray", "change the glue": they name a thing and say nothing of it


def converse(talk: Talk, first: str | None = None) -> Ending:
    """The whole conversation, or the rest of one taken up again. `first`: the reply to the first question, if asked.

    Raises EndOfInput or Interrupted from the console.
    """
    try:
        place = _first_place(talk)
        while place.kind != "over":
            typed = talk.console.ask(prompt_for(talk, place)) if first is None else first
            first = None
            place = hear(talk, place, typed)
        return place.ending
    except Stopped:
        talk.say(where_kept(talk))
        return "stopped"


def _first_place(talk: Talk) -> Place:
    if not talk.answers and not talk.kept.trail:
        return Place("opening")
    if not talk.kept.trail and talk.kept.said and talk.kept.said[-1].at == "opening":
        read_back(talk)
        return Place("read_back")
    return onward(talk)


def hear(talk: Talk, place: Place, typed: str) -> Place:
    """One line: read, written down, answered. Gives where the conversation then stands."""
    if not typed.strip():
        return _on_enter(talk, place)
    if _in_trouble(talk, place, typed):
        return _note_trouble(talk, place, typed)
    if talk.picks(typed, asked_at(talk, place), place.kind):
        _note(talk, place, typed, Effect(talk.answers), place.name)
        return replace(place, short=True, again=False)
    try:
        turn, effect = _understood(talk, place, typed)
    except Exception:
        talk.save(replace(talk.kept, said=(*talk.kept.said, Said(place.name, typed))))  # never lost with a fault
        raise
    if place.kind == "question" and not effect.took and handed_over(talk, typed):
        return _note_trouble(talk, place, typed)
    command = _whole_command(typed, effect) or turn.command
    if command is not None and command.name in _NAMING:
        effect = Effect(talk.answers)
    before, asked = talk.answers, asked_at(talk, place)
    worth = talk.plan() if talk.kept.done or (effect.changed and talk.settled) else None
    stands = _lets_stand(place, turn, effect)
    _note(talk, place, typed, effect, f"{LET_STAND}{place.id}" if stands else place.name)
    if place.kind in ("which", "clash") and turn.value(place.kind) is None and not effect.took:
        named = answer_named(talk, typed)
        if named is not None:
            return Place("question", named, anew=True)
    tell_effect(talk, place, typed, turn, effect, before)
    if command is not None:
        return wish(talk, place, command)
    return _answered(talk, place, turn, effect, worth, asked)


def _in_trouble(talk: Talk, place: Place, typed: str) -> bool:
    """Whether the line was about something gone wrong, or somebody hurt, and has been seen to."""
    if place.kind == "end" and talk.answers and of_a_trial(typed):
        return False
    wide = place.kind in ("opening", "end")
    return (wide or is_urgent(typed)) and handed_over(talk, typed, opening=place.kind == "opening")


def _understood(talk: Talk, place: Place, typed: str) -> tuple[Turn, Effect]:
    """The turn, and what it does to the answers. What nothing was made of stays on record whole."""
    from interview.reading.turn import read_turn

    turn = read_turn(typed, focus(talk, place), talk.adviser.knowledge)
    if place.kind == "guess":
        place, turn = _beside_the_guess(talk, place, typed, turn)
    if place.kind in ("question", "narrow") and _says_nothing(turn):
        turn = _heard_alone(talk, typed, turn)
    if place.kind == "end" and talk.answers:
        turn = with_coats(talk.adviser.knowledge, turn, typed, talk.plan())
        turn = _heard_of_the_open(talk, typed, turn) if _says_nothing(turn) and not turn.removes else turn
    asks = talk.questions_in(typed, turn, asked_at(talk, place), place.kind)
    if asks != turn.asks:
        left = () if asks == (typed,) else turn.leftover  # all of it is asked
        turn = replace(turn, asks=asks, leftover=left, pick=turn.pick if turn.asks or not asks else None)
    if place.kind == "narrow":
        turn = _of_another_stuff(talk, place, turn)
    if place.kind == "opening" and asks and talk.asks_of(asks[0]) == "term":
        turn = replace(turn, facts=(), acts=frozenset(("ask",)))  # "what does dammed mean" says nothing of a piece
    elif asks == (typed,) and talk.asks_of(typed) in ("stand_in", "term"):
        turn = replace(turn, facts=tuple(f for f in turn.facts if f.question in ("worries", "proposals")))
    effect = _effect(talk, place, turn)
    if effect.took and "ask" not in turn.acts and "?" not in typed:
        turn = replace(turn, asks=())  # "front only" is an answer, also where it might be asked about
    if _says_nothing(turn) and not (turn.removes or turn.asks or effect.left):
        effect = replace(effect, left=(typed.strip(),))
    values = (took.value for took in effect.took)
    taken = {id for value in values for id in (value if isinstance(value, frozenset) else (str(value),))}
    left = tuple(words for words in effect.left if words.casefold() not in taken)
    return turn, replace(effect, left=worth_telling(typed, left, talk.adviser.knowledge))


def _beside_the_guess(talk: Talk, place: Place, typed: str, turn: Turn) -> tuple[Place, Turn]:
    """Asked "do you mean ...?", people also answer what was asked before that, or the question meant."""
    from interview.reading.turn import read_turn

    yes_or_no = len(place.among) == 1 and turn.acts & {"agree", "deny"}
    if turn.value(place.id) is not None or (yes_or_no and len(typed.split()) <= _BARE):
        return place, turn
    before = talk.adviser.next_question(talk.answers, talk.pace, talk.asked_so_far)
    for id in (before.id if before else place.id, place.id):
        at = Place("question", id)
        heard = read_turn(typed, focus(talk, at), talk.adviser.knowledge)
        if heard.value(id) is not None or (id == place.id and not yes_or_no):
            return at, heard
    return place, turn


def _answered(talk: Talk, place: Place, turn: Turn, effect: Effect, worth: Plan | None, stood: Asked | None) -> Place:
    """What found no place, what changed of the plan before (`worth`), what they asked; then where it leads.

    `stood`: the question that was on the screen."""
    tell_left(talk, effect, place.kind != "opening" and bool(effect.took or turn.asks))
    talk.tell_difference(worth, always=place.kind == "end" and bool(effect.took))
    for asked in turn.asks:
        if turn.value("proposals") is not None and talk.asks_of(asked) == "stand_in":
            continue  # judged already, as what they would do
        talk.explain(asked, stood, place.kind)
    return _leads_to(talk, place, turn, effect)


def _says_nothing(turn: Turn) -> bool:
    return not (turn.facts or turn.pick or turn.command or turn.acts - {"answer", "add", "correct"})


def _heard_alone(talk: Talk, typed: str, turn: Turn) -> Turn:
    """A line that says nothing of what was asked, heard by itself: a plain correction is taken, a fact asked about."""
    from interview.reading.turn import Focus, Pick, read_turn

    alone = Focus("read_back", None, talk.answers, imperial=talk.imperial, now=talk.now())
    heard = read_turn(typed, alone, talk.adviser.knowledge)
    if heard.removes:
        return heard
    for fact in heard.facts:
        question = talk.adviser.knowledge.questions.get(fact.question)
        ids = tuple(fact.value) if isinstance(fact.value, frozenset) else (fact.value,)
        had = talk.answers.value(fact.question)
        if had == fact.value or (isinstance(had, frozenset) and had >= frozenset(ids)):
            return replace(turn, facts=(replace(fact, value=had),))  # told before
        if question is not None and question.kind in PICKED and len(ids) == 1 and isinstance(ids[0], str):
            words = value_words(question, fact.value, talk.adviser, talk.answers)
            return replace(turn, pick=Pick(fact.question, ids, f"Do you mean {question.short}: {words}?"))
    return turn


def _heard_of_the_open(talk: Talk, typed: str, turn: Turn) -> Turn:
    """After the brief, a line that says nothing by itself, heard as an answer to what was assumed, to a trial that is
    to be done, or to a question answered before: asked about, never recorded."""
    from interview.reading.turn import Focus, Pick, read_turn

    knowledge, plan = talk.adviser.knowledge, talk.plan()
    if not worth_telling(typed, (typed.strip(),), knowledge):
        return turn
    trials = [knowledge.trials[trial.id].settles for trial in plan.trials]
    for id in dict.fromkeys((*(point.question for point in plan.open_points), *trials, *talk.answers)):
        question = knowledge.questions.get(id)
        if question is None or question.kind == "text" or id in ("worries", "proposals"):
            continue
        focus = Focus(id, word(talk, id), talk.answers, imperial=talk.imperial, now=talk.now())
        value = read_turn(typed, focus, knowledge).value(id)
        if value in (None, NOT_SURE) or value == talk.answers.value(id):
            continue
        words = value_words(question, value, talk.adviser, talk.answers)
        ids = tuple(value) if isinstance(value, frozenset) else (value,)
        return replace(turn, pick=Pick(id, ids, f"Do you mean {question.short}: {words}?"))
    return turn


def _of_another_stuff(talk: Talk, place: Place, turn: Turn) -> Turn:
    """Asked for the kind of paper, "on a wooden plaque" is no paper: asked about, what it is mounted on first of all."""
    from interview.reading.turn import Pick

    knowledge, value = talk.adviser.knowledge, turn.value(place.id)
    one = class_named(knowledge.classes, talk.answers.value(place.id))
    ids = value if isinstance(value, frozenset) else {value} if isinstance(value, str) else set()
    if one is None or not ids or ids & {one.id, *members(knowledge, one.id)} or "correct" in turn.acts:
        return turn
    (id, *_) = ids
    mount = class_named(knowledge.classes, talk.answers.value("mounted"))
    if place.id == "support" and mount is not None and id in members(knowledge, mount.id):  # a kind of what carries it
        told = (
            replace(fact, question="mounted", value=id) if fact.question == place.id else fact for fact in turn.facts
        )
        return replace(turn, facts=tuple(told))
    carries = id in knowledge.materials and knowledge.materials[id].mount
    target = "mounted" if place.id == "support" and carries and not talk.answers.has("mounted") else place.id
    question = talk.adviser.question(target)
    words = value_words(question, id, talk.adviser, talk.answers)
    facts = tuple(fact for fact in turn.facts if fact.question != place.id)
    return replace(turn, facts=facts, pick=Pick(target, (id,), f"Do you mean {question.short}: {words}?"))


def _whole_command(typed: str, effect: Effect) -> Command | None:
    """The wish that the whole line is, where it says nothing of the piece."""
    command = read_command(typed)
    if command is None or command.name in ("ask", "not sure"):
        return None
    return command if command.name in _NAMING or not effect.took else None


def _effect(talk: Talk, place: Place, turn: Turn) -> Effect:
    knowledge = talk.adviser.knowledge
    if place.kind == "guess" and len(place.among) == 1 and "agree" in turn.acts:
        turn = _guessed(talk, place, turn)
    if turn.value(place.kind) is not None:  # one of the answers to change; no fact about the piece
        turn = replace(turn, facts=tuple(fact for fact in turn.facts if fact.question != place.kind))
    asked = place.id if place.kind in ("question", "narrow", "guess") else ""
    one = class_named(knowledge.classes, talk.answers.value(asked)) if place.kind == "narrow" else None
    return take(knowledge, talk.answers, turn, asked, anew=place.anew, instead=one.id if one else "")


def _guessed(talk: Talk, place: Place, turn: Turn) -> Turn:
    from interview.reading.turn import Fact

    several = talk.adviser.question(place.id).kind == "several"
    value = frozenset(place.among) if several else place.among[0]
    return replace(turn, facts=(*turn.facts, Fact(place.id, value, words=place.among[0])))


def _note_trouble(talk: Talk, place: Place, typed: str) -> Place:
    talk.save(replace(talk.kept, said=(*talk.kept.said, Said(TROUBLE, typed))))
    return replace(place, short=True, again=False)


def _note(talk: Talk, place: Place, typed: str, effect: Effect, at: str) -> None:
    """The line, what it said and the answers after it, in one record."""
    kept = talk.kept
    answers = talk.adviser.refit(talk.answers, effect.answers) if effect.changed else effect.answers
    trail = kept.trail
    if place.kind in ("question", "guess") and any(took.question == place.id for took in effect.took):
        trail = (*(id for id in trail if id != place.id), place.id)
    said = Said(at, typed, effect.took, effect.left)
    opening = kept.opening or (typed if place.kind == "opening" and effect.took else "")
    talk.save(replace(kept, answers=answers, trail=trail, said=(*kept.said, said), opening=opening))


# ------------------------------------------------------------------ where it leads


def _on_enter(talk: Talk, place: Place) -> Place:
    """An empty line: yes, leave it, go on; at a question that has no answer it says nothing."""
    if place.kind == "opening":
        talk.say("Then step by step.")
        return onward(talk)
    if place.kind in ("read_back", "which"):
        return onward(talk)
    if place.kind == "end":
        return Place("over", ending="next" if talk.pace == "counter" else "done")
    if place.kind == "question" and place.anew:
        talk.keep_as_it_was(place.id)
        return onward(talk)
    talk.say("  Say it in your own words, or: not sure.", "quiet")
    return replace(place, again=True)


def _leads_to(talk: Talk, place: Place, turn: Turn, effect: Effect) -> Place:
    if place.kind == "opening":
        return _after_opening(talk, turn, effect)
    if place.kind in ("which", "clash"):
        return _after_pick(talk, place, turn, effect)
    if place.kind == "guess" and "deny" in turn.acts and not effect.took:
        return onward(talk)
    if turn.pick is not None and not effect.took and not turn.asks and "chat" not in turn.acts:
        return _guess(talk, place, turn)
    if place.kind == "read_back":
        return _after_read_back(talk, place, turn, effect)
    if place.kind == "end":
        return _after_end(talk, place, turn, effect)
    if effect.took or effect.changed:
        return onward(talk, place)
    return _stays(talk, place, turn)


def _stays(talk: Talk, place: Place, turn: Turn) -> Place:
    """The question still stands: its text is shown again after an answer to a question of theirs."""
    if turn.asks or turn.acts & {"chat", "worry"}:
        return replace(place, short=True, again=False)
    if place.kind in ("question", "narrow") and spoken_words(talk.kept.said[-1].typed)[:1] in _YES_NO:
        talk.say("  Yes or no does not tell me which of them. Pick one, or say it in your own words.", "quiet")
        return replace(place, again=False, short=False)
    told = "Say it in other words" + (". that's all: finish." if place.kind == "end" else ", or: not sure.")
    talk.say(f"  I did not understand that. {told}", "warning")
    return Place("question", place.id) if place.kind == "guess" else replace(place, again=True)


def _after_opening(talk: Talk, turn: Turn, effect: Effect) -> Place:
    if effect.took and set(talk.answers) - {"worries"}:
        read_back(talk)
        return Place("read_back") if talk.pace != "counter" else onward(talk)
    if turn.asks:
        return Place("opening", short=True)
    talk.say(
        (turn.pick.says if turn.pick and turn.pick.says else "I understood nothing in that to go by.")
        + " So I ask step by step."
    )
    return onward(talk)


def _after_read_back(talk: Talk, place: Place, turn: Turn, effect: Effect) -> Place:
    if effect.took or effect.changed or (turn.acts & {"agree", "unsure"} and "deny" not in turn.acts):
        return (
            replace(place, short=True) if turn.asks and "agree" not in turn.acts and not effect.took else onward(talk)
        )
    if "deny" in turn.acts:
        return Place("which", says="What is different? Pick it, or say it.")
    return _stays(talk, place, turn)


def _lets_stand(place: Place, turn: Turn, effect: Effect) -> bool:
    """Whether what cannot all be so is left as it is."""
    denied = place.kind == "clash" and turn.acts & {"deny", "unsure"} and not effect.took
    return bool(denied) or turn.value(place.kind) == LEAVE


def _after_pick(talk: Talk, place: Place, turn: Turn, effect: Effect) -> Place:
    picked = turn.value(place.kind)
    if picked is NOT_SURE:
        return onward(talk)
    if _lets_stand(place, turn, effect):
        return onward(talk)
    if picked is not None:
        return Place("question", picked, anew=True)
    if effect.took or effect.changed or "deny" in turn.acts:
        return onward(talk)
    return _stays(talk, place, turn)


def _guess(talk: Talk, place: Place, turn: Turn) -> Place:
    """A weak match is asked about, never recorded."""
    pick = turn.pick
    assert pick is not None
    if not pick.ids:
        talk.say(f"  {pick.says}", "warning")
        return replace(place, again=True)
    if place.kind == "guess" and (place.id, place.among) == (pick.question, pick.ids[:8]):
        return Place("question", place.id)  # asked once, that is enough
    question = talk.adviser.knowledge.questions[pick.question]
    says = pick.says
    if not says and len(pick.ids) == 1:
        value = frozenset(pick.ids) if question.kind == "several" else pick.ids[0]
        says = f"Do you mean {question.short}: {value_words(question, value, talk.adviser, talk.answers)}?"
    return Place("guess", pick.question, among=pick.ids[:8], says=says)


def _after_end(talk: Talk, place: Place, turn: Turn, effect: Effect) -> Place:
    if effect.took or effect.changed:
        return onward(talk)
    if turn.asks or "worry" in turn.acts:
        return replace(place, again=False, short=True)
    if turn.acts & {"agree", "deny", "chat"} and not effect.left:
        return Place("over", ending="next" if talk.pace == "counter" else "done")
    return _stays(talk, place, turn)
