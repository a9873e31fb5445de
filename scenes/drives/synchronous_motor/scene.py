"""The synchronous motor: exactly as fast as its field, by the load angle behind it, and at a power factor that is set."""

from __future__ import annotations

from scenes.drives.synchronous_motor import curves, kinds, picture, question, readings, snapshot
from scenes.drives.synchronous_motor.motors import POLES, rated_torque
from scenes.drives.synchronous_motor.snapshot import BY_INVERTER, IN_STEP, LONGEST, NEVER, ON_MAINS
from scenes.scene import common_controls
from scenes.scene.controls import Choice, Number, Switch, slow_motion
from scenes.scene.scene import Key
from scenes.scene.story import Story
from scenes.scene.views import View, round_the_shaft
from visual import palette

STEADY = 0.05  # of rated torque: motor and load no further apart


class SynchronousMotor(Story, parts=(snapshot, picture, readings, question, curves, kinds)):
    name = "synchronous-motor"
    title = "The synchronous motor"
    principle = (
        "It runs exactly with its field or not at all: under load it only leans back, until it falls out of step. Its excitation sets its "
        "power factor."
    )
    controls = (
        common_controls.load(60.0),
        Number("excitation", "Excitation, as EMF", 135.0, "% of line voltage", 0.0, 180.0, 5.0),
        Choice(
            "start",
            "Start",
            IN_STEP,
            (
                (IN_STEP, "running in step, then loaded"),
                (ON_MAINS, "from rest on the mains"),
                (BY_INVERTER, "from rest by an inverter"),
            ),
        ),
        Switch("damper", "Damper cage in the poles", True),
        Choice(
            "excited",
            "Excitation switched on",
            "near",
            (("near", "at 95 % of synchronous speed"), ("before", "before the start")),
            only_with=("start", ON_MAINS),
        ),
        Choice("poles", "Poles", "2", tuple((str(n), str(n)) for n in POLES)),
        common_controls.lamp(),
        Choice("curves", "Curves", "torque", (("torque", "torque over the load angle"), ("v", "V-curves: current over the excitation"))),
        common_controls.line_order(),
        slow_motion("20", ("1", "5", "20", "50", "100", "200")),
    )
    arrows = (
        Key("B", "field of the stator, peak", palette.HEX["field"], "T"),
        Key("B\N{LATIN SUBSCRIPT SMALL LETTER R}", "the rotor's own field, along the axis of an N pole", palette.HEX["emf"], "T"),
        Key("δ", "load angle, electrical: from the field back to the pole axis", palette.HEX["motion"], "°"),
        Key("T", "torque on the rotor", palette.HEX["force"], "N m"),
        Key("n", "speed of the rotor", palette.HEX["motion"], "r/min"),
    )
    subject = (
        *round_the_shaft(0.104, -0.03, 0.03),
        ((-0.13, -0.11, 0.0), (0.135, 0.0, 0.03)),
        ((-0.04, 0.05, -0.013), (0.145, 0.125, 0.013)),
    )
    letters = ("δ", "B", "B\N{LATIN SUBSCRIPT SMALL LETTER R}", "rotor N", "S", "T", "n", "rotor S")
    views = (
        View("drive-end", "from the drive end", (-0.12, -0.09, -1.0)),
        View(
            "other-end",
            "from the non-drive end",
            (0.12, -0.09, 1.0),
            subject=(
                *round_the_shaft(0.104, -0.03, 0.03),
                ((-0.135, -0.11, -0.03), (0.13, 0.0, 0.0)),
                ((-0.04, 0.05, -0.013), (0.145, 0.125, 0.013)),
            ),
        ),
    )
    caution = (
        "An excited rotor makes voltage at the terminals for as long as it turns, also when the motor is switched off. Before anyone "
        "touches them: excitation off, rotor stopped and secured, isolated, locked off, an inverter's capacitors discharged, proved dead, "
        "by people licensed for it under your local code."
    )
    narration = "The rotor turns with the field, leaning back by the load angle. Too much load, and the field pulls past its poles."
    leaves_out = (
        "Salient poles: the rotor is round, so that all its torque comes of its excitation.",
        "Saturation: more excitation gives EMF in proportion, where a real machine gives less and less.",
        "The excitation winding as a circuit: its current follows what is set within half a second, and no swing induces any in it.",
        "While the excitation is off its winding is taken as open; a real one is closed on a resistor, or its voltage would break through.",
        "Iron loss, friction of the bearings and fan, and heating of the windings.",
        "Leakage: the field drawn has the stator's leakage in it; the field in the gap alone lies a few degrees nearer to the poles.",
        "Protection: out of step for long, a real motor is tripped, and its damper cage would overheat.",
    )
    starts_anew = ("start", "damper", "poles", "excited")
    shaft_of = staticmethod(lambda now: now.rotor_angle)

    def shown_whole(self, passed: float) -> bool:
        """Steadily in step, slipping after that, or given the time that a start may take."""
        if self.setup.start == IN_STEP and self.state.slipped != NEVER:
            return True
        steady = abs(self.now.torque - self.setup.load) <= STEADY * rated_torque(self.setup.poles)
        return passed > LONGEST or self.now.in_step and steady
