"""The three windings of an induction motor joined in any way: what flows in each, and the torque, by symmetrical components.

The set of three winding currents is a sum of one that follows U, V, W, one that follows U, W, V and one in phase (C. L. Fortescue,
1918). The first two make fields that turn clockwise and counter-clockwise seen from the drive end (IEC 60034-8); the rotor, with
slip s in the first, has 2 - s in the second, and each has the equivalent circuit at its own slip. The torques oppose each other.
Currents in phase make no rotating field: they meet the stator's resistance and leakage alone. (Handbook method for unbalanced
running and for single-phasing, memory.)

The iron saturates. Magnetising current over flux, both relative to the rated point, is taken as 0.75 u + 0.25 u^7: assumed, the
form is usual for such curves (common practice, no source). u is the largest flux there is: the EMFs of both rotating fields add
where these meet. Harmonics of the saturated current are left out.

Speeds are relative to synchronous speed and torques in N m, both positive clockwise seen from the drive end.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments, speeds
from physics.arguments import NumberOrArray
from physics.induction.circuit import EquivalentCircuit
from physics.terminals import Network

_LAG = np.exp(-2j * np.pi / 3)
# columns: in phase, following U-V-W, following U-W-V
_TO_WINDINGS = np.array([[1, 1, 1], [1, _LAG, _LAG**2], [1, _LAG**2, _LAG]])
_TO_COMPONENTS = np.linalg.inv(_TO_WINDINGS)
_STRAIGHT, _STEEPNESS = 0.75, 7  # of the magnetising current
_HALVINGS, _SECANTS = 5, 10
_CLOSE = 1e-13  # of the rated flux: no more steps
_OPEN = 1e-9  # share of the rated current below which a current is rounding


def reactance_left(flux: NumberOrArray) -> NumberOrArray:
    """What is left of the magnetising reactance at `flux`, both over the rated."""
    return 1.0 / (_STRAIGHT + (1 - _STRAIGHT) * flux ** (_STEEPNESS - 1))


@dataclass(frozen=True)
class Running:
    """The motor at one speed, or at m of them: every array has the speeds' shape first.

    voltages, currents: complex, (..., 3), of U, V, W from end 1 to end 2, V and A r.m.s.; line_currents: complex, (..., 3), of L1, L2,
    L3 into the board; components: complex, (..., 3), of the current: in phase, following U-V-W, following U-W-V; gap_voltages: complex,
    (..., 2), V that each of the last two fields induces in a winding; flux: of the rated. Powers in W; input_power = stator_loss +
    rotor_loss + converted_power.
    """

    speed: np.ndarray
    voltages: np.ndarray
    currents: np.ndarray
    line_currents: np.ndarray
    components: np.ndarray
    gap_voltages: np.ndarray
    flux: np.ndarray
    torque: np.ndarray
    input_power: np.ndarray
    stator_loss: np.ndarray
    rotor_loss: np.ndarray
    converted_power: np.ndarray


@dataclass(frozen=True)
class JoinedMotor:
    """A motor by the equivalent circuit of one of its windings: `circuit` is that of the motor in star, its values met at `rated_slip`.

    `ValueError` for a circuit whose leakage saturates, as components could not be added then.
    """

    circuit: EquivalentCircuit
    rated_slip: float

    def __post_init__(self) -> None:
        arguments.positive("rated_slip", self.rated_slip)
        if self.circuit.saturates:
            raise ValueError("circuit must have leakage that does not saturate, or symmetrical components do not add up")

    @cached_property
    def rated_gap_voltage(self) -> float:
        """V induced in a winding at the rated point."""
        return float(abs(self.circuit.at(self.rated_slip).gap_voltage))

    def synchronous_speed(self, frequency: float) -> float:
        """rev/s at `frequency`, Hz."""
        return float(speeds.synchronous_speed(arguments.positive("frequency", frequency), self.circuit.poles))

    def on(self, network: Network, frequency: float, speed: ArrayLike) -> Running:
        """The motor on a wired board at `frequency`, Hz, running at `speed`, a number or an array, relative to synchronous speed.

        Lines on one node are taken at their mean; what flows between them is not reckoned here.
        """
        asked = arguments.numbers("speed", speed)
        slip = 1.0 - asked.reshape(-1)
        ratio = arguments.positive("frequency", frequency) / self.circuit.frequency
        return self._running(network, ratio, slip, self._settled_flux(network, ratio, slip), asked.shape)

    def unsaturated(self, frequency: float, speed: ArrayLike) -> tuple[complex, np.ndarray, np.ndarray]:
        """The motor with the flux of its rated point: ohm of one winding by itself; ohm between the windings U, V, W through the field
        in the gap, (m, 3, 3); and the resistances that take the power over the gap, of the fields that turn clockwise and
        counter-clockwise, (m, 2). At `frequency`, Hz, and m speeds relative to synchronous speed.
        """
        slip = 1.0 - arguments.numbers("speed", speed).reshape(-1)
        ratio = arguments.positive("frequency", frequency) / self.circuit.frequency
        impedances, gap = self._impedances(ratio, slip, np.ones_like(slip))
        turning = np.concatenate([np.zeros((slip.size, 1)), gap], axis=-1)
        return complex(impedances[0, 0]), (_TO_WINDINGS * turning[:, np.newaxis, :]) @ _TO_COMPONENTS, gap.real

    def _settled_flux(self, network: Network, ratio: float, slip: np.ndarray) -> np.ndarray:
        """The flux that gives itself, (m,). More flux is less reactance is less flux, so there is one: halvings, then secants, of
        which an end that stays is weighed down by half (Illinois)."""
        low, high = np.zeros_like(slip), np.full_like(slip, 4.0)
        above, below = (self._flux(network, ratio, slip, end) - end for end in (low, high))
        last = np.zeros_like(slip)  # which end moved last, 1 the low one
        for step in range(_HALVINGS + _SECANTS):
            share = 0.5 if step < _HALVINGS else above / np.maximum(above - below, 1e-300)
            tried = low + (high - low) * share
            excess = self._flux(network, ratio, slip, tried) - tried
            if (np.abs(excess) < _CLOSE).all():
                break
            side = np.where(excess > 0, 1, -1)
            low, high = np.where(side > 0, tried, low), np.where(side > 0, high, tried)
            above = np.where(side > 0, excess, np.where(side == last, above / 2, above))
            below = np.where(side < 0, excess, np.where(side == last, below / 2, below))
            last = side
        return tried

    def _impedances(self, ratio: float, slip: np.ndarray, flux: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Of the components (m, 3), and of the gap branches of the two that turn (m, 2), ohm."""
        circuit = self.circuit
        magnetising = 1j * ratio * circuit.magnetising_reactance * reactance_left(flux)
        both = np.stack([slip, 2.0 - slip], axis=-1)
        rotor_times_slip = circuit.rotor_impedance(ratio * both)
        magnetising = magnetising[:, np.newaxis]
        gap = magnetising * rotor_times_slip / (rotor_times_slip + both * magnetising)
        stator = circuit.stator_resistance + 1j * ratio * circuit.stator_reactance
        return np.concatenate([np.full((slip.size, 1), stator), stator + gap], axis=-1), gap

    def _solved(self, network: Network, impedances: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Winding voltages and the components of the currents, (m, 3) each: nodes free of lines have no current left over."""
        admittance = _TO_WINDINGS @ (_TO_COMPONENTS / impedances[:, :, np.newaxis])
        between = network.between
        voltages = np.broadcast_to(network.fed, (len(impedances), 3))
        if between.shape[1]:
            nodes = between.T @ admittance @ between
            left_over = between.T @ admittance @ network.fed
            voltages = voltages - np.linalg.solve(nodes, left_over[..., np.newaxis])[..., 0] @ between.T
        return voltages, voltages @ _TO_COMPONENTS.T / impedances

    def _flux(self, network: Network, ratio: float, slip: np.ndarray, flux: np.ndarray) -> np.ndarray:
        """What `flux`, of the rated one, would give if the iron let as much through as at it."""
        impedances, gap = self._impedances(ratio, slip, flux)
        _, components = self._solved(network, impedances)
        return np.abs(components[:, 1:] * gap).sum(axis=-1) / (ratio * self.rated_gap_voltage)

    def _running(self, network: Network, ratio: float, slip: np.ndarray, flux: np.ndarray, shape: tuple[int, ...]) -> Running:
        impedances, gap = self._impedances(ratio, slip, flux)
        voltages, components = self._solved(network, impedances)
        rated = self.circuit.phase_voltage / abs(self.circuit.rotor_impedance(1.0))
        components = np.where(np.abs(components) < _OPEN * rated, 0.0, components)
        currents = components @ _TO_WINDINGS.T
        currents = np.where(np.abs(currents) < _OPEN * rated, 0.0, currents)
        lines = currents @ network.into.T
        across = 3.0 * np.abs(components[:, 1:]) ** 2 * gap.real  # W over the gap, of each field
        torque = (across[:, 0] - across[:, 1]) / (2.0 * math.pi * self.synchronous_speed(ratio * self.circuit.frequency))
        stator_loss = self.circuit.stator_resistance * (np.abs(currents) ** 2).sum(axis=-1)
        values = {
            "speed": 1.0 - slip,
            "flux": flux,
            "torque": torque,
            "input_power": (voltages * currents.conj()).real.sum(axis=-1),
            "stator_loss": stator_loss,
            "rotor_loss": slip * across[:, 0] + (2.0 - slip) * across[:, 1],
            "converted_power": (1.0 - slip) * (across[:, 0] - across[:, 1]),
        }
        vectors = {"voltages": voltages, "currents": currents, "line_currents": lines, "components": components}
        vectors["gap_voltages"] = components[:, 1:] * gap
        return Running(
            **{name: value.reshape(shape) for name, value in values.items()},
            **{name: value.reshape(*shape, value.shape[-1]) for name, value in vectors.items()},
        )
