"""Letters can be read on their patches, whatever the colours."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from visual import palette

COLOURS = st.tuples(*[st.floats(0, 1)] * 3)


def test_the_contrast_ratio_is_wcag_s():
    # WCAG 2.2: white on black is 21 : 1; #767676 is the lightest grey with 4.5 : 1 on white (4.54, known from WCAG's own
    # understanding documents, quoted from memory)
    assert palette.contrast((1, 1, 1), (0, 0, 0)) == pytest.approx(21)
    grey = (0x76 / 255,) * 3
    assert palette.contrast(grey, (1, 1, 1)) == pytest.approx(4.54, abs=0.005)


@given(COLOURS, COLOURS)
def test_letters_are_readable_on_any_patch(ink, ground):
    chosen = palette.readable(ink, ground)
    assert palette.contrast(chosen, ground) >= 4.5
    if palette.contrast(ink, ground) >= 4.5:
        assert chosen == ink
