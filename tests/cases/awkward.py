"""Pieces a practitioner told, against what the plan does to them: python -m tests.cases.awkward FILE

Each piece of FILE (its head tells the keys) is answered as it says, the rest as [usual] of trade.toml, and planned.
Looked at without a person: whether a step does what must never be done there before that state (`never`), whether each
part has its verdict, and those of `must` that are plain facts of a plan. Prints what is wrong, piece by piece.
"""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from interview.plan.answers import Answers
from interview.plan.parts import Step, Zone
from interview.plan.plain_values import value_from_plain
from interview.reasoning.circumstances import settled
from interview.reasoning.deciding import decide_from
from interview.reasoning.playing import Scene, State, play, reached, scene, start
from interview.reasoning.rehearsal import rehearse
from interview.reasoning.summing_up import headline
from knowledge.loading import Knowledge, load
from tests.test_trade import TABLE

FILE = Path(__file__).parent / "awkward.toml"
# what a practitioner's word covers, by id of actions/
COVERS: Mapping[str, tuple[str, ...]] = {
    "brush": ("brush", "soft_brush", "stiff_brush"), "dust_brush": ("soft_brush", "stiff_brush"),
    "wipe": ("dry_wipe", "damp_wipe", "soapy_wipe", "alcohol_wipe", "spirit_wipe", "acetone_wipe", "tack_cloth"),
    "wash": ("wash",), "soak": ("soak", "dip"), "scrub": ("stiff_brush", "scrape", "scuff"), "sand": ("sand", "scuff"),
    "blast": ("blow", "air_duster", "heat_gun"), "roll": ("roll",), "tape": ("tape_on",), "strip": ("strip_paint", "scrape"),
    "press": ("roll", "weigh", "press_dry", "press_by_hand", "iron", "dab"), "torch": ("torch", "heat_gun"),
    "heat": ("warm_air", "heat_gun", "oven", "iron", "microwave", "torch"), "spray": ("spray",),
}  # fmt: skip
LIQUIDS = {"solvent": ("hydrocarbon", "strong"), "water": ("water",), "alcohol": ("alcohol",)}
PLACES = {"back": ("back",), "edge": ("edges", "sides"), "edges": ("edges", "sides"), "sides": ("sides", "edges")}
WET = {"damp", "wet", "fresh", "young"}
PASSED_OVER = frozenset(
    [
        "the",
        "a",
        "an",
        "of",
        "on",
        "in",
        "old",
        "new",
        "wet",
        "loose",
        "dry",
        "young",
        "soft",
        "bare",
        "damp",
        "fresh",
        "original",
        "face",
        "under",
    ]
)


@dataclass(frozen=True, slots=True)
class Shown:
    """One piece, planned and played."""

    piece: Mapping[str, Any]
    knowledge: Knowledge
    scene: Scene
    work: tuple[Step, ...]
    states: tuple[State, ...]  # before each step


def answers_of(knowledge: Knowledge, told: Mapping[str, Any]) -> Answers:
    """What the file says of the piece and the program knows of; the rest as usual."""
    answers = Answers()
    for question in knowledge.questions.values():
        plain = told.get(question.id, TABLE["usual"].get(question.id))
        if plain is not None and question.part in ("piece", "trials"):
            answers = answers.say(question.id, value_from_plain(question, plain))
    return answers


def shown(knowledge: Knowledge, piece: Mapping[str, Any]) -> Shown:
    """Plan it, and play its steps."""
    answers = answers_of(knowledge, piece["answers"])
    decided, facts = decide_from(knowledge, settled(knowledge, answers))
    decision, work = rehearse(knowledge, decided, facts)
    on = scene(knowledge, decision, facts)
    return Shown(piece, knowledge, on, work, (start(on), *play(on, work, past=True).states))


def faults(it: Shown) -> Iterator[str]:
    """Everything that is not as the practitioner has it."""
    for told in it.piece.get("never", ()):
        yield from _done(it, told)
    for part, verdict in it.piece.get("verdict", {}).items():
        got = {_verdict(it, z) for z in _parts(it, part)}
        if got and verdict not in got:
            yield f"verdict: {part} is {' and '.join(sorted(got))}, not {verdict}"
    for words in it.piece.get("must", ()):
        if not _there(it, words):
            yield f"must: {words}"


def _done(it: Shown, told: Mapping[str, str]) -> Iterator[str]:
    """Every step that does there what it must not, in a state that is not yet reached."""
    for step, state in zip(it.work, it.states, strict=False):
        for action in step.does:
            if action not in COVERS.get(told["action"], (told["action"],)) or not _same_liquid(it, step, action, told):
                continue
            for zone in reached(it.scene, step, it.knowledge.actions[action]):
                there = zone.id in {z.id for z in _zones_of(it, told["on"], step)}
                if there and not _reached(it, step, state, zone, told):
                    yield f"never: {step.id} does {action} to {zone.id} ({told['on']}, until {told.get('until', 'never')})"
                    return


