"""What the tests of the scenes share: each sets up its own."""

from __future__ import annotations

import pytest


@pytest.fixture(scope="module")
def begins_with():
    return None
