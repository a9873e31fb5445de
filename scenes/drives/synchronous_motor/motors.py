"""The motor on the bench, 15 kW on 400 V and 50 Hz, and its steady running.

Per-unit values as usual for small round-rotor machines: common practice, no source.
"""

from __future__ import annotations

import math
from functools import lru_cache

from physics.synchronous.motion import Mains, RisingFrequency
from physics.synchronous.round_rotor import Damper, RoundRotorMachine, Running, pull_out, running_at_load

POLES = (2, 4)
POWER, VOLTAGE, FREQUENCY = 15000.0, 400.0, 50.0  # W at the shaft, V between lines, Hz
BASE = VOLTAGE**2 / POWER  # ohm, of the per-unit values
RESISTANCE, REACTANCE, LEAKAGE = 0.03 * BASE, 0.9 * BASE, 0.1 * BASE  # ohm a phase
DAMPER = Damper(resistance=0.05 * BASE, leakage_reactance=0.1 * BASE)
INERTIA_CONSTANT = 0.25  # s: kinetic energy at synchronous speed over rated power, with what it drives
USUAL_FIELD = 0.85  # T, peak of the gap's fundamental on rated voltage: common practice, no source
RISE = 2.0  # s, in which the inverter comes to its rated frequency
BOOST = RESISTANCE * math.sqrt(2 / 3) * POWER / VOLTAGE  # V peak: what rated current drops in the stator
FLUX_LINKAGE = VOLTAGE * math.sqrt(2 / 3) / (2 * math.pi * FREQUENCY)  # Wb peak, that goes with the usual field
MAINS = Mains(VOLTAGE, FREQUENCY)
STABILISING = 0.015  # s, of the inverter's loop: enough for a rotor without a damper and without load
INVERTER = RisingFrequency(VOLTAGE, FREQUENCY, RISE, BOOST, STABILISING)


@lru_cache(maxsize=8)
def machine(poles: int, damper: bool) -> RoundRotorMachine:
    """The motor with that number of poles, with or without its damper cage."""
    return RoundRotorMachine(RESISTANCE, REACTANCE, LEAKAGE, FREQUENCY, poles, DAMPER if damper else None)


def rated_torque(poles: int) -> float:
    """N m at synchronous speed."""
    return POWER / machine(poles, True).speed


def inertia(poles: int) -> float:
    """kg m2 of rotor and load."""
    return 2 * INERTIA_CONSTANT * POWER / machine(poles, True).speed ** 2


@lru_cache(maxsize=64)
def most(poles: int, emf: float) -> Running:
    """The motor at its pull-out torque; `emf`: line value, V."""
    return pull_out(machine(poles, True), VOLTAGE, emf)


@lru_cache(maxsize=512)
def carrying(poles: int, emf: float, torque: float) -> Running | None:
    """The motor in step under `torque`, N m; None where that is more than its pull-out torque."""
    try:
        return running_at_load(machine(poles, True), VOLTAGE, emf, torque)
    except ValueError:
        return None
