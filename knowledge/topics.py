"""What people ask and the words for the answers: topics, terms and stand-ins as frozen rows, read when first needed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal

from knowledge import shape
from knowledge.loading import HOME, Fault, Knowledge, KnowledgeError, read_row, read_toml, rows_in
from knowledge.shape import BasisKind

TERMS, STAND_INS, TOPICS = (HOME / name for name in ("terms", "stand_ins", "topics"))
SHELF = {"supports": "materials", "media": "media", "things": "inclusions"}  # by the name of a file of terms
Verdict = Literal["fine", "scrap", "no"]


@dataclass(frozen=True, slots=True)
class Term:
    """A plain meaning of one or two lines. `tell`: how to tell it from what looks like it. `also`: other words.

    `at`: the questions that ask for it.
    """

    means: str
    tell: str = ""
    also: tuple[str, ...] = ()
    at: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Topic(shape.Row):
    """One thing that people ask. See the head of knowledge/topics/general.toml."""

    basis: BasisKind = "common practice"
    of: Literal["general", "declined", "plan", "what_if", "tell", "unknown", "name"] = "general"
    short: str = ""
    at: tuple[str, ...] = ()
    says: str = ""
    beside: bool = False
    kinds: str = ""
    why: str = ""
    defer: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class StandIn(shape.Row):
    """Something people reach for instead of a sealer. See the head of knowledge/stand_ins/stand_ins.toml."""

    name: str
    also: tuple[str, ...] = ()
    is_: str
    closes: Literal["yes", "partly", "no"]
    yellows: Literal["yes", "little", "no"]
    sticky: Literal["no", "damp", "weeks", "yes"]
    takes: Literal["well", "scuffed", "poorly", "not"]
    carrier: Literal["water", "alcohol", "hydrocarbon", "strong", "heat", "none"]
    method: Literal["brush", "spray", "press", "spot"]
    verdict: Verdict
    dry_days: tuple[int, ...] = ()
    why: str
    instead: str = ""
    sealer: str = ""  # the class of sealer that it is, where it is one


@dataclass(frozen=True, slots=True)
class Topics:
    """All of it. `terms`: by shelf ("" for words of the trade, a question's id for its choices) and id."""

    topics: dict[str, Topic]
    stand_ins: dict[str, StandIn]
    terms: dict[tuple[str, str], Term]


@cache
def load_topics(home: Path = HOME) -> Topics:
    """Read the folders. Raises KnowledgeError naming every fault."""
    faults: list[Fault] = []
    topics: dict[str, Any] = {}
    stand_ins: dict[str, Any] = {}
    for name, data in _files(home / "topics", faults):
        _keep(topics, rows_in(data, {"topic": Topic}, name, faults)["topic"], name, faults)
    for name, data in _files(home / "stand_ins", faults):
        _keep(stand_ins, rows_in(data, {"stand_in": StandIn}, name, faults)["stand_in"], name, faults)
    terms = dict(_terms(home / "terms", faults))
    if faults:
        raise KnowledgeError(faults)
    return Topics(topics, stand_ins, terms)


def _files(folder: Path, faults: list[Fault]) -> Iterator[tuple[str, dict[str, Any]]]:
    for path in sorted(folder.glob("*.toml")):
        name = f"{folder.name}/{path.name}"
        yield name, read_toml(path, name, faults)


def _keep(rows: dict[str, Any], read: list[Any], name: str, faults: list[Fault]) -> None:
    for row in read:
        if row.id in rows:
            faults.append(Fault(name, row.id, "there is another one of this id"))
        rows[row.id] = row


def _terms(folder: Path, faults: list[Fault]) -> Iterator[tuple[tuple[str, str], Term]]:
    for name, data in _files(folder, faults):
        stem = Path(name).stem
        for key, table in data.items():
            shelf, _, id = key.rpartition(".") if stem == "choices" else (SHELF.get(stem, ""), "", key)
            try:
                yield (shelf, id), read_row(Term, table)
            except ValueError as error:
                faults += [Fault(name, key, line) for line in str(error).splitlines()]


# ------------------------------------------------------------ checks


def _place(shelf: str, id: str) -> tuple[str, str]:
    """The file that a meaning stands in, and its key there."""
    stem = next((stem for stem, name in SHELF.items() if name == shelf), "choices")
    return stem, f'"{shelf}.{id}"' if stem == "choices" else id


def topic_faults(knowledge: Knowledge, home: Path) -> Iterator[Fault]:
    """What is wrong with the files, and every row or choice without a meaning."""
    try:
        read = load_topics(home)
    except KnowledgeError as error:
        yield from error.faults
        return
    for shelf, id, origin in wanted(knowledge) if read.terms else ():
        if (shelf, id) not in read.terms and origin.startswith(f"{home.name}/"):
            file, key = _place(shelf, id)
            yield Fault(
                f"terms/{file}.toml", id, f'has no meaning in plain words here; add {key} = {{ means = "..." }}'
            )
    known = {(shelf, id) for shelf, id, _ in wanted(knowledge)}
    for shelf, id in read.terms:
        if shelf and (shelf, id) not in known:
            yield Fault("terms", f"{shelf}.{id}", "is a meaning of nothing")
    for topic in read.topics.values():
        if topic.kinds and topic.kinds not in knowledge.classes:
            yield Fault("topics", topic.id, f"'{topic.kinds}' is no class")
        for question in topic.at:
            if question not in knowledge.questions:
                yield Fault("topics", topic.id, f"'{question}' is no question")


def wanted(knowledge: Knowledge) -> Iterator[tuple[str, str, str]]:
    """Every row and choice that stands on a screen and must have a meaning: (shelf, id, file).

    A class is explained by its kinds, a sealer by its own `plain`.
    """
    shelves: Mapping[str, Mapping[str, Any]] = {
        "materials": knowledge.materials, "media": knowledge.media, "inclusions": knowledge.inclusions,
    }  # fmt: skip
    for shelf, rows in shelves.items():
        yield from ((shelf, row.id, row.origin) for row in rows.values() if not row.members)
    for question in knowledge.questions.values():
        yield from (
            (question.id, choice.id, question.origin)
            for choice in question.choices
            if choice.id not in ("none", "other")
        )
