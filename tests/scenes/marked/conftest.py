"""A test that is held, and a page of a trainee who has begun."""

from __future__ import annotations

import pytest

from tests.scenes.marked.held import Held, Page


@pytest.fixture
def held(tmp_path, papers):
    return Held(tmp_path / "monday.jsonl", papers)


@pytest.fixture
def page(held):
    page = Page(held, "aa")
    held.settle()
    page.asks(do="begin", name="Ada")
    return page
