"""Conditions as data, with three values: they hold, they fail, or they are unknown for want of a fact.

One small form serves questions and rules. A condition is a list of tables, all of which must hold:

    when = [
      { fact = "zone.surface", is = "open" },              # equal; for a set: contains
      { fact = "support.family", among = ["wood", "board"] },   # one of; for a set: any of
      { fact = "zone.air", at_least = 2 },
      { fact = "media", known = true },
      { not = [ { fact = "zone.covered", is = true } ] },
      { any = [ [ {...} ], [ {...} ] ] },
    ]

There are no expression strings and nothing is evaluated as code. Ask `holds` for the bare verdict; `outcome`
also tells which facts it rested on and which are missing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

type_names = ("is", "among", "at_least", "at_most", "known")
Facts = Mapping[str, Any]
_ABSENT = object()


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a condition came to. `holds` is None while a fact in `missing` is wanting."""

    holds: bool | None
    because: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Leaf:
    """One comparison of one fact."""

    fact: str
    test: str
    value: Any

    def holds(self, facts: Facts) -> bool | None:
        if self.test == "known":
            return (self.fact in facts) == self.value
        have = facts.get(self.fact, _ABSENT)
        return None if have is _ABSENT else _compare(have, self.test, self.value)

    def outcome(self, facts: Facts) -> Outcome:
        present = self.fact in facts
        if self.test == "known":
            return Outcome(present == self.value, (self.fact,))
        if not present:
            return Outcome(None, (), (self.fact,))
        return Outcome(_compare(facts[self.fact], self.test, self.value), (self.fact,))

    def names(self) -> frozenset[str]:
        return frozenset((self.fact,))


@dataclass(frozen=True, slots=True)
class Every:
    """All parts hold. The empty one always holds."""

    parts: tuple[Condition, ...] = ()

    def holds(self, facts: Facts) -> bool | None:
        verdict: bool | None = True
        for part in self.parts:
            got = part.holds(facts)
            if got is False:
                return False
            if got is None:
                verdict = None
        return verdict

    def outcome(self, facts: Facts) -> Outcome:
        because: list[str] = []
        missing: list[str] = []
        for part in self.parts:
            got = part.outcome(facts)
            if got.holds is False:
                return got
            because += got.because
            missing += got.missing
        return Outcome(None if missing else True, tuple(because), tuple(missing))

    def names(self) -> frozenset[str]:
        return frozenset().union(*(p.names() for p in self.parts)) if self.parts else frozenset()


@dataclass(frozen=True, slots=True)
class Either:
    """At least one part holds."""

    parts: tuple[Condition, ...] = field(default=())

    def holds(self, facts: Facts) -> bool | None:
        verdict: bool | None = False
        for part in self.parts:
            got = part.holds(facts)
            if got:
                return True
            if got is None:
                verdict = None
        return verdict

    def outcome(self, facts: Facts) -> Outcome:
        missing: list[str] = []
        because: list[str] = []
        for part in self.parts:
            got = part.outcome(facts)
            if got.holds:
                return got
            because += got.because
            missing += got.missing
        return Outcome(None if missing else False, tuple(because), tuple(missing))

    def names(self) -> frozenset[str]:
        return frozenset().union(*(p.names() for p in self.parts))


@dataclass(frozen=True, slots=True)
class Opposite:
    """The part fails."""

    part: Condition

    def holds(self, facts: Facts) -> bool | None:
        got = self.part.holds(facts)
        return None if got is None else not got

    def outcome(self, facts: Facts) -> Outcome:
        got = self.part.outcome(facts)
        return Outcome(None if got.holds is None else not got.holds, got.because, got.missing)

    def names(self) -> frozenset[str]:
        return self.part.names()


Condition = Leaf | Every | Either | Opposite


def _compare(have: Any, test: str, want: Any) -> bool:
    many = isinstance(have, (frozenset, tuple, list, set))
    if test == "is":
        return want in have if many else have == want
    if test == "among":
        return any(one in want for one in have) if many else have in want
    if many or not isinstance(have, (int, float)):
        return False
    return have >= want if test == "at_least" else have <= want


def read_condition(data: Any) -> Condition:
    """Turn the TOML form into a condition. Raises ValueError with one line that says what is wrong."""
    if isinstance(data, list):
        return Every(tuple(read_condition(d) for d in data))
    if not isinstance(data, dict):
        raise ValueError(f"a condition is a list of tables, not {data!r}")
    if "not" in data:
        _only(data, "not")
        return Opposite(read_condition(data["not"]))
    if "any" in data:
        _only(data, "any")
        if not isinstance(data["any"], list) or not data["any"]:
            raise ValueError("'any' needs a list of conditions")
        return Either(tuple(read_condition(d) for d in data["any"]))
    tests = [k for k in data if k != "fact"]
    if "fact" not in data or len(tests) != 1 or tests[0] not in type_names:
        raise ValueError(f"a condition needs 'fact' and one of {', '.join(type_names)}; got {', '.join(map(str, data))}")
    if not isinstance(data["fact"], str):
        raise ValueError(f"'fact' is a name in quotes, not {data['fact']!r}")
    return Leaf(data["fact"], tests[0], _value(tests[0], data[tests[0]]))


def _value(test: str, value: Any) -> Any:
    if test == "among":
        if not isinstance(value, list):
            raise ValueError(f"'among' needs a list, not {value!r}")
        return tuple(value)
    if test in ("at_least", "at_most") and (isinstance(value, bool) or not isinstance(value, (int, float))):
        raise ValueError(f"'{test}' needs a number, not {value!r}")
    if test == "known" and not isinstance(value, bool):
        raise ValueError(f"'known' needs true or false, not {value!r}")
    return value


def _only(data: dict[str, Any], key: str) -> None:
    if len(data) != 1:
        raise ValueError(f"'{key}' stands alone in its table; got {', '.join(data)}")
