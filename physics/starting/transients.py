"""A start from moment to moment, by the transient model: the currents that an oscilloscope would show, with the peaks
when something is switched.

At which instant of the period the first switch closes matters to the momentary current of each phase, but not to the
length of the currents' space vector. So peaks are taken of this length: they are what the unluckiest phase carries at
the unluckiest instant.

In the change-over from star to delta the windings are without current during the pause (as switched without an arc),
while the closed rotor keeps its flux, which falls behind the mains and induces an EMF. In delta, as `space_vectors`
joins it, the winding voltages stand 30 degrees ahead of those in star: what the motor then meets is the difference.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass, fields, replace

import numpy as np

from physics import arguments, speeds
from physics.induction import EquivalentCircuit
from physics.induction.run_up import History, run
from physics.induction.transient import AT_REST, Motor, MotorState, delta_wound, steady_state, step
from physics.shaft.loads import Load
from physics.starting.methods import Method
from physics.starting.stages import Feed, Pause, Stage
from physics.supply.space_vectors import PHASES, Connection, Supply, space_vector

_MOMENTS = 20
"""How many moments are recorded before a look whether the stage is over."""

PERIODS_AFTER_SWITCHING = 3.0
"""On the mains the highest momentary current comes within the first period or two; three are looked at. On a lower
frequency it comes before the field has turned half round."""


@dataclass(frozen=True)
class Switching:
    """A stage that begins with another feed than the one before it left off with.

    before: that feed, None at the very first; speed: rev/s at which it is left; pause: s without any in between.
    """

    stage: Stage
    before: Feed | None = None
    speed: float = 0.0
    pause: float = 0.0


@dataclass(frozen=True)
class StageRecord:
    """What was recorded in one stage of a start."""

    name: str
    history: History


def peak_current(motor: EquivalentCircuit, shaft: Load, switching: Switching) -> float:
    """Highest momentary current at the motor's terminals, A, soon after `switching`.

    Before it the motor runs settled on the old feed at the given speed, or is at rest without flux.
    """
    state, before, stage = AT_REST, switching.before, switching.stage
    if before is not None:
        circuit = before.circuit(motor)
        slip = float(speeds.slip(circuit.synchronous_speed, switching.speed))
        state = steady_state(circuit, slip, 0.0, before.connection)
        if switching.pause:
            windings, opened = _windings(motor, before, shaft), _opened(before.connection)
            state = step(windings, state, switching.pause, _no_voltage, shaft.torque, opened)
    watched = max(PERIODS_AFTER_SWITCHING, 0.5 / stage.first.frequency) / motor.frequency
    history = run(
        _windings(motor, stage.first, shaft),
        state,
        watched,
        watched / math.ceil(100.0 * watched * motor.frequency),
        Feeding(motor, stage).voltage,
        shaft.torque,
        stage.first.connection,
    )
    return float(np.abs(space_vector(history.line_currents)).max())


def record(motor: EquivalentCircuit, shaft: Load, method: Method, duration: float, interval: float) -> tuple[StageRecord, ...]:
    """A start from rest by `method`, moment by moment for `duration` s, recorded every `interval` s or, to come out
    even with a stage, a little oftener; `motor` and `shaft` as for `starting.start`.

    A stage that ends at a slip ends at the first moment recorded beyond it; a motor that never comes there stays in the
    stage to the end.
    """
    left = arguments.positive("duration", duration)
    interval = arguments.positive("interval", interval)
    records, state, angle, feed = [], AT_REST, 0.0, Feed()
    for stage in method.stages(motor):
        if isinstance(stage, Pause):
            feeding = Feeding(motor, Stage(stage.name, feed), state.time, angle)
            windings, opened = _windings(motor, feed, shaft), _opened(feed.connection)
            history = _evenly(windings, state, min(left, stage.seconds), interval, _no_voltage, shaft, opened)
        else:
            feeding, feed = Feeding(motor, stage, state.time, angle), stage.at_end
            history = _stage_history(feeding, shaft, state, left, interval)
        records.append(StageRecord(stage.name, history))
        state = history.state(-1)
        angle = feeding.angle(state.time)
        left -= history.time[-1] - history.time[0]
        if left <= 1e-9 * duration:
            break
    return tuple(records)


@dataclass(frozen=True)
class Feeding:
    """`stage` as a supply for the transient, begun at `began` s with its voltage at electrical `began_angle`, rad."""

    motor: EquivalentCircuit
    stage: Stage
    began: float = 0.0
    began_angle: float = 0.0

    def angle(self, time: float) -> float:
        """Electrical rad of the voltage at `time`, s: the integral of the frequency, which changes evenly."""
        return self._voltage(time)[1]

    def voltage(self, time: float) -> complex:
        """Space vector of the voltages of the lines at `time`, s."""
        return cmath.rect(*self._voltage(time))

    def _voltage(self, time: float) -> tuple[float, float]:
        """Length and angle of that vector."""
        seconds = time - self.began
        voltage, frequency = self.stage.voltage_and_frequency(seconds)
        mean_frequency = 0.5 * (self.stage.first.frequency + frequency) * self.motor.frequency
        angle = self.began_angle + 2.0 * math.pi * mean_frequency * seconds
        return math.sqrt(2.0) * self.motor.phase_voltage * voltage, angle


def _stage_history(feeding: Feeding, shaft: Load, state: MotorState, left: float, interval: float) -> History:
    """`feeding`'s stage to its end, or for `left` s."""
    motor, stage = feeding.motor, feeding.stage
    windings, connection = _windings(motor, stage.first, shaft), stage.first.connection
    if stage.seconds is not None:
        left = min(left, stage.seconds)
    if stage.until_slip is None:
        return _evenly(windings, state, left, interval, feeding.voltage, shaft, connection)
    meant = motor.synchronous_speed * stage.first.frequency * (1.0 - stage.until_slip)
    pieces: list[History] = []
    ends = state.time + left
    while True:
        piece = _evenly(windings, state, min(_MOMENTS * interval, ends - state.time), interval, feeding.voltage, shaft, connection)
        beyond = np.flatnonzero(piece.speed >= meant)
        last = beyond[0] if beyond.size else piece.time.size - 1
        # the first moment of a piece is the last of the piece before
        pieces.append(_moments(piece, slice(1 if pieces else 0, last + 1)))
        state = piece.state(-1)
        if beyond.size or ends - state.time <= 1e-9 * left:
            return _joined(pieces)


def _evenly(
    windings: Motor,
    state: MotorState,
    seconds: float,
    interval: float,
    voltage: Supply,
    shaft: Load,
    connection: Connection,
) -> History:
    """A run over exactly `seconds`, in equal intervals of at most `interval`."""
    even = seconds / math.ceil(seconds / interval * (1.0 - 1e-9))
    return run(windings, state, seconds, even, voltage, shaft.torque, connection)


def _windings(motor: EquivalentCircuit, feed: Feed, shaft: Load) -> Motor:
    """The motor with all that `feed` puts on its slip rings, on the whole shaft."""
    rotor_resistance = motor.rotor_resistance + feed.rotor_resistance
    return delta_wound(replace(motor, rotor_resistance=rotor_resistance), shaft.inertia)


def _opened(connection: Connection) -> Connection:
    return Connection(connection.winding, PHASES)


def _no_voltage(time: float) -> complex:
    return 0j


def _moments(history: History, which: slice) -> History:
    return History(**{part.name: getattr(history, part.name)[which] for part in fields(History)})


def _joined(pieces: list[History]) -> History:
    return History(**{part.name: np.concatenate([getattr(piece, part.name) for piece in pieces]) for part in fields(History)})
