"""A sample of `python -m tests.terminal.first_keys`."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from tests.terminal.first_keys import check


@pytest.mark.parametrize("seed", range(6))
def test_keys_typed_from_the_first_millisecond_are_kept_and_shown_once(tmp_path: Path, seed: int) -> None:
    check(random.Random(seed), tmp_path)
