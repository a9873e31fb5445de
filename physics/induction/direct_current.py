"""An induction motor braked by direct current in its stator: the field stands still, and the rotor that turns in it generates into itself.

Direct current makes the same field as an alternating one would at that instant, so it has an equivalent: the r.m.s. three-phase
current with the same MMF. The rotor at the speed n has in that field the frequency p n, and the equivalent circuit holds with the speed
over synchronous speed in the place of the slip and a given current in the place of the voltage (handbook). What the shaft gives up is
heat in the rotor, all of it.

The iron saturates as in `joined_windings`: near standstill the rotor no longer opposes the field, and most of the current magnetises.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments
from physics.induction.circuit import EquivalentCircuit
from physics.induction.joined_windings import reactance_left

# of one ampere of direct current, the r.m.s. current of three phases with the same MMF, by how the windings are joined
EQUIVALENT = {
    "star, two terminals": math.sqrt(2 / 3),  # through two windings: MMF of sqrt(3), three phases have 3/2 of their peak
    "star, one terminal against two": math.sqrt(1 / 2),  # all in one winding, half of it in each of the others
    "delta, two terminals": math.sqrt(2) / 3,  # two thirds in one winding, one third in the two others, in series
}
_HALVINGS = 40


def equivalent_current(direct: float, joined: str) -> float:
    """A r.m.s. of three phases that make the field of `direct`, A, in windings joined in one of the ways of `EQUIVALENT`."""
    if joined not in EQUIVALENT:
        raise ValueError(f"joined must be one of {'; '.join(EQUIVALENT)}, not {arguments.quoted(joined)}")
    return EQUIVALENT[joined] * arguments.number("direct", direct)


@dataclass(frozen=True)
class BrakedPoint:
    """The motor at one speed or many, arrays of the speeds' shape: `torque`, N m, against the motion; `rotor_current`, A r.m.s.,
    referred; `flux` across the gap over the rated one, complex, the stator's MMF at angle 0; `rotor_loss`, W, which is torque times
    speed."""

    speed: np.ndarray
    torque: np.ndarray
    rotor_current: np.ndarray
    flux: np.ndarray
    rotor_loss: np.ndarray


@dataclass(frozen=True)
class BrakedMotor:
    """A motor with `current`, A r.m.s., the equivalent of its direct current; `rated_slip`, at which the circuit's magnetising
    reactance holds; `saturates`: whether the iron does so with more flux than then. `ValueError` for leakage that saturates."""

    circuit: EquivalentCircuit
    rated_slip: float
    current: float
    saturates: bool = True

    def __post_init__(self) -> None:
        arguments.positive("rated_slip", self.rated_slip)
        arguments.not_negative("current", self.current)
        if self.circuit.saturates:
            raise ValueError("circuit must have leakage that does not saturate")

    def at(self, speed: ArrayLike) -> BrakedPoint:
        """At `speed`, relative to the synchronous speed of the circuit's frequency; positive and negative alike."""
        speed = arguments.numbers("speed", speed)[()]
        share = np.abs(speed)
        rotor = self.circuit.rotor_impedance(share)  # R2 + j v X2: the branch, in which the speed generates
        rated = self._rated_gap_voltage
        flux = self._flux(share, rotor) if self.saturates else np.zeros_like(share)
        reactance = self.circuit.magnetising_reactance * (reactance_left(flux) if self.saturates else 1.0)
        # of the current that is given, as much as the rotor leaves magnetises
        whole = rotor + 1j * share * reactance
        per_speed = self.current * np.abs(reactance / whole)
        synchronous = 2.0 * math.pi * self.circuit.synchronous_speed
        torque = 3.0 * rotor.real * share * per_speed**2 / synchronous
        return BrakedPoint(
            speed=speed,
            torque=torque,
            rotor_current=share * per_speed,
            flux=reactance * self.current * rotor / whole / rated,
            rotor_loss=torque * share * synchronous,
        )

    @cached_property
    def _rated_gap_voltage(self) -> float:
        return float(abs(self.circuit.at(self.rated_slip).gap_voltage))

    def _flux(self, share: np.ndarray, rotor: np.ndarray) -> np.ndarray:
        """The flux that gives itself, by halving: more flux is less reactance is less flux."""
        low, high = np.zeros_like(share), np.full_like(share, 4.0)
        for _ in range(_HALVINGS):
            tried = (low + high) / 2
            reactance = self.circuit.magnetising_reactance * reactance_left(tried)
            given = reactance * self.current * np.abs(rotor / (rotor + 1j * share * reactance)) / self._rated_gap_voltage
            low, high = np.where(given > tried, tried, low), np.where(given > tried, high, tried)
        return (low + high) / 2
