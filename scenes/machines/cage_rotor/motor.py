"""The motor whose cage is demonstrated: its circuit, its cage and what feeds it. It is the small motor of "Slip and speed" too.

With more poles the same frame is wound with more turns and has other bars, so that field and rated torque are the same at
every number of poles; all ohms rise with the number of pole pairs, the current falls.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from physics.cage import Cage
from physics.cage.motion import Field, TurningGapField
from physics.induction import EquivalentCircuit
from physics.induction.fed_cage import CageOnSupply, StatorPoint
from physics.induction.gap import Bore
from physics.starting.stages import Feed
from physics.supply.supplies import Inverter

BARS, RADIUS, LENGTH = 15, 0.050, 0.060  # m
RING_RESISTANCE, RING_INDUCTANCE = 2e-6, 1e-8
INERTIA = 1e-3  # kg m2: light, so that it runs up while the field turns a few times
VOLTAGE, FREQUENCY, RATED_SLIP = 400.0, 50.0, 0.05
NO_LOAD_FIELD = 0.5  # T at the bars, peak, on rated voltage and frequency
# a small motor, which slips enough to be counted; ohms a phase in star, for two poles
_OHMS = {"stator_resistance": 5.0, "stator_reactance": 8.0, "rotor_resistance": 5.0, "rotor_reactance": 8.0, "magnetising_reactance": 150.0}
SUPPLY = Inverter(VOLTAGE, FREQUENCY, boost=10.0, highest_frequency=100.0)
LARGEST_FIELD = 0.8  # T, whose arrow is the longest
RPM = 30 / math.pi
SPEEDS = (-0.5, 1.5)  # of synchronous speed, between which the curves are drawn
BROKEN = {"none": (), "one": (0,), "three": (0, 1, 2)}


@lru_cache(maxsize=64)
def circuit(poles: int, frequency: float = FREQUENCY) -> EquivalentCircuit:
    """Of the motor at that frequency, with volts per hertz held up to 50 Hz and 400 V above."""
    ohms = {name: value * (poles // 2) for name, value in _OHMS.items()}
    built = EquivalentCircuit(**ohms, line_voltage=VOLTAGE, frequency=FREQUENCY, poles=poles)
    return Feed(float(SUPPLY.voltage(frequency)) / VOLTAGE, frequency / FREQUENCY).circuit(built)


@lru_cache(maxsize=16)
def bore(poles: int) -> Bore:
    """With as many turns as give `NO_LOAD_FIELD`."""
    induced = abs(complex(circuit(poles).at(0.0).gap_voltage))
    flux = NO_LOAD_FIELD * 2 * RADIUS * LENGTH / (poles // 2)
    return Bore(RADIUS, LENGTH, induced / (math.sqrt(2) * math.pi * FREQUENCY * flux), 1.0)


@lru_cache(maxsize=64)
def cage(poles: int, broken: str = "none") -> Cage:
    """The cage that the circuit has for its rotor, with that many bars broken, side by side."""
    rated, omega, pairs = circuit(poles), 2 * math.pi * FREQUENCY, poles // 2
    whole = complex(rated.rotor_resistance, rated.rotor_reactance) * BARS / (12 * bore(poles).turns ** 2)
    rings = complex(RING_RESISTANCE, omega * RING_INDUCTANCE) / (2 * math.sin(math.pi * pairs / BARS) ** 2)
    bar = whole - rings
    return Cage(BARS, bar.real, bar.imag / omega, RING_RESISTANCE, RING_INDUCTANCE, RADIUS, LENGTH, BROKEN[broken])


@lru_cache(maxsize=64)
def on_supply(poles: int, frequency: float, broken: str, sense: float) -> CageOnSupply:
    """The motor on its supply; `sense` +1 where the field turns counter-clockwise seen from the drive end."""
    return CageOnSupply(circuit(poles, frequency), cage(poles, broken), bore(poles), sense)


def rated_torque(poles: int) -> float:
    """N m at rated slip, voltage and frequency, all bars whole."""
    return float(circuit(poles).at(RATED_SLIP).torque)


@dataclass(frozen=True)
class Curves:
    """Over speeds from -50 to 150 % of synchronous: `shares` of it, the mean `torque` with the field, N m; and the largest
    bar current, A, force on a bar, N, torque, N m, and field of the rotor's own, T, that there are, all bars whole."""

    shares: np.ndarray
    torque: np.ndarray
    most_current: float
    most_force: float
    most_torque: float
    most_rotor_field: float


@lru_cache(maxsize=64)
def curves(fed: CageOnSupply, held: float | None) -> Curves:
    """On the supply or, with a number of tesla, the field held at that."""
    shares = np.linspace(*SPEEDS, 81)

    def at(which: CageOnSupply, slip: float) -> StatorPoint:
        return which.running(slip) if held is None else which.with_field(held, slip)

    whole = on_supply(fed.circuit.poles, fed.circuit.frequency, "none", fed.sense)
    peaks = np.array([whole.peak_of(at(whole, 1 - share).gap_voltage) for share in shares])
    cut = (1 - shares) * abs(fed.speed)
    impedance = np.array([abs(whole.cage.effective_impedance(fed.pole_pairs, fed.pole_pairs * speed)) for speed in cut])
    currents = peaks * LENGTH * RADIUS * np.abs(cut) / impedance
    torque = np.array([at(fed, 1 - share).torque for share in shares])
    mmf = float(currents.max()) * BARS / (2 * np.pi * fed.pole_pairs)
    return Curves(
        shares,
        torque,
        float(currents.max()),
        float((peaks * currents).max() * LENGTH),
        float(np.abs(torque).max()),
        whole.rotor_field(mmf),
    )


def field_of(fed: CageOnSupply, held: float | None, stands: bool) -> Field:
    """What the bars are in: the field that the supply leaves, one held at so many tesla, or one that stands still."""
    if stands:
        return TurningGapField(NO_LOAD_FIELD if held is None else held, fed.pole_pairs, 0.0)
    return fed if held is None else TurningGapField(held, fed.pole_pairs, fed.speed)
