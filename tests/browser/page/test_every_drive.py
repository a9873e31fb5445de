"""Every scene of a drive in every window."""

from __future__ import annotations

import pytest

from scenes import catalogue
from tests.browser.page.every_window import look_at

NAMES = [scene.name for scene in catalogue.LESSON if ".drives." in scene.__module__]


@pytest.mark.parametrize("name", NAMES)
def test_letters_stand_apart_the_subject_fills_the_picture_and_all_fits_and_can_be_used(name, page, run_beside):
    look_at(page, name, run_beside)
