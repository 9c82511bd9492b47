"""Hours, cost and margin of each kind, as a table in fixed letters."""

from __future__ import annotations

from collections.abc import Sequence

from interview.brief.typesetting import columns, wrapped
from interview.reasoning.money import Worth
from interview.text.harmless import harmless


def money_text(worths: Sequence[Worth], width: int) -> list[str]:
    """Hours always; cost, margin of all, of a piece and of an hour where they are known."""
    hours = sum(w.hours for w in worths)
    sold = any(w.margin is not None for w in worths)
    cost = any(w.cost is not None for w in worths)
    head = [
        "",
        "pieces",
        "hours",
        *(("cost",) if cost else ()),
        *(("sells", "margin", "a piece", "an hour") if sold else ()),
    ]
    rows = [head, *([_name(w), str(w.count), f"{w.hours:.1f}", *_cells(w, cost=cost, sold=sold)] for w in worths)]
    if len(worths) > 1:
        rows.append(
            ["together", str(sum(w.count for w in worths)), f"{hours:.1f}", *_sums(worths, cost=cost, sold=sold)]
        )
    wide = [max(columns(row[n]) for row in rows) for n in range(len(head))]
    lines = [
        "  ".join(_fit(cell, w, n) for n, (cell, w) in enumerate(zip(row, wide, strict=True))).rstrip() for row in rows
    ]
    lines += wrapped("Hours are by hand, of what is left to do. " + _what_cost_is(worths, cost=cost, sold=sold), width)
    for w in worths:
        if w.saves[0] > 0:
            money = f" and {w.saves[1]:.2f}" if w.saves[1] else ""
            lines += wrapped(f"Leaving out the extras of {_name(w)} saves {w.saves[0]:.1f} hours{money}.", width)
    return lines


def _what_cost_is(worths: Sequence[Worth], *, cost: bool, sold: bool) -> str:
    if not cost:
        return "No price is told, so nothing is known of the cost." + (
            " The margin is before all cost." if sold else ""
        )
    bare = [_name(w) for w in worths if w.cost is None]
    says = "The cost is of what is used up and has a price; not of the pieces themselves."
    return f"{says} Nothing of {', '.join(bare)} has one." if bare else says


def _cells(w: Worth, *, cost: bool, sold: bool) -> list[str]:
    cells = [_money(w.cost)] if cost else []
    if sold:
        each = None if w.margin is None or not w.count else w.margin / w.count
        hour = None if w.margin is None or w.hours < 0.05 else w.margin / w.hours
        cells += [_money(w.sells), _money(w.margin), _money(each), _money(hour)]
    return cells


def _sums(worths: Sequence[Worth], *, cost: bool, sold: bool) -> list[str]:
    cells = [_money(sum(w.cost or 0.0 for w in worths))] if cost else []
    told = [w for w in worths if w.margin is not None]
    margin, hours = sum(w.margin or 0.0 for w in told), sum(w.hours for w in told)
    if sold:
        cells += ["", _money(margin), "", _money(margin / hours if hours >= 0.05 else None)]
    return cells


def _money(amount: float | None) -> str:
    return "-" if amount is None else f"{amount:.2f}"


def _name(w: Worth) -> str:
    return harmless(w.name, one_line=True)[:30]


def _fit(cell: str, width: int, place: int) -> str:
    pad = " " * (width - columns(cell))
    return cell + pad if place == 0 else pad + cell
