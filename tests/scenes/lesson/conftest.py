"""The desk at which a lesson is made."""

from __future__ import annotations

import pytest

from tests.scenes.lesson.desk import Desk


@pytest.fixture
def desk(tmp_path):
    made = Desk(tmp_path / "mine.toml")
    yield made
    made.file.thread.shutdown()
