"""A kind without its extras: coats on a part that are advised, not needed. And what that saves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from interview.plan.model import Plan
from interview.plan.parts import Item, Step
from interview.reasoning.lots import Kind

EXTRA = "extra"  # every part that is only advised


def needed(plan: Plan, part: str) -> str:
    """Why a part (back, side, edge) may not be left out: the words of its verdict; "" where it may."""
    if part == EXTRA:
        return ""
    return next(
        (v.findings[0].says for v in plan.verdicts if v.zone.startswith(part) and v.need == "required" and v.findings),
        "",
    )


def without(kind: Kind, part: str) -> Kind:
    """The kind without the coats on this part that may be left out; what followed them follows what came before."""
    if needed(kind.plan, part):
        return kind
    extra = {t.id for t in kind.plan.treatments if t.strength == "advised"}
    gone = {s.id: s for s in kind.plan.steps if s.kind == "seal" and _is(s, part, extra)}
    if not gone:
        return kind
    steps = []
    for step in (s for s in kind.plan.steps if s.id not in gone):
        after = list(step.after)
        while any(b in gone for b, _, _ in after):
            after = [a for b, least, most in after for a in (gone[b].after if b in gone else ((b, least, most),))]
        steps.append(replace(step, after=tuple(dict.fromkeys(after))))
    items = tuple(_less(item, kind.plan.steps, gone) for item in kind.plan.items)
    return replace(kind, plan=kind.plan.model_copy(update={"steps": tuple(steps), "items": items}))


def _is(step: Step, part: str, extra: set[str]) -> bool:
    _, treatment, zone, *_ = step.id.split(".")
    return treatment in extra if part == EXTRA else zone.startswith(part)


def _less(item: Item, steps: Sequence[Step], gone: dict[str, Step]) -> Item:
    """A sealer's amount by the coats that are left of it."""
    coats = [s.id for s in steps if s.kind == "seal" and f"sealer.{s.sealer}" == item.id]
    left = sum(id not in gone for id in coats)
    if not coats or left == len(coats) or item.low is None or item.high is None:
        return item
    share = left / len(coats)
    return replace(item, low=item.low * share, high=item.high * share, figure="")
