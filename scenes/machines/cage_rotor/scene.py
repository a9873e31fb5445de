"""A rotating field drags a cage along: what each bar generates, carries and is pushed with."""

from __future__ import annotations

from physics.cage.motion import RotorMoment
from physics.directions import Hand
from scenes.machines.cage_rotor import curves, kinds, picture, question, readings, snapshot
from scenes.machines.cage_rotor.motor import LARGEST_FIELD, NO_LOAD_FIELD
from scenes.machines.cage_rotor.snapshot import SEEN_BEST, Setup, Snapshot, observe
from scenes.scene import common_controls
from scenes.scene.controls import Choice, Number, slow_motion
from scenes.scene.scene import Key
from scenes.scene.story import Story
from scenes.scene.views import View, round_the_shaft
from visual import palette

PLATE = ((-0.09, -0.123, -0.05), (0.09, -0.115, 0.05))  # that it stands on
SEEN = (
    *round_the_shaft(0.086, -0.03, 0.03),
    ((-0.105, -0.06, 0.02), (-0.08, -0.02, 0.04)),
    ((-0.04, 0.084, -0.013), (0.145, 0.12, 0.013)),
    ((0.07, -0.05, 0.034), (0.16, 0.01, 0.085)),
)


class CageRotor(Story, parts=(snapshot, picture, readings, question, curves, kinds)):
    name = "cage-rotor"
    title = "The field drags the cage along"
    principle = (
        "The field sweeps over the bars and generates currents in them; these are pushed the way the field turns. At the field's own speed "
        "nothing is left."
    )
    controls = (
        Choice(
            "rotor",
            "Rotor",
            "free",
            (
                ("free", "free to turn"),
                ("held", "held still"),
                ("driven", "driven at a set speed"),
                ("proof", "field stopped, bars turned the other way"),
            ),
        ),
        Number("speed", "Driven at", 100.0, "% of synchronous speed", -50.0, 150.0, 5.0, only_with=("rotor", "driven")),
        common_controls.load(50.0, only_with=("rotor", "free")),
        Number("inertia", "Inertia with the load", 1.0, "times the rotor's", 1.0, 10.0, 1.0, only_with=("rotor", "free")),
        Choice(
            "hand",
            "Hand shown",
            "right",
            (
                ("none", "none"),
                ("right", "right: direction of the current"),
                ("left", "left: direction of the force"),
            ),
        ),
        Choice("bar", "for the bar", "either", (("either", "seen best"), ("N", "at the N pole"), ("S", "at the S pole"))),
        common_controls.line_order(),
        common_controls.poles(),
        common_controls.frequency(),
        Choice("fed", "Fed with", "voltage", (("voltage", "a supply of fixed voltage"), ("field", "a field held constant"))),
        Number("field", "Field in the gap, peak", NO_LOAD_FIELD, "T", 0.1, LARGEST_FIELD, 0.05, only_with=("fed", "field")),
        Choice("iron", "Iron of stator and rotor", "edges", (("shown", "shown"), ("edges", "edges only"), ("off", "taken off"))),
        Choice("broken", "Bars broken", "none", (("none", "none"), ("one", "one"), ("three", "three side by side"))),
        slow_motion("200", ("50", "100", "200", "500", "1000")),
    )
    arrows = (
        Key("B", "field across the gap, of stator and rotor together", palette.HEX["field"], "T"),
        Key("Bᵣ", "the rotor's own field: what the currents of its bars would make alone", palette.HEX["emf"], "T"),
        Key(
            "\N{CIRCLED DOT OPERATOR}",
            "dot: the bar's current flows toward this end of it; cross: toward the far end",
            palette.HEX["current"],
        ),
        Key("F", "force on each bar", palette.HEX["force"], "N"),
        Key("T", "torque: all forces together, round the shaft", palette.HEX["force"], "N m"),
        Key("n", "speed of the rotor, round the shaft", palette.HEX["motion"], "r/min"),
        Key("β", "electrical angle by which Bᵣ is behind B", palette.HEX["emf"]),
        Key("v", "motion of the bar relative to the field", palette.HEX["motion"]),
        Key("E", "EMF of the bar", palette.HEX["emf"]),
        Key("I", "current of the bar", palette.HEX["current"]),
    )
    subject = (*SEEN, PLATE)
    letters = ("B", "N", "S", "hand", "T", "Bᵣ", "n", "β")
    views = (
        View("drive-end", "from the drive end", (-0.36, -0.36, -1.0)),
        View(
            "other-end",
            "from the non-drive end",
            (0.36, -0.36, 1.0),
            subject=(
                *round_the_shaft(0.086, -0.03, 0.03),
                ((0.08, -0.06, -0.04), (0.105, -0.02, -0.02)),
                PLATE,
                ((-0.04, 0.084, -0.013), (0.145, 0.12, 0.013)),
                ((-0.185, -0.05, -0.06), (-0.09, 0.01, 0.0)),
            ),
        ),
        View("bars", "along the bars", (-0.8, -0.35, -0.9), subject=(*SEEN, ((-0.03, -0.1, 0.02), (0.03, -0.086, 0.04)))),
    )
    caution = (
        "A motor with a locked rotor draws several times its rated current and burns within seconds; a rotor that is freed starts at once. "
        "Never reach in: isolate, lock off and prove dead first, as your local code and your licence ask."
    )
    narration = (
        "The field turns past the bars of the cage. Currents flow in them, the field pushes them along, and the rotor follows, a little "
        "slower."
    )
    leaves_out = (
        "The rush of the first cycles after switching on: currents and field are those of steady running at the speed of each moment.",
        "Iron loss, friction and windage: the whole torque of the bars is on the load.",
        "Saturation: the field keeps in proportion to the magnetising current, and leakage does not fall when the current is large.",
        "Skin effect: the resistance of the bars is the same at every frequency in the rotor.",
        "Skewed bars and the slots of stator and rotor: the field in the gap is a pure sine wave.",
        "With bars broken: the currents that the lopsided cage induces back in the stator.",
        "The gap is drawn many times wider than it is, so that the bars and the forces on them can be seen.",
    )
    shaft_of = staticmethod(lambda now: now.moment.rotor_angle)
    runs_up = property(lambda self: self.setup.free)

    def shown_whole(self, passed: float) -> bool:
        return self.now.settled

    def observe(self, setup: Setup, moment: RotorMoment) -> Snapshot:
        return observe(setup, moment, self._seen)

    def _seen(self, hand: Hand) -> int:
        """How well it is seen from here: its second finger is along the shaft, and behind its palm where it points away."""
        return 0 if self.eye.readable(hand) is None else SEEN_BEST if hand.second_finger @ self.eye.forward < 0 else 1

    def look(self, name: str) -> None:
        super().look(name)
        self._now = None  # another bar's hand may be the one that can be read from there
