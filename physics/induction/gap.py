"""The air gap: the field that a motor's state puts there, and what each bar of its cage does in it.

The bridge from the circuit and the transient, which know phases and space vectors, to drawings. Angles
are mechanical, counter-clockwise seen from +z (the drive end), from the axis of phase U. One state gives both the
figures and the picture, and the forces on the bars add up to the torque that the circuit and the transient tell.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments
from physics.cage import Cage, CageState
from physics.cage.bars_and_rings import turns_in_effect
from physics.induction.transient import Motor, MotorState, flux_rates
from physics.supply.space_vectors import STAR, Connection, Supply

if TYPE_CHECKING:
    from physics.induction.circuit import EquivalentCircuit


@dataclass(frozen=True)
class Bore:
    """What turns flux linkage into flux density: `radius` and `length` m of the gap, `series_turns` of one phase,
    `winding_factor` of its fundamental in (0, 1], and the direction, looking at the drive end, in which the sequence U-V-W
    rotates the field: "clockwise", as `windings.Winding` is laid and IEC 60034-8 demands, or "counter-clockwise"."""

    radius: float
    length: float
    series_turns: float
    winding_factor: float
    turning: str = "clockwise"

    def __post_init__(self) -> None:
        arguments.positive("radius", self.radius)
        arguments.positive("length", self.length)
        turns_in_effect(self.series_turns, self.winding_factor)
        if self.turning not in ("clockwise", "counter-clockwise"):
            raise ValueError(f'turning must be "clockwise" or "counter-clockwise", not {self.turning!r}')

    @property
    def turns(self) -> float:
        """N k_w."""
        return turns_in_effect(self.series_turns, self.winding_factor)

    @property
    def sense(self) -> int:
        """+1 where the sequence U-V-W turns counter-clockwise, -1 where it turns clockwise."""
        return 1 if self.turning == "counter-clockwise" else -1

    def laid_out(self, vector: complex) -> complex:
        """A space vector with its angle counted counter-clockwise, as all angles are here."""
        return vector if self.sense > 0 else vector.conjugate()


@dataclass(frozen=True)
class GapField:
    """Flux density `amplitude` * cos(`pole_pairs` * (theta - `axis`)) in the gap, T, outward positive."""

    amplitude: float  #: T, peak, 0 or more
    axis: float  #: mechanical rad of a peak, within half a wave of 0
    pole_pairs: int

    def at(self, angles: ArrayLike) -> np.ndarray:
        """T at mechanical `angles`, rad, any shape."""
        return self.amplitude * np.cos(self.pole_pairs * (arguments.numbers("angles", angles) - self.axis))


def gap_field(flux_linkage: complex, pole_pairs: int, bore: Bore) -> GapField:
    """The gap field of which one phase links `flux_linkage`, Wb, a space vector such as `Motor.gap_flux` tells.

    A wave of amplitude B has the flux 2 B r l / p under each pole, and a phase on its axis links N k_w times that.
    """
    vector = bore.laid_out(complex(flux_linkage))
    amplitude = abs(vector) * pole_pairs / (2.0 * bore.turns * bore.radius * bore.length)
    return GapField(amplitude, cmath.phase(vector) / pole_pairs, pole_pairs)


def steady_gap_field(circuit: EquivalentCircuit, slip: float, bore: Bore, time: float = 0.0) -> GapField:
    """The gap field at `time` s of a motor in star that runs steadily at `slip`; phase U has its peak at time 0."""
    angular_frequency = 2.0 * math.pi * circuit.frequency
    induced = complex(circuit.at(arguments.number("slip", slip)).gap_voltage)
    flux_linkage = math.sqrt(2.0) * induced / (1j * angular_frequency)
    return gap_field(flux_linkage * cmath.exp(1j * angular_frequency * time), circuit.pole_pairs, bore)


def steady_cage(circuit: EquivalentCircuit, slip: float, cage: Cage, bore: Bore, time: float = 0.0, rotor_angle: float = 0.0) -> CageState:
    """The bars, at `time` s, of a motor in star whose rotor is `cage` and which runs steadily at `slip`.

    `circuit` must have its rotor values from `cage.referred_rotor` with the bore's turns and winding factor; then the torque
    is the circuit's (counter-clockwise, so negative where the field turns clockwise). `rotor_angle` is where bar 0
    stands, mechanical rad. A cage with bars missing is shown in the field that the circuit has, of a whole cage.
    """
    slip = arguments.number("slip", slip)
    field = steady_gap_field(circuit, slip, bore, time)
    field_speed = bore.sense * 2.0 * math.pi * circuit.synchronous_speed
    return cage.steady(
        field.amplitude * _from_bore_to_bars(bore, cage),
        circuit.pole_pairs,
        field_speed,
        (1.0 - slip) * field_speed,
        field.axis - arguments.number("rotor_angle", rotor_angle),
    )


def transient_cage(motor: Motor, state: MotorState, cage: Cage, bore: Bore, supply: Supply, connection: Connection = STAR) -> CageState:
    """The bars at any instant of a motor whose rotor is `cage`, bar 0 at angle 0 when the rotor has not turned.

    `motor` must have its rotor values from `cage.referred_rotor`, as for `steady_cage`; `supply` and `connection` are those
    that `state` runs on, which the EMF of a bar depends on where the field grows or fades. Its bars must be whole.

    The rotor current vector stands for the same MMF as the bars: three phases of N k_w turns make a wave of
    3 N k_w i / (pi p), bars with a current I cos(p theta) one of bars I / (2 pi p) a quarter wave behind. A bar
    generates 1 / (2 N k_w) of what the gap field would generate in a phase that turns with the rotor.
    """
    if cage.missing:
        raise ValueError("missing must be empty for a cage to stand for the rotor of a transient: three equal phases")
    pole_pairs, turns = motor.pole_pairs, bore.turns
    rates = MotorState(state.time, *flux_rates(motor, state, supply, connection))
    gap_flux, gap_flux_rate, rotor_current = (
        bore.laid_out(vector) for vector in (motor.gap_flux(state), motor.gap_flux(rates), motor.rotor_current(state))
    )
    rotor_angle = bore.sense * state.angle
    electrical_speed = bore.sense * pole_pairs * 2.0 * math.pi * state.speed
    cut = gap_flux_rate - 1j * electrical_speed * gap_flux
    to_bars = np.exp(-1j * pole_pairs * (cage.bar_angles + rotor_angle))
    field = gap_field(motor.gap_flux(state), pole_pairs, bore)
    return cage.pushed(
        field.amplitude * _from_bore_to_bars(bore, cage),
        pole_pairs,
        field.axis - rotor_angle,
        (cut / (2j * turns) * to_bars).real,
        (6j * turns / cage.bars * rotor_current * to_bars).real,
    )


def _from_bore_to_bars(bore: Bore, cage: Cage) -> float:
    """Flux density at the bars over that at the bore: the flux of a pole passes whole through both cylinders."""
    return bore.radius * bore.length / (cage.radius * cage.length)
