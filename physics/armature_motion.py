"""An armature in time: the shaft speeds up and slows down, and the coil currents build up against their inductance.

Each sub-step is Alexander's two-stage implicit rule, second order and L-stable (R. Alexander, SIAM J. Numer. Anal.
14, 1977): it stays calm however light the rotor or small the inductance, and where a brush leaves a segment. In each
stage the circuit is solved with the coils' inductance as a resistance and a voltage, and the speed together with it,
since the circuit is linear in the speed.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import copysign, radians, sqrt

import numpy as np

from physics.armature import Armature, ArmatureState, Response
from physics.armature_network import OutsideCircuit
from physics.arguments import not_negative, number, positive

STAGE = 1.0 - sqrt(0.5)
SPEED_DIFFERENCE = 1e-3


def no_load(speed: float) -> float:
    """A shaft end with nothing on it: 0 N m at any speed in rad/s."""
    return 0.0


@dataclass(frozen=True)
class FreeShaft:
    """A shaft that turns as the torques on it let it.

    inertia           kg m2 of rotor and load together, more than 0
    dry_friction      N m against the motion whatever the speed; below this torque the shaft stays at rest
    viscous_friction  N m per rad/s
    load              function of the speed in rad/s: N m that the load takes, positive when it acts clockwise. A
                      falling weight or a hand that drives the shaft counter-clockwise is a negative load. It must be
                      continuous; friction that changes sign with the motion belongs in dry_friction
    """

    inertia: float
    dry_friction: float = 0.0
    viscous_friction: float = 0.0
    load: Callable[[float], float] = no_load

    def __post_init__(self):
        positive("inertia", self.inertia)
        not_negative("dry_friction", self.dry_friction)
        not_negative("viscous_friction", self.viscous_friction)

    def speed_after(self, speed: float, duration: float, standing_torque: float, torque_per_speed: float) -> float:
        """Speed in rad/s a `duration` later, the torque then being standing_torque + torque_per_speed * speed."""
        load = number("load", self.load(speed))
        steeper = max((self.load(speed + SPEED_DIFFERENCE) - load) / SPEED_DIFFERENCE, 0.0)
        impulse = self.inertia * speed + duration * (standing_torque - load + steeper * speed)
        resistance = self.inertia + duration * (self.viscous_friction + steeper - torque_per_speed)
        return copysign(max(abs(impulse) - duration * self.dry_friction, 0.0), impulse) / resistance

    def through_rest(self, before: float, after: float) -> float:
        """`after`, or 0 where dry friction must first bring the shaft to rest and then decides anew."""
        return 0.0 if self.dry_friction > 0.0 and before * after < 0.0 else after

    def acceleration(self, speed: float, torque: float) -> float:
        """rad/s2 that this torque leads to at this speed."""
        driving = torque - self.load(speed) - self.viscous_friction * speed
        against = self.dry_friction if speed == 0.0 else copysign(self.dry_friction, speed * driving)
        return copysign(max(abs(driving) - against, 0.0), driving) / self.inertia


@dataclass(frozen=True)
class DrivenShaft:
    """A shaft held at a speed in rad/s from outside, as by a steady hand on the crank."""

    speed: float

    def __post_init__(self):
        number("speed", self.speed)

    def speed_after(self, speed: float, duration: float, standing_torque: float, torque_per_speed: float) -> float:
        """The speed that the shaft is held at."""
        return self.speed

    def through_rest(self, before: float, after: float) -> float:
        """The speed that the shaft is held at."""
        return after

    def acceleration(self, speed: float, torque: float) -> float:
        """None: 0 rad/s2."""
        return 0.0


@dataclass(frozen=True)
class _Motion:
    """What carries over from one moment to the next; the angle in rad, the speed in rad/s, the coil currents in A."""

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
    # a driven shaft has its own speed from the start
    speed = shaft.speed_after(float(state.speed), 0.0, 0.0, 0.0)
    motion = _Motion(float(state.angle), speed, state.coil_currents)
    torque = float(state.torque)
    while remaining > 0.0:
        # time for a turn from this speed, or from rest at this acceleration, whichever is shorter
        acceleration = shaft.acceleration(motion.speed, torque)
        substep = min(
            remaining,
            longest_substep,
            largest_turn / max(abs(motion.speed), 1e-12),
            sqrt(2.0 * largest_turn / max(abs(acceleration), 1e-12)),
        )
        start = motion
        motion, response = _implicit_stage(armature, shaft, circuit, start, STAGE * substep)
        middle = start.beyond(motion, 1.0 / STAGE - 1.0)
        motion, response = _implicit_stage(armature, shaft, circuit, middle, STAGE * substep)
        motion = replace(motion, speed=shaft.through_rest(start.speed, motion.speed))
        torque = float((response.torque_factors * motion.currents).sum())
        remaining -= substep
        if remaining < 1e-9 * duration:
            remaining = 0.0
    # the last stage once more at the angle that came out of it, so that everything reported belongs together
    response = _stage_response(armature, circuit, middle, STAGE * substep, motion.angle)
    return response.state(np.asarray(motion.angle), np.asarray(motion.speed))


def _stage_response(
    armature: Armature, circuit: OutsideCircuit, start: _Motion, duration: float, angle: float
) -> Response:
    impedance = armature.coil_inductance / duration
    return armature.respond(angle, circuit, impedance, impedance * start.currents)


def _implicit_stage(armature, shaft, circuit, start: _Motion, duration: float) -> tuple[_Motion, Response]:
    """One backward Euler step, the field taken at the angle that the present speed leads to."""
    response = _stage_response(armature, circuit, start, duration, start.angle + duration * start.speed)
    standing_torque, torque_per_speed = response.torques
    speed = shaft.speed_after(start.speed, duration, standing_torque, torque_per_speed)
    return _Motion(start.angle + duration * speed, speed, response.coil_currents(speed)), response


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

    def column(name):
        return np.array([getattr(noted, name) for noted in states])

    return RunUp(
        np.linspace(0.0, duration, notes + 1),
        *(column(name) for name in ("angle", "speed", "torque", "terminal_voltage", "terminal_current")),
        column("coil_currents"),
    )
