"""All that can be wrong with the data files beyond their shape: every fault at once, each with file, id and cure."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import Any

from knowledge import shape
from knowledge.allowances import load_allowances
from knowledge.combining import MINUTES
from knowledge.conditions import Condition, Every, Leaf
from knowledge.loading import ELSEWHERE, FOLDERS, HOME, SHELVES, Fault, Knowledge, KnowledgeError, read_all
from knowledge.nearest import meant
from knowledge.reach import conditions, leaves, reach_faults, stages_of
from knowledge.solvents import load_solvents
from knowledge.topics import topic_faults
from knowledge.troubles import trouble_faults
from knowledge.unit_file import UNITS, Reads, unit_faults
from knowledge.vocabulary import ALSO, Known, named, values, vocabulary
from knowledge.word_files import word_faults

REVIEW_YEARS = 3
KINDS_BY_TYPE = {cls: kind for kind, cls in shape.KINDS.items()}
_TIMES = ("hands_on", "each", "wait", "looks", "looks_for", "window", "missed_wait", "missed_hands")  # of rules
_TIME_UNITS = tuple(MINUTES)


def check(
    extra: Path | None = None, home: Path = HOME, today: date | None = None, reads: Reads | None = None
) -> list[Fault]:
    """Every fault of the data files, in the order of the files. Empty when all is well.

    `reads`: how a line of units.txt is read in earnest, see knowledge/unit_file.py.
    """
    knowledge, faults = read_all(extra, home)
    for shelf in dict.fromkeys(SHELVES.values()):
        for row in getattr(knowledge, shelf).values():
            faults += [Fault(row.origin, row.id, says) for says in _row_faults(knowledge, row, today)]
    faults += _contradicting(knowledge)
    faults += _dead_ends(knowledge)
    faults += reach_faults(knowledge)
    faults += _in_other_files(knowledge, home)
    faults += unit_faults(home / UNITS, _written_in(knowledge), reads)
    faults += _not_read(extra)
    return sorted(dict.fromkeys(faults), key=lambda f: f.file)


def _written_in(knowledge: Knowledge) -> tuple[str, ...]:
    """Every unit that rows are written in."""
    units = dict.fromkeys(p.unit for p in knowledge.properties.values())
    return (*(unit for unit in units if unit not in ("", "%", "time")), *_TIME_UNITS)


def _in_other_files(knowledge: Knowledge, home: Path) -> Iterator[Fault]:
    """What is wrong with the files that have modules of their own."""
    readers: tuple[tuple[Callable[[Path], Any], str], ...] = (
        (load_solvents, "solvents.toml"),
        (load_allowances, "allowances.toml"),
    )
    for read, name in readers:
        try:
            read(home / name)
        except KnowledgeError as error:
            yield from error.faults
    yield from word_faults(knowledge, home / "words")
    yield from trouble_faults(home / "signs", knowledge)
    yield from topic_faults(knowledge, home)


def _not_read(extra: Path | None) -> Iterator[Fault]:
    """Files of a folder of additions that would be passed over in silence."""
    if extra is None:
        return
    for path in sorted(extra.rglob("*.toml")):
        if path.name in ELSEWHERE or FOLDERS & set(path.relative_to(extra).parts):
            name = path.relative_to(extra.parent).as_posix()
            yield Fault(name, "", "is not read from a folder of additions; words of a row go into its 'also'")
    if (extra / UNITS).exists():
        name = (Path(extra.name) / UNITS).as_posix()
        yield Fault(name, "", "is not read from a folder of additions; write your rows in units of ours")


def _row_faults(knowledge: Knowledge, row: Any, today: date | None) -> Iterator[str]:
    if isinstance(row, shape.Row):
        yield from _basis_faults(knowledge, row, today)
    yield from property_faults(knowledge, row)
    yield from _sheet_faults(row)
    yield from _span_faults(row)
    yield from _reference_faults(knowledge, row)
    yield from _condition_faults(knowledge, row)
    yield from _case_faults(row)
    if getattr(row, "stop", "") and not row.note:
        yield "has a 'stop', so it needs a 'note' that says why: it is the reason a person is shown"
    yield from _action_faults(knowledge, row)
    if isinstance(row, shape.Question):
        yield from _question_faults(knowledge, row)
    if isinstance(row, shape.StepRule):
        yield from _window_faults(row)
    if isinstance(row, shape.StepRule | shape.Preparation) and row.each is not None:
        spans = (row.each, row.hands_on)
        if (
            all(span.unit.removesuffix("s") in _TIME_UNITS for span in spans)
            and _minutes(spans[0])[1] > _minutes(spans[1])[0]
        ):
            yield "'each' is longer than 'hands_on', which it is a part of"


def _basis_faults(knowledge: Knowledge, row: shape.Row, today: date | None) -> Iterator[str]:
    if row.basis == "published":
        if not row.source or not row.locator:
            yield "is published, so it needs 'source' and 'locator'"
    elif row.source or row.locator:
        yield f"has a source but its basis is '{row.basis}'; write basis = \"published\" or take the source away"
    for cite in row.cites:
        if cite.source not in knowledge.sources:
            yield f"'cites' names the source '{cite.source}', which is in no file{meant(cite.source, knowledge.sources)}"
        if not cite.locator:
            yield f"'cites' for {cite.of} has no locator"
        if cite.of not in {f.name for f in dataclasses.fields(row)}:
            yield f"'cites' is of '{cite.of}', which is no property of this row"
    if row.source and row.source not in knowledge.sources:
        yield f"the source '{row.source}' is in no file{meant(row.source, knowledge.sources)}"
    yield from _review_faults(row, today)


def _review_faults(row: shape.Row, today: date | None) -> Iterator[str]:
    if not row.reviewed:
        return
    try:
        day = date.fromisoformat(row.reviewed)
    except ValueError:
        yield f"'reviewed' is a date such as 2026-11-25, not '{row.reviewed}'"
        return
    if today is not None and (today - day).days > REVIEW_YEARS * 365:
        yield f"was last reviewed on {row.reviewed}; look it over and set 'reviewed' anew"


def property_faults(knowledge: Knowledge, row: Any) -> Iterator[str]:
    """Levels out of their range, values in a wrong unit, ids of rows that are in no file."""
    for prop in knowledge.properties.values():
        value = getattr(row, prop.id, None)
        if value in (None, "", ()) or KINDS_BY_TYPE.get(type(row)) not in prop.of:
            continue
        if prop.range and not prop.range[0] <= value <= prop.range[1]:
            yield f"'{prop.id}' is {value}; it runs from {prop.range[0]} to {prop.range[1]}"
        if prop.type == "span":
            yield from _unit_faults(prop.id, value, prop.unit)
        if prop.names:
            table = [id for name in prop.names for id in named(knowledge, name, vocabulary(knowledge))]
            what = " or ".join(prop.names).replace("_", " ").replace("zone.kind", "kind of zone")
            for id in value if prop.type == "ids" else (value,):
                if id not in table and id != "none":
                    yield f"'{prop.id}' names the {what} '{id}', which is in no file{meant(id, table)}"


def _sheet_faults(row: Any) -> Iterator[str]:
    """Density is grammage over thickness (ISO 534): g/m2 / mm / 1000 = g/cm3."""
    if isinstance(row, shape.Material) and row.grammage and row.thickness and row.thickness.low > 0:
        low, high = row.grammage.low / row.thickness.high / 1000, row.grammage.high / row.thickness.low / 1000
        if low > row.density.high or high < row.density.low:
            yield f"'density' is none of a sheet of this 'grammage' and 'thickness'; that has {low:.2g} to {high:.2g} g/cm3"


def _unit_faults(name: str, span: shape.Span, unit: str) -> Iterator[str]:
    if unit == "time" and span.unit.removesuffix("s") not in _TIME_UNITS:
        yield f"'{name}' is in {span.unit}; write minutes, hours, days, weeks or months"
    if unit != "time" and span.unit != unit:
        yield f"'{name}' is in {span.unit}; write it in {unit}"


def _span_faults(row: Any) -> Iterator[str]:
    """Times of rules."""
    for name in _TIMES:
        span = getattr(row, name, None)
        if isinstance(span, shape.Span):
            yield from _unit_faults(name, span, "time")


_MARK = re.compile(r"\{([a-z_]+)\}")
_OWN_MARKS = ("zone", "what")


def _action_faults(knowledge: Knowledge, row: Any) -> Iterator[str]:
    """A step's words and the actions it consists of tell of each other; whatever is done in a step has words."""
    marks = {m for m in _MARK.findall(getattr(row, "how", "")) if m not in _OWN_MARKS}
    does = set(getattr(row, "does", ())) if hasattr(row, "how") else set()
    yield from (f"'how' holds {{{id}}}, which is not among 'does'" for id in sorted(marks - does))
    for id in sorted(does & knowledge.actions.keys()):
        if knowledge.actions[id].how and id not in marks:
            yield f"'does' names '{id}', but 'how' does not hold {{{id}}}"
    if isinstance(row, shape.WayOn) and row.id not in knowledge.actions:
        yield "has no action of its id in actions/, which says what it does to a layer"
    if isinstance(row, shape.Action):
        wordless = [
            id for id in row.gentler if id in knowledge.actions and id != "nothing" and not knowledge.actions[id].how
        ]
        yield from (f"'gentler' names '{id}', which has no 'how'" for id in wordless if row.how)
        if row.never and not row.instead:
            yield "is never done, so it needs 'instead'"


