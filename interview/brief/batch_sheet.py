"""A batch as one text to work from: the timetable, one shopping list, the pots, and a sheet for each day."""

from __future__ import annotations

from collections.abc import Sequence

from interview.brief.csv_form import THINGS, prices, table, volumes
from interview.brief.money_text import money_text
from interview.brief.timeline_text import moment, sheet_text, timeline_text
from interview.brief.typesetting import columns, wrapped
from interview.quantities.written import amount as in_units
from interview.reasoning.batch import Batch, Buy, PotLine, spray_sessions
from interview.text.harmless import harmless

BOX = "[ ] "


def batch_text(batch: Batch, width: int) -> str:
    """All of it, in columns of `width`."""
    parts = [
        ("The kinds", _kinds(batch, width)),
        ("The days", [timeline_text(batch.timeline, width), *_sprayed(batch, width)]),
        ("What to get", _shopping(batch, width)),
        ("The hours and the money", money_text(batch.worths, width)),
        ("The pots", _pots(batch.pots, width)),
        *((f"Sheet {n}", [sheet_text(s.day, s.lines, s.looks, width)]) for n, s in enumerate(batch.sheets, 1)),
    ]
    made = [f"{name.upper()}\n{'-' * len(name)}\n" + "\n".join(lines) for name, lines in parts if lines]
    return "\n\n".join(made) + "\n"


def _kinds(batch: Batch, width: int) -> list[str]:
    lines: list[str] = []
    for kind in batch.kinds:
        lines += wrapped(f"{kind.count} x {_shown(kind.name)}: {kind.plan.headline}", width, "- ")
    for names in batch.alike:
        lines += wrapped(
            f"Worked together, for their plans are the same: {', '.join(map(_shown, names))}.", width, "  "
        )
    for note in batch.notes:
        lines += wrapped(note, width, "  ")
    return lines


def _sprayed(batch: Batch, width: int) -> list[str]:
    """Which kinds share a go at spraying."""
    lines = []
    for begins, ends, who in spray_sessions(batch.timeline):
        lines += wrapped(f"Sprayed in one go, {moment(begins)} to {ends:%H:%M}: {_shown('; '.join(who))}.", width)
    return ["", *lines] if lines else []


def _shopping(batch: Batch, width: int) -> list[str]:
    lines: list[str] = []
    for buy in batch.shopping:
        lines += wrapped(buy_words(buy), width, BOX)
    if batch.cost is not None:
        lines.append(f"Together {batch.cost:.2f}, of what has a price.")
    return lines


def buy_words(buy: Buy) -> str:
    """One line of the list."""
    amount = f", {buy.amount}" if buy.amount else ""
    if buy.have is not None:
        amount += f"; have {in_units(buy.have, buy.have, 'mL')}{'' if buy.packs else ', enough'}"
    packs = f", {buy.packs} x {buy.pack}" if buy.pack else ""
    price = f", {buy.price * buy.packs:.2f}" if buy.price is not None and buy.packs else ""
    label = f"; label: {', '.join(buy.look_for)}" if buy.look_for else ""
    name = _shown(buy.name)
    return f"{name[:1].upper()}{name[1:]}{amount}{packs}{price} ({_shown(buy.use)}){label}"


def _pots(pots: Sequence[PotLine], width: int) -> list[str]:
    """A table with the widths its cells need; for which pieces a pot is, comes last and may take several lines."""
    if not pots:
        return []
    told = any(p.resin for p in pots)
    who = "for" if any(p.who for p in pots) else ""
    rows = [("pot", "mixed", "all in", *(("resin", "hardener") if told else ()), who)]
    for p in pots:
        parts = (p.resin or "by the label", p.hardener or "by the label") if told else ()
        rows.append((str(p.number), moment(p.mixed), p.total or "-", *parts, _shown(p.who)))
    wide = [max(columns(row[n]) for row in rows) for n in range(len(rows[0]) - 1)]
    lines: list[str] = []
    for row in rows:
        cells = [cell + " " * (w - columns(cell)) for cell, w in zip(row, wide, strict=False)]
        lines += wrapped(row[-1], max(width, sum(wide) + 2 * len(wide) + 20), "  ".join([*cells, ""]))
    return lines if told else [*lines, "Resin and hardener in parts as the label says."]


def shopping_csv(batch: Batch, *, imperial: bool = False) -> str:
    """The combined list for a spreadsheet; nothing in it can be taken for a formula."""
    rows = [
        (
            b.name, b.use, *volumes(b.low, b.high, b.size, b.packs, imperial=imperial), *prices(b.price, b.packs),
            ", ".join(b.look_for), ", ".join(b.kinds),
        )
        for b in batch.shopping
    ]  # fmt: skip
    return table((*THINGS, "kinds"), rows)


def _shown(text: str) -> str:
    return harmless(text, one_line=True)
