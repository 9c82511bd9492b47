"""What all tests share: the knowledge, loaded once; no time limit on examples, for machines that are busy.

The run is the same each time. HYPOTHESIS_PROFILE=searching looks for examples anew.
"""

from __future__ import annotations

import os

import pytest
from hypothesis import settings

from knowledge.loading import Knowledge, load

os.environ["BEFOREPOUR_TRACEBACK"] = "1"  # a fault of ours shows whole
settings.register_profile("searching", deadline=None)
settings.register_profile("same", deadline=None, derandomize=True)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "same"))


@pytest.fixture(scope="session")
def knowledge() -> Knowledge:
    return load()
