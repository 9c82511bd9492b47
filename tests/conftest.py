"""What all tests share: the knowledge, loaded once."""

from __future__ import annotations

import pytest

from knowledge.loading import Knowledge, load


@pytest.fixture(scope="session")
def knowledge() -> Knowledge:
    return load()
