"""The motor that is braked, 11 kW with two poles on 400 V, and what it does at any speed in each of its connections."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from physics.induction.circuit import EquivalentCircuit
from physics.induction.direct_current import BrakedMotor, equivalent_current
from physics.starting.stages import Feed
from physics.supply.supplies import Inverter
from scenes.drives.starting.motors import MOTOR as FOUR_POLES

RATED_SLIP = 35 / 1500
POLES, FREQUENCY, VOLTAGE = 2, 50.0, 400.0
MOTOR = replace(FOUR_POLES, poles=POLES)
SYNCHRONOUS = float(MOTOR.synchronous_speed)  # rev/s
RATED = MOTOR.at(RATED_SLIP)
RATED_TORQUE, RATED_CURRENT = float(RATED.torque), float(abs(RATED.stator_current))
INVERTER = Inverter(VOLTAGE, FREQUENCY, boost=10.0, highest_frequency=FREQUENCY)
LOWEST = 0.02  # of rated frequency, under which the inverter holds the shaft by direct current
JOINED = "star, two terminals"  # the direct current goes in at U and out at V
USUAL_FIELD = 0.85  # T, peak of the gap's fundamental at the rated point: common practice, no source
LINES, OFF, SWAPPED, DIRECT, BY_INVERTER = "lines", "off", "swapped", "direct", "inverter"


@dataclass(frozen=True)
class Electrical:
    """The motor at one speed or many, clockwise positive: torque N m; currents (..., 3), of U, V, W, complex A r.m.s., or A for direct
    current; line: A, r.m.s. or direct; flux: across the gap, over the rated, complex, its angle in the field's own sense; powers W."""

    torque: np.ndarray
    currents: np.ndarray
    line: np.ndarray
    flux: np.ndarray
    input_power: np.ndarray
    stator_loss: np.ndarray
    rotor_loss: np.ndarray


_LAG = np.exp(-2j * np.pi / 3 * np.arange(3))


def on_lines(speed, swapped: bool = False, ratio: float = 1.0) -> Electrical:
    """On the lines, or on an inverter at `ratio` of its rated frequency; swapped: with L1 and L2 on each other's terminal."""
    circuit = circuit_at(round(ratio, 4))
    way = -1.0 if swapped else 1.0
    field = way * ratio
    point = circuit.at((field - np.asarray(speed, float)) / field)
    phases = np.multiply.outer(point.stator_current, _LAG[[1, 0, 2]] if swapped else _LAG)
    return Electrical(
        torque=way * point.torque,
        currents=phases,
        line=np.abs(point.stator_current),
        flux=point.gap_voltage / (1j * ratio * abs(complex(RATED.gap_voltage))),
        input_power=point.input_power,
        stator_loss=point.stator_loss,
        rotor_loss=point.rotor_loss,
    )


def on_inverter(speed: float, ratio: float) -> list[float]:
    """Torque, N m, and W of heat in rotor and stator and of power drawn, at one speed, in plain numbers: a ramp asks two thousand times.
    One that has come down holds the shaft without torque of its own: nothing flows."""
    if ratio < LOWEST:
        return [0.0, 0.0, 0.0, 0.0]
    point = circuit_at(round(ratio, 4)).at((ratio - speed) / ratio)
    return [float(value) for value in (point.torque, point.rotor_loss, point.stator_loss, point.input_power)]


def on_direct_current(speed, amperes: float) -> Electrical:
    """With `amperes` of direct current through U and V; its resistance is heated from the rectifier."""
    speed = np.asarray(speed, float)
    point = _braked(amperes).at(speed)
    heat = np.full_like(speed, 2 * MOTOR.stator_resistance * amperes**2)
    way = np.where(speed < 0, -1.0, 1.0)
    return Electrical(
        torque=-way * point.torque,
        currents=np.broadcast_to(np.array([amperes, -amperes, 0.0], complex), (*speed.shape, 3)),
        line=np.full_like(speed, amperes),
        flux=np.where(way > 0, point.flux, np.conj(point.flux)),
        input_power=heat,
        stator_loss=heat,
        rotor_loss=point.rotor_loss,
    )


@lru_cache(maxsize=64)
def _braked(amperes: float) -> BrakedMotor:
    return BrakedMotor(MOTOR, RATED_SLIP, equivalent_current(amperes, JOINED))


def switched_off(speed) -> Electrical:
    nothing = np.zeros(np.shape(speed))
    return Electrical(nothing, np.zeros((*np.shape(speed), 3), complex), nothing, nothing + 0j, nothing, nothing, nothing)


def electrical(supplied: str, speed, amperes: float = 0.0, ratio: float = 1.0) -> Electrical:
    """In that connection; an inverter that has come down holds the shaft without torque of its own: nothing flows."""
    if supplied == OFF or supplied == BY_INVERTER and ratio < LOWEST:
        return switched_off(speed)
    if supplied == DIRECT:
        return on_direct_current(speed, amperes)
    return on_lines(speed, supplied == SWAPPED, ratio if supplied == BY_INVERTER else 1.0)


@lru_cache(maxsize=4096)
def circuit_at(ratio: float) -> EquivalentCircuit:
    """The motor on the inverter at that share of its rated frequency."""
    if ratio == 1.0:
        return MOTOR
    frequency = ratio * FREQUENCY
    return Feed(float(INVERTER.voltage(frequency)) / VOLTAGE, ratio).circuit(MOTOR)


def kinetic(inertia: float, speed) -> float:
    """J of motion, `speed` relative to synchronous."""
    return 0.5 * inertia * (2 * math.pi * SYNCHRONOUS * speed) ** 2
