"""A synchronous machine in motion: supply, flux linkages, damper and shaft, step by step.

So pulling in, the brake of the excitation during run-up, hunting, falling out of step and the torque that only shakes a rotor
at rest come out of the equations of `round_rotor`. Angles and speeds are mechanical, rad and rad/s, positive counter-clockwise
looking at the drive end, unless told otherwise.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from physics import arguments
from physics.shaft.shafts import FreeShaft
from physics.synchronous.round_rotor import RoundRotorMachine, Running

LONGEST_STEP = 1e-3  # s, of the Runge-Kutta steps: a twentieth of a cycle at 50 Hz
FIELD_RISE = 0.15  # s, time constant with which the field current follows what is set: common practice for small machines, no source
MOST_TURNED = 1.0  # rad, by which an inverter's loop turns its voltage

State = tuple[float, float, complex, complex]  # angle, speed, flux linkages of stator and damper
Slope = Callable[..., tuple[float, complex, complex]]
Volts = tuple[complex, complex, complex]
Fields = tuple[float, float, float]


class Supply(Protocol):
    """Balanced three-phase voltages. `stabilising`: s; the voltage is turned back by this times what the rotor's electrical speed has
    above the supply's own, rad/s, at most by `MOST_TURNED`; 0 for a supply that knows nothing of the rotor."""

    @property
    def stabilising(self) -> float: ...

    def peak(self, time: float) -> float:
        """Peak of the phase voltage, V, `time` seconds after it was switched on."""

    def angle(self, time: float) -> float:
        """Electrical angle of the voltage's space vector, rad, without regard to its sense."""

    def frequency(self, time: float) -> float:
        """Hz."""


@dataclass(frozen=True)
class Mains:
    """Constant voltage, V r.m.s. between lines, and frequency, Hz."""

    line_voltage: float
    rated_frequency: float
    stabilising = 0.0

    def __post_init__(self) -> None:
        arguments.positive("line_voltage", self.line_voltage)
        arguments.positive("rated_frequency", self.rated_frequency)

    def peak(self, time: float) -> float:
        return self.line_voltage * math.sqrt(2 / 3)

    def angle(self, time: float) -> float:
        return 2 * math.pi * math.fmod(self.rated_frequency * time, 1.0)

    def frequency(self, time: float) -> float:
        return self.rated_frequency


@dataclass(frozen=True)
class RisingFrequency:
    """An inverter whose frequency rises evenly from 0 to `rated_frequency`, Hz, in `rise`, s, its voltage in proportion.

    line_voltage: V r.m.s. between lines at rated frequency; boost: V peak of a phase added against the drop in the stator's
    resistance, as far as the rated voltage allows; stabilising: s, see `Supply`, by an encoder on the
    shaft. Without that loop a rotor without a damper swings until it is lost (standard result for open-loop supply).
    """

    line_voltage: float
    rated_frequency: float
    rise: float
    boost: float = 0.0
    stabilising: float = 0.0

    def __post_init__(self) -> None:
        for name in ("line_voltage", "rated_frequency", "rise"):
            arguments.positive(name, getattr(self, name))
        arguments.not_negative("boost", self.boost)
        arguments.not_negative("stabilising", self.stabilising)

    def peak(self, time: float) -> float:
        rated = self.line_voltage * math.sqrt(2 / 3)
        return min(rated * time / self.rise + self.boost, rated)

    def angle(self, time: float) -> float:
        cycles = 0.5 * time * time / self.rise if time < self.rise else time - 0.5 * self.rise
        return 2 * math.pi * math.fmod(self.rated_frequency * cycles, 1.0)

    def frequency(self, time: float) -> float:
        return self.rated_frequency * min(time / self.rise, 1.0)


@dataclass(frozen=True)
class Moment:
    """One instant. time: s since the supply was switched on; angle: of the axis of a north pole, and `speed` of the rotor;
    stator, damper: flux linkages in the rotor's frame, Wb peak; excitation: psi_f, Wb."""

    time: float = 0.0
    angle: float = 0.0
    speed: float = 0.0
    stator: complex = 0j
    damper: complex = 0j
    excitation: float = 0.0


@dataclass(frozen=True)
class Instant:
    """What follows from a moment: voltage, stator and damper current in the rotor's frame (V, A peak, complex) and torque, N m."""

    voltage: complex
    current: complex
    damper_current: complex
    torque: float


def instant(machine: RoundRotorMachine, supply: Supply, sense: float, moment: Moment) -> Instant:
    """Voltage, currents and torque at that moment; `sense` 1 where the supply turns its field counter-clockwise, -1 clockwise."""
    current, damper_current = machine.currents(moment.stator, moment.damper, moment.excitation)
    turned = sense * supply.angle(moment.time) - machine.pole_pairs * moment.angle
    turned -= _turned_back(supply.stabilising, machine.pole_pairs * moment.speed - sense * 2 * math.pi * supply.frequency(moment.time))
    voltage = supply.peak(moment.time) * cmath.exp(1j * turned)
    return Instant(voltage, current, damper_current, machine.torque(moment.stator, current))


def in_step(machine: RoundRotorMachine, supply: Supply, sense: float, running: Running) -> Moment:
    """The moment, at time 0, of a machine that has run in step for long, its field turning in that `sense`."""

    def turn(value: complex) -> complex:
        return value if sense > 0 else value.conjugate()  # a mirror image runs clockwise

    angle = (sense * supply.angle(0.0) - cmath.phase(turn(running.voltage))) / machine.pole_pairs
    linkage = turn(running.flux_linkage)
    damper = turn(running.machine.inductances[1] * running.current) + running.excitation
    speed = sense * 2 * math.pi * running.frequency / machine.pole_pairs
    return Moment(0.0, angle, speed, linkage, damper, running.excitation)


