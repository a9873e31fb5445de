"""How fast a motor turns: its field by frequency and poles, its rotor behind that by the slip that its load asks for."""

from __future__ import annotations

import math

import numpy as np

from physics.induction import motion as circuit_motion
from physics.induction.motion import SlipMoment, bar_currents, settled_slip, slip_of
from physics.shaft.shafts import FreeShaft
from physics.speeds import rotor_frequency
from physics.supply.supplies import ThreePhaseSupply
from scenes.drives import bench_motors, plate_entry
from scenes.drives.bench_motors import BenchMotor
from scenes.drives.plate_entry import WithPlate
from scenes.scene import common_controls
from scenes.scene.controls import Choice, slow_motion
from scenes.scene.scene import Key, Line, Mark, Plot, Question, Reading, View, minus
from scenes.scene.seen_from_an_end import SeenFromAnEnd
from visual import palette
from visual.machines.slip_machine import SlipMachine
from visual.solid.solids import Group

BARS = 15
ABOUT_RATED = 1.02  # times the rated current that still counts as not more than it
RUNS = (("rated", "it runs on, with about its rated current or less"), ("over", "it runs on, with more than its rated current"), ("stalls", "it stalls"))


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
        Choice("lamp", "Seen by", "steady", (("steady", "a steady lamp"), ("flashing", "a lamp that flashes with the field"))),
        common_controls.line_order(),
        slow_motion("20", ("1", "5", "20", "50", "100", "200")),
    )
    arrows = (
        Key("B", "the stator's field", palette.HEX["field"]),
        Key("n", "the rotor", palette.HEX["motion"]),
        Key("\N{CIRCLED DOT OPERATOR}", "bar with current toward the drive end; a cross: away", palette.HEX["current"]),
        Key("s", "the band: how far the rotor has dropped behind in this lap", palette.HEX["emf"]),
    )
    views = (
        View("drive-end", "from the drive end", (-0.12, -0.09, -1.0), (0.0, -0.006, 0.0), 0.126),
        View("other-end", "from the other end", (0.12, -0.09, 1.0), (0.0, -0.006, 0.0), 0.126),
    )
    caution = (
        "A stalled motor draws several times its rated current and burns out within seconds unless its overload relay trips. It starts by itself "
        "when the load lets go. Isolate, lock off and prove dead before you clear what jammed it, as your local code and your licence ask."
    )
    narration = "The blue hand is the field, the other the rotor. Count how often the field laps the rotor: that is the slip."

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
        slip = settled_slip(motor.circuit, 0.0, motor.lost)
        self._moment = SlipMoment(speed=self.sense * (1 - slip) * motor.circuit.synchronous_speed)

    def step(self, seconds: float) -> None:
        motor = self.motor
        shaft = FreeShaft(motor.inertia, self.load, motor.lost / (2 * math.pi))
        self._moment = circuit_motion.move_on(motor.circuit, self.sense, shaft, self._moment, seconds)

    @property
    def moment(self) -> SlipMoment:
        """Turns counted and speed, rev/s, counter-clockwise positive seen from the drive end."""
        return self._moment

    @property
    def slip(self) -> float:
        return slip_of(self.motor.circuit, self.sense, self._moment.speed)

    @property
    def laps(self) -> float:
        """By how many turns the rotor has dropped behind."""
        return self.sense * self._moment.laps_of_slip

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
        host.name("slip-hand", machine.hand.shaft.drawn)
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
        motor, slip = self.motor, self.slip
        circuit = motor.circuit
        field_rpm, rotor_rpm = 60 * circuit.synchronous_speed, 60 * self.sense * self._moment.speed
        point = circuit.at(slip)
        current, torque = float(abs(point.stator_current)), float(point.torque)
        breakdown_slip, breakdown = circuit.breakdown()
        in_rotor = float(rotor_frequency(circuit.frequency, slip))
        said = [
            Reading("n\N{LATIN SUBSCRIPT SMALL LETTER S}", "synchronous speed: that of the field", f"{field_rpm:.0f}", "r/min",
                    f"nₛ = 120 f / poles = 120 × {circuit.frequency:g} Hz / {circuit.poles} = {field_rpm:.0f} r/min"),
            Reading("n", "speed of the rotor", minus(rotor_rpm, 0), "r/min",
                    f"n = nₛ (1 − s) = {field_rpm:.0f} r/min × (1 − {minus(slip, 4)})"),
            Reading("s", "slip", minus(100 * slip, 2), "%",
                    f"s = (nₛ − n) / nₛ = ({field_rpm:.0f} − {minus(rotor_rpm, 1)}) / {field_rpm:.0f} = {minus(slip, 4)}"),
            Reading("f\N{LATIN SUBSCRIPT SMALL LETTER R}", "frequency in the rotor", f"{in_rotor:.2f}", "Hz",
                    f"fᵣ = s f = {abs(slip):.4f} × {circuit.frequency:g} Hz"),
            Reading("", f"laps of slip: {abs(slip) * field_rpm / 60:.2f} a second, which times {circuit.pole_pairs} pole pair{'s' * (circuit.pole_pairs > 1)} is fᵣ", minus(self.laps, 2), "",
                    f"turns of field − rotor = {abs(self._moment.field_turns):.2f} − {minus(self.sense * self._moment.rotor_turns, 2)}"),
            Reading("T", "torque in the gap", minus(torque, 2), "N m", f"{minus(100 * torque / motor.rated_torque, 0)} % of the rated {motor.rated_torque:.2f} N m{self._beyond_rated}", tells=True),
            Reading("T\N{LATIN SUBSCRIPT SMALL LETTER L}", "load on the shaft", f"{self.load:.2f}", "N m", f"{self['load']:g} % × {motor.rated_torque:.2f} N m"),
            Reading("T\N{LATIN SUBSCRIPT SMALL LETTER M}", "breakdown torque: the most it gives", f"{breakdown:.2f}", "N m",
                    f"{breakdown / motor.rated_torque:.2f} times rated, at a slip of {100 * breakdown_slip:.0f} %{motor.assuming('breakdown torque')}", tells=True),
            Reading("I", "current in a line", f"{current:.2f}", "A", f"{current / motor.rated_current:.2f} × the rated {motor.rated_current:.2f} A{self._beyond_rated}", tells=True),
            Reading("P", "heat in the rotor", f"{float(point.rotor_loss):.0f}", "W",
                    f"s × the power across the gap = {minus(slip, 4)} × {minus(float(point.airgap_power), 0)} W", tells=True),
            Reading("", f"rated torque: {motor.words}", f"{motor.rated_torque:.2f}", "N m", motor.note),
        ]
        if self["plate"] and self.refused:
            said.insert(0, Reading("", "the plate as entered contradicts itself; the motor before it stays", "refused", "", self.refused))
        return said

    @property
    def _beyond_rated(self) -> str:
        """Where the motor slips more than at rated load: which of the values its figures then rest on are assumed."""
        if self.slip <= 1.5 * self.motor.rated_slip:
            return ""
        return self.motor.assuming("starting current", "starting torque", "breakdown torque")

    def scales(self) -> dict[str, str]:
        return {"B": "as long as the flux: full without load", "\N{CIRCLED DOT OPERATOR}": "as bright as the current: brightest locked"}

    @property
    def stalled(self) -> bool:
        return abs(self._moment.speed) < 1e-6

    def says(self) -> str:
        motor, rpm = self.motor, 60 * self.motor.circuit.synchronous_speed
        field = f"Seen from {self.end} the field turns {self.seen(self.sense)} at {rpm:.0f} r/min"
        times = float(abs(motor.circuit.at(self.slip).stator_current)) / motor.rated_current
        if self.stalled:
            rotor = f"the rotor stands and draws {times:.1f} times its rated current."
        else:
            rotor = (f"the rotor {self.seen(self._moment.speed)} at {60 * abs(self._moment.speed):.0f} r/min, with a slip of {minus(100 * self.slip, 1)} % and "
                     f"{times:.1f} times its rated current.")
        refused = " The plate as entered contradicts itself; the motor before it stays." if self["plate"] and self.refused else ""
        return f"{field}, {rotor}{refused}"

    def question(self) -> Question:
        motor = self.motor
        circuit = motor.circuit
        supplied = f"{circuit.frequency:g} Hz, {circuit.poles} poles"
        slip = settled_slip(circuit, self.load, motor.lost)
        current = float(abs(circuit.at(slip).stator_current)) / motor.rated_current
        answer = "stalls" if slip >= 1 else "over" if current > ABOUT_RATED else "rated"
        return Question(
            f"A motor ({supplied}, field at {60 * circuit.synchronous_speed:.0f} r/min) runs without load. Then its load asks for {self['load']:g} % of the rated torque. "
            "What does the motor do?", RUNS, answer, self._reason(answer, slip, current),
        )

    def _reason(self, answer: str, slip: float, current: float) -> str:
        motor = self.motor
        breakdown_slip, breakdown = motor.circuit.breakdown()
        most = f"The most torque it has is {100 * breakdown / motor.rated_torque:.0f} % of rated, at a slip of {100 * breakdown_slip:.0f} %{motor.assuming('breakdown torque')}."
        if answer == "stalls":
            return (f"{most} The load asks for {self['load']:g} %, so the rotor slows down to rest; there it draws {current:.1f} times its rated current"
                    f"{' (assumed, as it is not on the plate)' if motor.assuming('starting current') else ''}, and all power across the gap is heat.")
        speed = 60 * motor.circuit.synchronous_speed * (1 - slip)
        return (f"It slips until its torque meets the load: {100 * slip:.1f} %, {speed:.0f} r/min, {motor.circuit.frequency * slip:.1f} Hz in the rotor, and "
                f"{current:.2f} times its rated current. {most}")

    def random_setup(self, random) -> dict:
        by_plate = random.random() < 0.3
        return {
            "load": float(random.choice((0, 40, 80, 95, 130, 160, 200, 260, 300))), "plate": by_plate,
            "frequency": float(random.choice((50, 50, 50, 60, 30, 80))), "poles": random.choice(("2", "4", "6", "8")),
            "lines": random.choice(("L1-L2-L3", "L2-L1-L3")), "lamp": random.choice(("steady", "flashing")),
        }
