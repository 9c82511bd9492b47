"""Where the conversation stands, and the prompt a place shows. One kind of place for every prompt there is."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from interview.conversation.effects import class_of_piece
from interview.conversation.talk import Talk
from interview.conversation.telling import HINT, answer_line, status, value_words
from interview.plan.answers import NOT_SURE
from interview.reading.menu import PICKED, typed_for_choice
from interview.reading.plain_words import WORDS
from interview.reasoning.agenda import Asked
from interview.terminal.prompt import Option, Prompt
from knowledge.classes import class_named
from knowledge.shape import Choice, Question

if TYPE_CHECKING:
    from interview.reading.turn import Focus

Ending = Literal["stopped", "done", "next"]
PlaceKind = Literal["opening", "read_back", "question", "narrow", "guess", "which", "clash", "end", "over"]
SHOWN = 8  # choices of a list shown at once
_HINTED_QUESTIONS = 2
_NOT_SURE = Option("not sure", "not sure", ("don't know", "no idea"))
LEAVE = "leave"


@dataclass(frozen=True, slots=True)
class Place:
    """`id`: the question, or what cannot all be so. `among`: choices left to tell apart. `says`: what is asked there.

    `anew`: what is typed takes the old answer's place. `again`: the question stands on the screen. `short`: its text
    alone is shown. `page`: of a long list.
    """

    kind: PlaceKind
    id: str = ""
    among: tuple[str, ...] = ()
    says: str = ""
    anew: bool = False
    again: bool = False
    short: bool = False
    page: int = 0
    ending: Ending = "done"

    @property
    def name(self) -> str:
        """As the ledger has it, and the reader: a question's id, or the kind of place."""
        if self.kind in ("question", "guess"):
            return self.id
        return f"narrow {self.id}" if self.kind == "narrow" else self.kind


def asked_at(talk: Talk, place: Place) -> Asked | None:
    """The question on the screen with its choices, or None where none is."""
    if place.kind == "question":
        return word(talk, place.id)
    if place.kind == "narrow":
        return _narrowing(talk, place.id)
    if place.kind == "guess" and len(place.among) > 1:
        asked = word(talk, place.id)
        return replace(asked, choices=tuple(c for c in asked.choices if c.id in place.among))
    if place.kind in ("which", "clash"):
        return _answers_to_pick(talk, place)
    return None


def focus(talk: Talk, place: Place) -> Focus:
    """What the reader is told of the moment."""
    from interview.reading.turn import Focus

    at = place.id if place.kind == "narrow" else "read_back" if _is_yes_or_no(place) else place.name
    return Focus(at, asked_at(talk, place), talk.answers, imperial=talk.imperial, now=talk.now())


def _is_yes_or_no(place: Place) -> bool:
    return place.kind == "read_back" or (place.kind == "guess" and len(place.among) < 2)


def word(talk: Talk, id: str) -> Asked:
    """The question for the situation; of a long list come first its own choices, such as "nothing"."""
    asked = talk.adviser.wording(talk.adviser.question(id), talk.answers)
    if len(asked.choices) <= SHOWN:
        return asked
    kinds = _kinds_of_its_class(talk, asked.question)
    named = {c.id: replace(c, text=kinds[c.id], also=(c.text, *c.also)) for c in asked.choices if c.id in kinds}
    own = [c for c in asked.choices if c in asked.question.choices]
    likely = [*own, *(named[id] for id in kinds if id in named)]
    rest = (c for c in asked.choices if c.id not in {one.id for one in likely})
    return replace(asked, choices=(*likely, *rest))


def _kinds_of_its_class(talk: Talk, question: Question) -> dict[str, str]:
    """In people's words, what a piece of one class of material may be made of."""
    one = class_of_piece(talk.adviser.knowledge, talk.answers, question)
    return {kind.row: kind.words for kind in one.kinds} if one else {}


def _narrowing(talk: Talk, id: str) -> Asked:
    question = talk.adviser.question(id)
    one = class_named(talk.adviser.knowledge.classes, talk.answers.value(id))
    assert one is not None
    choices = tuple(Choice(kind.row, kind.words) for kind in one.kinds)
    return Asked(question, one.ask, question.why, choices)


def to_narrow(talk: Talk) -> str | None:
    """A question answered with a class ("some wood") whose kind was not asked for yet and would change the plan."""
    asked = {said.at for said in talk.kept.said if said.took}
    asked |= {f"narrow {took.question}" for said in talk.kept.said for took in said.took if took.value is NOT_SURE}
    for id in talk.answers:
        if not talk.adviser.question(id).rows:
            continue
        one = class_named(talk.adviser.knowledge.classes, talk.answers.value(id))
        if one and f"narrow {id}" not in asked and talk.adviser.kinds_differ(talk.answers, id, one):
            return id
    return None


