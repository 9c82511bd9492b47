"""The proof for single zones: every state a zone can be in, and every sealer there.

Four tables, each enumerated whole. `needs`: for each state and reason there is a verdict, it rests on
something, and it is the one the trade gives. `brushes`: where a brush would spoil, every brushed sealer is
barred. `carriers`: a carrier that moves what is there is barred, one that might is used only after a swab.
`chains`: whatever is barred and whatever is needed, what is chosen is not barred, every need is met or told,
and nothing that would do is passed over.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import combinations, product
from typing import Any, TypeVar

from interview.plan.parts import Basis, Finding, Zone
from interview.reasoning.needs import _verdict
from interview.reasoning.treatments import Option, _links, _swab_wanted, _unmet_outlets, is_gentle, options_for
from knowledge.loading import Knowledge
from knowledge.shape import CARRIERS, REASONS, Need, Reason
from tests.proof.folding import carrying, join, moved
from tests.proof.states import BAR_FACTS, Shape, fronts, only_named, shapes, states
from tests.proof.tally import Tally, shown

T = TypeVar("T")
Bar = Callable[..., Iterable[Any]]
WAYS = tuple(frozenset(c) for n in (1, 2) for c in combinations(("brush", "spray_outdoors", "spray_room"), n))
# the facts of a zone that options hang on, as they bar the least
INERT: Mapping[str, Any] = {
    "kind": "front", "surface": "open", "darken": "no", "brush": "holds", "loose": 0, "smudge": 0,
    "rub": "none", "carries": "nothing", "wets": frozenset(), "swab_clean": frozenset(),
    "swab_colour": frozenset(), "liftable": frozenset(),
}  # fmt: skip
_BARRED = Finding("barred", "It is barred.", Basis("computed"))


def prove(knowledge: Knowledge, share: float = 1.0) -> Tally:
    """All four tables; with `share` below 1 a sample of each, the same one each time."""
    tally = Tally()
    for fault in only_named(knowledge):
        tally.fault(fault, "by the rules' own inputs")
    rng = random.Random(5)
    states_of_needs(knowledge, tally, rng, share, shown)
    states_of_brushes(knowledge, tally, rng, share, shown)
    states_of_carriers(knowledge, tally)
    _chains(knowledge, tally, rng, share)
    return tally


def quiet(items: Sequence[T], *_: object) -> Sequence[T]:
    """In place of the bar."""
    return items


def _some(items: Sequence[T], rng: random.Random, share: float) -> Sequence[T]:
    return items if share >= 1 else rng.sample(items, max(1, int(len(items) * share)))


# ------------------------------------------------------------------ needs


def states_of_needs(knowledge: Knowledge, tally: Tally, rng: random.Random, share: float, bar: Bar = quiet) -> None:
    for shape in bar(shapes(knowledge), len(shapes(knowledge)), "needs of zones"):
        zone = _bare(shape)
        for reason in REASONS:
            names = _read(knowledge, reason)
            drawn = states(knowledge, shape, names, rng, share)
            for facts in ({**state, **front} for state in drawn for front in fronts(shape)):
                verdict = _verdict(knowledge, zone, reason, facts)
                tally.counts["states of a zone and a reason, each with its verdict"] += 1
                tally.held |= {("needs", f.rule) for f in (*verdict.findings, *verdict.lifted)}
                told = {k.removeprefix("zone."): v for k, v in facts.items()}
                if not verdict.findings:
                    tally.fault(f"4: {shape}: {reason} is '{verdict.need}' with nothing to rest on", told)
                wanted = expected(reason, told)
                if wanted and verdict.need not in wanted:
                    tally.fault(f"4: {shape}: {reason} is '{verdict.need}', not {' or '.join(wanted)}", told)


def _read(knowledge: Knowledge, reason: Reason) -> tuple[str, ...]:
    rules = (r for r in knowledge.needs.values() if r.reason == reason)
    return tuple(sorted({n.removeprefix("zone.") for r in rules for n in r.when.names() if n.startswith("zone.")}))


def _bare(shape: Shape, facts: Mapping[str, Any] | None = None) -> Zone:
    kind, body, _ = shape
    return Zone(kind, kind, body, f"the {kind}", "a material", tuple(sorted((facts or {}).items())))


def expected(reason: Reason, zone: Mapping[str, Any]) -> tuple[Need, ...]:
    """What the trade gives for a zone, told apart from the rules; nothing where it leaves the need open."""
    if zone["stop"]:
        return ("must not",)
    if reason == "loose matter":
        return _for_loose_matter(zone)
    return _for_absorption(zone) if reason == "absorption" else _for_air(zone)


_IMAGE = ("front", "gaps", "seams")


def _for_absorption(zone: Mapping[str, Any]) -> tuple[Need, ...]:
    kind, surface, sheet = zone["kind"], zone["surface"], zone["body"] == "sheet"
    if kind in _IMAGE and zone.get("waxy") == 2:
        return ("must not",)  # what never dries holds no resin
    if not zone.get("colour_risk", 1):
        return ()  # soaked or not, it looks the same
    if zone.get("amine") and kind in (*_IMAGE, "part", "inclusion"):
        return ()  # what hardener turns is kept from it, however little it drinks
    welcome = zone["darken"] == "yes"
    if kind == "edges" and sheet and surface != "closed" and {"cut", "torn"} & zone["opened"]:
        return ("required",)  # an opened edge drinks, also of coated paper
    if (
        kind == "back"
        and sheet
        and surface == "open"
        and zone.get("front.absorption") == "required"
        and zone["form"] != "cloth"
    ):
        return ("required",)  # paper is sealed on both faces
    shown = zone.get("resin_drop", "none")
    if kind == "front" and not welcome and shown == "dark":
        return ("required",)  # resin on your own scrap counts for more than anything
    stood = shown == "clear" or (zone.get("drop", "none") == "beads" and zone.get("water_tells"))
    if kind in ("front", "gaps") and surface == "open" and not welcome and not stood:
        return ("required",)
    if kind != "front" and "mirror" in zone.get("materials", ()):
        return ()  # its silver, not its pores, is what the edge asks for
    if kind == "inclusion" and surface == "closed":
        return ("not needed",)  # nothing to soak into
    if kind in ("back", "sides") and surface == "closed":
        return ("not needed",)
    return ()


def _for_loose_matter(zone: Mapping[str, Any]) -> tuple[Need, ...]:
    if zone["rub"] == "marked":
        return ("required",)
    if zone["loose"] == 2 and zone["kind"] != "inclusion":
        return ("required",)
    if zone["loose"] == 2 and zone["held"] == "loose" and (zone["form"] == "laid on" or not zone["stirred"]):
        return ("required",)
    if zone["kind"] == "front" and zone["surface"] == "closed" and zone["smudge"] and zone["rub"] != "clean":
        return ("required",)  # it only lies there
    return ("not needed",) if zone["loose"] == 0 and not zone["ink_lifts"] and not zone["smudge"] else ()


def _for_air(zone: Mapping[str, Any]) -> tuple[Need, ...]:
    if zone["kind"] in ("gaps", "seams", "features"):
        return ("required",)
    if zone["kind"] == "front" and (zone["hollow"] == "some" or zone["coupon"] == "bubbles"):
        return ("required",)
    if zone["kind"] == "inclusion" and zone["natural"] and zone["surface"] == "open" and not zone["stirred"]:
        return ("required",)
    return ()


# ------------------------------------------------------------------ brushes


def states_of_brushes(knowledge: Knowledge, tally: Tally, rng: random.Random, share: float, bar: Bar = quiet) -> None:
    """With every way at hand and a carrier that moves nothing: what bars a brush then bars it always."""
    ways = frozenset(("brush", "spray_outdoors"))
    wholes = {(kind, body): (kind, body, form) for kind, body, form in shapes(knowledge)}
    chosen = [(shape, s) for shape in wholes.values() for s in states(knowledge, shape, BAR_FACTS, rng, share)]
    for shape, state in bar(chosen, len(chosen), "brushes and zones"):
        facts = {name.removeprefix("zone."): value for name, value in state.items()}
        zone = _bare(shape, {**facts, "wets": frozenset(), "swab_clean": frozenset(), "swab_colour": frozenset()})
        why = spoilt(facts)
        for option in options_for(knowledge, ways, zone):
            tally.counts["states of a zone and a sealer, for what a brush does"] += 1
            tally.held |= {("bars", f.rule) for found in option.bars.values() for f in found}
            open_to = [r for r in REASONS if option.fits(r)]
            if why and open_to and option.sealer.method == "brush":
                tally.fault(f"1: {option.sealer.id} may be brushed on {shape}, which {why}", facts)


def spoilt(zone: Mapping[str, Any]) -> str:
    """Why no brush may touch a zone in this state, or nothing."""
    if zone["brush"] in ("tears", "curls", "sheds", "crushes"):
        return str(zone["brush"])
    if zone["loose"] == 2:
        return "is loose"
    if zone["smudge"] == 2 or (zone["smudge"] == 1 and zone["rub"] != "clean"):
        return "smudges"
    if zone["rub"] == "marked":
        return "left a mark on the cloth"
    return "carries what a brush would break" if zone["carries"] == "delicate" else ""


# ------------------------------------------------------------------ carriers


def states_of_carriers(knowledge: Knowledge, tally: Tally) -> None:
    """Each sealer on something its carrier leaves alone, may move, or moves, with every outcome of a swab."""
    for sealer in carrying(knowledge):
        for wets, moves in _rows_by_level(knowledge, sealer.id).items():
            for clean, colour in product((False, True), repeat=2):
                seen = {
                    "swab_clean": frozenset((sealer.carrier if clean else "none",)),
                    "swab_colour": frozenset((sealer.carrier if colour else "none",)),
                }
                facts = {**INERT, "rub": "clean", "wets": frozenset((wets,)), **seen}
                zone = _bare(("front", "sheet", "sheet"), facts)
                ways = frozenset(("brush", "spray_outdoors"))
                option = next(o for o in options_for(knowledge, ways, zone) if o.sealer.id == sealer.id)
                tally.counts["states of a carrier, a row and a swab"] += 1
                tally.held |= {("bars", f.rule) for found in option.bars.values() for f in found}
                _judge(tally, option, zone, moves, clean, colour)


def _rows_by_level(knowledge: Knowledge, sealer: str) -> dict[tuple[str, str], int]:
    """Every row there is, with what this sealer's carrier does to it."""
    place = [s.id for s in carrying(knowledge)].index(sealer)
    tables = {"material": knowledge.materials, "inclusion": knowledge.inclusions, "medium": knowledge.media}
    return {(t, i): moved(knowledge, [(t, i)])[place] for t, rows in tables.items() for i in rows}


