"""How well troubles are told apart: python -m tests.rescue.measure FILE [--each].

The maker of a case says `says`; a look is answered out of `told`, and "not sure" where that holds nothing of it.
Printed: first cause right, right among the first two, harmful cases (an advised action that the case forbids),
looks asked a case, and how much of the case's path ours holds. --each lists what went another way.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import tomli

from interview.reading.trouble_words import Heard, read_trouble
from interview.reasoning.rescue import Pace, Seen, found, next_look, ranked
from knowledge.troubles import Look, Troubles, load_troubles, since_of

ANSWERED_BY = {  # look -> key of `told` that answers it, where they differ
    "seal": "before", "beneath": "before", "poured": "before", "later": "before",
}  # fmt: skip
FINER = {  # signs of ours -> the sign of the cases that they are a part of
    "thin_rim": "low_spots", "ropes": "ripples", "tape_run_under": "tape_trouble", "tape_tore": "tape_trouble",
    "peels_coats": "peels", "flowers_brown": "colour_turned", "swirls": "sticky_spots", "sank": "floaters",
    "overheated": "cracks",
}  # fmt: skip
SAME = {"weighed as volume": "by eye"}  # words of the cases -> finds of ours


@dataclass(frozen=True, slots=True)
class Result:
    """One case played. `causes`: ours, the likeliest first; `actions`: what we advise."""

    case: Mapping[str, Any]
    causes: tuple[str, ...]
    actions: tuple[str, ...]
    asked: tuple[str, ...]
    heard: Heard

    @property
    def wanted(self) -> frozenset[str]:
        return frozenset((self.case["first"], *self.case["also_ok"]))

    @property
    def first(self) -> bool:
        return self.causes[:1] == (self.case["first"],)

    @property
    def fair(self) -> bool:
        return bool(self.wanted & set(self.causes[:1]))

    @property
    def two(self) -> bool:
        return self.case["first"] in self.causes[:2]

    @property
    def harm(self) -> frozenset[str]:
        return frozenset(self.actions) & frozenset(self.case["never"])

    @property
    def path(self) -> float:
        wanted = frozenset(self.case["path"])
        return len(wanted & set(self.actions)) / len(wanted)


def play(case: Mapping[str, Any], troubles: Troubles) -> Result:
    """One case, from the maker's first words to the path."""
    heard = read_trouble(case["says"], troubles)
    if heard.hazards:
        causes = tuple(dict.fromkeys(alarm.cause for alarm in heard.hazards))
        return Result(case, causes, troubles.hazards[heard.hazards[0].id].actions, (), heard)
    seen = Seen(heard.signs, dict(heard.finds), heard.hours)
    asked: list[str] = []
    if heard.doubtful:
        asked.append("which sign")
        shown = [s for s, _ in heard.signs if case["sign"] in (s, FINER.get(s))]
        seen = replace(seen, signs=tuple((s, 1.0) for s in shown[:1]), asked=1)
    if not seen.signs:
        asked += ["group", "sign"]
        known = case["sign"] in troubles.signs
        seen = replace(seen, signs=((case["sign"], 1.0),) if known else (), asked=seen.asked + 2)
    if not seen.signs:
        return Result(case, (), (), tuple(asked), heard)
    pace = Pace()
    while (look := next_look(troubles, seen, pace)) is not None:
        asked.append(look.id)
        hours = case["told"].get("hours") if look.id == "since" else seen.hours
        seen = replace(seen, finds={**seen.finds, look.id: _told(case, look)}, hours=hours, asked=seen.asked + 1)
    causes = tuple(cause.id for cause, _ in ranked(troubles, seen)[:3])
    return Result(case, causes, found(troubles, seen, pace).way.actions, tuple(asked), heard)


def _told(case: Mapping[str, Any], look: Look) -> str | None:
    told = case["told"]
    if look.id == "begun":
        return "not yet" if case["stage"] == "before" else "yes"
    if look.id == "since":
        return since_of(told["hours"]) if "hours" in told else None
    value = told.get(ANSWERED_BY.get(look.id, look.id))
    value = SAME.get(value, value) if value else None
    return value if value in {find.id for find in look.finds} else None


def played(path: Path) -> list[Result]:
    troubles = load_troubles()
    return [play(case, troubles) for case in tomli.loads(path.read_text(encoding="utf-8"))["case"]]


def lines(results: list[Result]) -> Iterator[str]:
    number = len(results)
    yield f"cases                      {number}"
    for name, share in (
        ("first cause", sum(r.first for r in results) / number),
        ("first cause or a fair one", sum(r.fair for r in results) / number),
        ("among the first two", sum(r.two for r in results) / number),
        ("path, share of its steps", sum(r.path for r in results) / number),
        ("path, half of it or more", sum(r.path >= 0.5 for r in results) / number),
    ):
        yield f"{name:<26} {share:.3f}"
    yield f"harmful                    {sum(bool(r.harm) for r in results)}"
    yield f"looks a case               {sum(len(r.asked) for r in results) / number:.2f}"


def each(results: list[Result]) -> Iterator[str]:
    for r in results:
        if r.first and not r.harm and r.path >= 0.5:
            continue
        yield f"{'' if r.first else 'CAUSE '}{'HARM ' if r.harm else ''}{'' if r.path >= 0.5 else 'PATH '}{r.case['says']}"
        yield f"    signs {r.heard.signs} finds {r.heard.finds} hazards {[a.id for a in r.heard.hazards]}"
        yield f"    asked {', '.join(r.asked)}; told {dict(r.case['told'])}"
        yield f"    ours {', '.join(r.causes)}; theirs {r.case['sign']}: {r.case['first']} {r.case['also_ok']}"
        yield f"    path {', '.join(r.actions)}; theirs {', '.join(r.case['path'])}; never {', '.join(r.case['never'])}"


if __name__ == "__main__":
    got = played(Path(sys.argv[1]))
    print("\n".join([*(each(got) if "--each" in sys.argv else ()), *lines(got)]))