def advance(
    machine: RoundRotorMachine, supply: Supply, sense: float, shaft: FreeShaft, moment: Moment, excitation: float, seconds: float
) -> Moment:
    """The moment `seconds` later while the field current goes to what makes `excitation`, Wb, with the time constant `FIELD_RISE`.

    The shaft's dry friction is what brakes it; its load acts besides. Runge-Kutta of fourth order, steps no longer than
    `LONGEST_STEP`; the friction is constant in a step, and a shaft that would pass through rest in one stops there first.
    """
    steps = max(1, math.ceil(arguments.not_negative("seconds", seconds) / LONGEST_STEP))
    step = seconds / steps
    kept = math.exp(-step / FIELD_RISE), math.exp(-step / 2 / FIELD_RISE)
    slope, rect = _slope(machine, shaft, supply.stabilising), cmath.rect
    time, field = moment.time, moment.excitation
    state = moment.angle, moment.speed, moment.stator, moment.damper
    volts = rect(supply.peak(time), sense * supply.angle(time))
    for _ in range(steps):
        halfway = time + step / 2
        time += step
        pace = sense * 2 * math.pi * supply.frequency(halfway)
        voltages = (
            volts,
            rect(supply.peak(halfway), sense * supply.angle(halfway)),
            rect(supply.peak(time), sense * supply.angle(time)),
        )
        fields = field, excitation + (field - excitation) * kept[1], excitation + (field - excitation) * kept[0]
        # at rest friction is what keeps it so; in motion it goes by the sense
        torque = 0.0 if state[1] else machine.torque(state[2], machine.currents(state[2], state[3], field)[0])
        state = _stepped(slope, shaft, torque, pace, state, voltages, fields, step)
        volts, field = voltages[2], fields[2]
    angle, speed, stator, damper = state
    return Moment(time, math.remainder(angle, 2 * math.pi), speed, stator, damper, field)


def _slope(machine: RoundRotorMachine, shaft: FreeShaft, stabilising: float) -> Slope:
    """The rates of change of speed and flux linkages, as a function of voltage, V in the stator's frame, excitation, friction, the
    supply's pace, rad/s, angle, speed and flux linkages. Written out in plain numbers: a second of run-up asks four thousand times."""
    pairs, resistance = machine.pole_pairs, machine.resistance
    own, mutual, of_damper = machine.inductances
    determinant = own * of_damper - mutual * mutual
    to_stator, across, to_damper = (
        (of_damper / determinant, mutual / determinant, own / determinant) if machine.damper else (1 / own, 0.0, 0.0)
    )
    damping = machine.damper.resistance if machine.damper else 0.0
    drive, inertia, viscous, load = 1.5 * pairs, shaft.inertia, shaft.viscous_friction, shaft.load
    onward, rect = 1j * pairs, cmath.rect

    def slope(
        volts: complex, field: float, friction: float, pace: float, angle: float, speed: float, stator: complex, damper: complex
    ) -> tuple[float, complex, complex]:
        of_stator, in_damper = stator - field, damper - field
        current = to_stator * of_stator - across * in_damper
        torque = drive * (stator.real * current.imag - stator.imag * current.real) - friction - load(speed) - viscous * speed
        turned = pairs * angle
        if stabilising:
            turned += _turned_back(stabilising, pairs * speed - pace)
        change = volts * rect(1.0, -turned) - resistance * current - onward * speed * stator
        return torque / inertia, change, damping * (across * of_stator - to_damper * in_damper)

    return slope


def _stepped(slope: Slope, shaft: FreeShaft, torque: float, pace: float, state: State, volts: Volts, field: Fields, step: float) -> State:
    """One Runge-Kutta step; `torque` at its beginning, `volts` and `field` at its beginning, middle and end."""
    angle, speed, stator, damper = state
    friction, half, sixth = _friction(shaft, speed, torque), step / 2, step / 6
    first, middle, last = volts
    at_first, halfway, at_last = field
    n1, s1, d1 = slope(first, at_first, friction, pace, angle, speed, stator, damper)
    second = speed + half * n1
    n2, s2, d2 = slope(middle, halfway, friction, pace, angle + half * speed, second, stator + half * s1, damper + half * d1)
    third = speed + half * n2
    n3, s3, d3 = slope(middle, halfway, friction, pace, angle + half * second, third, stator + half * s2, damper + half * d2)
    fourth = speed + step * n3
    n4, s4, d4 = slope(last, at_last, friction, pace, angle + step * third, fourth, stator + step * s3, damper + step * d3)
    stator += sixth * (s1 + 2.0 * (s2 + s3) + s4)
    damper += sixth * (d1 + 2.0 * (d2 + d3) + d4)
    if speed == 0.0 and abs(torque) < shaft.dry_friction:
        return angle, speed, stator, damper
    after = shaft.through_rest(speed, speed + sixth * (n1 + 2.0 * (n2 + n3) + n4))
    return angle + sixth * (speed + 2.0 * (second + third) + fourth), after, stator, damper


def _turned_back(stabilising: float, ahead: float) -> float:
    """Rad by which an inverter's loop turns the voltage back while the rotor runs `ahead`, electrical rad/s."""
    return max(-MOST_TURNED, min(stabilising * ahead, MOST_TURNED))


def _friction(shaft: FreeShaft, speed: float, torque: float) -> float:
    """Dry friction on the shaft, N m: against the motion, or at rest against the torque and no larger than it."""
    if speed:
        return math.copysign(shaft.dry_friction, speed)
    return max(-shaft.dry_friction, min(torque, shaft.dry_friction))
