"""What is read, said and asked of slip and speed, each from what was observed of one moment and the end one looks from."""

from __future__ import annotations

from dataclasses import dataclass

from physics.induction import OperatingPoint
from physics.induction.motion import SlipMoment
from physics.speeds import rotor_frequency
from scenes.drives.bench_motors import BenchMotor, runs_at
from scenes.scene.scene import Question, Reading, View, minus

ABOUT_RATED = 1.02  # times the rated current that still counts as not more than it
RUNS = (("rated", "it runs on, with about its rated current or less"), ("over", "it runs on, with more than its rated current"), ("stalls", "it stalls"))
ASSUMED = ", assumed: not on the nameplate"
RESTS = " (rests on assumed figures)"


@dataclass(frozen=True)
class Observed:
    """The motor at a moment; speeds in rev/s, counter-clockwise positive seen from the drive end."""

    motor: BenchMotor
    moment: SlipMoment
    point: OperatingPoint
    sense: float  # +1 where the field turns counter-clockwise
    slip: float
    load: float  # N m
    percent: float  # the same of rated torque
    refused: str  # what is wrong with the nameplate as entered

    @property
    def laps(self) -> float:
        """By how many turns the rotor has dropped behind."""
        return self.sense * self.moment.laps_of_slip

    @property
    def times(self) -> float:
        """The current as a multiple of the rated one."""
        return float(abs(self.point.stator_current)) / self.motor.rated_current

    @property
    def stalled(self) -> bool:
        return abs(self.moment.speed) < 1e-6


def readings(o: Observed) -> list[Reading]:
    refused = [Reading("", "the nameplate as entered contradicts itself; the motor before it stays", "refused", "", o.refused)] if o.refused else []
    return [*refused, *_of_speed(o), *_of_torque(o), *_of_motor(o)]


def _of_speed(o: Observed) -> list[Reading]:
    circuit, slip = o.motor.circuit, o.slip
    field_rpm, rotor_rpm = 60 * circuit.synchronous_speed, 60 * o.sense * o.moment.speed
    pairs = f"{circuit.pole_pairs} pole pair{'s' * (circuit.pole_pairs > 1)}"
    return [
        Reading("n\N{LATIN SUBSCRIPT SMALL LETTER S}", "synchronous speed: that of the field", f"{field_rpm:.0f}", "r/min",
                f"nₛ = 120 f / poles = 120 × {circuit.frequency:g} Hz / {circuit.poles} = {field_rpm:.0f} r/min"),
        Reading("n", "speed of the rotor, with the field positive", minus(rotor_rpm, 0), "r/min",
                f"n = nₛ (1 − s) = {field_rpm:.0f} r/min × (1 − {minus(slip, 4)})"),
        Reading("s", "slip", minus(100 * slip, 2), "%",
                f"s = (nₛ − n) / nₛ = ({field_rpm:.0f} − {minus(rotor_rpm, 1)}) / {field_rpm:.0f} = {minus(slip, 4)}"),
        Reading("f\N{LATIN SUBSCRIPT SMALL LETTER R}", "frequency in the rotor", f"{float(rotor_frequency(circuit.frequency, slip)):.2f}", "Hz",
                f"fᵣ = s f = {abs(slip):.4f} × {circuit.frequency:g} Hz; {abs(slip) * field_rpm / 60:.2f} laps a second × {pairs}"),
        Reading("", "laps of slip", minus(o.laps, 2), "",
                f"turns of field − rotor = {abs(o.moment.field_turns):.2f} − {minus(o.sense * o.moment.rotor_turns, 2)}"),
    ]


