"""Facts -> zones: the parts of the piece that each get one treatment, with what the rules read of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from interview.plan.parts import Zone
from interview.reasoning.circumstances import laid_on, media, rows_of, supports
from interview.reasoning.layers import NOT_DRAWN
from knowledge.combining import combined
from knowledge.loading import Knowledge
from knowledge.shape import Inclusion, Material, Medium

Facts = Mapping[str, Any]
FINISHED = {
    "flaking": "flaking_paint",
    "painted": "painted_wood",
    "varnished": "varnished_wood",
    "oiled": "oiled_wood",
    "waxed": "waxed_wood",
}
FEATURES = {"knots": "knots", "cracks": "cracks", "holes": "holes", "bark": "bark edge"}
IN_THE_FACE = ("front", "gaps", "seams")  # what lies on the piece lies on these
# the answers that zones are made from: they see no others
READS = (
    "piece", "support", "media", "laid_on", "mounted", "opened", "layers", "hollow", "sturdiness", "held", "natural_dry",
    "wood_finish", "wood_features", "dryness", "media_age", "resin_on", "darken", "drop_result", "resin_drop_result", "rub_result",
    "coupon_result", "swab_clean", "swab_colour", "opened.taken",
    "wood_finish.taken",
)  # fmt: skip


def zones(knowledge: Knowledge, facts: Facts) -> tuple[Zone, ...]:
    """All zones, fronts first. Pure; never empty (a piece with nothing known has a front of unknown material)."""
    return _zones(knowledge, tuple((name, facts[name]) for name in READS if name in facts))


@lru_cache(maxsize=4096)
def _zones(knowledge: Knowledge, read: tuple[tuple[str, Any], ...]) -> tuple[Zone, ...]:
    facts = dict(read)
    form = form_of(knowledge, facts)
    made = [] if form == "cast" else _body_zones(knowledge, facts, form)
    body = made[0].body if made else "cast"
    face = made[0].wets if made else frozenset()
    made += [_inclusion_zone(knowledge, row, facts, body, face) for row in laid_on(knowledge, facts)]
    return tuple(made)


def form_of(knowledge: Knowledge, facts: Facts) -> str:
    """cast, collage, jigsaw, sheet, canvas, cloth, board or object: which zones the piece has."""
    piece = facts.get("piece", "sheet")
    if piece in ("cast", "collage", "jigsaw"):
        return str(piece)
    rows = supports(knowledge, facts)
    family = rows[0].family if rows else "unknown"
    if family == "board" and piece != "wood":
        return "sheet"
    return _FORM.get(family, "object")


_FORM = {
    "paper": "sheet", "photo": "sheet", "unknown": "sheet", "canvas": "canvas", "cloth": "cloth", "leather": "cloth",
    "wood": "board", "board": "board", "cork": "board", "jigsaw": "jigsaw",
}  # fmt: skip


def _body_zones(knowledge: Knowledge, facts: Facts, form: str) -> list[Zone]:
    rows = supports(knowledge, facts)
    front_rows = _face_rows(knowledge, facts, rows)
    on_top = media(knowledge, facts)
    mounted = facts.get("mounted", "no") != "no"
    body = "sheet" if form in ("sheet", "collage", "jigsaw", "cloth") else form
    make = _Maker(knowledge, facts, form, body, mounted, laid_on(knowledge, facts))
    front_rows, apart = _bodies(front_rows, form)
    name = f"the {_join([row.name for row in front_rows])}" if apart else _front_name(form)
    made = [make.zone("front", name, front_rows, "face", on_top)]
    made += [make.zone("part", f"the {row.name}", (row,), "face", on_top) for row in apart]
    if form == "collage":
        made.append(make.zone("gaps", "the gaps between the layers", rows, "face", on_top))
    if form == "jigsaw":
        made.append(make.zone("seams", "the joints between the pieces", rows, "core", on_top))
    made.append(make.zone("edges", _edge_name(form, facts), rows, "core", on_top if body == "sheet" else ()))
    if not mounted:
        made.append(make.zone("back", "the back", rows, "back"))
    features = [FEATURES[f] for f in sorted(facts.get("wood_features", ())) if f in FEATURES]
    if features:
        made.append(make.zone("features", f"the {_join(features)}", rows, "core", on_top))
    if mounted:
        under = rows_of(knowledge.materials, [facts["mounted"]])
        on = _Maker(knowledge, facts, form, "mount", False, ())
        made.append(on.zone("mount_sides", f"the sides of the {under[0].name}", under, "core"))
        made.append(on.zone("mount_back", f"the back of the {under[0].name}", under, "back"))
    return made


def _face_rows(knowledge: Knowledge, facts: Facts, rows: Sequence[Material]) -> tuple[Material, ...]:
    """A finish takes the place of the bare wood on the front; what else is there stays as it is. One that nobody has
    said does not where something is painted or drawn over it: then that is the face.
    """
    if facts.get("wood_finish.taken") and any(m.id not in NOT_DRAWN for m in media(knowledge, facts)):
        return tuple(rows)
    finished = knowledge.materials.get(FINISHED.get(facts.get("wood_finish", "bare"), ""))
    kept = (r for r in rows if r.family not in ("wood", "cork") and not r.finish)
    return (finished, *kept) if finished else tuple(rows)


def _bodies(rows: tuple[Material, ...], form: str) -> tuple[tuple[Material, ...], tuple[Material, ...]]:
    """The face, and what in it is a body of its own: what does not drink, or must not be coated, beside what is both;
    of hard things (a lantern of tin and glass) each.
    """
    apart = tuple(r for r in rows if r.face == "closed" or r.stop)
    rest = tuple(r for r in rows if r not in apart)
    alone = (rows[:1], rows[1:]) if form == "object" else (rows, ())
    return (rest, apart) if rest else alone


def _front_name(form: str) -> str:
    return {"jigsaw": "the face of the jigsaw", "board": "the face", "object": "the face"}.get(form, "the front")


def _edge_name(form: str, facts: Facts) -> str:
    if form == "jigsaw":
        return "the outer edge"
    if form in ("board", "object"):
        return "the sides"
    if form == "canvas":
        return "the turned edges"
    opened = frozenset() if facts.get("opened.taken") else facts.get("opened", frozenset())
    words = [w for w in ("torn", "cut") if w in opened]
    return f"the {_join(words)} edges" if words else "the edges"


def _join(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


@dataclass(frozen=True, slots=True)
class _Maker:
    """Builds the zones of one body, with what they share."""

    knowledge: Knowledge
    facts: Facts
    form: str
    body: str
    mounted: bool
    lying: Sequence[Inclusion]

    def zone(self, kind: str, name: str, rows: Sequence[Material], side: str, on_top: Sequence[Medium] = ()) -> Zone:
        """`on_top`: what the image is made with, where it runs over this zone too; as a film it covers the face alone."""
        facts = self.facts
        plain = kind.removeprefix("mount_")
        lying = self.lying if plain in IN_THE_FACE else ()
        film = _film(plain, rows, on_top)
        read: dict[str, object] = {
            "kind": plain,
            "body": self.body,
            "form": self.form,
            "flat": self.mounted or self.form in ("collage", "jigsaw", "board", "object", "canvas"),
            **_shared(self.knowledge, rows, on_top),
            "wets": _wets(rows, on_top, lying),
            "carries": _carries(lying),
            "liftable": _liftable(lying, facts),
            "surface": _surface(self.knowledge, rows, side, on_top if plain == "front" else ()),
            "opened": frozenset(facts.get("opened", ())) if plain == "edges" and self.body == "sheet" else frozenset(),
            "opened_paper": self.body == "sheet" and bool({"cut", "torn"} & set(facts.get("opened", ()))),
            "brush": _brush(self.knowledge, rows, facts),
            **({"loose": max(m.loose for m in on_top), "oily": 0} if film else {}),
            "reached": _reached(plain, facts),
            "darken": facts.get("darken", "no"),
            "hollow": facts.get("hollow", "none"),
            "held": "glued",
            "features": frozenset(facts.get("wood_features", ())),
            "dry": _dry(facts, on_top),
            **_results(plain, facts, on_top),
        }
        what = _what(rows, side, film)
        id = f"part_{rows[0].id}" if kind == "part" else kind
        return Zone(id, plain, self.body, name, what, tuple(sorted(read.items())))


def _shared(knowledge: Knowledge, rows: Sequence[Material], on_top: Sequence[Medium]) -> dict[str, object]:
    """What a zone has of the materials and media on it, property by property as properties.toml says."""
    both: list[Any] = [*rows, *on_top]
    found: dict[str, object] = {
        "powdery": any(m.fix == "first" for m in on_top),
        "ink_lifts": any(m.alcohol == 2 for m in on_top),
        "media": frozenset(m.id for m in on_top),
        "materials": frozenset(r.id for r in rows),
        "water_tells": bool(rows) and all(_water_tells(r) for r in rows) and not any(m.waxy for m in on_top),
        "stop_why": " ".join(dict.fromkeys(f"{r.name[:1].upper()}{r.name[1:]}: {r.note}" for r in both if r.stop)),
    }
    for prop in knowledge.properties.values():
        if not prop.zone:
            continue
        values = [value for row in both if (value := getattr(row, prop.id, None)) is not None]
        if values:
            found[prop.id] = combined(prop.zone, values, prop.values)
        elif prop.zone in _NOTHING:
            found[prop.id] = _NOTHING[prop.zone]
    return found


def _film(kind: str, rows: Sequence[Material], on_top: Sequence[Medium]) -> tuple[Medium, ...]:
    """What covers an open face whole, so that neither its grains nor its oil are met any more."""
    return tuple(m for m in on_top if m.closes) if kind == "front" and any(r.face == "open" for r in rows) else ()


def _what(rows: Sequence[Material], side: str, film: Sequence[Medium]) -> str:
    """What is met there: the film over it, or what of it drinks; glass beside wood does not."""
    if not rows:
        return "an unknown material"
    wood = _join([r.name for r in rows if getattr(r, side) != "closed"] or [r.name for r in rows])
    return f"{_join([m.name for m in film])} on {wood}" if film else wood


def _water_tells(row: Material) -> bool:
    """Whether a drop of water that stands clears it: not size, wax, oil or felted fibre, which resin goes into."""
    return row.family in ("wood", "stone", "ceramic", "cement", "glass", "metal", "mineral") and not row.oily


_NOTHING: Mapping[str, object] = {"most": 0, "any": False, "all": False, "union": frozenset()}


def _worst(knowledge: Knowledge, rows: Iterable[Material], name: str, default: str) -> str:
    """The most troublesome of the materials in this."""
    return str(combined("worst", [getattr(r, name) for r in rows], knowledge.properties[name].values) or default)


def _surface(knowledge: Knowledge, rows: Iterable[Material], side: str, on_top: Sequence[Medium]) -> str:
    """The most open of the materials; a covering paint film turns an open face tight."""
    surface = _worst(knowledge, rows, side, "open")
    return "tight" if surface == "open" and any(m.closes for m in on_top) else surface


def _brush(knowledge: Knowledge, rows: Sequence[Material], facts: Facts) -> str:
    """What a wet brush does to the most delicate of the materials."""
    worst = _worst(knowledge, rows, "brush", "tears")
    if worst == "varies":
        return "cockles" if facts.get("sturdiness") == "sturdy" else "tears"
    return worst


_REACH = {
    "front": {"front": "yes", "part": "yes", "gaps": "yes", "seams": "yes", "features": "yes", "edges": "drips"},
    "sides": {
        "front": "yes",
        "part": "yes",
        "gaps": "yes",
        "seams": "yes",
        "features": "yes",
        "edges": "yes",
        "sides": "yes",
    },
}


def _reached(kind: str, facts: Facts) -> str:
    """yes, drips or no: does the resin come there?"""
    where = facts.get("resin_on", "sides")
    if where == "all":
        return "yes"
    return _REACH[where].get(kind, "drips" if kind == "sides" else "no")


def _dry(facts: Facts, on_top: Sequence[Medium]) -> frozenset[str]:
    """Damp: the stuff itself; fresh: the image on it, where there is one. Both can be so at once."""
    wet = [
        ("damp", facts.get("dryness") in ("damp", "green")),
        ("fresh", bool(on_top) and facts.get("media_age") == "no"),
    ]
    return frozenset(name for name, is_so in wet if is_so) or frozenset(("dry",))


def _wets(rows: Iterable[Material], on_top: Iterable[Medium], lying: Iterable[Inclusion]) -> frozenset[tuple[str, str]]:
    """Everything that a sealer put on this zone comes to: what it is, what is drawn on it, what lies on it."""
    stuff = [("inclusion" if isinstance(r, Inclusion) else "material", r.id) for r in rows]
    return frozenset([*stuff, *(("medium", m.id) for m in on_top), *(("inclusion", i.id) for i in lying)])


def _carries(lying: Sequence[Inclusion]) -> str:
    """Whether what lies there would stand a brush passing over it."""
    delicate = any(i.loose >= 2 or i.brush in ("crushes", "sheds", "tears", "curls", "varies") for i in lying)
    return "delicate" if delicate else "sturdy" if lying else "nothing"


def _liftable(lying: Sequence[Inclusion], facts: Facts) -> frozenset[str]:
    """What lies there loose and whole, so that it can be taken off and laid back."""
    loose = facts.get("held", "loose") == "loose"
    return frozenset(i.id for i in lying if loose and not i.stirred and i.brush != "sheds")


def _results(kind: str, facts: Facts, on_top: Iterable[Medium]) -> dict[str, object]:
    """What the trials showed. The drop was put on the face; the rub tells of the image wherever it runs."""
    shown: dict[str, object] = {
        "swab_clean": frozenset(facts.get("swab_clean", ())),
        "swab_colour": frozenset(facts.get("swab_colour", ())),
    }
    front = kind == "front"
    shown["drop"] = facts.get("drop_result", "none") if front else "none"
    rubbed = front or any(m.smudge or m.loose for m in on_top)
    shown["rub"] = facts.get("rub_result", "none") if rubbed else "none"
    shown["resin_drop"] = facts.get("resin_drop_result", "none") if front else "none"
    shown["coupon"] = facts.get("coupon_result", "none") if front else "none"
    return shown


def _inclusion_zone(knowledge: Knowledge, row: Inclusion, facts: Facts, body: str, face: Any) -> Zone:
    """What is laid on a piece is worked with it, and wets the face round it; what is cast in is worked on its own."""
    cast = facts.get("piece") == "cast"
    fresh = row.natural and facts.get("natural_dry") == "fresh"
    read: dict[str, object] = {
        "kind": "inclusion",
        "body": body,
        "form": "cast" if cast else "laid on",
        "flat": facts.get("held") == "glued",
        **_shared(knowledge, (row,), ()),
        "wets": _wets((row,), (), ()) | face,
        "carries": "nothing",
        "liftable": frozenset(),
        "surface": row.face,
        "opened": frozenset(),
        "opened_paper": False,
        "brush": "tears" if row.brush == "varies" else row.brush,
        "reached": "yes",
        "darken": "no",
        "hollow": "none",
        "held": "loose" if cast else facts.get("held", "loose"),
        "dry": frozenset(("fresh" if fresh else "dry",)),
        **_results("inclusion", facts, ()),
    }
    return Zone(f"laid_{row.id}", "inclusion", body, f"the {row.name}", row.name, tuple(sorted(read.items())))
