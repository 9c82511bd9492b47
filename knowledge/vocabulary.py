"""The facts that conditions may read, each with the values it can take. The check holds every rule to this list."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from knowledge.loading import Knowledge
from knowledge.shape import CARRIERS, NEEDS, REASONS

LEVEL = (0, 1, 2)
YES_NO = (True, False)
TREATED = ("required", "advised", "harmless", "not needed", "must not")
FAMILIES = (
    "paper", "photo", "jigsaw", "board", "canvas", "cloth", "leather", "wood", "cork", "stone", "ceramic", "cement",
    "glass", "metal", "plastic", "unknown", "botanical", "animal", "mineral", "small", "food", "wax",
)  # fmt: skip
BRUSH = ("holds", "cockles", "curls", "tears", "sheds", "crushes", "varies")

# what interview.reasoning.piece gives a zone
ZONE: dict[str, tuple[Any, ...]] = {
    "zone.kind": ("front", "edges", "back", "sides", "seams", "gaps", "features", "inclusion"),
    "zone.form": ("sheet", "collage", "jigsaw", "canvas", "cloth", "board", "object", "cast", "laid on"),
    "zone.body": (),  # any: sheet, mount, board, canvas, object or an inclusion's id
    "zone.surface": ("open", "tight", "closed"),
    "zone.opened": ("whole", "cut", "torn"),
    "zone.opened_paper": YES_NO,
    "zone.brush": BRUSH,
    "zone.reached": ("yes", "drips", "no"),
    "zone.darken": ("yes", "no"),
    "zone.carries": ("nothing", "sturdy", "delicate"),
    "zone.layers": ("single", "flat", "lifted"),
    "zone.hollow": ("none", "some"),
    "zone.held": ("glued", "loose"),
    "zone.dry": ("dry", "damp", "fresh"),
    "zone.drop": ("beads", "slow", "fast", "none"),
    "zone.rub": ("clean", "marked", "none"),
    "zone.coupon": ("clear", "dark", "cloudy", "bubbles", "none"),
    "zone.floats": ("floats", "sinks", "hovers"),
    "zone.features": ("none", "knots", "cracks", "holes", "bark"),
    "zone.drink": (0, 1, 2, 3, 4),
    "zone.air": (0, 1, 2, 3),
    **{
        f"zone.{name}": LEVEL
        for name in (
            "fibre", "water", "alcohol", "hydrocarbon", "strong", "oily", "moist", "heat", "loose", "smudge", "waxy",
            "colour_risk",
        )
    },
    **{f"zone.{name}": YES_NO for name in ("mounted", "flat", "natural", "powdery", "ink_lifts", "stirred", "needs_swab")},
    "zone.swab_clean": (*CARRIERS, "none"),
    "zone.swab_colour": (*CARRIERS, "none"),
}  # fmt: skip

OPTION: dict[str, tuple[Any, ...]] = {
    "option.sealer": (),
    "option.method": (),  # the methods there are
    "option.reaches": YES_NO,
    "option.carrier": (*CARRIERS, "none"),
    "option.purpose": REASONS,
    "option.barrier": LEVEL,
    "option.tacks": LEVEL,
    "option.blocks_air": LEVEL,
    "option.darkens": LEVEL,
    "option.yellows": LEVEL,
    "option.moves": LEVEL,
    "option.swab": ("none", "colour"),
    "option.kept_elsewhere": YES_NO,
    "option.clear": YES_NO,
}

PIECE: dict[str, tuple[Any, ...]] = {
    "pours": YES_NO,
    "support.family": FAMILIES,
    "support.face": ("open", "tight", "closed"),
    "support.brush": BRUSH,
    "support.moist": LEVEL,
    "support.drinks": YES_NO,
    "media.dries": YES_NO,
    "media.slowest": (),
    "laid_on.any": YES_NO,
    "laid_on.natural": YES_NO,
    "at_risk": YES_NO,
    "treated.methods": (),  # the methods there are
    "treated.carriers": (*CARRIERS, "none"),
    "treated.cautions": (),
    "brushed.carriers": (*CARRIERS, "none"),
    "curled": YES_NO,
    "loose_sheet": YES_NO,
    "worth_a_coupon": YES_NO,
    "late_air": YES_NO,
    "two_pours": YES_NO,
    "blocked": ("no_place_to_spray", "no_brush_at_hand"),
    "chain": (0, 1, 2, 3),
    "chain.methods": (),  # the methods there are
    **{f"front.{reason}": TREATED for reason in REASONS},
    **{f"need.{reason}": NEEDS for reason in REASONS},
}


@lru_cache(maxsize=2)  # asked for each row that is checked
def values(knowledge: Knowledge) -> Mapping[str, tuple[Any, ...] | None]:
    """Every fact a condition may name -> the values it can take; None where any value is possible."""
    known: dict[str, tuple[Any, ...] | None] = {n: v or None for n, v in {**ZONE, **OPTION, **PIECE}.items()}
    known["zone.materials"] = (*knowledge.materials, *knowledge.inclusions)
    known["zone.media"] = tuple(knowledge.media)
    known["zone.family"] = FAMILIES
    known["zone.stop"] = tuple(knowledge.ways_out)
    known["zone.clean"] = tuple(knowledge.preparations)
    known["treated.sealers"] = tuple(knowledge.sealers)
    known["option.method"] = known["treated.methods"] = known["chain.methods"] = tuple(knowledge.methods)
    known["unsure"] = tuple(knowledge.questions)
    for question in knowledge.questions.values():
        not_tried = ("none",) if question.part == "trials" else ()  # what "not sure" of a trial comes to
        offered = tuple(c.id for c in question.choices if c.id not in not_tried)
        known[question.id] = _answers(knowledge, question.rows, (*offered, *not_tried))
    return known


def _answers(knowledge: Knowledge, rows: str, choices: tuple[str, ...]) -> tuple[Any, ...] | None:
    tables: dict[str, tuple[str, ...]] = {
        "material": tuple(knowledge.materials),
        "inclusion": tuple(knowledge.inclusions),
        "medium": tuple(knowledge.media),
        "mount": tuple(m.id for m in knowledge.materials.values() if m.mount),
    }
    return (*tables.get(rows, ()), *choices) or None
