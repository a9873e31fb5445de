"""A test that is held, and a page of a trainee who has begun."""

from __future__ import annotations

import pytest

from scenes.marked.papers import Papers
from tests.made_once import made_anew
from tests.scenes.marked.held import Held, Page
from visual.host.server import Host


@pytest.fixture(scope="module")
def papers():
    """With the scenes built once: that takes longer than most of these tests."""
    with pytest.MonkeyPatch.context() as patch:
        made_anew(patch)
        yield Papers(Host())


@pytest.fixture
def held(tmp_path, papers):
    return Held(tmp_path / "monday.jsonl", papers)


@pytest.fixture
def page(held):
    page = Page(held, "aa")
    held.settle()
    page.asks(do="begin", name="Ada")
    return page
