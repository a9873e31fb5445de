"""What cage motors usually have and no nameplate gives (common practice, no source): where a search starts, and what it tends to.

Stator resistance like that of both cages together; three tenths of the losses outside the windings; a starting cage with four
times the resistance of the running cage, and leakages that do not differ much; of values that a catalogue would give, a
breakdown torque of 2.8, a starting torque of 2.3 and a starting current of 6.5 times rated.
"""

from __future__ import annotations

import math

import numpy as np

from physics import speeds
from physics.induction import EquivalentCircuit
from physics.nameplate.plate import Nameplate

BREAKDOWN_TORQUE = 2.8
STARTING_CURRENT = 6.5
STARTING_TORQUE = 2.3
LOSSES_OUTSIDE_WINDINGS = 0.3
STARTING_CAGE = 4.0  # times the resistance of the running cage
SPREAD_OF_MULTIPLES = 0.05
_SPREAD = 0.5
_SPREAD_OF_CAGES = 2.0
_SPREAD_OF_MAGNETISING = 0.2


def loss_torque(plate: Nameplate) -> float:
    """N m at rated speed."""
    return LOSSES_OUTSIDE_WINDINGS * plate.losses / float(speeds.angular_speed(plate.speed))


def magnetising_reactance(plate: Nameplate) -> float:
    """Per unit: it takes nine tenths of the reactive current at rated load, leakage the rest."""
    return 1.1 / math.sqrt(1.0 - plate.power_factor**2)


def multiples(plate: Nameplate) -> dict[str, float]:
    """What is taken for the multiples that are not given; the breakdown torque is above the starting torque."""
    starting, breakdown = STARTING_TORQUE, BREAKDOWN_TORQUE
    if plate.breakdown_torque is not None:
        starting = min(starting, plate.breakdown_torque * STARTING_TORQUE / BREAKDOWN_TORQUE)
    if plate.starting_torque is not None:
        breakdown = max(breakdown, plate.starting_torque * BREAKDOWN_TORQUE / STARTING_TORQUE)
    taken = {"breakdown torque": breakdown, "starting current": STARTING_CURRENT, "starting torque": starting}
    return {name: value for name, value in taken.items() if getattr(plate, name.replace(" ", "_")) is None}


def oddities(plate: Nameplate, logarithms: np.ndarray, loss_root: np.ndarray) -> list[np.ndarray]:
    """How unusual circuits are, each (...) and of order 1 where it is rather unusual: by the logarithms (..., n) of R1, X, R2,
    XM, running cage leakage, starting cage resistance and saturable leakage, and the root of the loss torque over the usual."""
    stator_resistance, leakage, rotor_resistance, magnetising, *more = (logarithms[..., k] for k in range(logarithms.shape[-1]))
    if not more:  # six values settle it
        return []
    running_leakage, starting_resistance, *saturable = more
    together = -np.logaddexp(-rotor_resistance, -starting_resistance)  # in parallel
    return [
        (loss_root**2 - 1.0) / _SPREAD,
        (stator_resistance - together) / _SPREAD,
        (magnetising - math.log(magnetising_reactance(plate))) / _SPREAD_OF_MAGNETISING,
        (starting_resistance - rotor_resistance - math.log(STARTING_CAGE)) / _SPREAD_OF_CAGES,
        *((each - leakage) / _SPREAD_OF_CAGES for each in (running_leakage, *saturable)),
    ]


def one_cage(plate: Nameplate) -> np.ndarray:
    """Where the search for a circuit with one cage starts, (3, 5): see `_guesses`."""
    return two_cages(plate)[:, :5]


def two_cages(plate: Nameplate) -> np.ndarray:
    """The same with two cages, (3, 7)."""
    return _guesses(plate, [(1.0, 0.035, 1.0, 0.035, 5.0), (1.0, 0.05, 1.0, 0.05, 8.0), (1.0, 0.08, 1.0, 0.08, 3.0)])


def saturating(plate: Nameplate) -> np.ndarray:
    """The same with leakage that saturates, (3, 8)."""
    return _guesses(plate, [(0.4, 0.017, 0.8, 0.04, 5.0, 0.2), (0.9, 0.02, 0.8, 0.16, 1.4, 0.04), (0.4, 0.025, 1.0, 0.012, 3.4, 0.4)])


def _guesses(plate: Nameplate, rows: list[tuple[float, ...]]) -> np.ndarray:
    """Unknowns (k, n) from R1 over the rated slip, X, R2 over the rated slip (which takes the voltage there), running cage
    leakage, starting cage resistance over the rated slip and perhaps saturable leakage, all per unit."""
    stator, leakage, rotor, *more = np.log(rows).T
    slip, magnetising = np.log([plate.slip, magnetising_reactance(plate)])
    more[1] = more[1] + slip
    columns = [1.0, stator + slip, leakage, rotor + slip, magnetising, *more]
    return np.stack(np.broadcast_arrays(*columns), axis=-1)


def assumed(plate: Nameplate, circuit: EquivalentCircuit, fitted: dict[str, float]) -> tuple[str, ...]:
    """A phrase for each thing that the plate leaves open, with the value that the circuit has for it.

    Six values settle a circuit with one cage. Two cages have two unknowns more than that, one of them left open; leakage that
    saturates has another two, the current at which it does included."""
    missing = [f"{name} {fitted[name]:.2g} times rated" for name in multiples(plate)]
    if not missing and not circuit.two_cages:
        return ()
    missing.append("stator and rotor resistance of the same order")
    missing.append(f"about {LOSSES_OUTSIDE_WINDINGS:.0%} of the losses outside the windings")
    if circuit.two_cages:
        missing.append("how the leakage is divided between the two cages")
    if circuit.saturates:
        missing.append(f"leakage that saturates to half at the rated current, {circuit.saturation_current:.4g} A")
    return tuple(missing)
