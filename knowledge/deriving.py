"""What is made from properties.toml: the types of the rows, the heads of their files, the table in DEVELOPERS.md.

`python -m knowledge.deriving` writes them anew; a test holds that doing so changes nothing.
"""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from knowledge.loading import HOME, Fault, KnowledgeError, read_row, read_toml
from knowledge.shape import Property

BEARERS = {
    "material": "Material", "inclusion": "Inclusion", "medium": "Medium", "sealer": "Sealer", "method": "WayOn",
    "adhesive": "Adhesive", "action": "Action",
}  # fmt: skip
_SAYS = {
    "Material": "A support or mount.",
    "Inclusion": "A thing laid on or cast in.",
    "Medium": "What the image is made with.",
    "Sealer": "A class of sealer, never a brand.",
    "Adhesive": "What holds a sheet down; its id is that of the answer that names it.",
    "Action": "Something done to a piece, and what doing it does.",
    "WayOn": "A way of putting a sealer on: what it reaches and what it does there.",
}
_ROWS_HEAD = '''"""The rows that bear properties. Made from properties.toml by `python -m knowledge.deriving`; change nothing here."""

# fmt: off
from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from knowledge.acting import Cannot
from knowledge.values import Row, Span
'''
_TYPES = {
    "level": "int", "flag": "bool", "text": "str", "id": "str", "words": "tuple[str, ...]", "ids": "tuple[str, ...]",
    "span": "Span", "number": "float", "limits": "tuple[Cannot, ...]",
}  # fmt: skip
_NOTHING = {
    "level": 0,
    "flag": False,
    "text": "",
    "id": "",
    "words": (),
    "ids": (),
    "span": None,
    "number": None,
    "limits": (),
}
_WIDE = 118
_TABLE = ("<!-- properties -->", "<!-- end of properties -->")


def read_properties(home: Path = HOME) -> list[Property]:
    """The rows of properties.toml alone, for the types of all others hang on them. Raises KnowledgeError."""
    faults: list[Fault] = []
    data = read_toml(home / "properties.toml", "properties.toml", faults)
    if faults:
        raise KnowledgeError(faults)
    return [read_row(Property, table) for table in data["property"]]


def derived(home: Path = HOME) -> Iterator[tuple[Path, str]]:
    """Every file that is made from the table, with its text."""
    properties = read_properties(home)
    yield home / "rows.py", _rows(properties)
    for path in sorted(home.rglob("*.toml")):
        text = path.read_text(encoding="utf-8")
        kind = next((k for k in BEARERS if f"#   [[{k}]]\n" in text), None)
        if kind is not None and "words" not in path.parts:
            yield path, _with_head(text, kind, [p for p in properties if kind in p.of])
    page = home.parent / "DEVELOPERS.md"
    if page.is_file():
        yield page, _between(page.read_text(encoding="utf-8"), _table(properties))


# ------------------------------------------------------------------ the types


def _rows(properties: Iterable[Property]) -> str:
    made = [_ROWS_HEAD]
    for kind, name in BEARERS.items():
        mine = [p for p in properties if kind in p.of]
        base = "Row"
        if kind == "inclusion":
            base, mine = "Material", [p for p in mine if "material" not in p.of]
        lines = "\n".join(line for p in mine for line in _field(p, kind))
        made.append(
            f'@dataclass(frozen=True, slots=True, kw_only=True)\nclass {name}({base}):\n    """{_SAYS[name]}"""\n\n{lines}\n'
        )
    return "\n\n".join(made)


def _optional(prop: Property, kind: str) -> bool:
    return prop.optional and kind not in prop.needed_by


def _field(prop: Property, bearer: str) -> Iterator[str]:
    optional = _optional(prop, bearer)
    kind = _TYPES.get(prop.type) or f"Literal[{', '.join(map(json.dumps, prop.values))}]"
    if optional and prop.type in ("span", "number"):
        kind += " | None"
    default = _NOTHING[prop.type] if optional else prop.default
    shown = json.dumps(default) if isinstance(default, str) else repr(default)
    given = f" = {shown}" if optional or default is not None else ""
    line = f"    {prop.id}: {kind}{given}"
    if len(line) <= _WIDE:
        yield line
    else:
        yield f"    {prop.id}: Literal["
        yield from (f"        {part}" for part in textwrap.wrap(kind[8:-1], _WIDE - 8))
        yield f"    ]{given}"


# ------------------------------------------------------------------ the heads of files


def _with_head(text: str, kind: str, properties: Iterable[Property]) -> str:
    """The file with the shape of its rows told anew; what else its head says stays."""
    start = text.index(f"#   [[{kind}]]\n")
    stop = next(n for n in range(start, len(text)) if text.startswith(("\n#\n", "\n\n"), n))
    return text[:start] + "\n".join(_head(kind, properties)) + text[stop:]


def _head(kind: str, properties: Iterable[Property]) -> Iterator[str]:
    yield f"#   [[{kind}]]"
    yield from _told('id = "..."', "small letters and underscores; what answers files call it")
    for prop in properties:
        yield from _told(f"{prop.id} = {written(prop.example)}", _meaning(prop, kind))
    yield from _told('basis = "common practice"', 'or "from memory"; "published" needs source = and locator = too')
    yield from _told('cites = [ { of = "...", source = "...", locator = "..." } ]', "where one property is published")
    yield from _told('reviewed = "2026-11-25"', "")


def _told(key: str, says: str) -> Iterator[str]:
    lines = textwrap.wrap(says, _WIDE - 31) or [""]
    if len(key) > 26:
        yield f"#   {key}"
    else:
        yield f"#   {key:<27} {lines.pop(0)}".rstrip()
    yield from (f"#   {'':<27} {line}" for line in lines if line)


def _meaning(prop: Property, bearer: str = "") -> str:
    if prop.type == "level":
        ranged = f" ({prop.range[0]} to {prop.range[1]})"
    else:
        ranged = f" ({' '.join(prop.values)})" if prop.type == "one" else ""
    optional = _optional(prop, bearer) or prop.default is not None
    return f"{prop.says}{ranged}{'; may be left out' if optional else ''}"


def written(value: Any) -> str:
    """A value as the files have it."""
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return f"[ {', '.join(_inline(one) for one in value)} ]"
    return json.dumps(value, ensure_ascii=False)


def _inline(table: dict[str, Any]) -> str:
    return f"{{ {', '.join(f'{key} = {written(value)}' for key, value in table.items())} }}"


# ------------------------------------------------------------------ the table in DEVELOPERS.md


def _table(properties: Iterable[Property]) -> str:
    lines = ["| key | borne by | means | read by |", "|---|---|---|---|"]
    for prop in properties:
        rules = ["rules"] if prop.zone or prop.option else []
        readers = ", ".join([*rules, *(f"`{name}`" for name in prop.read_by)])
        lines.append(f"| `{prop.id}` | {', '.join(prop.of)} | {_meaning(prop)} | {readers} |")
    return "\n".join(lines)


def _between(page: str, table: str) -> str:
    before, _, rest = page.partition(_TABLE[0])
    _, _, after = rest.partition(_TABLE[1])
    return f"{before}{_TABLE[0]}\n\n{table}\n\n{_TABLE[1]}{after}" if rest else page


def main() -> None:
    for path, text in derived():
        if not path.exists() or path.read_text(encoding="utf-8") != text:
            path.write_text(text, encoding="utf-8")
            print(path.relative_to(HOME.parent).as_posix())


if __name__ == "__main__":
    main()
