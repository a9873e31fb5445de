"""A stage of a start, worked out quasi-steadily: at every speed the motor is taken to be as it would be if it turned at
that speed for good, and its shaft speeds up by what its torque has over the load's.

Where the feed stays, time is an integral over speed, t = 2 pi J int dn / (T - T_load), and the motor settles where the
torques meet. Where the feed changes with time, the speed is followed step by step.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

import numpy as np

from physics import speeds
from physics.arguments import NumberOrArray
from physics.induction import EquivalentCircuit
from physics.shaft.loads import REST_SPEED, Load
from physics.starting.stages import Pause, Stage

SETTLED_WITHIN = 0.01
"""A motor counts as having settled when it is within this fraction of the speed that it settles at; it never gets
there quite."""

_FEWEST_STEPS, _MOST_STEPS = 400, 800


@dataclass(frozen=True)
class Leg:
    """n moments of one stage, time counted from its beginning; currents r.m.s."""

    time: np.ndarray  #: (n,) s
    speed: np.ndarray  #: (n,) rev/s
    torque: np.ndarray  #: (n,) N m in the air gap
    load_torque: np.ndarray  #: (n,) N m
    motor_current: np.ndarray  #: (n,) A
    line_current: np.ndarray  #: (n,) A
    stator_loss: np.ndarray  #: (n,) W
    rotor_loss: np.ndarray  #: (n,) W inside the motor
    resistor_loss: np.ndarray  #: (n,) W outside
    settled_speed: float | None = None  #: rev/s; infinite where it runs away, None if the stage ends first


def work_out(motor: EquivalentCircuit, shaft: Load, stage: Stage | Pause, speed: float) -> Leg:
    """`stage` from `speed`, rev/s, on."""
    if isinstance(stage, Pause):
        return _off_the_lines(shaft, stage, speed)
    if stage.seconds is not None:
        return _while_the_feed_changes(motor, shaft, stage, stage.seconds, speed)
    return _with_a_steady_feed(motor, shaft, stage, speed)


def settling_speed(circuit: EquivalentCircuit, shaft: Load, speed: float) -> float:
    """Speed, rev/s, at which a motor on this circuit, let go at `speed`, comes to turn steadily: the first at which the
    torques balance, in the direction in which they drive it from here. Infinite, with the sign of that direction, where
    they balance nowhere up to twice synchronous speed forward or synchronous speed backward."""

    def surplus(at_speeds: NumberOrArray) -> NumberOrArray:
        slips = speeds.slip(circuit.synchronous_speed, at_speeds)
        return circuit.at(slips).torque - shaft.torque(at_speeds)

    here = float(surplus(speed))
    if here == 0.0:
        return speed
    direction = math.copysign(1.0, here)
    farthest = _farthest(circuit, direction)
    if (farthest - speed) * direction <= 0.0:
        return direction * math.inf
    path = _path(speed, farthest, 4000)
    for _ in range(5):
        turned = np.flatnonzero(surplus(path[1:]) * direction <= 0.0)
        if not turned.size:
            return direction * math.inf
        path = np.linspace(path[turned[0]], path[turned[0] + 1], 101)
    return float(path[-1])


def _with_a_steady_feed(motor: EquivalentCircuit, shaft: Load, stage: Stage, speed: float) -> Leg:
    circuit = stage.first.circuit(motor)
    settled = settling_speed(circuit, shaft, speed)
    meant = math.inf
    if stage.until_slip is not None:
        meant = float(speeds.speed_at_slip(circuit.synchronous_speed, stage.until_slip))
    if meant <= speed:
        return _leg(motor, shaft, stage, np.array([speed]))
    if settled > meant:
        return _leg(motor, shaft, stage, _path(speed, meant, 2000))
    if math.isinf(settled):
        farthest = _farthest(circuit, settled)
        path = _path(speed, farthest, 2000) if (farthest - speed) * settled > 0.0 else np.array([speed])
        return _leg(motor, shaft, stage, path, settled)
    way = settled - speed
    left = SETTLED_WITHIN * max(abs(settled), REST_SPEED)
    if abs(way) <= left:
        return _leg(motor, shaft, stage, np.array([speed]), settled)
    # towards the end the speed creeps up exponentially: equal times are equal ratios of what is left
    nearing = settled - way * np.geomspace(1.0, left / abs(way), 1000)
    path = np.union1d(_path(speed, nearing[-1], 1000), nearing)
    return _leg(motor, shaft, stage, path if way > 0 else path[::-1], settled)


def _farthest(circuit: EquivalentCircuit, direction: float) -> float:
    """rev/s beyond which, forward or backward, a motor is given up as run away."""
    return 2.0 * circuit.synchronous_speed if direction > 0.0 else -circuit.synchronous_speed


def _path(first: float, last: float, count: int) -> np.ndarray:
    """Speeds from `first` to `last`, closer where friction changes quickly."""
    near_rest = np.linspace(-10.0 * REST_SPEED, 10.0 * REST_SPEED, 401)
    low, high = min(first, last), max(first, last)
    path = np.union1d(np.linspace(low, high, count), near_rest[(near_rest > low) & (near_rest < high)])
    return path if first <= last else path[::-1]


def _leg(motor: EquivalentCircuit, shaft: Load, stage: Stage, path: np.ndarray, settled: float | None = None) -> Leg:
    """Along the speeds of `path`, one after another, on the first feed of `stage`."""
    feed = stage.first
    circuit = feed.circuit(motor)
    point = circuit.at(speeds.slip(circuit.synchronous_speed, path))
    load_torque = shaft.torque(path)
    time = np.zeros(path.size)
    if path.size > 1:
        seconds_per_speed = 2.0 * np.pi * shaft.inertia / (point.torque - load_torque)
        time[1:] = np.cumsum(0.5 * (seconds_per_speed[1:] + seconds_per_speed[:-1]) * np.diff(path))
    inside = feed.share_inside(motor)
    return Leg(
        time=time,
        speed=path,
        torque=point.torque,
        load_torque=load_torque,
        motor_current=np.abs(point.stator_current),
        line_current=stage.line_current(motor, feed, point),
        stator_loss=point.stator_loss,
        rotor_loss=inside * point.rotor_loss,
        resistor_loss=(1.0 - inside) * point.rotor_loss,
        settled_speed=settled,
    )


def _while_the_feed_changes(motor: EquivalentCircuit, shaft: Load, stage: Stage, lasts: float, speed: float) -> Leg:
    @cache
    def circuit_at(seconds: float) -> EquivalentCircuit:
        return stage.feed(seconds).circuit(motor)

    def acceleration(seconds: float, at_speed: float) -> float:
        circuit = circuit_at(seconds)
        torque = circuit.torque_at(float(speeds.slip(circuit.synchronous_speed, at_speed)))
        return (torque - float(shaft.torque(at_speed))) / (2.0 * math.pi * shaft.inertia)

    # a twentieth of the time in which the breakdown torque alone would bring the inertia to speed
    longest_step = 0.1 * np.pi * shaft.inertia * motor.synchronous_speed / motor.breakdown()[1]
    steps = int(np.clip(lasts / longest_step, _FEWEST_STEPS, _MOST_STEPS))
    time = np.linspace(0.0, lasts, steps + 1)
    path = _followed(acceleration, speed, time, _farthest(motor, -1.0), _farthest(motor, 1.0))
    time, settled = time[: path.size], None
    if path.size <= steps:
        settled = math.copysign(math.inf, path[-1])
    rows = []
    for seconds, at_speed in zip(time.tolist(), path.tolist(), strict=True):
        feed, circuit = stage.feed(seconds), circuit_at(seconds)
        point = circuit.at(speeds.slip(circuit.synchronous_speed, at_speed))
        inside = feed.share_inside(motor)
        rows.append(
            (
                point.torque,
                abs(point.stator_current),
                stage.line_current(motor, feed, point),
                point.stator_loss,
                inside * point.rotor_loss,
                (1.0 - inside) * point.rotor_loss,
            )
        )
    torque, motor_current, line_current, stator_loss, rotor_loss, resistor_loss = np.array(rows, dtype=float).T
    load_torque = shaft.torque(path)
    return Leg(time, path, torque, load_torque, motor_current, line_current, stator_loss, rotor_loss, resistor_loss, settled)


def _off_the_lines(shaft: Load, pause: Pause, speed: float) -> Leg:
    time = np.linspace(0.0, pause.seconds, 101)
    path = _followed(lambda _, at_speed: -float(shaft.torque(at_speed)) / (2.0 * math.pi * shaft.inertia), speed, time)
    nothing = np.zeros(time.size)
    return Leg(time, path, nothing, shaft.torque(path), nothing, nothing, nothing, nothing, nothing)


def _followed(
    acceleration: Callable[[float, float], float],
    speed: float,
    time: np.ndarray,
    slowest: float = -math.inf,
    fastest: float = math.inf,
) -> np.ndarray:
    """Speeds at `time`, by `acceleration(seconds, speed)`, rev/s2, from `speed` on, up to the first that is outside
    `slowest` to `fastest`.

    The two-stage Rosenbrock method of second order, L-stable (J. G. Verwer and others, SIAM J. Sci. Comput. 20, 1999),
    for a motor clings to its field, and a load to rest, far more firmly than the feed changes.
    """
    gamma = 1.0 - math.sqrt(0.5)
    probe = 1e-4
    path = np.empty(time.size)
    path[0] = speed
    for index, (now, step) in enumerate(zip(time[:-1].tolist(), np.diff(time).tolist(), strict=True), start=1):
        here, beside = acceleration(now, speed), acceleration(now, speed + probe)
        # where the torque rises with speed the explicit formula is the safer one
        holding = 1.0 - gamma * step * min((beside - here) / probe, 0.0)
        first = here / holding
        second = (acceleration(now + step, speed + step * first) - 2.0 * first) / holding
        speed += step * (1.5 * first + 0.5 * second)
        path[index] = speed
        if not slowest <= speed <= fastest:
            return path[: index + 1]
    return path
