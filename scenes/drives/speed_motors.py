"""The motors whose speed is changed: one core and one cage, with an ordinary winding or with two tapped ones."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from physics.cage import Cage
from physics.induction import EquivalentCircuit
from physics.induction.wound_motor import MotorCore, circuit_of
from physics.pole_changing import FourSpeedWinding, PoleConnection, TappedWinding
from physics.starting.stages import Feed
from physics.supply.supplies import Inverter
from physics.windings import Winding

VOLTAGE, FREQUENCY, RATED_SLIP = 400.0, 50.0, 0.05
SUPPLY = Inverter(VOLTAGE, FREQUENCY, boost=10.0, highest_frequency=100.0)
SLOTS = 36
# turns of a coil that leave every connection a gap field between 0.7 and 1.3 T
ORDINARY = Winding(SLOTS, 4, 18, layers=2)
TURNS_OF_TAPPED = (30, 58)
CORE = MotorCore(radius=0.05, length=0.10, gap=0.35e-3, turn_resistance=0.012, turn_leakage=2.5e-6)
CAGE = Cage(28, 0.9e-4, 0.6e-6, 3.6e-6, 0.24e-7, 0.0496, 0.10)


@lru_cache(maxsize=1)
def connections() -> dict[int, PoleConnection]:
    """The four ways to join the two tapped windings, by the number of poles that each finds in its own field."""
    return {connection.poles: connection for connection in FourSpeedWinding(SLOTS, (2, 6), TURNS_OF_TAPPED).speeds}


@lru_cache(maxsize=2)
def tapped_alone(leads: str = "exchanged") -> dict[int, PoleConnection]:
    """The two ways to join the first of them where it is the only winding, its terminals numbered accordingly: with two
    leads "exchanged" at the slow speed, or both speeds joined "alike", which turn opposite ways."""
    winding = TappedWinding(SLOTS, 2, TURNS_OF_TAPPED[0])
    return {joined.poles: joined for joined in (winding.speeds if leads == "exchanged" else (winding.slow, winding.fast))}


@lru_cache(maxsize=4)
def joined_motor(poles: int) -> EquivalentCircuit:
    """The tapped winding joined for so many poles, on 400 V and 50 Hz; exchanged leads change its way only."""
    return circuit_of(connections()[poles].coils, CORE, CAGE, VOLTAGE, FREQUENCY)


@lru_cache(maxsize=128)
def motor_at(frequency: float) -> EquivalentCircuit:
    """The ordinary winding on the inverter at that frequency."""
    built = circuit_of(ORDINARY, CORE, CAGE, VOLTAGE, FREQUENCY)
    return Feed(float(SUPPLY.voltage(frequency)) / VOLTAGE, frequency / FREQUENCY).circuit(built)


RATED_TORQUE = float(motor_at(FREQUENCY).at(RATED_SLIP).torque)
INERTIA = RATED_TORQUE * 0.1 / (2 * np.pi * motor_at(FREQUENCY).synchronous_speed)  # kg m2: up to speed in 0.1 s at rated torque
