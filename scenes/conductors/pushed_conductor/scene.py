"""A conductor with current is pushed out of a field: a rod hung on leads between the poles of a magnet."""

from __future__ import annotations

from scenes.conductors.pushed_conductor import kinds, picture, question, readings, snapshot
from scenes.scene.controls import Choice, Number, Switch, slow_motion
from scenes.scene.scene import Key
from scenes.scene.story import Story
from scenes.scene.views import View
from visual import palette

# magnet, battery and hung rod; beside them stands the hand
BENCH = (
    ((-0.06, -0.062, -0.055), (0.06, 0.062, 0.055)),
    ((0.09, -0.085, -0.085), (0.16, -0.03, 0.01)),
    ((-0.09, 0.0, -0.03), (0.088, 0.12, 0.03)),
)


class PushedConductor(Story, parts=(snapshot, picture, readings, question, kinds)):
    name = "pushed-conductor"
    title = "A conductor with current is pushed"
    principle = "A conductor with current across a field is pushed at right angles to both: the left hand gives the direction."
    controls = (
        Switch("switch", "Switch closed", True),
        Number("current", "Current toward the marked end of the rod", 8.0, "A", -20.0, 20.0, 0.5, role="current"),
        Choice("field", "Field across the rod", "up", (("up", "upward (N pole below)"), ("down", "downward (N pole above)")), role="field"),
        Number("tilt", "Marked end of the rod raised", 0.0, "°", -90.0, 90.0, 15.0),
        slow_motion("1"),
    )
    arrows = (
        Key("B", "field, mean along the rod", palette.HEX["field"], "T"),
        Key("I", "current in the rod", palette.HEX["current"], "A"),
        Key("F", "force on the rod", palette.HEX["force"], "N"),
    )
    subject = (*BENCH, ((-0.16, -0.07, 0.015), (-0.085, 0.03, 0.075)))
    letters = ("F", "B", "I", "hand", "N", "S", "+")
    views = (
        View("corner", "from the front corner", (-0.46, -0.44, -1.0)),
        View("front", "along the rod", (0.55, -0.35, -1.0)),
        View("side", "across the rod", (-1.0, -0.35, -0.55), subject=(*BENCH, ((-0.06, -0.06, 0.1), (0.02, 0.05, 0.19)))),
    )
    caution = (
        "Strong magnets snap together and pinch; keep them from watches and pacemakers. Leads that carry ten amperes get hot: "
        "switch on only briefly, and keep to your local rules."
    )
    leaves_out = (
        "The current stays as set; the few millivolts that the swinging rod generates are left out.",
        "The field of rod and leads and that of the Earth: less than a thousandth of the magnet's.",
        "The leads swing as one stiff frame with the rod; the drag of air and joints is a fixed damping.",
    )
    narration = "A rod hangs between the poles of a magnet. Switch the current on, and it is pushed out sideways."
    starts_anew = ("tilt",)  # the rod is held while it is tilted
