"""One phase: two fields that turn against each other, in a motor that has lost a phase and in motors made for one phase."""

from __future__ import annotations

from scenes.drives.one_phase import curves, kinds, picture, question, readings, snapshot
from scenes.drives.one_phase.motors import IN_DELTA, IN_STAR, LINE, MAIN_ALONE, NOTHING, RUN_CAPACITOR, START_CAPACITOR, WINDING
from scenes.drives.one_phase.shaft import CLOCKWISE, COUNTER, REST, RUNNING, settled
from scenes.drives.one_phase.snapshot import ONE, THREE
from scenes.scene import common_controls
from scenes.scene.controls import Choice, slow_motion
from scenes.scene.scene import Key
from scenes.scene.story import Story
from scenes.scene.views import View, round_the_shaft
from visual import palette
from visual.one_phase.machine import BACKWARD, FORWARD

MACHINE = (*round_the_shaft(0.111, -0.03, 0.03), ((-0.085, -0.128, 0.0), (0.085, -0.1, 0.03)))
CIRCUIT = (((0.124, -0.094, -0.006), (0.4, 0.108, 0.005)),)


class OnePhase(Story, parts=(snapshot, picture, readings, question, curves, kinds)):
    name = "one-phase"
    title = "One phase: a phase lost, and the motor with a capacitor"
    principle = (
        "On one phase the field only swells and shrinks: two equal fields that rotate in opposite directions. At standstill their "
        "pulls cancel, so it hums; turning, the one that turns with the rotor wins."
    )
    controls = (
        Choice("motor", "Motor", ONE, ((ONE, "single-phase"), (THREE, "three-phase"))),
        Choice(
            "auxiliary",
            "Auxiliary winding",
            RUN_CAPACITOR,
            (
                (RUN_CAPACITOR, "with a run capacitor"),
                (START_CAPACITOR, "with a start capacitor and a switch"),
                (MAIN_ALONE, "open: the main winding alone"),
            ),
            only_with=("motor", ONE),
        ),
        Choice("joined", "Windings joined", IN_STAR, ((IN_STAR, "in star"), (IN_DELTA, "in delta")), only_with=("motor", THREE)),
        Choice(
            "open",
            "Lost",
            LINE,
            ((NOTHING, "nothing"), (LINE, "phase L3"), (WINDING, "winding W, open inside")),
            only_with=("motor", THREE),
        ),
        Choice(
            "start",
            "Start",
            REST,
            (
                (REST, "from rest"),
                (CLOCKWISE, "turned by hand, clockwise looking at the drive end"),
                (COUNTER, "turned by hand, counter-clockwise looking at the drive end"),
                (RUNNING, "already running"),
            ),
        ),
        common_controls.load(20.0),
        Choice(
            "main",
            "Ends of the main winding",
            "marked",
            (("marked", "U1 on L, U2 on N"), ("swapped", "U2 on L, U1 on N")),
            role="current",
            only_with=("motor", ONE),
        ),
        Choice(
            "ends",
            "Ends of the auxiliary winding",
            "marked",
            (("marked", "Z1 toward L, Z2 on N"), ("swapped", "Z2 toward L, Z1 on N")),
            role="field",
            only_with=("motor", ONE),
        ),
        Choice("lamp", "Light", "flashing", (("flashing", "a lamp that flashes nearly with the supply"), ("steady", "steady"))),
        Choice("asked", "Question about", "turns", question.ASKED),
        slow_motion("1", ("1", "2", "5", "10", "50", "100", "200")),
    )
    arrows = (
        Key("B", "field of all the currents; its tip goes along the thin line", palette.HEX["field"], "T"),
        Key(FORWARD, "the part of the field that rotates clockwise, looking at the drive end", palette.HEX["current"], "T"),
        Key(BACKWARD, "the part of the field that rotates counter-clockwise", palette.HEX["emf"], "T"),
        Key("T", "torque on the rotor at this instant", palette.HEX["force"], "N m"),
        Key("n", "speed of the rotor", palette.HEX["motion"], "r/min"),
        Key("\N{CIRCLED DOT OPERATOR}", "dot: current toward this end in that slot; cross: toward the far end", palette.HEX["current"]),
    )
    subject = (*MACHINE, *CIRCUIT)
    letters = ("B", FORWARD, BACKWARD, "T", "n", *("figure",) * 3)
    views = (
        View("drive-end", "from the drive end", (0.0, -0.1, -1.0)),
        View("machine", "the fields from near", (0.0, -0.06, -1.0), subject=MACHINE, letters=("B", FORWARD, BACKWARD, "T", "n", "rotor")),
        View("circuit", "the circuit from near", (0.0, -0.06, -1.0), subject=CIRCUIT, letters=(*("figure",) * 3, "switch")),
    )
    caution = (
        "A motor that hums must be switched off at once: its windings burn in seconds. Never start one by hand or by its belt, guards stay "
        "on. A capacitor keeps its charge: isolate, lock off, discharge it through a resistor, prove dead, before you touch it or its "
        "leads. A motor that tripped may start again when it cools or the line comes back. Work on it is for locally licensed people, "
        "by the local code."
    )
    narration = "Two fields rotate in opposite directions. If they are equal, a rotor at rest hums; if not, it starts with the stronger."
    leaves_out = (
        "The rush of the first cycles after each change: currents are those of steady running at the speed of each moment.",
        "The wobble of the speed at 100 Hz by the torque's swing, and the sound itself: the pull on the iron swings as often.",
        "The single-phase motor's iron does not saturate; that of the three-phase motor does, by a magnetising curve that is assumed.",
        "Iron loss, harmonics of the windings, loss in the capacitor, and heating of the windings.",
        "A maker's own order of the windings: here Z1 with U1 on L turns clockwise looking at the drive end; the maker's diagram decides.",
    )
    starts_anew = ("motor", "auxiliary", "joined", "start")

    runs_up = True
    shaft_of = staticmethod(lambda now: now.rotor_angle)

    def shown_whole(self, passed: float) -> bool:
        return self.state.time >= settled(self.setup.case, self.setup.start).time

    def reverse(self, role: str) -> None:
        """Swap the ends of the main ("current") or of the auxiliary winding ("field"); `ValueError` where there are three."""
        if self["motor"] == THREE:
            raise ValueError("Choose the single-phase motor to reverse one of its two windings.")
        super().reverse(role)
