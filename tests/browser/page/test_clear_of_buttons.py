"""What is spoken of in a scene does not lie under the buttons on its picture."""

from __future__ import annotations

import itertools

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
