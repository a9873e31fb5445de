"""Markings that are left out stay so, however often what they stand on is hidden and shown."""

from __future__ import annotations

from visual.solid.solids import Group
from visual.solid.told import Told
from visual.terminal_box.markings import Stamped


def test_what_is_left_out_is_not_drawn_when_its_box_is_shown_again():
    box = Group()
    stamped = Stamped(box, [("U1", (0.0, 0.0, 0.0), 0.01, (1, 1, 1))])

    def shown_again() -> tuple[bool, int]:
        box.visible = False
        assert not stamped.drawn.visible
        box.visible = True
        found = Told()
        stamped.tell(found)
        return stamped.drawn.visible, len(found.letters)

    assert shown_again() == (True, 1)
    stamped.leave_out(True)
    assert not stamped.drawn.visible and shown_again() == (False, 0)
    stamped.leave_out(False)
    assert stamped.drawn.visible and shown_again() == (True, 1)
