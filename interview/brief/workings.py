"""The figures of a plan, and the working of each as a person would write it on paper."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from interview.plan.model import Plan
from interview.plan.parts import Basis, Figure

WIDTH = 80


def figure_list(plan: Plan) -> str:
    """Every figure with its id; what to type for one of them."""
    if not plan.figures:
        return "This plan holds no figures yet: the numbers have not been asked for."
    widest = max(len(figure.id) for figure in plan.figures)
    lines = (f"{figure.id:<{widest}}  {figure.label}: {figure.shown}" for figure in plan.figures)
    return "\n".join((*lines, "", "Name one of them to see how it was worked out."))


def figure_working(plan: Plan, asked: str) -> str:
    """The working of the figure with this id or label, of all whose id begins so, or "" where there is none."""
    plain = asked.strip().casefold()
    chosen = [f for f in plan.figures if plain in (f.id.casefold(), f.label.casefold())]
    chosen = chosen or [f for f in plan.figures if f.id.casefold().startswith(f"{plain}.")]
    return "\n\n".join("\n".join(_lines(figure)) for figure in chosen)


def _lines(figure: Figure) -> Iterator[str]:
    yield f"{figure.label}: {figure.shown}"
    yield f"  = {figure.formula}"
    for given in figure.inputs:
        yield from _wrapped(f"  {given.name}: {given.value} ({_basis(given.basis)})")
    for line in figure.working:
        yield from _wrapped(f"  {line}")
    if figure.range:
        yield from _wrapped(f"  Holds {figure.range}.")
    yield from _wrapped(f"  From: {_basis(figure.basis)}.")


def _basis(basis: Basis) -> str:
    return ", ".join(part for part in (basis.kind, basis.source, basis.locator) if part)


def _wrapped(line: str) -> list[str]:
    return textwrap.wrap(line, WIDTH, subsequent_indent="    ") or [""]