_WINDOW = ("window", "window_how", "missed_wait", "missed_hands", "missed_name", "missed_how")


def _window_faults(row: shape.StepRule) -> Iterator[str]:
    """A window to pour again has two ways, and the second is for when the first is over."""
    given = [name for name in _WINDOW if getattr(row, name)]
    if not given:
        return
    yield from (f"has '{given[0]}', so it needs '{name}' too" for name in _WINDOW if name not in given)
    if row.kind != "pour":
        yield f"has a window after the pour before it, but is a {row.kind}; only a pour has one"
    times = (row.window, row.missed_wait)
    if all(span is not None and span.unit.removesuffix("s") in _TIME_UNITS for span in times):
        closes, again = (_minutes(span) for span in times if span is not None)
        if again[0] <= closes[1]:
            yield "'missed_wait' is over before 'window' closes; it is for when that was missed"


def _minutes(span: shape.Span) -> tuple[float, float]:
    each = MINUTES[span.unit.removesuffix("s")]
    return span.low * each, span.high * each


def _reference_faults(knowledge: Knowledge, row: Any) -> Iterator[str]:
    kinds = dict.fromkeys(knowledge.facts["zone.kind"].values if "zone.kind" in knowledge.facts else ())
    named: list[tuple[str, Any, Mapping[str, Any], str]] = [
        ("lifts", getattr(row, "lifts", ()), knowledge.needs, "need rule"),
        ("settles", _one(row, "settles"), knowledge.questions, "question"),
        ("questions", getattr(row, "questions", ()), knowledge.questions, "question"),
        ("after", getattr(row, "after", ()), knowledge.questions, "question"),
        ("does", getattr(row, "does", ()) if hasattr(row, "how") else (), knowledge.actions, "action"),
        ("covers", getattr(row, "covers", ()), kinds, "kind of zone"),
        ("on", getattr(row, "on", ()), kinds, "kind of zone"),
    ]
    for key, ids, table, what in named:
        for id in ids:
            if id not in table:
                yield f"'{key}' names the {what} '{id}', which is in no file{meant(id, table)}"


