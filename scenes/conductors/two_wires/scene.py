"""Force between two currents: a pair of parallel wires hung side by side, each in the field of the other."""

from __future__ import annotations

from scenes.conductors.two_wires import kinds, picture, question, readings, snapshot
from scenes.conductors.two_wires.snapshot import LONGEST
from scenes.scene.controls import Choice, Number, Switch, slow_motion
from scenes.scene.scene import Key
from scenes.scene.story import Story
from scenes.scene.views import View
from visual import palette


class TwoWires(Story, parts=(snapshot, picture, readings, question, kinds)):
    name = "two-wires"
    title = "Force between two currents"
    principle = "Each wire lies in the field of the other: currents in the same direction attract, opposite currents repel."
    controls = (
        Switch("switch", "Switches closed", True),
        Number("current", "Current in the left wire, toward end P", 40.0, "A", -50.0, 50.0, 1.0, role="current"),
        Number("other", "Current in the right wire, toward end P", 40.0, "A", -50.0, 50.0, 1.0),
        Number("spacing", "Spacing of the wires without current", 50.0, "mm", 30.0, 80.0, 5.0),
        Number("length", "Length of the wires", 200.0, "mm", 80.0, LONGEST * 1000, 20.0),
        Choice("wire", "Wire looked at", "left", (("left", "the left wire"), ("right", "the right wire"))),
        slow_motion("1"),
    )
    arrows = (
        Key("I", "current in each wire", palette.HEX["current"], "A"),
        Key("B", "field of each wire at the middle of the other", palette.HEX["field"], "T"),
        Key("F", "force on each wire from the other", palette.HEX["force"], "N"),
    )
    subject = (
        *(((side * 0.155 - 0.01, 0.02, -0.015), (side * 0.155 + 0.01, 0.105, 0.04)) for side in (-1, 1)),
        ((-0.14, -0.066, -0.13), (0.14, -0.03, 0.12)),
        ((-0.06, 0.0, -0.13), (0.06, 0.12, 0.12)),
    )
    letters = ("F", "F", "I", "I", "B", "hand", "P", "P")
    views = (
        View("corner", "from the front corner", (-0.36, -0.4, -1.0)),
        View("front", "along the wires", (0.3, -0.36, -1.0)),
        View("high", "from above and in front", (0.26, -0.62, -1.0)),
    )
    caution = (
        "Fifty amperes heat a thin wire quickly: switch on only briefly. The force grows as the square of the "
        "current: in a short circuit, 50,000 amperes in busbars 100 mm apart give 5000 newtons on each metre. Busbars and cables are "
        "braced for that; keep to your local code."
    )
    leaves_out = (
        "The wires do not stretch or bend, and the leads they hang from have no weight and no stiffness.",
        "The variable resistors that set the currents and the fuses are not drawn.",
        "A swinging wire generates a few microvolts, which change the current by too little to read.",
        "Where go and return leads run side by side, along the rails and to the post, their fields are taken to cancel.",
    )
    narration = "Two wires hang side by side. Currents in the same direction draw them together, opposite currents push them apart."
    starts_anew = ("spacing", "length")  # different wires are hung up
