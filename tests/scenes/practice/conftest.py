"""Where the tests keep a student's answers."""

from __future__ import annotations

import pytest


@pytest.fixture
def file(tmp_path):
    return tmp_path / "kept" / "practice.jsonl"
