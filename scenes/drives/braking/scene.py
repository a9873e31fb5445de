"""Braking: what stops a motor or holds it, what the energy of its motion becomes, and what happens if the contactor stays in."""

from __future__ import annotations

from scenes.drives.braking import curves, kinds, picture, question, readings, snapshot
from scenes.drives.braking.shaft import DIRECT_CURRENT, HOIST, PLUG, RAMP
from scenes.scene.controls import Choice, Number, Switch, slow_motion
from scenes.scene.scene import Key
from scenes.scene.story import Story
from scenes.scene.views import View, round_the_shaft
from visual import palette

MACHINE = (*round_the_shaft(0.111, -0.03, 0.03), ((-0.085, -0.128, 0.0), (0.085, -0.1, 0.03)))
CIRCUIT = (((0.127, -0.103, -0.006), (0.397, 0.102, 0.005)),)
ENERGY = (((0.405, -0.107, -0.006), (0.56, 0.160, 0.005)),)


class Braking(Story, parts=(snapshot, picture, readings, question, curves, kinds)):
    name = "braking"
    title = "Braking: plugging, direct current, generating"
    principle = (
        "A motor brakes when its field turns slower than its rotor, stands still, or turns against it. The energy of motion goes back to "
        "the lines or into the rotor as heat, three times over when two lines are swapped."
    )
    controls = (
        Choice("method", "Method of braking", PLUG, question.METHODS),
        Switch("zero", "Zero-speed switch opens the contactor", True),
        Number("direct", "Direct current", 200.0, "% of rated current", 20.0, 400.0, 10.0, only_with=("method", DIRECT_CURRENT)),
        Number("ramp", "Ramp of the inverter", 3.0, "s", 0.5, 10.0, 0.5, only_with=("method", RAMP)),
        Number("inertia", "Inertia of the load", 5.0, "times the rotor's", 1.0, 20.0, 1.0),
        Number("friction", "Friction of the load", 10.0, "% of rated torque", 0.0, 150.0, 5.0),
        Number("weight", "Weight drives with", 120.0, "% of rated torque", 0.0, 500.0, 10.0, only_with=("method", HOIST)),
        Choice("curves", "Curves", "time", (("time", "against time"), ("speed", "torque against speed"))),
        Choice("asked", "Question about", "result", question.ASKED),
        slow_motion("10", ("1", "2", "5", "10", "20", "50", "100")),
    )
    arrows = (
        Key("B", "field across the gap, peak", palette.HEX["field"], "T"),
        Key("T", "torque of the motor on its rotor", palette.HEX["force"], "N m"),
        Key("n", "speed of the rotor", palette.HEX["motion"], "r/min"),
        Key("\N{CIRCLED DOT OPERATOR}", "dot: current toward this end in that slot; cross: toward the far end", palette.HEX["current"]),
    )
    subject = (*MACHINE, *CIRCUIT, *ENERGY)
    letters = ("T", "n", *("energy",) * 6, "B")
    views = (
        View("drive-end", "from the drive end", (0.0, -0.08, -1.0)),
        View("machine", "the motor from near", (0.0, -0.06, -1.0), subject=MACHINE, letters=("B", "T", "n", "rotor")),
        View("circuit", "the circuit from near", (0.0, -0.06, -1.0), subject=CIRCUIT, letters=("contactor",) * 4),
        View("energy", "the energy from near", (0.0, -0.06, -1.0), subject=ENERGY, letters=("energy",) * 6),
    )
    caution = (
        "Not to be wired from: fuses, overload relay and the interlock that keeps K1, K2 and K3 from closing together are not drawn. A "
        "brake by current alone does not hold a load and fails with the supply: hoists have a mechanical brake. Plugging strains shaft, "
        "coupling and machine, and heats the rotor: keep to the maker's starts and stops per hour, rotors stay hot. A contactor that "
        "stays in runs the drive up backwards. Guards on; isolate, lock off, stop and secure, prove dead; licensed people, by the local "
        "code."
    )
    narration = "The same motor stops in three ways. Watch how fast, and watch where the energy of its motion goes."
    leaves_out = (
        "The transient of each switching: the motor has at once the current and torque of steady running at that speed.",
        "The field left in the rotor once it is switched off, which fades in some tenths of a second, and the pause between contactors.",
        "Saturation on alternating current; with direct current it is there, by a magnetising curve that is assumed.",
        "Iron loss and fan; heating of the windings; what an inverter does with the energy that comes back, a resistor or the lines.",
        "A mechanical brake, which a load that drives must have besides.",
    )
    starts_anew = tuple(control.name for control in controls if control.name not in ("slow", "curves", "asked"))
    shaft_of = staticmethod(lambda now: now.rotor_angle)

    def shown_whole(self, passed: float) -> bool:
        return self.state.time >= float(self.setup.case.history.time[-1])
