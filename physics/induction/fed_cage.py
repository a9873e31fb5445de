"""A cage on a supply of fixed voltage: with the stator's impedance in front of it the gap field falls under load.

The cage is the rotor branch of the equivalent circuit itself, bar by bar, so that bars may be missing. Their currents then
make a wave that goes round with the gap field and others that do not; only the first takes part in the circuit (what the
others induce in the stator, currents at 1 - 2 s times the supply's frequency, is left out). With all bars whole this is
`EquivalentCircuit` with the rotor values of `Cage.referred`.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass

import numpy as np

from physics import arguments
from physics.cage import Cage
from physics.cage import network as cage_network
from physics.induction.circuit import EquivalentCircuit
from physics.induction.gap import Bore, gap_field


@dataclass(frozen=True)
class StatorPoint:
    """Per phase of the star, complex, rms: what the gap field induces, and what the supply gives for it; `torque` in N m is
    the mean over a slip period, positive in the sense in which the field turns."""

    gap_voltage: complex  #: V
    phase_voltage: complex  #: V at the terminals
    stator_current: complex  #: A
    torque: float


@dataclass(frozen=True)
class CageOnSupply:
    """`cage` inside the stator of `circuit`, whose rotor values are not used, on the voltage of `circuit`.

    bore    turns flux linkage into flux density; its radius and length are those of the bars, where the field is told
    sense   +1 where the field turns counter-clockwise looking at the drive end, -1 where clockwise

    It is a gap field as `physics.cage.motion` takes it: `pole_pairs`, `speed` (mechanical rad/s), `at(rotor_speed)`.
    """

    circuit: EquivalentCircuit
    cage: Cage
    bore: Bore
    sense: float

    def __post_init__(self) -> None:
        if self.circuit.saturates:
            raise ValueError("circuit must have constant leakage: bars on a supply are worked out without saturation")

    @property
    def pole_pairs(self) -> int:
        return self.circuit.pole_pairs

    @property
    def speed(self) -> float:
        """Of the field, mechanical rad/s, counter-clockwise positive."""
        return self.sense * 2.0 * math.pi * self.circuit.synchronous_speed

    def slip(self, rotor_speed: float) -> float:
        """Slip of a rotor at that speed, mechanical rad/s."""
        return 1.0 - arguments.number("rotor_speed", rotor_speed) / self.speed

    def at(self, rotor_speed: float) -> complex:
        """Gap field at that rotor speed, T: its peak, turned by the electrical angle by which it stands counter-clockwise
        of where it would stand if the stator had no impedance."""
        induced = self._gap_voltage(self.rotor_admittance(self.slip(rotor_speed)))
        return self.peak_of(induced) * cmath.exp(1j * self.sense * cmath.phase(induced))

    def peak_of(self, gap_voltage: complex) -> float:
        """T, of the field that induces `gap_voltage`, V rms a phase: E = 4.44 f N k_w Phi, Phi = 2 B r l / p."""
        linkage = math.sqrt(2.0) * abs(gap_voltage) / (2.0 * math.pi * self.circuit.frequency)
        return gap_field(linkage, self.pole_pairs, self.bore).amplitude

    def running(self, slip: float) -> StatorPoint:
        """Steady running at `slip` on the voltage of the supply."""
        rotor = self.rotor_admittance(arguments.number("slip", slip))
        return self._point(self._gap_voltage(rotor), rotor)

    def with_field(self, peak: float, slip: float) -> StatorPoint:
        """Steady running at `slip` with the gap field held at `peak`, T: what the supply would have to give for that."""
        rotor = self.rotor_admittance(arguments.number("slip", slip))
        return self._point(arguments.number("peak", peak) / self.peak_of(1.0) + 0j, rotor)

    def rotor_field(self, mmf: float) -> float:
        """T: peak of the field that a wave of MMF with that peak, A, would make alone, the iron not saturating.

        By the magnetising reactance: a current of I rms in three phases of N k_w turns makes a peak of
        3 sqrt(2) N k_w I / (pi p) and the field that induces X_m I.
        """
        turns, magnetising = self.bore.turns, self.circuit.magnetising_reactance
        current = arguments.number("mmf", mmf) * math.pi * self.pole_pairs / (3.0 * math.sqrt(2.0) * turns)
        return self.peak_of(current * magnetising)

    def rotor_admittance(self, slip: float) -> complex:
        """Siemens per phase, referred to the stator: current of the rotor branch over the gap voltage.

        Bars that all generate E, one after the other, carry on the mean I toward the wave that goes with the field; a
        phase sees E / I times 12 (N k_w)^2 / bars, divided by the slip.
        """
        pairs, pulsation = self.pole_pairs, 2.0 * math.pi * self.circuit.frequency * slip
        if not self.cage.missing:
            mean = 1.0 / self.cage.effective_impedance(pairs, pulsation)
        else:
            generated = np.exp(-1j * pairs * self.cage.bar_angles)
            carried = cage_network.bar_currents(
                generated, self.cage.bar_impedance(pulsation), self.cage.ring_impedance(pulsation), self.cage.whole
            )
            mean = complex((carried / generated).sum()) / self.cage.bars
        return slip * mean * self.cage.bars / (12.0 * self.bore.turns**2)

    @property
    def _stator(self) -> complex:
        return complex(self.circuit.stator_resistance, self.circuit.stator_reactance)

    def _with_magnetising(self, rotor: complex) -> complex:
        """Siemens of rotor and magnetising branch together."""
        return 1.0 / (1j * self.circuit.magnetising_reactance) + rotor

    def _gap_voltage(self, rotor: complex) -> complex:
        """V rms a phase, what the stator's impedance leaves of the supply's, the rotor having that admittance, S."""
        return self.circuit.phase_voltage / (1.0 + self._stator * self._with_magnetising(rotor))

    def _point(self, gap_voltage: complex, rotor: complex) -> StatorPoint:
        current = gap_voltage * self._with_magnetising(rotor)
        airgap_power = 3.0 * abs(gap_voltage) ** 2 * rotor.real
        return StatorPoint(gap_voltage, gap_voltage + self._stator * current, current, airgap_power / abs(self.speed))
