"""An armature's averages over a revolution: the constants of a direct-current machine and its speed.

A commutated machine pulsates; an ammeter, a flywheel and a data sheet see the average. The speed is taken as steady
over the revolution, as a flywheel keeps it, and currents as EMFs and resistances give them (no coil inductance).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from physics.arguments import NumberOrArray, number, numbers, whole
from physics.commutated.armature import Armature
from physics.commutated.commutator import FULL_TURN
from physics.commutated.network import OpenCircuit, OutsideCircuit, Source


@dataclass(frozen=True)
class Averages:
    """Averages over a revolution, of the shape of `speed` (rad/s): V, A, N m."""

    speed: np.ndarray
    terminal_voltage: np.ndarray
    terminal_current: np.ndarray
    torque: np.ndarray


def _round_the_turn(positions: int) -> np.ndarray:
    """Rotor angles in rad, evenly over one revolution."""
    return FULL_TURN * np.arange(whole("positions", positions)) / positions


def averages(armature: Armature, speed: ArrayLike, circuit: OutsideCircuit, positions: int = 720) -> Averages:
    """Averages at steady `speed` (rad/s, any shape) over `positions` rotor angles of a revolution."""
    speed = numbers("speed", speed)
    response = armature.respond(_round_the_turn(positions), circuit)
    brushes = response.network.brush_potentials

    def mean(columns: np.ndarray) -> NumberOrArray:
        standing, per_speed = columns.mean(axis=0)
        return standing + per_speed * speed

    return Averages(
        speed=speed,
        terminal_voltage=mean(brushes[:, 0] - brushes[:, 1]),
        terminal_current=mean(response.network.terminal_current),
        torque=mean(response.torques),
    )


def emf_constant(armature: Armature, positions: int = 720) -> float:
    """Average EMF between the open brushes, V per rad/s; also the average torque in N m per ampere of steady current.

    For brushes of no width it is pole pairs x conductors x pole flux / (pi x parallel paths), with two paths in a
    closed two-pole winding (the EMF equation of the direct-current machine in every handbook).
    """
    return float(averages(armature, 1.0, OpenCircuit(), positions).terminal_voltage)


def resistance(armature: Armature, positions: int = 720) -> float:
    """Average resistance in ohm from brush to brush, contacts included, for a steady current through the machine.

    `ValueError` if there are positions where no current passes.
    """
    currents = armature.respond(_round_the_turn(positions), Source(1.0)).network.terminal_current[:, 0]
    if np.any(currents <= 1e-9 * currents.max()):
        raise ValueError("brush_width must be more than the insulation, or the circuit opens at every change-over")
    return float((1.0 / currents).mean())


def settled_speed(armature: Armature, circuit: OutsideCircuit, load_torque: float = 0.0, positions: int = 720) -> float:
    """Steady speed in rad/s at which the average torque is `load_torque` (N m, positive when it acts clockwise).

    The average torque falls in a straight line with the speed. Without load it is the speed at which the back-EMF
    balances the supply, a little less for coils that a brush short-circuits while they move in a field. A load above
    the standstill torque drives the machine backward: a negative result for a positive supply. `ValueError` if no
    speed makes any torque (no field).
    """
    load_torque = number("load_torque", load_torque)
    standing, at_one = averages(armature, [0.0, 1.0], circuit, positions).torque
    if standing == at_one:
        raise ValueError("armature must have a field and a current path, or its torque does not depend on the speed")
    return float((load_torque - standing) / (at_one - standing))
