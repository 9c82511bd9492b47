"""Arrows point one way, and each heavy library lives in one place. The table of rooms is DEVELOPERS.md's own."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import networkx as nx
import pytest

ROOT = Path(__file__).parent.parent
MODULES = sorted([*(ROOT / "interview").rglob("*.py"), *(ROOT / "knowledge").rglob("*.py")])
FORBIDDEN = ("pickle", "marshal", "shelve", "socket", "urllib", "http", "requests", "ssl", "ftplib", "smtplib")
HOMES = {
    "prompt_toolkit": "interview/terminal",
    "pint": "interview/quantities",
    "jinja2": "interview/brief",
}
MOST_ROOMS = 16
_ROW = re.compile(r"^\| `([a-z/]+)/` \| [^|]+ \| ([^|]*) \|$", re.MULTILINE)


def _table() -> dict[str, set[str]]:
    """The rooms and what each may import, as DEVELOPERS.md prints them."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    return {room: set(re.findall(r"`([a-z/]+)`", allowed)) for room, allowed in _ROW.findall(text)}


def _dotted(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


NAMED = {_dotted(path): path for path in MODULES}


def _imports(path: Path) -> Iterator[tuple[str, int]]:
    """Every module named, late imports and those for types among them, with its line."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from ((a.name, node.lineno) for a in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            for alias in node.names:
                full = f"{node.module}.{alias.name}"
                yield (full if full in NAMED else node.module), node.lineno


def _name(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def _room(path: Path) -> str:
    return path.parent.relative_to(ROOT).as_posix().removeprefix("interview/")


def _arrows(*, rooms: bool) -> nx.DiGraph:
    graph = nx.DiGraph()
    for name, path in NAMED.items():
        for other, line in _imports(path):
            if other not in NAMED or other == "interview":
                continue
            ends = (_room(path), _room(NAMED[other])) if rooms else (name, other)
            if ends[0] != ends[1]:
                graph.add_edge(*ends, at=f"{_name(path)}:{line} imports {other}")
    return graph


@pytest.mark.parametrize("rooms", [True, False], ids=["rooms", "modules"])
def test_no_circle(rooms: bool) -> None:
    graph = _arrows(rooms=rooms)
    try:
        circle = nx.find_cycle(graph)
    except nx.NetworkXNoCycle:
        return
    raise AssertionError("a circle:\n" + "\n".join(graph.edges[edge]["at"] for edge in circle))


def test_every_room_is_in_the_table_and_few() -> None:
    rooms = {_room(path) for path in MODULES}
    assert _table().keys() == rooms
    assert len(rooms) <= MOST_ROOMS


@pytest.mark.parametrize("path", MODULES, ids=_name)
def test_arrows_are_those_of_the_table(path: Path) -> None:
    allowed = _table()[_room(path)] | {_room(path)}
    wrong = [
        f"{_name(path)}:{line} imports {other}"
        for other, line in _imports(path)
        if other in NAMED and other != "interview" and _room(NAMED[other]) not in allowed
    ]
    assert not wrong, wrong


def test_no_two_modules_of_one_name_in_the_interview() -> None:
    """But for commands, which bear the name that is typed."""
    ours = (p for p in MODULES if _name(p).startswith("interview/") and _room(p) != "commands")
    names = [p.stem for p in ours if p.stem != "__init__"]
    assert not {n for n in names if names.count(n) > 1}


@pytest.mark.parametrize("path", MODULES, ids=_name)
def test_heavy_libraries_stay_at_home(path: Path) -> None:
    for library, home in HOMES.items():
        if not _name(path).startswith(home):
            assert library not in {i.split(".")[0] for i, _ in _imports(path)}, f"{library} in {_name(path)}"


@pytest.mark.parametrize("path", MODULES, ids=_name)
def test_no_network_no_pickle_no_eval(path: Path) -> None:
    assert not {i.split(".")[0] for i, _ in _imports(path)} & set(FORBIDDEN)
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            assert node.func.id not in ("eval", "exec", "compile", "__import__"), f"{_name(path)}:{node.lineno}"


@pytest.mark.parametrize("path", MODULES, ids=_name)
def test_modules_and_functions_stay_small(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert len([line for line in text.splitlines() if line.strip()]) <= 400, _name(path)
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            assert (node.end_lineno or 0) - node.lineno <= 50, f"{_name(path)}: {node.name}"


@pytest.mark.parametrize("path", [p for p in MODULES if p.name == "__init__.py"], ids=_name)
def test_no_re_exports(path: Path) -> None:
    assert not list(_imports(path)), _name(path)
