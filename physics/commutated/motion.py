"""An armature in time: the shaft speeds up and slows down, and the coil currents build up against their inductance.

Each sub-step is Alexander's two-stage implicit rule, second order and L-stable (R. Alexander, SIAM J. Numer. Anal.
14, 1977): it stays calm however light the rotor or small the inductance, and where a brush leaves a segment. In each
stage the coils' inductance is a resistance and a voltage that drives the current on, and the speed comes out of the
same equations as the currents, since the circuit is linear in the speed.

The circuit depends on the rotor angle alone. So the angles of a whole stretch of sub-steps are foretold, the circuit is
solved at all of them at once, the motion is worked out through them, and with the angles that come out the stretch is
done again until they stay the same.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, radians, sqrt
from typing import NamedTuple

import numpy as np

from physics.arguments import not_negative, positive
from physics.commutated.armature import Armature, ArmatureState
from physics.commutated.network import OutsideCircuit
from physics.shaft.shafts import DrivenShaft, FreeShaft

STAGE = 1.0 - sqrt(0.5)
SAME_ANGLE = 1e-6
MOST_PASSES = 10
MOST_SUBSTEPS = 32


class _Motion(NamedTuple):
    """The state that carries over between instants: angle in rad, speed in rad/s, coil currents in A."""

    angle: float
    speed: float
    currents: np.ndarray

    def beyond(self, other: _Motion, factor: float) -> _Motion:
        """The straight line from here through `other`, `factor` times as far."""
        return _Motion(
            self.angle + factor * (other.angle - self.angle),
            self.speed + factor * (other.speed - self.speed),
            self.currents + factor * (other.currents - self.currents),
        )


@dataclass(frozen=True)
class _Machine:
    """What stays the same during a step."""

    armature: Armature
    shaft: FreeShaft | DrivenShaft
    circuit: OutsideCircuit


@dataclass(frozen=True)
class _Stretch:
    """A number of equal sub-steps worked out: where they end, from where the last stage started, the last torque in
    N m, the largest turn of a sub-step in rad, and whether the angles came out as foretold."""

    end: _Motion
    last_stage_start: _Motion
    torque: float
    largest_turn: float
    as_foretold: bool


def step(
    armature: Armature,
    state: ArmatureState,
    shaft: FreeShaft | DrivenShaft,
    circuit: OutsideCircuit,
    duration: float,
    largest_turn: float = radians(6),
    longest_substep: float = 1e-3,
) -> ArmatureState:
    """The armature's state `duration` seconds after `state`, which is of one instant.

    Angle, speed and coil currents carry over from `state`; a start from rest is `armature.state(0, 0, OpenCircuit())`.
    The duration is cut into sub-steps in which the rotor turns by about `largest_turn` rad at most, none longer than
    `longest_substep` s. `ValueError` for a negative duration or limits that are not positive.
    """
    remaining = not_negative("duration", duration)
    positive("largest_turn", largest_turn)
    positive("longest_substep", longest_substep)
    if np.ndim(state.angle):
        raise ValueError(f"state must be of one instant, not of shape {np.shape(state.angle)}")
    if remaining == 0.0:
        return state
    machine = _Machine(armature, shaft, circuit)
    # a driven shaft has its own speed from the start
    speed = shaft.speed_after(float(state.speed), 0.0, 0.0, 0.0)
    motion, torque = _Motion(float(state.angle), speed, state.coil_currents), float(state.torque)
    while remaining > 0.0:
        acceleration = shaft.acceleration(motion.speed, torque)
        substep, substeps = _plan(motion.speed, acceleration, remaining, largest_turn, longest_substep)
        stretch = _work_out(machine, motion, acceleration, substep, substeps)
        # a single sub-step is taken as it comes: what it misses is of the order that it misses anyway
        while substeps > 1 and not (stretch.as_foretold and stretch.largest_turn < 2.0 * largest_turn):
            substeps //= 2
            stretch = _work_out(machine, motion, acceleration, substep, substeps)
        motion, torque = stretch.end, stretch.torque
        remaining -= substep * substeps
        if remaining < 1e-9 * duration:
            remaining = 0.0
    # the last stage once more at the angle that came out of it, so that everything reported belongs together
    impedance = armature.coil_inductance / (STAGE * substep)
    response = armature.respond(motion.angle, circuit, impedance)
    return response.state(np.asarray(motion.angle), motion.speed, _driven_on(impedance, stretch.last_stage_start.currents))


def _plan(speed: float, acceleration: float, remaining: float, largest_turn: float, longest_substep: float) -> tuple[float, int]:
    """Length in s of the next sub-steps, and how many can be equal before the speed has grown too much for them."""
    speed, acceleration = max(abs(speed), 1e-12), max(abs(acceleration), 1e-12)
    substep = min(remaining, longest_substep, largest_turn / speed, sqrt(2.0 * largest_turn / acceleration))
    until_faster = (1.5 * largest_turn / substep - speed) / (acceleration * substep)
    needed = max(1, ceil(remaining / substep - 1e-6))  # a whole number of sub-steps stays one, rounding or not
    substeps = max(1, int(min(needed, MOST_SUBSTEPS, until_faster)))
    return (remaining / needed if substeps == needed else substep), substeps


def _work_out(machine: _Machine, start: _Motion, acceleration: float, substep: float, substeps: int) -> _Stretch:
    """Take a number of equal sub-steps, repeating them until the angles are those that the circuit was solved at."""
    times = substep * np.add.outer(np.arange(substeps), [STAGE, 1.0]).ravel()
    angles = start.angle + (start.speed + 0.5 * acceleration * times) * times
    for _ in range(MOST_PASSES):
        foretold = angles
        angles, end, last_stage_start, torque = _through(machine, start, foretold, STAGE * substep)
        as_foretold = bool(np.abs(angles - foretold).max() < SAME_ANGLE)
        if as_foretold:
            break
    turns = np.diff(angles[1::2], prepend=start.angle)
    return _Stretch(end, last_stage_start, torque, float(np.abs(turns).max()), as_foretold)


def _through(machine: _Machine, start: _Motion, foretold: np.ndarray, stage: float) -> tuple[np.ndarray, _Motion, _Motion, float]:
    """Sub-steps of two stages each, with the circuit as it is at the foretold angle of each stage.

    Gives the angles that come out, the last motion, the motion from which the last stage started, and the last torque.
    """
    impedance = machine.armature.coil_inductance / stage
    response = machine.armature.respond(foretold, machine.circuit, impedance)
    # the torque and under it the currents: at standstill, what each rad/s adds, and each volt that drives a coil on
    answers = np.concatenate([response.torques[:, np.newaxis], response.network.coil_currents], axis=1)
    standing, with_speed, by_volts = list(answers[..., 0]), list(answers[..., 1]), list(answers[..., 2:])

    def implicit(base: _Motion, index: int) -> _Motion:
        """One backward Euler step."""
        still, moving = standing[index], with_speed[index]
        if impedance:
            still = still + by_volts[index] @ (impedance * base.currents)
        speed = machine.shaft.speed_after(base.speed, stage, float(still[0]), float(moving[0]))
        return _Motion(base.angle + stage * speed, speed, still[1:] + speed * moving[1:])

    angles, motion = np.empty(len(foretold)), start
    for index in range(0, len(foretold), 2):
        before = motion
        first = implicit(before, index)
        middle = before.beyond(first, 1.0 / STAGE - 1.0)
        second = implicit(middle, index + 1)
        motion = _Motion(second.angle, machine.shaft.through_rest(before.speed, second.speed), second.currents)
        angles[index : index + 2] = first.angle, motion.angle
    return angles, motion, middle, float(response.torque_factors[-1] @ motion.currents)


def _driven_on(impedance: float, currents: np.ndarray) -> np.ndarray:
    """V by which inductance drives each coil's current on; none without inductance."""
    return impedance * currents if impedance else np.empty(0)


