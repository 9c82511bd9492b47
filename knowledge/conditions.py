"""Conditions as data, with three values: they hold, they fail, or they are unknown for want of a fact.

One small form serves questions and rules. A condition is a list of tables, all of which must hold:

    when = [
      { of = "zone.surface", is = "open" },              # equal; for a set: contains
      { of = "support.family", among = ["wood", "board"] },   # one of; for a set: any of
      { of = "zone.air", at_least = 2 },
      { of = "media", known = true },
      { not = [ { of = "zone.covered", is = true } ] },
      { any = [ [ {...} ], [ {...} ] ] },
    ]

There are no expression strings and nothing is evaluated as code. Ask `holds` for the bare verdict; `outcome`
also tells which facts it rested on and which are missing. A condition is asked thousands of times for each piece,
so its `holds` is put together once, when it is made, from small closures.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

type_names = ("is", "among", "at_least", "at_most", "known")
Facts = Mapping[str, Any]
Verdict = Callable[[Facts], "bool | None"]
_ABSENT = object()
_MANY = frozenset((frozenset, tuple, list, set))


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a condition came to. `holds` is None while a fact in `missing` is wanting."""

    holds: bool | None
    because: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Leaf:
    """One comparison of one fact."""

    of: str
    test: str
    value: Any
    holds: Verdict = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "holds", _leaf_verdict(self.of, self.test, self.value))

    def outcome(self, facts: Facts) -> Outcome:
        if self.of not in facts and self.test != "known":
            return Outcome(None, (), (self.of,))
        return Outcome(self.holds(facts), (self.of,))

    def names(self) -> frozenset[str]:
        return frozenset((self.of,))


@dataclass(frozen=True, slots=True)
class Every:
    """All parts hold. The empty one always holds."""

    parts: tuple[Condition, ...] = ()
    holds: Verdict = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "holds", _all_of(tuple(p.holds for p in self.parts)))

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

    parts: tuple[Condition, ...] = ()
    holds: Verdict = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "holds", _any_of(tuple(p.holds for p in self.parts)))

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
    holds: Verdict = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "holds", _opposite_of(self.part.holds))

    def outcome(self, facts: Facts) -> Outcome:
        got = self.part.outcome(facts)
        return Outcome(None if got.holds is None else not got.holds, got.because, got.missing)

    def names(self) -> frozenset[str]:
        return self.part.names()


Condition = Leaf | Every | Either | Opposite


# ------------------------------------------------------------------ the bare verdict, put together once


def _leaf_verdict(fact: str, test: str, want: Any) -> Verdict:
    if test == "known":
        return lambda facts: (fact in facts) == want
    compare = _COMPARE[test]

    def holds(facts: Facts) -> bool | None:
        have = facts.get(fact, _ABSENT)
        return None if have is _ABSENT else compare(have, want)

    return holds


def _all_of(parts: Iterable[Verdict]) -> Verdict:
    def holds(facts: Facts) -> bool | None:
        verdict: bool | None = True
        for part in parts:
            got = part(facts)
            if got is False:
                return False
            if got is None:
                verdict = None
        return verdict

    return holds


def _any_of(parts: Iterable[Verdict]) -> Verdict:
    def holds(facts: Facts) -> bool | None:
        verdict: bool | None = False
        for part in parts:
            got = part(facts)
            if got:
                return True
            if got is None:
                verdict = None
        return verdict

    return holds


def _opposite_of(part: Verdict) -> Verdict:
    def holds(facts: Facts) -> bool | None:
        got = part(facts)
        return None if got is None else not got

    return holds


def _is(have: Any, want: Any) -> bool:
    return want in have if have.__class__ in _MANY else bool(have == want)


def _among(have: Any, want: Any) -> bool:
    return any(one in want for one in have) if have.__class__ in _MANY else have in want


def _at_least(have: Any, want: Any) -> bool:
    return isinstance(have, (int, float)) and have >= want


def _at_most(have: Any, want: Any) -> bool:
    return isinstance(have, (int, float)) and have <= want


_COMPARE: Mapping[str, Callable[[Any, Any], bool]] = {
    "is": _is, "among": _among, "at_least": _at_least, "at_most": _at_most,
}  # fmt: skip


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
    tests = [k for k in data if k != "of"]
    if "of" not in data or len(tests) != 1 or tests[0] not in type_names:
        raise ValueError(f"a condition needs 'of' and one of {', '.join(type_names)}; got {', '.join(map(str, data))}")
    if not isinstance(data["of"], str):
        raise ValueError(f"'of' is a name in quotes, not {data['of']!r}")
    return Leaf(data["of"], tests[0], _value(tests[0], data[tests[0]]))


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