def _answers_to_pick(talk: Talk, place: Place) -> Asked:
    ids = place.among or tuple(id for id in talk.answers if id in talk.adviser.knowledge.questions)
    choices = [Choice(id, talk.adviser.question(id).short, (id.replace("_", " "),)) for id in ids]
    if place.kind == "clash":
        choices.append(Choice(LEAVE, "both are right", ("leave", "leave it", "keep", "keep it", "neither")))
    question = Question(
        id=place.kind, part="piece", order=0, kind="one", text=place.says, why=place.says, short=place.says,
        unsure="", unsure_says="", choices=tuple(choices),
    )  # fmt: skip
    return Asked(question, place.says, place.says, tuple(choices))


# ------------------------------------------------------------------ prompts


def prompt_for(talk: Talk, place: Place) -> Prompt:
    """Text, choices and hints of the place."""
    prompt = _PROMPTS[place.kind](talk, place)
    return replace(prompt, again=place.again, short=place.short, words=prompt.words or WORDS)


def _at_question(talk: Talk, place: Place) -> Prompt:
    asked = asked_at(talk, place)
    assert asked is not None
    question = asked.question
    picked = question.kind in PICKED
    count = len(asked.choices)
    shown = SHOWN if count > SHOWN + 1 else 0
    start = (place.page * SHOWN) % count if shown else 0

    def reads(typed: str) -> str:
        from interview.reading.turn import read_turn

        value = read_turn(typed, focus(talk, place), talk.adviser.knowledge).value(question.id)
        return f"= {value_words(question, value, talk.adviser, talk.answers)}" if value is not None else ""

    return Prompt(
        text=asked.text,
        options=_options(asked) if picked else (),
        several=question.kind == "several",
        hint=_hint(talk, asked, place),
        status=status(question, len(talk.kept.trail) + 1),
        reads=reads,
        shown=shown,
        start=start,
    )


def _options(asked: Asked) -> tuple[Option, ...]:
    options = (
        Option(c.id, c.text, c.also, c.hint, typed_for_choice(n, asked.choices)) for n, c in enumerate(asked.choices)
    )
    return (*options, _NOT_SURE)


def _hint(talk: Talk, asked: Asked, place: Place) -> str:
    """The old answer, where there is one; how to name several, once; and for someone new the words that always
    work, on the first questions."""
    lines = []
    if place.anew and (old := talk.answers.get(asked.question.id)):
        lines.append(
            f"Until now: {value_words(asked.question, old.value, talk.adviser, talk.answers)}. Enter keeps it."
        )
    if asked.question.kind == "several" and place.kind == "question" and _once(talk, "several", asked.question.id):
        lines.append("More than one: 1 3, or words with commas.")
    if asked.question.example:
        lines.append(f"For example: {asked.question.example}")
    shown = len(talk.kept.trail) < _HINTED_QUESTIONS or asked.question.id in talk.hinted
    if shown and talk.pace == "full" and talk.first_time():
        talk.hinted.add(asked.question.id)
        lines.append(HINT)
    return "\n  ".join(lines)


def _once(talk: Talk, what: str, id: str) -> bool:
    """Whether this question is the first of its kind in the conversation (also when it is asked again)."""
    mark = f"{what}: {id}"
    if any(m.startswith(f"{what}: ") and m != mark for m in talk.hinted):
        return False
    talk.hinted.add(mark)
    return True


def _at_opening(talk: Talk, place: Place) -> Prompt:  # noqa: ARG001
    from interview.conversation.greeting import opening_prompt

    return opening_prompt()


def _at_read_back(talk: Talk, place: Place) -> Prompt:  # noqa: ARG001
    return Prompt("Is that right?", hint="Yes, or what is different. Enter: yes.")


def _at_guess(talk: Talk, place: Place) -> Prompt:
    asked = asked_at(talk, place)
    options = tuple(Option(c.id, c.text, c.also, c.hint, c.text) for c in asked.choices) if asked else ()
    return Prompt(place.says or "Which of these do you mean?", options)


def _at_which(talk: Talk, place: Place) -> Prompt:
    asked = asked_at(talk, place)
    assert asked is not None
    ids = [choice for choice in asked.choices if choice.id != LEAVE]
    options = [Option(c.id, answer_line(c.id, talk.adviser, talk.answers), c.also, word=c.text) for c in ids]
    if place.kind == "clash":
        options.append(Option(LEAVE, "both are right, leave it", word="leave it"))
    shown = SHOWN if len(options) > SHOWN + 1 else 0
    hint = "" if place.kind == "clash" else "Enter leaves all as it is."
    start = (place.page * SHOWN) % len(options) if shown else 0
    return Prompt(place.says, tuple(options), hint=hint, shown=shown, start=start)


def _at_end(talk: Talk, place: Place) -> Prompt:  # noqa: ARG001
    if talk.pace == "counter":
        hint = "more: the whole brief. next: the next customer."
        return Prompt("Anything the customer wants to know?", hint=hint, status=hint)
    hint = "more: the whole brief. numbers: amounts, days and costs exactly. that's all: finish."
    return Prompt("Anything to change, to ask, or to tell me?", hint=hint, status=hint)


_PROMPTS = {
    "opening": _at_opening,
    "read_back": _at_read_back,
    "question": _at_question,
    "narrow": _at_question,
    "guess": _at_guess,
    "which": _at_which,
    "clash": _at_which,
    "end": _at_end,
}