def _of_torque(o: Observed) -> list[Reading]:
    motor, point, slip = o.motor, o.point, o.slip
    rests = RESTS if motor.rests_on_assumption(slip) else ""
    torque, current = float(point.torque), float(abs(point.stator_current))
    breakdown_slip, breakdown = motor.circuit.breakdown()
    guessed = ASSUMED if "breakdown_torque" in motor.unknown else ""
    return [
        Reading("T", f"torque in the gap{rests}", minus(torque, 2), "N m",
                f"{minus(100 * torque / motor.rated_torque, 0)} % of the rated {motor.rated_torque:.2f} N m", tells=True),
        Reading("T\N{LATIN SUBSCRIPT SMALL LETTER L}", "load on the shaft", f"{o.load:.2f}", "N m", f"{o.percent:g} % × {motor.rated_torque:.2f} N m"),
        Reading("T\N{LATIN SUBSCRIPT SMALL LETTER M}", f"breakdown torque: the most it gives{guessed}", f"{breakdown:.2f}", "N m",
                f"{breakdown / motor.rated_torque:.2f} times rated, at a slip of {100 * breakdown_slip:.0f} %", tells=True),
        Reading("I", f"current in a line{rests}", f"{current:.2f}", "A", f"{o.times:.2f} × the rated {motor.rated_current:.2f} A", tells=True),
        Reading("P", f"heat in the rotor{rests}", f"{float(point.rotor_loss):.0f}", "W",
                f"s × the power across the gap = {minus(slip, 4)} × {minus(float(point.airgap_power), 0)} W", tells=True),
    ]


def _of_motor(o: Observed) -> list[Reading]:
    motor = o.motor
    said = [Reading("", f"rated torque: {motor.words}", f"{motor.rated_torque:.2f}", "N m", motor.note, tells=False)]
    if motor.assumed:
        said.append(Reading("", "not on the nameplate, taken as usual for such motors", "assumed", "", "; ".join(motor.assumed), tells=True))
    return said


def sentence(o: Observed, view: View) -> str:
    rpm = 60 * o.motor.circuit.synchronous_speed
    field = f"Seen from {view.end} the field turns {view.turning(o.sense)} at {rpm:.0f} r/min"
    assumed = ", by assumed figures" if o.motor.rests_on_assumption(o.slip) else ""
    if o.stalled:
        rotor = f"the rotor stands: it has stalled and draws {o.times:.1f} times its rated current{assumed}."
    else:
        turning = f"the rotor {view.turning(o.moment.speed)} at {60 * abs(o.moment.speed):.0f} r/min"
        falls = "; the load is too much for it and it is stalling" if runs_at(o.motor, o.load) >= 1 else ""
        rotor = f"{turning}, with a slip of {minus(100 * o.slip, 1)} % and {o.times:.1f} times its rated current{assumed}{falls}."
    refused = " The nameplate contradicts itself; the motor before it stays." if o.refused else ""
    return f"{field}, {rotor}{refused}"


def question(o: Observed) -> Question:
    motor = o.motor
    circuit, slip = motor.circuit, runs_at(motor, o.load)
    current = float(abs(circuit.at(slip).stator_current)) / motor.rated_current
    answer = "stalls" if slip >= 1 else "over" if current > ABOUT_RATED else "rated"
    return Question(
        f"A motor ({circuit.frequency:g} Hz, {circuit.poles} poles, field at {60 * circuit.synchronous_speed:.0f} r/min) runs without load. Then its load "
        f"asks for {o.percent:g} % of the rated torque. What does the motor do?", RUNS, answer, _reason(o, answer, slip, current),
    )


def _reason(o: Observed, answer: str, slip: float, current: float) -> str:
    motor = o.motor
    breakdown_slip, breakdown = motor.circuit.breakdown()
    guessed = " (assumed: not on the nameplate)" if "breakdown_torque" in motor.unknown else ""
    most = f"The most torque it has is {100 * breakdown / motor.rated_torque:.0f} % of rated{guessed}, at a slip of {100 * breakdown_slip:.0f} %."
    if answer == "stalls":
        return (f"{most} The load asks for {o.percent:g} %, so the rotor slows down until it stalls; at standstill it draws {current:.1f} times its rated "
                "current, and all power across the gap is heat.")
    speed = 60 * motor.circuit.synchronous_speed * (1 - slip)
    return (f"It slips until its torque meets the load: {100 * slip:.1f} %, {speed:.0f} r/min, {motor.circuit.frequency * slip:.1f} Hz in the rotor, and "
            f"{current:.2f} times its rated current. {most}")