@dataclass(frozen=True)
class RunUp:
    """A run in time; arrays (n,): s, rad, rad/s, N m, V, A, and (n, coils) A."""

    time: np.ndarray
    angle: np.ndarray
    speed: np.ndarray
    torque: np.ndarray
    terminal_voltage: np.ndarray
    terminal_current: np.ndarray
    coil_currents: np.ndarray


def run(
    armature: Armature,
    state: ArmatureState,
    shaft: FreeShaft | DrivenShaft,
    circuit: OutsideCircuit,
    duration: float,
    interval: float,
    largest_turn: float = radians(6),
    longest_substep: float = 1e-3,
) -> RunUp:
    """A run of `duration` s from `state`, noted every `interval` s, both ends included."""
    positive("duration", duration)
    notes = int(round(duration / positive("interval", interval)))
    if notes < 1:
        raise ValueError(f"interval must be no longer than the duration of {duration:g} s, not {interval:g}")
    states = [state]
    for _ in range(notes):
        states.append(step(armature, states[-1], shaft, circuit, duration / notes, largest_turn, longest_substep))

    def column(name: str) -> np.ndarray:
        return np.array([getattr(noted, name) for noted in states])

    return RunUp(
        np.linspace(0.0, duration, notes + 1),
        column("angle"),
        column("speed"),
        column("torque"),
        column("terminal_voltage"),
        column("terminal_current"),
        column("coil_currents"),
    )