def _judge(tally: Tally, option: Option, zone: Zone, moves: int, clean: bool, colour: bool) -> None:
    usable = any(option.fits(r) for r in REASONS)
    where = f"{option.sealer.id} on {set(zone.wets)}"
    if usable and (moves == 2 or colour):
        tally.fault(f"2: {option.sealer.id} is let on what its carrier moves", where)
    if usable and moves == 1 and not clean and not _swab_wanted(option, zone):
        tally.fault(f"2: {option.sealer.id} is let on what its carrier may move, without a swab", where)


# ------------------------------------------------------------------ chains


def _chains(knowledge: Knowledge, tally: Tally, rng: random.Random, share: float) -> None:
    """All combinations of what is barred with all combinations of what is needed."""
    needs = [dict(zip(REASONS, n, strict=True)) for n in product(("required", "advised", "not needed"), repeat=3)]
    grounds = list(_grounds(knowledge))
    vectors = swabbed_vectors(knowledge)
    tally.counts["ways in which carriers can be open, doubtful or barred"] += len(vectors)
    every = list(product(grounds, vectors))
    chosen = _some(every, rng, share)
    for (zone, options), vector in shown(chosen, len(chosen), "chains of sealers"):
        have = tuple(_laid_over(o, state) for o, state in zip(options, vector, strict=True))
        for need in needs:
            fits = [o.sealer.id for o in have if all(o.fits(r) for r in REASONS if need[r] != "not needed")]
            for shared in (None, *fits):
                links, unmet = _links(zone, have, need, shared)  # type: ignore[arg-type]
                tally.counts["choices of sealers for a zone"] += 1
                for fault in _chain_faults(have, need, links, unmet):
                    tally.fault(f"4: {fault}", (zone.facts, need, shared))
                if unmet:
                    _unmet_outlets(knowledge, {}, zone, have, need, unmet)  # type: ignore[arg-type]


