"""What all tests share: the knowledge, loaded once; no time limit on examples, for machines that are busy."""

from __future__ import annotations

import pytest
from hypothesis import settings

from knowledge.loading import Knowledge, load

settings.register_profile("patient", deadline=None)
settings.load_profile("patient")


@pytest.fixture(scope="session")
def knowledge() -> Knowledge:
    return load()
