"""knowledge/words/*.toml: the shape of each file, read strictly, and what their rows refer to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, Literal

from knowledge.loading import HOME, Fault, Knowledge, KnowledgeError, read_row, read_toml, rows_in

FOLDER = HOME / "words"
# lists of grammar.toml that give the words in them a role, and those that only mark them
ROLES = (
    "on",
    "with",
    "mounted_on",
    "in",
    "aside",
    "of",
    "and",
    "or",
    "not",
    "not_after",
    "not_only",
    "but",
    "except",
    "unsure",
    "article",
    "be",
)
MARKS = (
    "absent",
    "job",
    "depicts",
    "verb_after",
    "persons",
    "poured",
    "loose",
    "done_to",
    "takes_it",
    "verb_mark",
    "between",
    "nots",
)
Named = Literal["support", "media", "laid_on"]
_SHELF = {"support": "materials", "media": "media", "laid_on": "inclusions"}
SPEECH = (
    "yes",
    "no",
    "good",
    "bad",
    "about",
    "negators",
    "agree",
    "deny",
    "nearly",
    "mend",
    "more",
    "unsure",
    "hedge",
    "thanks",
    "greet",
    "fill",
    "polite",
    "bare",
    "done",
    "done_to",
    "thing_told",
    "elsewhere",
    "last_year",
    "after_year",
    "ask_head",
    "ask_turned",
    "why_so",
    "first_offered",
    "second_offered",
    "third_offered",
    "none_offered",
    "ask_safe",
    "ask_always",
    "trial_words",
    "dropped_i",
    "no_subject",
    "turned_to",
    "not_turned",
    "ask_word",
    "ask_after",
    "told_what",
    "unknown_word",
    "supposing",
    "ask_tail",
    "ask_in",
    "kin",
    "told_of",
    "enough",
    "perhaps_later",
    "worry_pregnant",
    "worry_asthma",
    "worry_allergy",
    "worry_child_helps",
    "worry_bedroom_only",
    "worry_neighbours",
    "pet",
    "near",
    "infant",
    "child",
    "joins",
    "fear",
    "bothers",
    "begins",
    "after_no",
    "dull",
    "say_nothing",
    "reads_back",
    "asks_what",
    "offers",
    "tells_done",
    "anything_else",
    "nothing_more",
    "declines",
    "wishing",
    "wants",
    "condition",
    "fond",
    "turned_question",
    "say_back",
    "say_why",
    "say_not_sure",
    "say_change",
    "say_show_me",
    "say_help",
    "say_stop",
    "say_repeat",
    "say_list",
    "say_numbers",
    "say_next",
    "say_meanings",
    "say_left",
)
_STUCK = "paste"  # no question; see states.toml
DOING = "doing"  # the theme of plain.toml that holds verbs


@dataclass(frozen=True, slots=True)
class Kind:
    id: str
    question: Named
    name: str
    row: str = ""
    say: str = ""
    vague: str = ""
    families: tuple[str, ...] = ()
    rows: tuple[str, ...] = ()
    family: str = ""
    takes_sort: bool = False
    beside: bool = False
    apart: bool = False
    yields: bool = False
    narrowed: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Sort:
    question: Named
    row: str
    say: str


@dataclass(frozen=True, slots=True)
class State:
    question: str
    value: str
    say: str
    only: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Reply:
    question: str
    value: str
    say: str


@dataclass(frozen=True, slots=True)
class Liquid:
    value: str
    say: str


@dataclass(frozen=True, slots=True)
class Passing:
    hours: float
    say: str


@dataclass(frozen=True, slots=True)
class Beside:
    question: str
    needs: str
    with_: str = ""
    without: str = ""


@dataclass(frozen=True, slots=True)
class Subject:
    question: str
    say: str
    yes: str = ""
    no: str = ""
    worse: str = ""


@dataclass(frozen=True, slots=True)
class Theme:
    theme: str
    say: str
    phrases: str = ""


@dataclass(frozen=True, slots=True)
class Numbers:
    of_them: str
    set: str
    pieces: str
    again: str
    values: dict[str, float]


@dataclass(frozen=True, slots=True)
class Folding:
    parts: tuple[tuple[str, ...], ...]
    plurals: dict[str, str]
    slips: dict[str, str]
    spoken: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Uncoated:
    always: str
    alone: str
    aspects: str


_TABLES: dict[str, dict[str, type]] = {
    "kinds": {"kind": Kind}, "sorts": {"sort": Sort}, "states": {"state": State}, "plain": {"plain": Theme},
    "things": {"things": Theme}, "replies": {"reply": Reply, "subject": Subject, "liquid": Liquid},
    "trade": {"sort": Sort},
    "amounts": {"passing": Passing, "beside": Beside},
}  # fmt: skip
_WHOLE: dict[str, type] = {"numbers": Numbers, "spelling": Folding, "uncoated": Uncoated}
_LISTS = {"grammar": (*ROLES, *MARKS), "speech": SPEECH}
NAMES = (*_LISTS, *_TABLES, *_WHOLE)


@cache
def read_words(name: str, folder: Path = FOLDER) -> dict[str, Any]:
    """One file, as tables. Raises KnowledgeError with every fault of its shape."""
    faults: list[Fault] = []
    data = _read(name, folder, faults)
    if faults:
        raise KnowledgeError(faults)
    return data


def word_faults(knowledge: Knowledge, folder: Path = FOLDER, names: Sequence[str] = NAMES) -> list[Fault]:
    """All that is wrong with the word files, in their shape and in what they refer to."""
    faults: list[Fault] = []
    for name in names:
        before = len(faults)
        data = _read(name, folder, faults)
        if len(faults) == before:
            faults += [Fault(f"{name}.toml", row, says) for row, says in _references(name, data, knowledge)]
    return faults


def _read(name: str, folder: Path, faults: list[Fault]) -> dict[str, Any]:
    path = folder / f"{name}.toml"
    before = len(faults)
    data = read_toml(path, path.name, faults)
    if name in _TABLES:
        rows_in(data, _TABLES[name], path.name, faults)
    elif len(faults) == before:
        wrong = _roles(data, _LISTS[name]) if name in _LISTS else _whole(_WHOLE[name], data)
        faults += [Fault(path.name, "", says) for says in wrong]
    return data


def _roles(data: Mapping[str, Any], wanted: Sequence[str]) -> Iterator[str]:
    yield from (f"'{role}' is missing" for role in wanted if role not in data)
    for role, phrases in data.items():
        if role not in wanted:
            yield f"'{role}' is no list of this file"
        elif not isinstance(phrases, str):
            yield f"'{role}': needs text in quotes, with commas between the phrases"


def _whole(cls: type, data: dict[str, Any]) -> Iterator[str]:
    try:
        row = read_row(cls, data)
    except ValueError as error:
        yield from str(error).splitlines()
        return
    if isinstance(row, Folding):
        yield from ('\'parts\': write each as [ "one spelling", "the other" ]' for pair in row.parts if len(pair) != 2)


def _references(name: str, data: Mapping[str, Any], knowledge: Knowledge) -> Iterator[tuple[str, str]]:
    """(row, what is wrong): rows, questions, choices and families that are in no file; an id twice."""
    if name == "plain" and DOING not in (theme["theme"] for theme in data["plain"]):
        yield "", f"the theme '{DOING}', which holds the verbs, is missing"
    seen: set[tuple[str, str]] = set()
    for kind in data.get("kind", ()):
        key = (kind["question"], kind["id"])
        if key in seen:
            yield kind["id"], "there is another kind of this id"
        seen.add(key)
        yield from ((kind["id"], says) for says in _kind_faults(kind, knowledge))
    for sort in data.get("sort", ()):
        if sort["row"] not in getattr(knowledge, _SHELF[sort["question"]]):
            yield sort["row"], "is no row of its question"
    for state in (*data.get("state", ()), *data.get("reply", ())):
        yield from ((f"{state['question']} {state['value']}", says) for says in _state_faults(state, knowledge))


def _kind_faults(kind: Mapping[str, Any], knowledge: Knowledge) -> Iterator[str]:
    rows = getattr(knowledge, _SHELF[kind["question"]])
    for row in (*kind.get("rows", ()), *kind.get("narrowed", {}).values(), *filter(None, (kind.get("row"),))):
        if row not in rows:
            yield f"names the row '{row}', which is in no file"
    for family in kind.get("families", ()):
        if family not in set(knowledge.properties["family"].values):
            yield f"names the family '{family}', which no row has"
    if not (kind.get("say") or kind.get("vague")):
        yield "has no words; give 'say' or 'vague'"


def _state_faults(state: Mapping[str, Any], knowledge: Knowledge) -> Iterator[str]:
    question = knowledge.questions.get(state["question"])
    if question is None and state["question"] != _STUCK:
        yield f"the question '{state['question']}' is in no file"
    ids = {choice.id for choice in question.choices} if question and not question.rows else set()
    if ids and state["value"] not in ids:
        yield f"'{state['value']}' is no choice of that question"