def _same_liquid(it: Shown, step: Step, action: str, told: Mapping[str, str]) -> bool:
    if "liquid" not in told:
        return True
    row = it.knowledge.actions[action]
    liquid = row.liquid
    if liquid == "carrier":
        liquid = it.knowledge.sealers[step.sealer].carrier if step.sealer else "water"
    return liquid in LIQUIDS.get(told["liquid"], (told["liquid"],))


def _reached(it: Shown, step: Step, state: State, zone: Zone, told: Mapping[str, str]) -> bool:
    """What is pressed into its glue counts as glued; of "damp leather" only the damp one is meant."""
    until = told.get("until", "never")
    rule = it.knowledge.preparations.get(step.id.split(".")[1])
    if until == "glued" and rule is not None and rule.makes == "glued":
        return True
    if until == "dry" or WET & set(told["on"].split()):
        return not {"damp", "fresh"} & state[zone.id]
    return until in state[zone.id]


def _zones_of(it: Shown, words: str, step: Step) -> Iterator[Zone]:
    """The zones where these words are found; on a drawing, not where the step keeps off it."""
    tokens = {w.rstrip("s") for w in words.casefold().replace("-", " ").split()} - PASSED_OVER
    kinds = [k for w in words.casefold().split() for k in PLACES.get(w, ())]
    if "under" in words.split():
        return  # no step works there
    found = [(table, row) for table, row in _rows(it) if tokens & _words_of(row)]
    for zone in it.scene.zones.values():
        if kinds and zone.kind not in kinds:
            continue
        named = {i for _, i in zone.wets}
        hit = [(t, r) for t, r in found if r.id in named and (zone.kind != "inclusion" or zone.id == f"laid_{r.id}")]
        if step.spares and all(t != "materials" for t, _ in hit):
            continue
        if hit or (not found and (kinds or zone.kind == "front")):
            yield zone


def _rows(it: Shown) -> Iterator[tuple[str, Any]]:
    wets = {pair for z in it.scene.zones.values() for pair in z.wets}
    names = {"material": "materials", "medium": "media", "inclusion": "inclusions"}
    yield from ((names[table], getattr(it.knowledge, names[table])[id]) for table, id in sorted(wets))


def _words_of(row: Any) -> set[str]:
    said = " ".join((row.name, *row.also, row.id.replace("_", " "))).casefold()
    return {w.rstrip("s") for w in said.replace("-", " ").split()} - PASSED_OVER


def _parts(it: Shown, part: str) -> list[Zone]:
    kinds = {"face": ("front",), "back": ("back",), "edges": ("edges", "sides"), "thing": ("inclusion",)}[part]
    return [z for z in it.scene.zones.values() if z.kind in kinds]


def _verdict(it: Shown, zone: Zone) -> str:
    out = [o for o in it.scene.decision.outlets if zone.id in o.zones]
    if out:
        return "stop" if any(o.sign == "stop" for o in out) else "find_a_way"
    mine = [t for t in it.scene.decision.treatments if zone.id in t.zones]
    if any(t.gentle for t in mine):
        return "find_a_way"
    return "seal" if mine else "not_needed"


def _there(it: Shown, words: str) -> bool:
    """Those that are plain facts of a plan; of all others nothing can be said here."""
    decision = it.scene.decision
    preps, trials = {p.id.partition(".")[0] for p in decision.preps}, {t.id for t in decision.trials}
    outlets = {o.id for o in decision.outlets}
    facts = {
        "copy first": "copy_first" in preps, "lead test": "lead" in trials, "no brush": _no_brush(it),
        "only the bare": any(s.spares for s in it.work), "fixative": any("fixative" in t.sealer for t in decision.treatments),
        "coat a print": bool(outlets & {"copy", "specialist", "copy_the_only_one", "replace"}),
        "glue down": bool(preps & {"glue_down", "glue_things", "mount_sheet", "glue_jigsaw"}),
        "weigh until constant": "dry_piece" in preps, "dry first": bool(preps & {"dry_piece", "dry_natural"} or "dry_first" in outlets),
        "gaps filled": True,
    }  # fmt: skip
    return next((holds for key, holds in facts.items() if words.startswith(key)), True)


def _no_brush(it: Shown) -> bool:
    return all("brush" not in s.does for s in it.work if set(s.zones) & {z.id for z in _parts(it, "thing")})


def read(path: Path) -> list[dict[str, Any]]:
    return list(tomllib.loads(path.read_text(encoding="utf-8"))["piece"])


def main() -> int:
    """Returns 0 where no piece is harmed."""
    knowledge = load()
    pieces = read(Path(sys.argv[1]) if len(sys.argv) > 1 else FILE)
    right = unsafe = 0
    for piece in pieces:
        it = shown(knowledge, piece)
        wrong = list(faults(it))
        right += not wrong
        unsafe += any(w.startswith("never") for w in wrong)
        print(f"{'right' if not wrong else 'WRONG'}  {piece['id']}: {headline(it.scene.decision)}")
        print("".join(f"       {w}\n" for w in wrong), end="")
    print(f"{right} of {len(pieces)} right as far as can be told without a person, {unsafe} unsafe")
    return int(bool(unsafe))


if __name__ == "__main__":
    sys.exit(main())
