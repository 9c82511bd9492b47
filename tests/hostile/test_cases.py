"""What the fuzzer found stays mended, and a sample of new inputs finds nothing more."""

from __future__ import annotations

import pytest

from tests.hostile.common import Target
from tests.hostile.fuzzing import CASES, cases_of, run_chunk
from tests.hostile.targets import BY_NAME, TARGETS
from tests.hostile.watching import attempt


@pytest.mark.parametrize("name", BY_NAME)
def test_what_was_found_stays_mended(name: str) -> None:
    for path in cases_of(name):
        tried = attempt(BY_NAME[name], path.read_bytes())
        assert tried.find is None, f"{path.name}: {tried.find.trouble}"


def test_every_case_belongs_to_a_target() -> None:
    assert {path.name for path in CASES.iterdir()} <= BY_NAME.keys()


@pytest.mark.parametrize("target", TARGETS, ids=lambda t: t.name)
def test_a_sample_of_new_inputs(target: Target) -> None:
    tally = run_chunk(target.name, seed=20, inputs=target.sample)
    assert not tally.finds, next(iter(tally.finds.values())).trouble
    assert len(tally.outcomes) > 2, "the inputs all come out alike: they do not reach what they are for"


def test_a_fault_would_be_found() -> None:
    """The fuzzer on something that fails for some inputs, hangs for others."""

    def run(data: bytes) -> str:
        while b"hang" in data:
            pass
        return str(1 // (len(data) - 3))

    target = Target("wrong", 1, 1, run, lambda: [b"x"])
    assert attempt(target, b"abcd").find is None
    found = attempt(target, b"abc").find
    assert found and "ZeroDivisionError" in found.where
    found = attempt(target, b"hang", patience=0.2).find
    assert found and "Hang" in found.where
