"""Shared by the tests of the model."""

import pytest

from sim.workers import close_kept_pools


@pytest.fixture
def without_running_workers():
    """Begin without processes that an earlier test started: they would get the first season, and cannot know a fake."""
    close_kept_pools()
