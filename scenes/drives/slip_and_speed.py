"""How fast a motor turns: its field by frequency and poles, its rotor behind that by the slip that its load asks for."""

from __future__ import annotations

import math

import numpy as np

from physics.induction import motion as circuit_motion
from physics.induction.motion import SlipMoment, bar_currents, slip_of
from physics.shaft.shafts import FreeShaft
from physics.supply.supplies import ThreePhaseSupply
from scenes.drives import bench_motors, plate_entry, slip_words
from scenes.drives.bench_motors import BenchMotor
from scenes.drives.plate_entry import WithPlate
from scenes.drives.slip_words import Observed
from scenes.scene import common_controls
from scenes.scene.controls import Choice, slow_motion
from scenes.scene.scene import Key, Line, Mark, Plot, Question, Reading, View, minus
from scenes.scene.seen_from_an_end import SeenFromAnEnd
from visual import palette
from visual.machines.slip_machine import SlipMachine
from visual.solid.solids import Group

BARS = 15


class SlipAndSpeed(WithPlate, SeenFromAnEnd):
    name = "slip-and-speed"
    title = "Slip and speed"
    principle = "Frequency and poles give the field its speed. The rotor stays behind by the slip, and the more load there is, the more slip."
    controls = (
        common_controls.load(100.0),
        plate_entry.SWITCH,
        common_controls.frequency(only_with=("plate", False)),
        common_controls.poles(only_with=("plate", False)),
        *plate_entry.FIGURES,
        Choice("lamp", "Light", "steady", (("steady", "steady"), ("flashing", "a lamp that flashes with the field"))),
        common_controls.line_order(),
        slow_motion("20", ("1", "5", "20", "50", "100", "200")),
    )
    arrows = (
        Key("B", "field across the gap", palette.HEX["field"], "× no load"),
        Key("\N{CIRCLED DOT OPERATOR}", "dot: the bar's current flows toward this end of it; cross: toward the far end", palette.HEX["current"]),
        Key("s", "the band: how far the rotor has dropped behind in this lap", palette.HEX["emf"]),
    )
    views = (
        View("drive-end", "from the drive end", (-0.12, -0.09, -1.0), (0.0, 0.007, 0.0), 0.132),
        View("other-end", "from the non-drive end", (0.12, -0.09, 1.0), (0.0, 0.007, 0.0), 0.132),
    )
    other_end = "the non-drive end"
    caution = (
        "A stalled motor draws several times its rated current and burns out within seconds unless its overload relay trips. It starts by itself "
        "when the load lets go. Isolate, lock off and prove dead before you clear what jammed it, as your local code and your licence ask."
    )
    narration = "The blue hand is the field, the other the rotor. Count how often the field laps the rotor: that is the slip."
    leaves_out = (
        "The rush of the first cycles after a change: current and torque are those of steady running at the speed of each moment.",
        "Saturation: leakage does not fall when the current is large, so that a real motor at standstill draws somewhat more.",
        "Iron loss and stray loss by themselves: of a motor from its nameplate they are taken with friction, of the small one they are left out.",
        "Heating: the resistances stay as they are however long it is overloaded.",
        "Skewed bars and the slots of stator and rotor: the field in the gap is a pure sine wave.",
    )

    # the motor

    def changed(self, name: str) -> None:
        super().changed(name)
        if name == "lines":
            self._moment = SlipMoment(-self._moment.field_turns, -self._moment.rotor_turns, -self._moment.speed)

    @property
    def motor(self) -> BenchMotor:
        if self["plate"]:
            return bench_motors.motor_of(self.plate)
        return bench_motors.own_motor(self["frequency"], int(self["poles"]))

    @property
    def load(self) -> float:
        """N m that the load asks of the shaft."""
        return self["load"] / 100 * self.motor.rated_torque

    @property
    def sense(self) -> float:
        """+1 where the lines as joined turn the field counter-clockwise seen from the drive end, -1 where clockwise."""
        supply = ThreePhaseSupply(400.0, 50.0, tuple(self["lines"].split("-")))
        return -1.0 if supply.sequence == "positive" else 1.0

    # its motion

    def restart(self) -> None:
        """Running without load, nothing counted."""
        motor = self.motor
        slip = bench_motors.runs_at(motor, 0.0)
        self._moment = SlipMoment(speed=self.sense * (1 - slip) * motor.circuit.synchronous_speed)

    def step(self, seconds: float) -> None:
        motor = self.motor
        shaft = FreeShaft(motor.inertia, self.load, motor.lost / (2 * math.pi))
        self._moment = circuit_motion.advance(motor.circuit, self.sense, shaft, self._moment, seconds)

    @property
    def moment(self) -> SlipMoment:
        """Turns counted and speed, rev/s, counter-clockwise positive seen from the drive end."""
        return self._moment

    @property
    def slip(self) -> float:
        return slip_of(self.motor.circuit, self.sense, self._moment.speed)

    @property
    def now(self) -> Observed:
        """All that is physical about this moment."""
        motor, slip = self.motor, self.slip
        refused = self.refused if self["plate"] else ""
        return Observed(motor, self._moment, motor.circuit.at(slip), self.sense, slip, self.load, self["load"], refused)

    @property
    def laps(self) -> float:
        return self.now.laps

    @property
    def stalled(self) -> bool:
        return self.now.stalled

    # what is drawn

    @property
    def angles(self) -> tuple[float, float]:
        """Where field and rotor are seen, rad; in a lamp that flashes with the field this stands still."""
        start = np.pi / 2
        if self["lamp"] == "flashing":
            return start, start - 2 * np.pi * math.fmod(self._moment.laps_of_slip, 1.0)
        return start + 2 * np.pi * math.fmod(self._moment.field_turns, 1.0), start + 2 * np.pi * math.fmod(self._moment.rotor_turns, 1.0)

    def build(self, host) -> None:
        self.drawn = Group()
        machine = self.machine = self.drawn.add(SlipMachine(BARS, common_controls.POLES))
        for poles in common_controls.POLES:
            host.name(f"slip-poles-{poles}", machine.poles[poles].solid.drawn)
            host.name(f"slip-field-{poles}", machine.fields[poles].arrows[0].shaft.drawn)
        host.name("slip-rotor", machine.rotor.core.drawn)
        host.name("slip-hand", machine.hand.solid.drawn)
        for number, bar in enumerate(machine.rotor.bars):
            host.name(f"slip-bar-{number}", bar.drawn)
        for number, mark in enumerate(machine.rotor.marks):
            host.name(f"slip-mark-{number}", mark.solid.drawn)
        for name, letters in (("field", machine.field_count), ("rotor", machine.rotor_count), ("laps", machine.lap_count)):
            host.name(f"slip-count-{name}", letters.drawn)

    def draw(self) -> None:
        circuit, machine, side = self.motor.circuit, self.machine, self.side
        field, rotor = self.angles
        slip = self.slip
        now, locked = circuit.at(np.array([slip, 1.0])).rotor_current
        full = float(abs(now) / abs(locked)) if self.answers_shown else 0.0
        angles = 2 * np.pi / BARS * np.arange(BARS) + rotor
        machine.wiring.join(self["lines"].split("-"))
        machine.show_rotor(rotor, full * bar_currents(circuit, slip, self.sense, angles - field), side)
        idle, here = np.abs(circuit.at(np.array([0.0, slip])).gap_voltage)
        machine.show_field(circuit.poles, field, float(here / idle), side)
        machine.show_band(field, self.sense, self.laps % 1.0, side)
        machine.show_counts(
            f"field {abs(self._moment.field_turns):.1f} turns", f"rotor {minus(self.sense * self._moment.rotor_turns, 1)} turns",
            f"{minus(self.laps, 2)} laps of slip", side)

    def plot(self) -> Plot | None:
        if not self.answers_shown:
            return None
        return self.kept((self.motor, self["load"]), self._curves)

    def _curves(self) -> Plot:
        """Torque and current at any speed, and the load."""
        motor = self.motor
        points = motor.circuit.at(np.linspace(1.0, 0.0, 91))
        speeds = (60 * points.speed).tolist()
        torque = 100 * (points.torque - motor.lost * points.speed) / motor.rated_torque
        current = 100 * np.abs(points.stator_current) / motor.rated_current
        lines = [Line("current", palette.HEX["current"], tuple(zip(speeds, current.tolist()))),
                 Line("torque", palette.HEX["force"], tuple(zip(speeds, torque.tolist())))]
        if self["load"]:
            lines.append(Line("load", palette.HEX["emf"], ((0.0, self["load"]), (speeds[-1], self["load"]))))
        return Plot("speed", "r/min", "of rated", "%", tuple(lines))

    def marks(self) -> list[Mark]:
        if not self.answers_shown:
            return []
        motor, speed = self.motor, self.sense * self._moment.speed
        point = motor.circuit.at(self.slip)
        torque = float(point.torque) - motor.lost * speed
        return [Mark("current", palette.HEX["current"], 60 * speed, 100 * float(abs(point.stator_current)) / motor.rated_current),
                Mark("torque", palette.HEX["force"], 60 * speed, 100 * torque / motor.rated_torque)]

    # what is read and asked

    def readings(self) -> list[Reading]:
        return slip_words.readings(self.now)

    def scales(self) -> dict[str, str]:
        return {"B": "as long as the flux: full without load",
                "\N{CIRCLED DOT OPERATOR}": "its area is the current, it fills the bar at standstill; so is the bar's brightness"}

    def says(self) -> str:
        return slip_words.sentence(self.now, self.eye)

    def question(self) -> Question:
        return slip_words.question(self.now)

    def random_setup(self, random) -> dict:
        by_plate = random.random() < 0.3
        return {
            "load": float(random.choice((0, 40, 80, 95, 130, 160, 200, 260, 300))), "plate": by_plate,
            "frequency": float(random.choice((50, 50, 50, 60, 30, 80))), "poles": random.choice(("2", "4", "6", "8")),
            "lines": random.choice(("L1-L2-L3", "L2-L1-L3")), "lamp": random.choice(("steady", "flashing")),
        }