def _grounds(knowledge: Knowledge) -> Iterator[tuple[Zone, tuple[Option, ...]]]:
    """A zone for each outcome of all that bars beside carriers, with its real options."""
    seen = set()
    for kind, ways, brush, surface, darken, powdery in product(
        ("front", "features", "sides", "inclusion"),
        WAYS,
        ("holds", "tears"),
        ("open", "closed"),
        ("no", "yes"),
        (False, True),
    ):
        free = {"kind": kind, "surface": surface, "darken": darken, "brush": brush, "powdery": powdery}
        facts = {**INERT, **free}
        zone = _bare((kind, "sheet", "sheet"), facts)
        options = options_for(knowledge, ways, zone)
        outcome = (powdery, tuple(tuple(o.fits(r) for r in REASONS) for o in options))
        if outcome not in seen:
            seen.add(outcome)
            yield zone, options


def swabbed_vectors(knowledge: Knowledge) -> list[tuple[str, ...]]:
    """For all sealers at once: every way in which all mixes of rows, with every swab, leave their carriers.

    "open", "doubt" (may move something: only after a swab) or "barred".
    """
    sealers = [s for s in knowledge.sealers.values() if s.method != "none" and not is_gentle(knowledge, s)]
    found: set[tuple[str, ...]] = set()
    swabs = list(product(("none", "clean", "colour"), repeat=len(CARRIERS)))
    for levels in _all_moved(knowledge):
        by_id = dict(zip((s.id for s in carrying(knowledge)), levels, strict=True))
        for swab in swabs:
            seen = dict(zip(CARRIERS, swab, strict=True))
            found.add(tuple(_carrier_state(by_id.get(s.id, 0), seen.get(s.carrier, "none")) for s in sealers))  # type: ignore[call-overload]
    return sorted(found)


