"""knowledge/*.toml -> frozen rows. Strict: an unknown key, a missing one or a wrong type does not load.

`load()` raises `KnowledgeError` holding every fault found, each with file, row id and what would be right.
A second folder of the same shape adds rows or overrides them by id (a shop's own papers and stock).
"""

from __future__ import annotations

import dataclasses
import re
import types
import typing
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cache, partial
from pathlib import Path
from typing import Any

import tomli  # compiled; the standard library's reader takes twice as long over our half megabyte

from knowledge import shape
from knowledge.classes import add_classes
from knowledge.conditions import Condition, Every, read_condition
from knowledge.nearest import meant

HOME = Path(__file__).parent
LARGEST = 5_000_000  # bytes of one file; all of ours together have a tenth of it
MOST = 1e9  # no label has a larger number, in any unit
ELSEWHERE = ("solvents.toml", "allowances.toml")  # read by modules of their own, as are
FOLDERS = frozenset(("words", "signs", "terms", "stand_ins", "topics"))
Convert = Callable[[Any], Any]
_SPAN = re.compile(r"^\s*([0-9.]+)(?:\s*(?:to|-)\s*([0-9.]+))?\s*(\S.*)?$")


def cut(text: str, most: int) -> str:
    """No more letters than that: a line about a fault is not to bury the others."""
    return text if len(text) <= most else f"{text[: most - 3]}..."


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in a data file."""

    file: str
    row: str
    says: str

    def __str__(self) -> str:
        where = f"{self.file}: {cut(self.row, 60)}" if self.row else self.file
        return f"{where}: {cut(self.says, 400)}"


class KnowledgeError(Exception):
    """The data files do not load. `faults` lists every reason."""

    def __init__(self, faults: list[Fault]) -> None:
        self.faults = faults
        super().__init__("\n".join(map(str, faults)))


@dataclass(frozen=True, slots=True, eq=False, repr=False)  # half a megabyte in a message helps nobody
class Knowledge:
    """All rows by id, one mapping a kind; rules in the order they are tried. Equal only to itself."""

    materials: dict[str, shape.Material] = field(default_factory=dict)
    inclusions: dict[str, shape.Inclusion] = field(default_factory=dict)
    media: dict[str, shape.Medium] = field(default_factory=dict)
    sealers: dict[str, shape.Sealer] = field(default_factory=dict)
    methods: dict[str, shape.WayOn] = field(default_factory=dict)
    questions: dict[str, shape.Question] = field(default_factory=dict)
    needs: dict[str, shape.NeedRule] = field(default_factory=dict)
    bars: dict[str, shape.BarRule] = field(default_factory=dict)
    coats: dict[str, shape.CoatsRule] = field(default_factory=dict)
    adhesives: dict[str, shape.Adhesive] = field(default_factory=dict)
    actions: dict[str, shape.Action] = field(default_factory=dict)
    limits: dict[str, shape.LimitRule] = field(default_factory=dict)
    preparations: dict[str, shape.Preparation] = field(default_factory=dict)
    trials: dict[str, shape.TrialRule] = field(default_factory=dict)
    cautions: dict[str, shape.Caution] = field(default_factory=dict)
    ways_out: dict[str, shape.WayOut] = field(default_factory=dict)
    steps: dict[str, shape.StepRule] = field(default_factory=dict)
    remedies: dict[str, shape.Remedy] = field(default_factory=dict)
    contradictions: dict[str, shape.Contradiction] = field(default_factory=dict)
    remarks: dict[str, shape.Remark] = field(default_factory=dict)
    advice: dict[str, shape.Advice] = field(default_factory=dict)
    worries: dict[str, shape.Worry] = field(default_factory=dict)
    sources: dict[str, shape.Source] = field(default_factory=dict)
    classes: dict[str, shape.Class] = field(default_factory=dict)
    properties: dict[str, shape.Property] = field(default_factory=dict)
    facts: dict[str, shape.Fact] = field(default_factory=dict)


SHELVES = {
    "material": "materials", "inclusion": "inclusions", "medium": "media", "sealer": "sealers",
    "method": "methods", "adhesive": "adhesives", "action": "actions", "limit": "limits",
    "question": "questions", "need": "needs", "bar": "bars", "coats": "coats", "preparation": "preparations",
    "trial": "trials", "caution": "cautions", "way_out": "ways_out", "step": "steps", "remedy": "remedies",
    "contradiction": "contradictions", "remark": "remarks", "worry": "worries", "advice": "advice", "source": "sources",
    "class": "classes", "property": "properties", "fact": "facts",
}  # fmt: skip


def load(extra: Path | None = None, home: Path = HOME) -> Knowledge:
    """Read all rows. `extra` adds and overrides. Raises KnowledgeError."""
    knowledge, faults = read_all(extra, home)
    if faults:
        raise KnowledgeError(faults)
    return knowledge


def read_all(extra: Path | None = None, home: Path = HOME) -> tuple[Knowledge, list[Fault]]:
    """As `load`, but gives what could be read together with every fault found."""
    faults: list[Fault] = []
    shelves: dict[str, dict[str, Any]] = {name: {} for name in SHELVES.values()}
    for kind, row in _rows(home, home, faults):
        _shelve(shelves[SHELVES[kind]], row, kind, faults, may_override=False)
    if extra is not None:
        seen: set[tuple[str, str]] = set()
        for kind, row in _rows(extra, extra, faults):
            _shelve(shelves[SHELVES[kind]], row, kind, faults, may_override=(kind, row.id) not in seen)
            seen.add((kind, row.id))
    for name in ("coats", "preparations", "trials", "cautions", "steps", "remedies", "advice", "questions"):
        shelves[name] = dict(sorted(shelves[name].items(), key=lambda pair: pair[1].order))
    faults += (Fault(shelves["classes"][id].origin, id, says) for id, says in add_classes(shelves))
    return Knowledge(**shelves), faults


def _shelve(shelf: dict[str, Any], row: Any, kind: str, faults: list[Fault], *, may_override: bool) -> None:
    before = shelf.get(row.id)
    if before is not None and not may_override:
        faults.append(Fault(row.origin, row.id, f"there is another {kind} of this id in {before.origin}"))
        return
    if before is not None:
        row = dataclasses.replace(row, origin=f"{row.origin}, in place of {before.origin}")
    shelf[row.id] = row


def _rows(folder: Path, root: Path, faults: list[Fault]) -> Iterator[tuple[str, Any]]:
    for path in sorted(folder.rglob("*.toml")):
        name = path.relative_to(root.parent).as_posix()
        if FOLDERS & set(path.relative_to(root).parts) or path.name in ELSEWHERE:
            continue  # read by those who use them
        data = read_toml(path, name, faults)
        for kind, tables in data.items():
            if kind not in shape.KINDS:
                faults.append(Fault(name, "", f"[[{kind}]] is no kind of row{meant(kind, shape.KINDS)}"))
            elif not isinstance(tables, list):
                faults.append(Fault(name, "", f"write [[{kind}]] with two brackets"))
            else:
                yield from _read_tables(kind, shape.KINDS[kind], tables, name, faults)


def _read_tables(kind: str, cls: type, tables: list[Any], name: str, faults: list[Fault]) -> Iterator[tuple[str, Any]]:
    for table in tables:
        try:
            row = read_row(cls, table, name if "origin" in _fields(cls) else "")
        except ValueError as error:
            shown = str(table.get("id", "a row without id")) if isinstance(table, dict) else "?"
            faults += [Fault(name, shown, line) for line in str(error).splitlines()]
        else:
            yield kind, row


def read_toml(path: Path, name: str, faults: list[Fault]) -> dict[str, Any]:
    """The file as it stands; empty, with a fault, where it cannot be read."""
    try:
        return tomli.loads(read_text(path, name, faults))
    except (tomli.TOMLDecodeError, RecursionError, ValueError) as error:
        faults.append(Fault(name, "", f"is not TOML: {str(error).splitlines()[0]}"))
    return {}


def read_text(path: Path, name: str, faults: list[Fault]) -> str:
    """The text of a file; empty, with a fault, where it cannot be read. Waits for no pipe, takes no endless file."""
    try:
        if not path.is_file():
            faults.append(Fault(name, "", "is no file" if path.exists() else "is missing"))
            return ""
        with path.open("rb") as file:
            data = file.read(LARGEST + 1)
        if len(data) <= LARGEST:
            return data.decode("utf-8").replace("\r\n", "\n")
        faults.append(Fault(name, "", f"is larger than {LARGEST // 1_000_000} MB"))
    except UnicodeDecodeError:
        faults.append(Fault(name, "", "is not UTF-8 text; save it as UTF-8"))
    except OSError as error:
        faults.append(Fault(name, "", f"cannot be read: {error.strerror}"))
    return ""


def rows_in(data: dict[str, Any], kinds: dict[str, type], name: str, faults: list[Fault]) -> dict[str, list[Any]]:
    """The rows of a file that holds only tables of these kinds. What is wrong goes to `faults`."""
    rows: dict[str, list[Any]] = {kind: [] for kind in kinds}
    for kind, tables in data.items():
        if kind not in kinds:
            faults.append(Fault(name, "", f"[[{kind}]] is no kind of row here{meant(kind, kinds)}"))
        elif not isinstance(tables, list):
            faults.append(Fault(name, "", f"write [[{kind}]] with two brackets"))
        else:
            rows[kind] += (row for _, row in _read_tables(kind, kinds[kind], tables, name, faults))
    if not any(fault.file == name for fault in faults):
        faults += (Fault(name, "", f"holds no [[{kind}]]") for kind in kinds if kind not in data)
    return rows


def read_row(cls: type, table: Any, origin: str = "") -> Any:
    """One table -> one row. Raises ValueError with a line for each thing wrong."""
    if not isinstance(table, dict):
        raise ValueError(f"a row is a table, not {table!r}")
    wanted = _fields(cls)
    wrong = [
        f"'{key}' is no key of this row{meant(key, wanted)}"
        for key in table
        if key not in wanted or key in shape.FILLED
    ]
    values: dict[str, Any] = {}
    for key, (convert, needed) in wanted.items():
        if key in table:
            try:
                values[key] = convert(table[key])
            except ValueError as error:
                wrong.append(f"'{key}': {error}")
        elif needed:
            wrong.append(f"'{key}' is missing")
    if wrong:
        raise ValueError("\n".join(wrong))
    return cls(**values, origin=origin) if origin else cls(**values)


@cache
def _fields(cls: type) -> dict[str, tuple[Convert, bool]]:
    hints = typing.get_type_hints(cls)
    none = dataclasses.MISSING
    return {
        f.name: (_converter(hints[f.name]), f.default is none and f.default_factory is none)
        for f in dataclasses.fields(cls)
    }


def _converter(kind: Any) -> Convert:
    """What turns a TOML value into this type. Worked out once a type: the files hold ten thousand values."""
    if kind is Any:
        return lambda value: value
    if kind == Condition:
        return read_condition
    origin, inner = typing.get_origin(kind), typing.get_args(kind)
    if origin is typing.Literal:
        return partial(_literal, inner)
    if origin in (types.UnionType, typing.Union):
        return _converter(next(a for a in inner if a is not type(None)))
    if origin is tuple:
        return partial(_list, _converter(inner[0]))
    if origin is dict:
        return partial(_mapping, _converter(inner[1]))
    if kind is shape.Span:
        return read_span
    if dataclasses.is_dataclass(kind):
        return partial(read_row, typing.cast(type, kind))
    return partial(_plain, kind)


def _list(convert: Convert, value: Any) -> tuple[Any, ...]:
    if not isinstance(value, list):
        raise ValueError(f"needs a list, not {value!r}")
    return tuple(map(convert, value))


def _literal(allowed: tuple[Any, ...], value: Any) -> Any:
    if value not in allowed or isinstance(value, bool):
        raise ValueError(f"{value!r} is none of {', '.join(map(str, allowed))}{meant(str(value), allowed)}")
    return value


def _mapping(convert: Convert, value: Any) -> dict[str, Any]:
    if not isinstance(value, dict):
        raise ValueError(f"needs a table, not {value!r}")
    return {key: convert(inner) for key, inner in value.items()}


_SAYS = {str: "text in quotes", bool: "true or false", int: "a whole number", float: "a number"}


def _plain(kind: Any, value: Any) -> Any:
    fits = isinstance(value, (int, float)) if kind is float else isinstance(value, kind)
    if not fits or (isinstance(value, bool) and kind is not bool):
        raise ValueError(f"needs {_SAYS[kind]}, not {value!r}")
    return value


def read_span(value: Any) -> shape.Span:
    """ "24 to 48 hours" -> Span(24, 48, "hours"). Raises ValueError."""
    match = _SPAN.match(value) if isinstance(value, str) else None
    if match is None:
        raise ValueError(f'needs a value with its unit, such as "24 to 48 hours", not {value!r}')
    try:
        low = float(match[1])
        high = float(match[2]) if match[2] else low
    except ValueError:
        raise ValueError(f"{value!r} holds no number") from None
    if high < low:
        raise ValueError(f"{value!r} runs from high to low; write the smaller first")
    if high > MOST:
        raise ValueError(f"{high:g} is far too much")
    if not match[3]:
        raise ValueError(f"{value!r} has no unit")
    return shape.Span(low, high, match[3].strip())


__all__ = ["SHELVES", "Every", "Fault", "Knowledge", "KnowledgeError", "load", "read_all", "read_row", "read_span"]
