"""A real pseudo-terminal on a busy machine may miss a moment: such a test gets two more tries before it counts as failed."""

from __future__ import annotations

import pytest


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if "test_screens" in item.nodeid or "tests/hostile/test_killed" in item.nodeid:
            item.add_marker(pytest.mark.flaky(reruns=2))
