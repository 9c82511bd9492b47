"""Break each rule in turn and see who notices: python -m tests.proof.mutation [TABLE ...]

Each rule of every table is dropped, and its condition turned round; each need is set to another, each number
of coats to none; of each bar, every part of its condition is left out in turn. Whether a case of the trade (tests/cases/trade.toml) or one of the invariants notices is
told; what nobody notices is listed: give it a case, or take it out. A rule's own cases do not count here.
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache

from interview.plan.answers import Answers
from knowledge.conditions import Condition, Either, Every, Opposite
from knowledge.loading import Knowledge, load
from knowledge.shape import Need
from tests.proof import zones
from tests.proof.held import faults, look_at
from tests.proof.pieces import answers_for, single_bases
from tests.proof.tally import Tally, shown
from tests.test_trade import TABLE, test_the_trade_agrees

TABLES = (
    "needs", "bars", "coats", "preparations", "trials", "ways_out", "steps", "cautions", "remedies",
    "contradictions", "remarks",
)  # fmt: skip
OTHER: dict[Need, Need] = {
    "required": "not needed", "advised": "not needed", "must not": "required", "harmless": "required",
    "not needed": "required",
}  # fmt: skip
WALKED = 150
SHARE = 0.03


def mutants(knowledge: Knowledge, tables: Sequence[str] = TABLES) -> Iterator[tuple[str, Knowledge]]:
    """Each with one rule broken, named by table, rule and break."""
    for table in tables:
        rows = getattr(knowledge, table)
        for id, row in rows.items():
            yield (
                f"{table}: {id} dropped",
                replace(knowledge, **{table: {k: v for k, v in rows.items() if k != id}}),
            )
            breaks = (
                [("turned round", replace(row, when=Opposite(row.when)))]
                if table != "ways_out" or row.when.names()
                else []
            )
            if table == "needs":
                breaks.append(("weighed otherwise", replace(row, need=OTHER[row.need])))
            if table == "coats":
                breaks.append(("without coats", replace(row, least=0, most=0)))
            if table == "bars":  # one that holds where it should not, or not where it should, is what hurts
                breaks += [(f"without {name}", replace(row, when=when)) for name, when in without_a_part(row.when)]
            for how, new in breaks:
                yield f"{table}: {id} {how}", replace(knowledge, **{table: {**rows, id: new}})


def without_a_part(when: Condition) -> Iterator[tuple[str, Condition]]:
    """The condition with one part left out, at any depth; and of values any of which will do, with one less."""
    if isinstance(when, Every | Either):
        for n, part in enumerate(when.parts):
            before, after = when.parts[:n], when.parts[n + 1 :]
            if before or after:
                yield f"'{', '.join(sorted(part.names()))}'", replace(when, parts=(*before, *after))
            for name, less in without_a_part(part):
                yield name, replace(when, parts=(*before, less, *after))
    elif isinstance(when, Opposite):
        yield from ((name, replace(when, part=less)) for name, less in without_a_part(when.part))
    elif when.test == "among" and len(when.value) > 1:
        for value in when.value:
            yield f"'{when.of} {value}'", replace(when, value=tuple(v for v in when.value if v != value))


def noticed(knowledge: Knowledge, walked: Sequence[Answers], table: str = "") -> str:
    """Who notices that something is broken: a case of the trade or an invariant; nothing where nobody does."""
    for case in TABLE["case"]:
        try:
            test_the_trade_agrees(knowledge, case)
        except Exception:  # decided otherwise, or not to be decided at all: both are noticed
            return "a case of the trade"
    try:
        return "an invariant" if any(broken(knowledge, walked, table)) else ""
    except Exception:
        return "an invariant"


def broken(knowledge: Knowledge, walked: Sequence[Answers], table: str) -> Iterator[str]:
    """Every invariant that does not hold, over the pieces walked and, for needs and bars, over states of zones."""
    for answers in walked:
        yield from faults(look_at(knowledge, answers))
    for answers in walked[:20] if table == "bars" else ():
        yield from faults(look_at(_with_a_bad_shelf(knowledge), answers))
    for answers in walked if table == "remarks" else ():
        yield from (f for f in faults(look_at(with_a_small_shelf(knowledge), answers)) if f.startswith("4"))
    if table in ("needs", "bars"):
        tally, rng = Tally(), random.Random(5)
        zones.states_of_needs(knowledge, tally, rng, SHARE)
        zones.states_of_brushes(knowledge, tally, rng, SHARE / 3)
        zones.states_of_carriers(knowledge, tally)
        yield from tally.faults


@lru_cache(maxsize=2)
def _with_a_bad_shelf(knowledge: Knowledge) -> Knowledge:
    """With tins at hand that no one should use: one dries cloudy, one yellows."""
    tins = {
        f"cloudy {s.id}": replace(s, id=f"cloudy {s.id}", clear=False, at_hand=s.id, rank=0)
        for s in knowledge.sealers.values()
    } | {
        f"yellow {s.id}": replace(s, id=f"yellow {s.id}", yellows=2, at_hand=s.id, rank=0)
        for s in knowledge.sealers.values()
    }
    return replace(knowledge, sealers={**knowledge.sealers, **tins})


@lru_cache(maxsize=2)
def with_a_small_shelf(knowledge: Knowledge) -> Knowledge:
    """With two tins of which neither does all: one keeps resin out, another keeps air in."""
    tin = knowledge.sealers["brush_water_borne"]
    tins = {"a": replace(tin, id="a", blocks_air=0, tacks=0), "b": replace(tin, id="b", barrier=0, tacks=0)}
    return replace(knowledge, sealers=tins)


@lru_cache(maxsize=2)
def walk(knowledge: Knowledge) -> tuple[Answers, ...]:
    """The pieces that every mutant is asked for."""
    every = single_bases(knowledge)
    return tuple(answers_for(knowledge, base) for base in random.Random(8).sample(every, WALKED))


def main() -> int:
    """Returns 0 where everything broken is noticed."""
    knowledge = load()
    walked = walk(knowledge)
    assert not noticed(knowledge, walked, "needs"), "something is wrong before anything is broken"
    every = list(mutants(knowledge, sys.argv[1:] or TABLES))
    by: Counter[str] = Counter()
    alive = []
    for name, mutant in shown(every, len(every), "rules broken"):
        who = noticed(mutant, walked, name.split(":")[0])
        by[who] += 1
        alive += [] if who else [name]
    print(f"{len(every)} rules broken, with {len(TABLE['case'])} cases of the trade and {WALKED} pieces walked:")
    print("\n".join(f"  {count:>5} noticed by {who or 'nobody'}" for who, count in by.most_common()))
    print("\n".join(f"  {name}" for name in alive))
    return int(bool(alive))


if __name__ == "__main__":
    sys.exit(main())