def _one(row: Any, key: str) -> tuple[str, ...]:
    value = getattr(row, key, "")
    return (value,) if isinstance(value, str) and value else ()


def _condition_faults(knowledge: Knowledge, row: Any) -> Iterator[str]:
    known = vocabulary(knowledge)
    kind = KINDS_BY_TYPE[type(row)]
    stages, also = stages_of(row, kind), ALSO.get(kind, frozenset())
    for condition in conditions(row):
        for leaf in leaves(condition):
            if leaf.of not in known:
                yield f"'when' reads '{leaf.of}', which nothing gives{meant(leaf.of, known)}"
            elif known[leaf.of].at not in stages and leaf.of not in also:
                yield f"'when' reads '{leaf.of}', which is not known yet where this is asked, so it would never hold"
            else:
                yield from _value_faults(leaf, known[leaf.of].values)
        clash = _never(condition, known)
        if clash:
            yield f"'when' can never hold: {clash}"


def _value_faults(leaf: Leaf, allowed: tuple[Any, ...] | None) -> Iterator[str]:
    if allowed is None or leaf.test == "known":
        return
    wanted = leaf.value if leaf.test == "among" else (leaf.value,)
    for value in wanted:
        if leaf.test in ("is", "among") and value not in allowed:
            yield f"'when' asks whether {leaf.of} is '{value}', which it never is{meant(str(value), allowed)}"
        if leaf.test == "at_least" and value > max(a for a in allowed if not isinstance(a, str)):
            yield f"'when' asks whether {leaf.of} is at least {value}, which it never is"


