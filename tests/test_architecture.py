"""Arrows point one way, and each heavy library lives in one place."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
MODULES = sorted([*(ROOT / "interview").rglob("*.py"), *(ROOT / "knowledge").rglob("*.py")])
FORBIDDEN = ("pickle", "marshal", "shelve", "socket", "urllib", "http", "requests", "ssl", "ftplib", "smtplib")
# what each part may import of our own, by prefix
ALLOWED = {
    "knowledge": ("knowledge",),
    "interview/parts.py": ("knowledge",),
    "interview/plan.py": ("interview.parts", "knowledge"),
    "interview/answers.py": (),
    "interview/quantities.py": ("knowledge",),
    "interview/terminal": ("interview.terminal", "interview.harmless"),
    "interview/reasoning": (
        "interview.reasoning", "interview.parts", "interview.plan", "interview.answers", "interview.quantities",
        "knowledge",
    ),
    "interview/brief": (
        "interview.brief", "interview.plan", "interview.parts", "interview.quantities", "interview.harmless",
        "interview.reasoning.minutes", "interview.reasoning.scheduling", "interview.reasoning.clock",
        "interview.reasoning.batch", "knowledge",
    ),
}  # fmt: skip
HOMES = {
    "prompt_toolkit": "interview/terminal",
    "pint": "interview/quantities.py",
    "jinja2": "interview/brief",
}


def _imports(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (a.name for a in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module


def _name(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


@pytest.mark.parametrize("path", MODULES, ids=_name)
def test_arrows_point_one_way(path: Path) -> None:
    for prefix, allowed in ALLOWED.items():
        if _name(path).startswith(prefix):
            ours = [i for i in _imports(path) if i.split(".")[0] in ("interview", "knowledge", "tests")]
            wrong = [i for i in ours if not i.startswith(allowed or ("nothing",)) and i != "interview"]
            assert not wrong, f"{_name(path)} imports {wrong}"


@pytest.mark.parametrize("path", MODULES, ids=_name)
def test_heavy_libraries_stay_at_home(path: Path) -> None:
    for library, home in HOMES.items():
        if not _name(path).startswith(home):
            assert library not in {i.split(".")[0] for i in _imports(path)}, f"{library} in {_name(path)}"


@pytest.mark.parametrize("path", MODULES, ids=_name)
def test_no_network_no_pickle_no_eval(path: Path) -> None:
    assert not {i.split(".")[0] for i in _imports(path)} & set(FORBIDDEN)
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
