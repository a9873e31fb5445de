"""A current makes a field: compasses round a wire running up through a table."""

from __future__ import annotations

from scenes.conductors.field_round_a_wire import kinds, picture, question, readings, snapshot
from scenes.conductors.field_round_a_wire.snapshot import IN_WORDS, PLACES
from scenes.scene.controls import Choice, Number, Switch, slow_motion
from scenes.scene.scene import Key
from scenes.scene.story import Story
from scenes.scene.views import View
from visual import palette


class FieldRoundAWire(Story, parts=(snapshot, picture, readings, question, kinds)):
    name = "field-round-a-wire"
    title = "A current makes a field"
    principle = "A current makes a field round its wire; reverse the current and the field reverses too."
    controls = (
        Switch("switch", "Switch closed", True),
        Number("current", "Current, upward through the table", 20.0, "A", -50.0, 50.0, 1.0, role="current"),
        Number("distance", "Distance of the compasses", 60.0, "mm", 45.0, 120.0, 5.0),
        Choice("compass", "Compass that is read", "right", tuple((name, f"{IN_WORDS[name]} the wire") for name in PLACES)),
        Switch("earth", "Earth's field", True),
        slow_motion("1"),
    )
    arrows = (
        Key("I", "current in the wire", palette.HEX["current"], "A"),
        Key("B", "horizontal part of the current's field at the compass that is read", palette.HEX["field"], "T"),
        Key("Bₑ", "horizontal part of the Earth's field there", palette.HEX["motion"], "T"),
    )
    subject = (
        ((-0.145, -0.008, -0.145), (0.145, 0.008, 0.145)),
        ((-0.205, -0.03, -0.065), (-0.175, 0.01, 0.07)),
        ((-0.03, 0.0, -0.03), (0.04, 0.14, 0.02)),
    )
    letters = ("B", "I", "hand", "Bᵣ", "Bₑ", "North", "East", "+")
    views = (
        View("above", "from above and in front", (-0.16, -0.9, -1.0)),
        View("top", "down the wire", (0.0, -1.0, -0.06), subject=(((-0.145, 0.0, -0.145), (0.145, 0.01, 0.145)),)),
        View("level", "along the table", (0.0, -0.16, -1.0)),
        View("whole", "the whole circuit", (-0.3, -0.4, -1.0), subject=(((-1.0, -1.02, -0.15), (0.1, 1.02, 0.15)),)),
    )
    caution = (
        "Fifty amperes heat a thin wire fast enough to burn you: on a real bench switch on only briefly, use a wire and a "
        "fuse rated for it, and follow your local rules."
    )
    leaves_out = (
        "The rings show the field of the straight wire alone; at the compasses the leads and the other needles are counted too.",
        "The needles turn without friction, and steel nearby, which deflects a real needle, is left out.",
        "The variable resistor that sets the current and the fuse are not drawn.",
    )
    narration = "Compasses lie round a wire. Switch the current on, and every needle swings to lie along a circle round the wire."