def _never(condition: Condition, known: Mapping[str, Known]) -> str:
    """Two parts that ask different single values of one fact."""
    if not isinstance(condition, Every):
        return ""
    wanted: dict[str, set[Any]] = {}
    for part in condition.parts:
        if (
            not isinstance(part, Leaf)
            or part.test not in ("is", "among")
            or part.of not in known
            or known[part.of].many
        ):
            continue
        asked = set(part.value) if part.test == "among" else {part.value}
        if part.of in wanted and not wanted[part.of] & asked:
            return f"{part.of} cannot be both {_either(wanted[part.of])} and {_either(asked)}"
        wanted[part.of] = wanted.get(part.of, asked) & asked
    return ""


def _either(values: set[Any]) -> str:
    return " or ".join(sorted(f"'{v}'" for v in values))


def _case_faults(row: Any) -> Iterator[str]:
    for case in getattr(row, "cases", ()):
        if not isinstance(case, dict) or set(case) != {"holds", "facts"}:
            yield "a case is { holds = true or false, facts = { ... } }"
            continue
        facts = {k: frozenset(v) if isinstance(v, list) else v for k, v in case["facts"].items()}
        if bool(row.when.outcome(facts).holds) is not case["holds"]:
            yield f"its own case comes out the other way: {case['facts']}"


def _question_faults(knowledge: Knowledge, row: shape.Question) -> Iterator[str]:
    yield from _choice_faults(row, values(knowledge)[row.id])
    for condition in conditions(row):
        for leaf in leaves(condition):
            other = knowledge.questions.get(leaf.of.split(".")[0])
            if other is not None and other.order >= row.order:
                yield f"leans on '{leaf.of}', which is asked later; give it a higher order than {other.order}"


def _choice_faults(row: shape.Question, offered: tuple[Any, ...] | None) -> Iterator[str]:
    if row.kind in ("one", "several"):
        if not offered:
            yield "offers no choices; give 'choices' or 'rows'"
        assumed = row.unsure.split() if row.kind == "several" else [row.unsure]
        for value in assumed:
            if offered and value not in offered:
                yield f"'unsure' is '{value}', which is none of its choices{meant(value, offered)}"
    for key, ids in (("alone", row.alone), ("not_sure_of", tuple(row.not_sure_of.values()))):
        for id in ids:
            if offered and id not in offered:
                yield f"'{key}' names '{id}', which is none of its choices"
    own = [c.id for c in row.choices]
    for id in {i for i in own if own.count(i) > 1}:
        yield f"has the choice '{id}' twice"


def _contradicting(knowledge: Knowledge) -> Iterator[Fault]:
    """Two need rules with the same condition and reason that come to different needs, neither lifting the other."""
    seen: dict[tuple[Any, str], shape.NeedRule] = {}
    for rule in knowledge.needs.values():
        other = seen.setdefault((rule.when, rule.reason), rule)
        if other.need != rule.need and other.id not in rule.lifts and rule.id not in other.lifts:
            says = (
                f"contradicts '{other.id}' ({other.origin}): same condition, but '{rule.need}' against '{other.need}'"
            )
            yield Fault(rule.origin, rule.id, says)


def _dead_ends(knowledge: Knowledge) -> Iterator[Fault]:
    """Preparations of a `clean` and ways out of a `stop` must be there to be reached; cases for need and bar rules."""
    tried: tuple[Any, ...] = (*knowledge.needs.values(), *knowledge.bars.values(), *knowledge.limits.values())
    for rule in tried:
        if not rule.cases:
            yield Fault(
                rule.origin, rule.id, "has no case of its own; add cases = [ { holds = true, facts = { ... } } ]"
            )
    used = {leaf.of for row in knowledge.cautions.values() for leaf in leaves(row.when)}
    if not any(not row.when.names() for row in knowledge.cautions.values()) and knowledge.cautions and not used:
        yield Fault("cautions", "", "no caution is shown always")


__all__ = ["check"]
