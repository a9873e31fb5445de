"""Moving a wire through a field makes a voltage: a rod moved through a magnet's gap by hand, or to and fro."""

from __future__ import annotations

from dataclasses import replace

from scenes.conductors.moved_conductor import kinds, picture, question, readings, snapshot
from scenes.conductors.moved_conductor.snapshot import DEPTHS
from scenes.scene.controls import Choice, Number, Switch, slow_motion
from scenes.scene.curves import Chart
from scenes.scene.scene import Key
from scenes.scene.story import Story
from scenes.scene.views import View
from visual import palette


class MovedConductor(Story, parts=(snapshot, picture, readings, question, kinds)):
    name = "moved-conductor"
    title = "Moving a wire through a field makes a voltage"
    principle = "A conductor moved across a field generates a voltage: the right hand gives its direction."
    controls = (
        Choice("motion", "Moved", "to-and-fro", (("to-and-fro", "to and fro"), ("hand", "by hand (slider or arrow keys)"))),
        Number("place", "Hand at", 80.0, "% of the way", -100.0, 100.0, 1.0, only_with=("motion", "hand")),
        Number("speed", "Greatest speed to and fro", 0.5, "m/s", 0.1, 2.0, 0.1, only_with=("motion", "to-and-fro")),
        Choice(
            "way",
            "Direction of the motion",
            "across",
            (("across", "across the field"), ("along-field", "along the field"), ("along-rod", "along its own length")),
        ),
        Choice("field", "Field", "up", (("up", "upward (N pole below)"), ("down", "downward (N pole above)")), role="field"),
        Number("strength", "Strength of the magnet", 1.2, "T", 0.4, 1.4, 0.1),
        Choice("depth", "Length of the poles", "40", tuple((str(mm), f"{mm} mm") for mm in DEPTHS)),
        Number("turns", "Turns", 1.0, "", 1.0, 200.0, 1.0),
        Choice(
            "meter",
            "Range of the meter",
            "fitting",
            (("fitting", "the smallest that fits"), ("20 mV", "20 mV"), ("200 mV", "200 mV"), ("2 V", "2 V")),
        ),
        Switch("closed", "Resistor's switch closed", False),
        Number("resistance", "Resistor", 1.0, "Ω", 0.1, 20.0, 0.1, only_with=("closed", True)),
        slow_motion("5"),
    )
    arrows = (
        Key("B", "field, mean along the rod", palette.HEX["field"], "T"),
        Key("v", "motion of the rod", palette.HEX["motion"], "m/s"),
        Key("E", "EMF: the direction in which it drives current", palette.HEX["emf"], "V"),
        Key("F", "force that opposes the motion", palette.HEX["force"], "N"),
    )
    subject = (
        ((-0.16, -0.06, 0.0), (-0.08, 0.06, 0.06)),
        ((-0.04, -0.06, -0.045), (0.04, 0.06, 0.045)),
        ((0.04, -0.04, -0.085), (0.1, 0.02, 0.095)),
        ((0.08, -0.075, -0.02), (0.21, 0.05, 0.02)),
        ((0.07, -0.1, 0.06), (0.2, -0.04, 0.085)),  # with room below: the resistor is not to lie under the buttons
    )
    letters = ("E", "v", "B", "hand", "N", "S", "V", "F", "+")
    views = (
        View("corner", "from the front corner", (-0.42, -0.4, -1.0)),
        View("front", "along the rod", (0.42, -0.3, -1.0)),
        View("above", "from above", (0.25, -1.0, -0.45)),
    )
    chart = Chart("EMF", "mV", 4.0, (("EMF", palette.HEX["emf"]),))
    caution = (
        "Strong magnets snap together and pinch; keep them from watches and pacemakers. A coil of many turns pulled quickly out of a "
        "field can give a voltage you feel: keep to your local rules."
    )
    leaves_out = (
        "The moving leads cut a little flux too: at most 1 % of the rod's greatest EMF.",
        "The circuit's own inductance: the current follows the EMF within a few milliseconds.",
        "The current that the meter takes, and the Earth's field: less than a hundredth of the magnet's in the gap.",
    )
    narration = (
        "Move the rod across the field and the meter swings; reverse the motion and it swings the other way. "
        "Hold still, and there is nothing."
    )
    starts_anew = ("way", "motion")

    def restart(self) -> None:
        clock = self.state.clock if hasattr(self, "state") else 0.0  # of the chart, which continues through a restart
        super().restart()
        self.state = replace(self.state, clock=clock)
