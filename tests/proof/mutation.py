"""Break each rule in turn and see whether a case of the trade notices: python -m tests.proof.mutation [--show]

Every need, bar, coats, preparation, trial and contradiction is dropped; every need is flipped to its opposite;
coats are doubled. A rule whose loss nothing notices is listed: give it a case in tests/cases/trade.toml, or take it out.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import replace

from knowledge.loading import Knowledge, load
from tests.test_trade import TABLE, test_the_trade_agrees

FLIP = {"required": "not needed", "advised": "not needed", "must not": "required", "harmless": "required", "not needed": "required"}
SHELVES = ("needs", "bars", "coats", "preparations", "trials")


def mutants(knowledge: Knowledge) -> Iterator[tuple[str, Knowledge]]:
    for shelf in SHELVES:
        rows = getattr(knowledge, shelf)
        for id in rows:
            left = {k: v for k, v in rows.items() if k != id}
            yield f"{shelf}: {id} dropped", replace(knowledge, **{shelf: left})
    for id, rule in knowledge.needs.items():
        flipped = replace(rule, need=FLIP[rule.need])
        yield f"needs: {id} flipped to {flipped.need}", replace(knowledge, needs={**knowledge.needs, id: flipped})
    for id, coats in knowledge.coats.items():
        none = replace(coats, least=0, most=0)
        yield f"coats: {id} set to none", replace(knowledge, coats={**knowledge.coats, id: none})


def noticed(knowledge: Knowledge) -> bool:
    """Whether any case of the trade comes out otherwise, or cannot be decided at all."""
    for case in TABLE["case"]:
        try:
            test_the_trade_agrees(knowledge, case)
        except Exception:  # a wrong decision and a crash are noticed alike
            return True
    return False


def main() -> int:
    knowledge = load()
    assert not noticed(knowledge), "the trade does not agree with the rules as they are"
    all_of_them = list(mutants(knowledge))
    alive = []
    for number, (name, mutant) in enumerate(all_of_them, 1):
        if sys.stderr.isatty():
            print(f"\r{number} of {len(all_of_them)}", end="", file=sys.stderr)
        if not noticed(mutant):
            alive.append(name)
    print(f"\r{len(all_of_them)} rules broken, {len(all_of_them) - len(alive)} noticed by {len(TABLE['case'])} cases, {len(alive)} not:")
    print("\n".join(f"  {name}" for name in alive))
    return 0


if __name__ == "__main__":
    sys.exit(main())
