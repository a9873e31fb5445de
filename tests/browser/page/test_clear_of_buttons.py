"""What is spoken of in a scene does not lie under the buttons on its picture."""

from __future__ import annotations

import itertools

import pytest

from tests.browser.page.letters_seen import LOOK, Projection, meet

RESISTOR = ((0.07, 0.20), (-0.072, -0.045), (0.06, 0.085))  # where it stands in front of the meter, in metres


def test_the_resistor_is_not_under_the_buttons(page):
    page.set_up("moved-conductor", {"closed": True})
    page.tab.set_viewport_size({"width": 1366, "height": 768})
    page.settle()
    ((look,),) = page.tab.evaluate(LOOK, [[], 0])
    places = Projection(look["camera"], look["size"])(list(itertools.product(*RESISTOR)))
    box = (*places.min(axis=0), *places.max(axis=0))
    assert look["over"] and not [over for over in look["over"] if meet(box, over)], (box, look["over"])


FEET = {"alternator": ((-0.075, 0.075), (-0.117, -0.09), (-0.025, 0.025)), "cage-rotor": ((-0.085, 0.085), (-0.12, -0.1), (-0.03, 0.05))}
HANDS = {"alternator": ((-0.18, -0.11), (-0.035, 0.06), (0.035, 0.075)), "cage-rotor": ((0.075, 0.155), (-0.045, 0.005), (0.04, 0.08))}


# 990: the picture is as narrow as beside the panel of a lesson being made
@pytest.mark.parametrize(("name", "width"), [("alternator", 1366), ("cage-rotor", 1366), ("cage-rotor", 990)])
def test_what_a_machine_stands_on_and_its_hand_are_whole_and_clear_of_both_rows_of_buttons(page, name, width):
    page.set_up(name, {})
    page.tab.set_viewport_size({"width": width, "height": 768})
    page.settle()
    ((look,),) = page.tab.evaluate(LOOK, [[], 0])
    seen = Projection(look["camera"], look["size"])
    for part in (FEET[name], HANDS[name]):
        places = seen(list(itertools.product(*part)))
        (left, top), (right, bottom) = places.min(axis=0), places.max(axis=0)
        assert left >= 0 and top >= 0 and right <= look["size"][0] and bottom <= look["size"][1], (part, places)
        assert look["over"] and not [over for over in look["over"] if meet((left, top, right, bottom), over)], (part, look["over"])