def _carrier_state(level: int, swab: str) -> str:
    if level == 2 or swab == "colour":
        return "barred"
    return "doubt" if level == 1 and swab != "clean" else "open"


def _all_moved(knowledge: Knowledge) -> set[tuple[int, ...]]:
    """What carriers do to every mix of any rows at all: the strongest of each, until nothing new comes."""
    tables = {"material": knowledge.materials, "inclusion": knowledge.inclusions, "medium": knowledge.media}
    singles = {moved(knowledge, [(t, i)]) for t, rows in tables.items() for i in rows}
    found, todo = set(singles), list(singles)
    for one in todo:
        for other in singles:
            new = join(one, other)
            if new not in found:
                found.add(new)
                todo.append(new)
    return found


def _laid_over(option: Option, state: str) -> Option:
    if state == "barred":
        return Option(option.sealer, 2, {r: (*option.bars[r], _BARRED) for r in REASONS}, 2)
    return Option(option.sealer, int(state == "doubt"), option.bars, int(state == "doubt"))


def _chain_faults(
    have: Iterable[Option],
    need: Mapping[Reason, str],
    links: Sequence[tuple[Option, Sequence[Reason]]],
    unmet: Sequence[Reason],
) -> Iterator[str]:
    wanted = [r for r in REASONS if need[r] != "not needed"]
    for option, reasons in links:
        for reason in reasons:
            if not option.fits(reason):
                yield f"{option.sealer.id} is used for {reason}, from which it is barred"
    served = [r for _, reasons in links for r in reasons]
    for reason in wanted:
        if (reason in served) == (reason in unmet):
            yield f"{reason} is neither served nor told, or both"
        if reason in unmet and any(o.fits(reason) for o in have):
            yield f"{reason} is given up though {[o.sealer.id for o in have if o.fits(reason)]} would do"
    if set(served) - set(wanted):
        yield "a reason that is not wanted is served"
