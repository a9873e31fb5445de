"""What the tests of the page share: what it shows when one begins, and scenes that are run beside it."""

from __future__ import annotations

import pytest

from tests.browser.page.letters_seen import keep_corners
from tests.made_once import made_anew


@pytest.fixture(scope="module")
def begins_with():
    return None


@pytest.fixture(scope="module")
def corners_kept():
    """Of all that is drawn in this process the triangles' corners are kept."""
    with pytest.MonkeyPatch.context() as patch:
        keep_corners(patch)
        made_anew(patch)
        yield
