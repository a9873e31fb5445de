"""Scenes that a test runs beside the page."""

from __future__ import annotations

import pytest

from tests.browser.page.letters_seen import keep_corners
from tests.made_once import made_anew


@pytest.fixture(scope="module")
def run_beside():
    """Scenes by their names, made when they are first looked at; the triangles' corners of all that they draw are kept."""
    with pytest.MonkeyPatch.context() as patch:
        keep_corners(patch)
        made_anew(patch)
        yield {}
