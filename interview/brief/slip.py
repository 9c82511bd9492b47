"""The slip of the counter: one page to hand over. What does not fit is said in fewer words, never left to a second page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import escape
from math import ceil

from interview.brief.composing import amount_words, compose, is_gear
from interview.brief.rendering import WORDS
from interview.brief.terminal_sheet import TerminalSheet
from interview.brief.typesetting import columns, wrapped
from interview.brief.views import Brief
from interview.plan.model import Plan
from interview.plan.parts import Item
from interview.quantities.written import amount
from interview.reasoning.timetable import Timeline
from interview.text.wording import capital, listed, lowered, sentence, sentences

PAGE = 60  # lines of a printed page, of WIDTH columns
WIDTH = 80
_SHORTER = (
    "trials",
    "assumed",
    "gear",
    "trials",
    "ways",
    "care",
    "heed",
    "told",
    "parts",
    "ways",
    "trials",
)  # what gives way first


@dataclass(frozen=True, slots=True)
class Tin:
    """What is on the shelf. `pack`: what a full one holds, as the list has it; `size`, `left`: in mL or g, where known."""

    name: str
    pack: str = ""
    size: float | None = None
    left: str = ""
    price: float | None = None


@dataclass(frozen=True, slots=True)
class Shelf:
    """By the id of the thing to get, or the beginning of its name; `known`: whether there is a list at all."""

    tins: Mapping[str, Tin]
    known: bool = True

    def tin(self, item: Item) -> Tin | None:
        named = (tin for key, tin in self.tins.items() if item.name.casefold().startswith(key))
        return self.tins.get(item.id) or next(named, None)


def slip(
    plan: Plan,
    *,
    width: int = WIDTH,
    imperial: bool = False,
    time: Timeline | None = None,
    trouble: str = "",
    shelf: Shelf | None = None,
    told: Sequence[str] = (),
    lines: Mapping[str, str] | None = None,
    day: str = "",
) -> str:
    """`told`: what the customer said, in few words; what was assumed stands beside it. `lines`: how each
    trial is done, in a line. `day`: the date, as it is shown."""
    brief = compose(plan, imperial=imperial, time=time, trouble=trouble)
    sheet = TerminalSheet(width, colour=False)
    blocks = _blocks(plan, brief, sheet, shelf or Shelf({}, known=False), told, lines or {}, imperial)
    chosen = dict.fromkeys(blocks, 0)
    head = _head("Prep slip", day, min(width, WIDTH))
    foot = [f"Seal of this brief: {plan.seal}"] if plan.seal else []
    for name in _SHORTER:
        if len(_set(head, blocks, chosen)) + len(foot) <= PAGE:
            break
        chosen[name] = min(chosen[name] + 1, len(blocks[name]) - 1)
    return "\n".join([*_set(head, blocks, chosen), *foot]) + "\n"


def told_slip(lines: Sequence[str], day: str = "", width: int = WIDTH) -> str:
    """A slip of what was said: an answer, or a way of mending. Cut where a page is full, and says so."""
    body = [one for line in "\n".join(lines).strip("\n").split("\n") for one in _wrapped(line, width)]
    made = [*_head("Slip", day, width), *_single(body)]
    if len(made) > PAGE:
        made = [*made[: PAGE - 1], "  ... the rest was told at the counter. Label and safety data sheet come first."]
    return "\n".join(made) + "\n"


def as_page(text: str) -> str:
    """The slip as a page to print, of one sheet."""
    look = "@page { size: A4; margin: 12mm } pre { font: 10pt/1.2 monospace; margin: 0 }"
    return f'<!doctype html><meta charset="utf-8"><title>Slip</title><style>{look}</style><pre>{escape(text)}</pre>\n'


def _wrapped(line: str, width: int) -> list[str]:
    blanks = len(line) - len(line.lstrip(" "))
    return wrapped(line.strip(" "), width, " " * blanks, " " * (blanks + 2 * line.lstrip(" ").startswith("- ")))


def _head(title: str, day: str, width: int) -> list[str]:
    return [f"{title}{day.rjust(width - columns(title))}" if day else title, "=" * width]


def _single(lines: Sequence[str]) -> list[str]:
    """No two empty lines after each other, and none at the ends."""
    kept = [line for n, line in enumerate(lines) if line.strip() or (n and lines[n - 1].strip())]
    return kept[:-1] if kept and not kept[-1].strip() else kept


def _set(head: Sequence[str], blocks: Mapping[str, Sequence[str]], chosen: Mapping[str, int]) -> list[str]:
    lines = "\n".join(blocks[name][n] for name, n in chosen.items() if blocks[name][n]).split("\n")
    return [*head, *_single(lines)]


# ------------------------------------------------------------------ its parts, each in full and in fewer words


def _blocks(
    plan: Plan,
    brief: Brief,
    sheet: TerminalSheet,
    shelf: Shelf,
    told: Sequence[str],
    lines: Mapping[str, str],
    imperial: bool,
) -> dict[str, tuple[str, ...]]:
    return {
        "piece": (f"{sheet.para(brief.summary)}\n\n{sheet.lead(f'{WORDS[brief.sign]}. {brief.headline}')}",),
        "first": (_lines(
            sheet.remark(brief.do_first, "First") if brief.do_first else "",
            sheet.remark(brief.then, "Then") if brief.then else "",
            sheet.remark(brief.whole, "Days") if brief.whole else "",
        ),),
        "heed": _shortened(sheet, [(h.name, h.says) for h in brief.heed], (9, 2)),
        "parts": _parts(brief, sheet),
        "ways": _shortened(sheet, [(w.name, w.says) for w in brief.ways_out], (2, 1)),
        "told": (f"\n{sheet.remark('; '.join(told) + '.', 'Told')}" if told else "", ""),
        "assumed": _assumed(brief, sheet),
        "left": (sheet.remark(listed(brief.not_covered), "Not covered") if brief.not_covered else "",),
        "basket": (_basket(plan, sheet, shelf, imperial),),
        "gear": _gear(plan, sheet, shelf),
        "trials": _trials(brief, sheet, lines),
        "mixing": (_mixing(plan, sheet) if any(s.kind == "pour" for s in plan.steps) else "",),
        "care": _care(brief, sheet),
    }  # fmt: skip


def _lines(*lines: str) -> str:
    return "\n".join(line for line in lines if line)


def _shortened(sheet: TerminalSheet, rows: Sequence[tuple[str, str]], keep: tuple[int, int]) -> tuple[str, ...]:
    """Each with so many of its sentences; the last time by its name alone."""
    made = [_lines(*(sheet.point(" ".join(sentences(says)[:n]), name) for name, says in rows)) for n in keep]
    return (
        *made,
        sheet.remark(listed(name for name, _ in rows), "Also") if rows and rows[0][0] != "Heed" else made[-1],
    )


def _parts(brief: Brief, sheet: TerminalSheet) -> tuple[str, ...]:
    rows = [(part.zones, part.line) for part in brief.parts]
    whole = _lines(*(sheet.point(line, zones) for zones, line in rows))
    return (f"\n{whole}" if whole else "", sheet.para("; ".join(f"{zones}: {line}" for zones, line in rows)))


def _assumed(brief: Brief, sheet: TerminalSheet) -> tuple[str, ...]:
    if not brief.assumed:
        return ("",)
    points = _lines(*(sheet.tick(sentences(point.says)[0], point.name) for point in brief.assumed))
    names = sheet.remark(f"{listed(lowered(p.name) for p in brief.assumed)}.", "Assumed, to be checked")
    return (f"{sheet.minor('Assumed: check')}\n{points}", names)


def _trials(brief: Brief, sheet: TerminalSheet, lines: Mapping[str, str]) -> tuple[str, ...]:
    rows = [trial for trial in brief.trials if not trial.behind]
    if not rows:
        return ("",)
    made = [
        f"{sheet.minor('Trials first')}\n" + _lines(*(sheet.tick(" ".join(sentences(t.how)[:n]), t.name) for t in rows))
        for n in (2, 1)
    ]
    short = _lines(*(sheet.tick(lines.get(t.id) or sentences(t.how)[0], t.name) for t in rows))
    names = sheet.remark(f"{listed(lowered(t.name) for t in rows)}.", "Trials first, on a scrap")
    return (*made, f"{sheet.minor('Trials first')}\n{short}", names)


def _mixing(plan: Plan, sheet: TerminalSheet) -> str:
    ratio = plan.answers.get("ratio")
    by = "by the label, to the gram or the line"
    if isinstance(ratio, list | tuple) and len(ratio) == 3:
        by = f"{ratio[0]:g}:{ratio[1]:g} by {ratio[2]}, if the label says the same"
    return sheet.remark(f"{by}; scrape the cup, stir three minutes.", "Mixing")


def _care(brief: Brief, sheet: TerminalSheet) -> tuple[str, ...]:
    says = [sentence(caution.says) for caution in brief.shorts]
    says += [sentences(brief.defers)[0]] if brief.defers else []
    return (f"{sheet.minor('Take care')}\n{sheet.inset(' '.join(says))}", sheet.remark(" ".join(says), "Care"))


# ------------------------------------------------------------------ the basket


def _basket(plan: Plan, sheet: TerminalSheet, shelf: Shelf, imperial: bool) -> str:
    """What the job cannot do without, then the extras and what each adds, then what it costs."""
    goods = [item for item in plan.items if not is_gear(item)]
    if not goods:
        return ""
    extras = _extras(plan)
    needed = [item for item in goods if item.id not in extras]
    lines = [sheet.minor("The basket")]
    lines += [sheet.tick(_bought(item, shelf, imperial), _called(item, shelf)) for item in needed]
    lines += _total(needed, shelf, sheet, "Together")
    for item in goods:
        if item.id in extras:
            lines.append(
                sheet.tick(f"{extras[item.id]}; {_bought(item, shelf, imperial)}", f"Extra: {_called(item, shelf)}")
            )
    lines += _total(goods, shelf, sheet, "With the extras") if extras else []
    return "\n".join(lines)


def _extras(plan: Plan) -> dict[str, str]:
    """The sealers that only better it, each with what it adds."""
    strict = {t.sealer for t in plan.treatments if t.strength == "required"}
    found: dict[str, list[str]] = {}
    for one in plan.treatments if strict else ():
        if one.sealer not in strict:
            found.setdefault(f"sealer.{one.sealer}", []).extend(plan.zone(z).name for z in one.zones)
    return {id: f"only for {listed(dict.fromkeys(names))}, better with it" for id, names in found.items()}


def _called(item: Item, shelf: Shelf) -> str:
    tin = shelf.tin(item)
    told = ", ".join(t for t in (tin.pack, _price(tin)) if t) if tin else ""
    return f"{tin.name}{f' ({told})' if told else ''}" if tin else capital(item.name)


def _price(tin: Tin) -> str:
    return f"{tin.price:.2f}" if tin.price is not None else ""


def _bought(item: Item, shelf: Shelf, imperial: bool) -> str:
    tin = shelf.tin(item)
    use = (
        amount(item.low, item.high, "mL", up=True, imperial=imperial)
        if item.low is not None and item.high is not None
        else item.amount
    )
    if tin is None:
        return ", ".join(t for t in (amount_words(item, imperial), "not on our shelf" if shelf.known else "") if t)
    packs = _packs(item, tin)
    more = f"{packs} of them" if packs > 1 else f"{tin.left} left" if tin.left else ""
    return ", ".join(t for t in (f"uses {use}" if use else "", more) if t)


def _packs(item: Item, tin: Tin) -> int:
    return max(1, ceil(item.high / tin.size)) if item.high and tin.size else 1


def _total(items: Sequence[Item], shelf: Shelf, sheet: TerminalSheet, name: str) -> list[str]:
    """Of what has a price; nothing where nothing has one."""
    tins = [(item, shelf.tin(item)) for item in items]
    priced = [t.price * _packs(i, t) for i, t in tins if t is not None and t.price is not None]
    without = len(items) - len(priced)
    if not priced:
        return []
    rest = f", and {without} more without a price here" if without else ""
    return [sheet.remark(f"{sum(priced):.2f}{rest}.", name)]


def _gear(plan: Plan, sheet: TerminalSheet, shelf: Shelf) -> tuple[str, ...]:
    """What else it takes; a glue that is on the shelf by its own name. In short: what guards the maker."""
    items = [item for item in plan.items if is_gear(item)]
    if not items:
        return ("",)
    names = [f"{item.name}: {_called(item, shelf)}" if shelf.tin(item) else item.name for item in items]
    worn = [n for n in names if any(word in n for word in ("glove", "mask", "eye protection"))]
    few = f"{'; '.join(worn)}; and the usual: brushes, cups, sticks, sheet, tape" if worn else "; ".join(names[:6])
    return (sheet.remark("; ".join(names) + ".", "Also"), sheet.remark(f"{few}.", "Also"))
